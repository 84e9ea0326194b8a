// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/row_columns.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/dome.hpp"

namespace stackfit {
namespace {

/// Middle and half size of the face's rectangle, by the row's own face outline on the wall.
struct FaceFrame {
  geometry::Point middle;
  double half_width_mm = 0;
  double half_height_mm = 0;
};

FaceFrame frame_of(const geometry::Outline& face) {
  geometry::Point low{HUGE_VAL, HUGE_VAL};
  geometry::Point high{-HUGE_VAL, -HUGE_VAL};
  for (const geometry::Loop& loop : face.loops) {
    for (const geometry::Edge& edge : loop) {
      low = {std::min(low.x_mm, edge.from.x_mm), std::min(low.y_mm, edge.from.y_mm)};
      high = {std::max(high.x_mm, edge.from.x_mm), std::max(high.y_mm, edge.from.y_mm)};
    }
  }
  return {{0.5 * (low.x_mm + high.x_mm), 0.5 * (low.y_mm + high.y_mm)},
          0.5 * (high.x_mm - low.x_mm),
          0.5 * (high.y_mm - low.y_mm)};
}

}  // namespace

bool RowColumns::needed(const Row& row) {
  const bool domed = std::any_of(row.cells.begin(), row.cells.end(), [](const RowCell& cell) {
    return cell.dome_mm < 0 || cell.dome_mm > cell.slack_mm;
  });
  return domed || row.rim || !row.box.rigid() || !row.outlines.empty() || !row.companions.empty();
}

RowColumns::RowColumns(const Row& row, std::shared_ptr<WallStore> store)
    : row_(row), store_(std::move(store)) {
  lid_holds_ = row.box.lid_holds;
  walls_ = store_->walls(row.box.walls, lid_holds_);
  tie_ = row.box.rods ? TieLaw::rods(*row.box.rods) : TieLaw::linear(row.box.sides_give_mm_per_n);
  find_regions();
  find_bulges();
  for (const bool stiff : {false, true}) {
    Variant variant;
    for (const Region& region : regions_) {
      variant.fresh.push_back(law_of(region, stiff, false));
    }
    variants_.push_back(std::move(variant));
  }
  for (const bool stiff : {false, true}) {
    std::vector<std::pair<LawPtr, LawPtr>>& relaxed = relaxed_;
    for (int face = 0; face < static_cast<int>(row.box.walls.faces.size()); ++face) {
      for (const RowGap& gap : gaps_on(face)) {
        for (const RowPad& pad : gap.pads) {
          const LawPtr& law = stiff ? pad.stiff_edge : pad.soft_edge;
          const bool known = std::any_of(relaxed.begin(), relaxed.end(),
                                         [&](const auto& pair) { return pair.first == law; });
          if (pad.relaxes && !known) {
            relaxed.emplace_back(law, std::make_shared<RelaxedLaw>(law, row.foam_share));
          }
        }
      }
    }
  }
  for (const bool stiff : {false, true}) {
    for (const Region& region : regions_) {
      variants_[stiff ? 1 : 0].settled.push_back(law_of(region, stiff, true));
    }
  }
  if (bows_far()) {
    let_walls_stretch();
  }
}

bool RowColumns::bows_far() const {
  const auto plates = [](const std::optional<WallPlate>& wall) {
    return wall && !wall->measured_bow;
  };
  if (!plates(row_.box.walls.first) && !plates(row_.box.walls.last)) {
    return false;
  }
  return bow_at_top_mm() > linear_bow_share * row_.box.thinnest_wall_mm();
}

/// How far the walls bow as built without lid, at the top of the band.
double RowColumns::bow_at_top_mm() const {
  const double top_n = row_.band.high_mpa * row_.face_area_mm2;
  Asked asked;
  asked.building = !row_.box.rods;
  asked.built_rim_less_mm = row_.rim_less_mm(row_.build_charge, 0);
  asked.rim_less_mm = asked.built_rim_less_mm;
  if (row_.companions.empty()) {
    // Pulled together by that force, whatever holds the walls: one solution, where the curve that
    // leads there is of no use to walls that turn out to stretch.
    const Columns open(quick_setup(false, false, false));
    ColumnsLoad pulled = load_lacking({}, asked.built_rim_less_mm);
    pulled.pulled_n = top_n;
    const ColumnsState state = open.solve(pulled);
    if (state.stop == ColumnsStop::converged) {
      return column_figures(open.setup(), state, row_.face, row_.face_area_mm2).wall_bow_mm;
    }
  }
  // Several rows press as each of them is long: only their common curve says when this one does so.
  const ShimLoad none;
  asked.built_mm = row_.box.rods ? 0 : interference_mm(asked, none, top_n);
  asked.now_mm = row_.box.rods ? interference_mm(asked, none, top_n) : asked.built_mm;
  return figures(asked, none).wall_bow_mm;
}

/// Walls that stretch as they bow. A lid's later hold is left out then: the
/// swing of pressure is understated, and a warning says so.
void RowColumns::let_walls_stretch() {
  WallPair pair = row_.box.walls;
  pair.large_bow = true;
  lid_holds_ = false;
  walls_ = store_->walls(pair, false);
  at_hand_.clear();
}

const std::vector<RowGap>& RowColumns::gaps_on(int face) const {
  for (const RowCompanion& companion : row_.companions) {
    if (companion.face == face) {
      return companion.gaps;
    }
  }
  return row_.gaps;
}

const std::vector<RowCell>& RowColumns::cells_on(int face) const {
  for (const RowCompanion& companion : row_.companions) {
    if (companion.face == face) {
      return companion.cells;
    }
  }
  return row_.cells;
}

void RowColumns::find_regions() {
  const auto per_face = static_cast<int>(row_.outlines.size());
  const std::uint64_t own = per_face > 0 ? (std::uint64_t{1} << per_face) - 1 : 0;
  for (const ColumnPoint& point : walls_->mesh->points) {
    // The walls list every row's sheet outlines, row after row; a column knows those of its own.
    const std::uint64_t sheets = per_face > 0 ? (point.sheets >> (point.face * per_face)) & own : 0;
    const auto known = std::find_if(regions_.begin(), regions_.end(), [&](const Region& region) {
      return region.face == point.face && region.sheets == sheets;
    });
    region_.push_back(static_cast<int>(known - regions_.begin()));
    if (known != regions_.end()) {
      continue;
    }
    Region region{point.face, sheets, 0, 0};
    for (const RowGap& gap : gaps_on(point.face)) {
      for (const RowSheet& sheet : gap.fixed) {
        region.shift_mm -= lies_under(sheets, sheet.outline) ? 0 : sheet.thickness_mm;
      }
      for (const RowPad& pad : gap.pads) {
        region.shift_mm -= lies_under(sheets, pad.outline) ? 0 : pad.thickness_mm;
      }
    }
    if (row_.rim && !lies_under(sheets, row_.rim->outline)) {
      // The rim stands as it did when its cell was measured, at the charge of that moment.
      const std::vector<RowCell>& cells = cells_on(point.face);
      region.rim_cells = static_cast<int>(cells.size());
      for (const RowCell& cell : cells) {
        region.shift_mm += row_.rim->height_mm + row_.rim_less_mm(cell.measured_charge, 0);
      }
    }
    regions_.push_back(region);
  }
}

void RowColumns::find_bulges() {
  const std::vector<ColumnPoint>& points = walls_->mesh->points;
  bulge_mm_ = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(points.size()));
  std::vector<FaceFrame> frames;
  for (const geometry::Outline& face : row_.box.walls.faces) {
    frames.push_back(frame_of(face));
  }
  for (std::size_t q = 0; q < points.size(); ++q) {
    if (is_rim(q)) {
      continue;  // the can's narrow walls have no dome
    }
    const FaceFrame& frame = frames[static_cast<std::size_t>(points[q].face)];
    const double xi = (points[q].at.x_mm - frame.middle.x_mm) / frame.half_width_mm;
    const double eta = (points[q].at.y_mm - frame.middle.y_mm) / frame.half_height_mm;
    const double across = std::max(0.0, 1 - xi * xi) * std::max(0.0, 1 - eta * eta);
    for (const RowCell& cell : cells_on(points[q].face)) {
      const double dome = cell.dome_mm * std::pow(across, cell.dome.exponent);
      bulge_mm_[static_cast<Eigen::Index>(q)] +=
          cell.dome_mm > 0 ? std::max(0.0, dome - cell.slack_mm) : dome;
    }
  }
}

ColumnLaw RowColumns::law_of(const Region& region, bool stiff, bool settled) const {
  ColumnLaw law;
  law.add(region.rim_cells > 0 ? row_.rim->law : row_.cell_law,
          row_.nominal_mm * static_cast<double>(cells_on(region.face).size()));
  for (const RowGap& gap : gaps_on(region.face)) {
    for (const RowSheet& sheet : gap.fixed) {
      if (lies_under(region.sheets, sheet.outline)) {
        law.add_give(sheet.thickness_mm / sheet.modulus_mpa);
      }
    }
    for (const RowPad& pad : gap.pads) {
      if (!lies_under(region.sheets, pad.outline)) {
        continue;
      }
      LawPtr used = stiff ? pad.stiff_edge : pad.soft_edge;
      if (settled && pad.relaxes) {
        used = std::find_if(relaxed_.begin(), relaxed_.end(), [&](const auto& pair) {
                 return pair.first == used;
               })->second;
      }
      law.add(used, pad.thickness_mm);
    }
  }
  return law;
}

// --- one solution ---------------------------------------------------------------------------

bool RowColumns::staged(const Asked& asked) const {
  return !asked.building && (lid_holds_ || asked.settled);
}

ColumnsSetup RowColumns::setup(bool stiff, bool settled, bool closed) const {
  const Variant& variant = variants_[stiff ? 1 : 0];
  return {closed ? walls_->closed : walls_->open, settled ? variant.settled : variant.fresh,
          region_, bulge_mm_};
}

/// Up to where quick laws are wanted.
double RowColumns::quick_top_mpa() const {
  // Local pressures reach several times the mean's top.
  constexpr double local_over_top = 8;
  return local_over_top * curve_top_mpa();
}

/// The same with laws that are quick to ask.
ColumnsSetup RowColumns::quick_setup(bool stiff, bool settled, bool closed) const {
  ColumnsSetup made = setup(stiff, settled, closed);
  for (ColumnLaw& law : made.laws) {
    law = law.quick(quick_top_mpa());
  }
  return made;
}

ColumnsLoad RowColumns::load_at(double interference_mm, double rim_less_mm,
                                const ShimLoad& load) const {
  Lacking lacking;
  for (const ShimLoad::Partial& partial : load.partial) {
    lacking.emplace_back(partial.outline, partial.thickness_mm);
  }
  ColumnsLoad made = load_lacking(lacking, rim_less_mm);
  for (double& interference : made.interference_mm) {
    interference += interference_mm;
  }
  for (const Region& region : regions_) {
    double give = region.face == row_.face ? load.whole_give_mm_per_mpa : 0;
    for (const ShimLoad::Partial& partial : load.partial) {
      const bool under = region.face == row_.face && lies_under(region.sheets, partial.outline);
      give += under ? partial.give_mm_per_mpa : 0;
    }
    made.region_give_mm_per_mpa.push_back(give);
  }
  return made;
}

/// The row's own face is shorter by the shims where these are not; chosen shims as if rigid.
ColumnsLoad RowColumns::load_lacking(const Lacking& lacking, double rim_less_mm) const {
  ColumnsLoad made;
  made.interference_mm.assign(row_.box.walls.faces.size(), 0);
  for (const RowCompanion& companion : row_.companions) {
    made.interference_mm[static_cast<std::size_t>(companion.face)] += companion.longer_mm;
  }
  for (const Region& region : regions_) {
    double shift = region.shift_mm - region.rim_cells * rim_less_mm;
    for (const auto& [outline, thickness_mm] : lacking) {
      const bool free = region.face == row_.face && !lies_under(region.sheets, outline);
      shift -= free ? thickness_mm : 0;
    }
    made.region_shift_mm.push_back(shift);
  }
  return made;
}

/// What settled foam does not regain, column by column [mm].
Eigen::VectorXd RowColumns::settled_loss(const ColumnsState& built, bool stiff) const {
  Eigen::VectorXd loss = Eigen::VectorXd::Zero(built.pressure_mpa.size());
  for (Eigen::Index q = 0; q < loss.size(); ++q) {
    const Region& region = regions_[static_cast<std::size_t>(region_[static_cast<std::size_t>(q)])];
    for (const RowGap& gap : gaps_on(region.face)) {
      for (const RowPad& pad : gap.pads) {
        if (!pad.relaxes || !lies_under(region.sheets, pad.outline)) {
          continue;
        }
        const LawPtr& law = stiff ? pad.stiff_edge : pad.soft_edge;
        loss[q] += row_.foam_set * pad.thickness_mm * law->strain_at(built.pressure_mpa[q]).value;
      }
    }
  }
  return loss;
}

RowColumns::Full RowColumns::solve_fully(const Asked& asked, const ShimLoad& load) const {
  return solve(asked, load, [](const Columns& columns, const ColumnsLoad& at) {
    return columns.solve_fully(at);
  });
}

template <typename Solve>
RowColumns::Full RowColumns::solve(const Asked& asked, const ShimLoad& load,
                                   const Solve& solved) const {
  Full full;
  const bool frame = row_.box.rods.has_value();
  const Columns open(setup(asked.stiff_pads, false, false));
  ColumnsLoad building = load_at(frame ? 0 : asked.built_mm, asked.built_rim_less_mm, load);
  if (frame) {
    building.pulled_n = row_.box.rods->force_n;
  } else {
    building.tie = &tie_;
  }
  full.setup = open.setup();
  full.walls = walls_->open;
  full.walls_building = walls_->open;
  if (asked.building || frame || staged(asked)) {
    full.built = solved(open, building);
    full.now = full.built;
  }
  if (!asked.building) {
    ColumnsLoad now =
        load_at(frame ? asked.now_mm - asked.built_mm : asked.now_mm, asked.rim_less_mm, load);
    now.tie = &tie_;
    now.tie_zero_mm = frame ? full.built.extension_mm : 0;
    if (asked.settled) {
      now.less_mm = settled_loss(full.built, asked.stiff_pads);
    }
    if (lid_holds_) {
      now.built = &full.built;
      full.walls = walls_->closed;
    }
    const Columns columns(setup(asked.stiff_pads, asked.settled, lid_holds_));
    full.now = solved(columns, now);
    full.setup = columns.setup();
  }
  if (!full.now.usable()) {
    throw std::runtime_error("the row could not be solved: " +
                             std::string(sentence(full.now.stop)));
  }
  full.figures = column_figures(full.setup, full.now, row_.face, row_.face_area_mm2);
  full.rim_force_n = rim_force_n(full.now);
  return full;
}

ColumnFigures RowColumns::figures_by_shapes(const Asked& asked, const ShimLoad& load) const {
  const auto by_shapes = [this](const Columns& columns, const ColumnsLoad& at) {
    // The chosen shims' give goes into the laws, which are then quick to ask.
    ColumnsSetup made = columns.setup();
    for (std::size_t i = 0; i < made.laws.size(); ++i) {
      made.laws[i].add_give(at.region_give_mm_per_mpa[i]);
      made.laws[i] = made.laws[i].quick(quick_top_mpa());
    }
    ColumnsLoad bare = at;
    bare.region_give_mm_per_mpa.clear();
    return Columns(std::move(made)).solve(bare);
  };
  return solve(asked, load, by_shapes).figures;
}

double RowColumns::rim_force_n(const ColumnsState& state) const {
  const WallMesh& mesh = *walls_->mesh;
  double sum = 0;
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    if (mesh.points[q].face == row_.face && is_rim(q)) {
      sum += state.pressure_mpa[static_cast<Eigen::Index>(q)] * mesh.points[q].area_mm2;
    }
  }
  return sum / mesh.share;
}

double RowColumns::rim_longer_mm(double rim_less_mm, const ShimLoad& load) const {
  const ColumnsLoad there = load_at(0, rim_less_mm, load);
  double most = -HUGE_VAL;
  for (std::size_t i = 0; i < regions_.size(); ++i) {
    if (regions_[i].rim_cells > 0 && regions_[i].face == row_.face) {
      most = std::max(most, there.region_shift_mm[i]);
    }
  }
  return most;
}

double RowColumns::greatest_bulge_mm() const {
  double most = -HUGE_VAL;
  for (std::size_t q = 0; q < region_.size(); ++q) {
    if (walls_->mesh->points[q].face == row_.face) {
      most = std::max(most, bulge_mm_[static_cast<Eigen::Index>(q)]);
    }
  }
  return most;
}

/// The column where the row is longest; where the cells are flat, or the walls have bowed away from
/// that column, all of them as their pressures weigh.
std::vector<double> RowColumns::give_weights(const Full& full) const {
  const WallMesh& mesh = *walls_->mesh;
  const double most = greatest_bulge_mm();
  const bool domed = !bulge_mm_.isZero();
  std::vector<double> by_pressure(mesh.points.size(), 0);
  for (std::size_t q = 0; q < by_pressure.size(); ++q) {
    const auto i = static_cast<Eigen::Index>(q);
    if (mesh.points[q].face != row_.face) {
      continue;
    }
    const double p = full.now.pressure_mpa[i];
    if (domed && bulge_mm_[i] == most && p > 0) {
      std::vector<double> one(by_pressure.size(), 0);
      one[q] = 1;
      return one;
    }
    by_pressure[q] = mesh.points[q].area_mm2 * p / (full.figures.force_n * mesh.share);
  }
  return by_pressure;
}

/// The same where a can's rim may be what is longest.
std::vector<double> RowColumns::rimmed_weights(const Full& full, double rim_less_mm,
                                               const ShimLoad& load) const {
  const WallMesh& mesh = *walls_->mesh;
  const double most = std::max(greatest_bulge_mm(), rim_longer_mm(rim_less_mm, load));
  const ColumnsLoad there = load_at(0, rim_less_mm, load);
  std::vector<double> weights(mesh.points.size(), 0);
  double sum = 0;
  for (std::size_t q = 0; q < weights.size(); ++q) {
    const auto i = static_cast<Eigen::Index>(q);
    const double longer =
        is_rim(q) ? there.region_shift_mm[static_cast<std::size_t>(region_[q])] : bulge_mm_[i];
    if (mesh.points[q].face == row_.face && longer == most) {
      weights[q] = mesh.points[q].area_mm2 * full.now.pressure_mpa[i];
      sum += weights[q];
    }
  }
  if (!(sum > 0)) {
    return give_weights(full);
  }
  for (double& weight : weights) {
    weight /= sum;
  }
  return weights;
}

RowGive RowColumns::give(const Asked& asked, const ShimLoad& load) const {
  const Full full = solve_fully(asked, load);
  RowGive give;
  if (!(full.figures.force_n > 0)) {
    return give;
  }
  const std::vector<double> weights =
      row_.rim ? rimmed_weights(full, asked.rim_less_mm, load) : give_weights(full);
  for (std::size_t q = 0; q < weights.size(); ++q) {
    const auto i = static_cast<Eigen::Index>(q);
    const auto region = static_cast<std::size_t>(region_[q]);
    const double p = full.now.pressure_mpa[i];
    const double weight = weights[q];
    const ColumnLaw& law = full.setup.laws[region];
    double more = load.whole_give_mm_per_mpa;
    for (const ShimLoad::Partial& partial : load.partial) {
      more += lies_under(regions_[region].sheets, partial.outline) ? partial.give_mm_per_mpa : 0;
    }
    give.sheets_mm += weight * p * (law.give_mm_per_mpa() + more);
    for (const ColumnLaw::Part& part : law.parts()) {
      const double squeeze = part.thickness_mm * part.law->strain_at(p).value;
      const bool of_cells = part.law == row_.cell_law || (row_.rim && part.law == row_.rim->law);
      (of_cells ? give.cells_mm : give.pads_mm) += weight * squeeze;
    }
    give.walls_mm += weight * full.now.wall_mm[i];
  }
  // In a clamp frame the rods' stretch is no give of the interference: the nuts were turned.
  give.walls_mm += row_.box.rods ? 0 : full.now.extension_mm;
  return give;
}

double RowColumns::even_wall_give_mm_per_n() const {
  const WallMesh& mesh = *walls_->mesh;
  Eigen::VectorXd area(static_cast<Eigen::Index>(mesh.points.size()));
  double whole = 0;
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    const bool own = mesh.points[q].face == row_.face;
    area[static_cast<Eigen::Index>(q)] = mesh.points[q].area_mm2;
    whole += own ? mesh.points[q].area_mm2 : 0;
  }
  const double pressed = area.sum();
  // Energy of an even pressure: force times mean deflection.
  const double squared = (walls_->open->shapes().transpose() * area).squaredNorm();
  return squared / (pressed * whole) * mesh.share;
}

}  // namespace stackfit
