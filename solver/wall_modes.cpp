// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/wall_modes.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace stackfit {
namespace {

/// Shapes that give less than this share of the softest one are rounding.
constexpr double least_give_share = 1e-12;

// --- outline and sides ----------------------------------------------------------------------

enum class Side : std::uint8_t { bottom, right, top, left };
constexpr std::array<Side, 4> around{Side::bottom, Side::right, Side::top, Side::left};

const std::vector<WallEdgePart>& parts_of(const WallPlate& wall, Side side) {
  switch (side) {
    case Side::bottom:
      return wall.bottom;
    case Side::right:
      return wall.right;
    case Side::top:
      return wall.top;
    case Side::left:
      return wall.left;
  }
  return wall.left;
}

/// Where an edge changes its support, for either wall, with both its ends.
std::vector<double> breaks(const WallPair& pair, Side side, double length_mm) {
  std::vector<double> at{0, length_mm};
  for (const auto& wall : {pair.first, pair.last}) {
    if (!wall) {
      continue;
    }
    for (const WallEdgePart& part : parts_of(*wall, side)) {
      at.push_back(part.from_mm);
      at.push_back(part.to_mm);
    }
  }
  std::sort(at.begin(), at.end());
  constexpr double same_mm = 1e-6;
  std::vector<double> kept;
  for (const double place : at) {
    if (place >= 0 && place <= length_mm && (kept.empty() || place - kept.back() > same_mm)) {
      kept.push_back(place);
    }
  }
  return kept;
}

/// A straight piece of the outline between two breaks.
struct Piece {
  Side side = Side::bottom;
  double from_mm = 0;
  double to_mm = 0;
  bool mirror = false;
};

/// The pieces counterclockwise from the lower left corner, as the outline counts its edges.
std::vector<Piece> pieces_of(const WallPair& pair) {
  const double width = pair.mirrored ? 0.5 * pair.width_mm : pair.width_mm;
  std::vector<Piece> pieces;
  for (const Side side : around) {
    const bool flat = side == Side::bottom || side == Side::top;
    if (side == Side::right && pair.mirrored) {
      pieces.push_back({side, 0, pair.height_mm, true});
      continue;
    }
    std::vector<double> at = breaks(pair, side, flat ? width : pair.height_mm);
    if (side == Side::top || side == Side::left) {
      std::reverse(at.begin(), at.end());
    }
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
      pieces.push_back({side, at[i], at[i + 1], false});
    }
  }
  return pieces;
}

geometry::Outline outline_of(const WallPair& pair, const std::vector<Piece>& pieces) {
  const double width = pair.mirrored ? 0.5 * pair.width_mm : pair.width_mm;
  geometry::Loop loop;
  for (const Piece& piece : pieces) {
    switch (piece.side) {
      case Side::bottom:
        loop.push_back({{piece.from_mm, 0}});
        break;
      case Side::right:
        loop.push_back({{width, piece.from_mm}});
        break;
      case Side::top:
        loop.push_back({{piece.from_mm, pair.height_mm}});
        break;
      case Side::left:
        loop.push_back({{0, piece.from_mm}});
        break;
    }
  }
  return {{loop}};
}

PlateEdge support_of(const WallPlate& wall, const Piece& piece, bool lid) {
  if (piece.mirror) {
    return PlateEdge::mirror;
  }
  const double middle = 0.5 * (piece.from_mm + piece.to_mm);
  PlateEdge support = PlateEdge::free;
  for (const WallEdgePart& part : parts_of(wall, piece.side)) {
    if (middle > part.from_mm && middle < part.to_mm) {
      support = part.support;
    }
  }
  return lid && piece.side == Side::top && support == PlateEdge::free ? PlateEdge::held : support;
}

PlateBacking backing_of(const WallPair& pair, const WallPlate& wall) {
  PlateBacking backing{{}, wall.second};
  for (const WallRib& rib : wall.ribs) {
    if (const auto bar = bar_of(pair, wall, rib)) {
      backing.ribs.push_back(*bar);
    }
  }
  return backing;
}

WallModes::OneWall plate_of(const WallMesh& mesh, const WallPair& pair,
                            const std::optional<WallPlate>& wall, bool lid) {
  if (!wall) {
    return {};
  }
  PlateSupports supports;
  for (const Piece& piece : pieces_of(pair)) {
    supports.sides.push_back(support_of(*wall, piece, lid));
  }
  for (const PlatePoint& rod : wall->rods) {
    if (!pair.mirrored || rod.at.x_mm <= 0.5 * pair.width_mm) {
      supports.points.push_back(rod);
    }
  }
  WallModes::OneWall made{
      std::make_shared<const Plate>(mesh.mesh, wall->section, supports, backing_of(pair, *wall)),
      1};
  if (wall->measured_bow) {
    // What the plate would bow under the same force, spread evenly over the faces.
    double area = 0;
    for (const ColumnPoint& point : mesh.points) {
      area += point.area_mm2;
    }
    const Eigen::VectorXd even =
        Eigen::VectorXd::Constant(static_cast<Eigen::Index>(mesh.points.size()),
                                  mesh.share * wall->measured_bow->force_n / area);
    made.give_scale = wall->measured_bow->bow_mm / made.bent(mesh, even)[3 * mesh.middle_node];
  }
  return made;
}

// --- pressures ------------------------------------------------------------------------------

struct Frame {
  double x_middle = 0, x_half = 1, y_middle = 0, y_half = 1;
};

/// Rectangle around the points of a face. In the mirrored half it reaches to the face's middle.
Frame frame_of(const WallMesh& mesh, int face, bool mirrored, double middle_mm) {
  double left = HUGE_VAL, right = -HUGE_VAL, low = HUGE_VAL, high = -HUGE_VAL;
  for (const ColumnPoint& point : mesh.points) {
    if (point.face == face) {
      left = std::min(left, point.at.x_mm);
      right = std::max(right, point.at.x_mm);
      low = std::min(low, point.at.y_mm);
      high = std::max(high, point.at.y_mm);
    }
  }
  if (mirrored) {
    return {middle_mm, middle_mm - left, 0.5 * (low + high), 0.5 * (high - low)};
  }
  return {0.5 * (left + right), 0.5 * (right - left), 0.5 * (low + high), 0.5 * (high - low)};
}

/// Legendre polynomials up to a degree, by Bonnet's recursion.
std::vector<double> legendre(double x, int degree) {
  std::vector<double> p{1, x};
  for (int n = 1; n < degree; ++n) {
    const auto k = static_cast<std::size_t>(n);
    p.push_back(((2 * n + 1) * x * p[k] - n * p[k - 1]) / (n + 1));
  }
  return p;
}

/// Pressures [points x fields]: products of Legendre polynomials over each face; in the mirrored
/// half only those that are even in x.
Eigen::MatrixXd pressure_fields(const WallMesh& mesh, const WallPair& pair) {
  const int step = pair.mirrored ? 2 : 1;
  int each = 0;
  for (int i = 0; i <= wall_mode_degree; i += step) {
    each += wall_mode_degree - i + 1;
  }
  const auto faces = static_cast<int>(pair.faces.size());
  Eigen::MatrixXd fields =
      Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(mesh.points.size()), faces * each);
  std::vector<Frame> frames;
  for (int face = 0; face < faces; ++face) {
    frames.push_back(frame_of(mesh, face, pair.mirrored, 0.5 * pair.width_mm));
  }
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    const ColumnPoint& point = mesh.points[q];
    const Frame& f = frames[static_cast<std::size_t>(point.face)];
    const auto px = legendre((point.at.x_mm - f.x_middle) / f.x_half, wall_mode_degree);
    const auto py = legendre((point.at.y_mm - f.y_middle) / f.y_half, wall_mode_degree);
    Eigen::Index column = point.face * each;
    for (int i = 0; i <= wall_mode_degree; i += step) {
      for (int j = 0; i + j <= wall_mode_degree; ++j) {
        fields(static_cast<Eigen::Index>(q), column++) =
            px[static_cast<std::size_t>(i)] * py[static_cast<std::size_t>(j)];
      }
    }
  }
  return fields;
}

Eigen::VectorXd areas_of(const WallMesh& mesh) {
  Eigen::VectorXd area(static_cast<Eigen::Index>(mesh.points.size()));
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    area[static_cast<Eigen::Index>(q)] = mesh.points[q].area_mm2;
  }
  return area;
}

bool same_part(const WallEdgePart& a, const WallEdgePart& b) {
  return a.from_mm == b.from_mm && a.to_mm == b.to_mm && a.support == b.support;
}
bool same_parts(const std::vector<WallEdgePart>& a, const std::vector<WallEdgePart>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_part);
}
bool same_rod(const PlatePoint& a, const PlatePoint& b) {
  return a.at.x_mm == b.at.x_mm && a.at.y_mm == b.at.y_mm && a.rigid == b.rigid &&
         a.spring_n_per_mm == b.spring_n_per_mm;
}

bool same_section(const PlateSection& a, const PlateSection& b) {
  return a.thickness_mm == b.thickness_mm && a.modulus_mpa == b.modulus_mpa &&
         a.poisson == b.poisson;
}

/// Of every node, from three unknowns a node.
Eigen::MatrixXd deflections_of(const Eigen::MatrixXd& unknowns) {
  return unknowns(Eigen::seqN(0, unknowns.rows() / 3, 3), Eigen::all);
}

int node_nearest(const geometry::Mesh& mesh, const geometry::Point& to) {
  const auto distance = [&](const geometry::Point& p) {
    return std::hypot(p.x_mm - to.x_mm, p.y_mm - to.y_mm);
  };
  const auto nearest =
      std::min_element(mesh.nodes.begin(), mesh.nodes.end(),
                       [&](const auto& a, const auto& b) { return distance(a) < distance(b); });
  return static_cast<int>(nearest - mesh.nodes.begin());
}

}  // namespace

bool operator==(const WallPlate& a, const WallPlate& b) {
  return same_section(a.section, b.section) && a.ribs == b.ribs &&
         a.second.has_value() == b.second.has_value() &&
         (!a.second || same_section(*a.second, *b.second)) && a.in_plane == b.in_plane &&
         a.measured_bow.has_value() == b.measured_bow.has_value() &&
         (!a.measured_bow || (a.measured_bow->bow_mm == b.measured_bow->bow_mm &&
                              a.measured_bow->force_n == b.measured_bow->force_n)) &&
         same_parts(a.left, b.left) && same_parts(a.right, b.right) &&
         same_parts(a.bottom, b.bottom) && same_parts(a.top, b.top) &&
         std::equal(a.rods.begin(), a.rods.end(), b.rods.begin(), b.rods.end(), same_rod);
}

std::optional<PlateRib> bar_of(const WallPair& pair, const WallPlate& wall, const WallRib& rib) {
  const double width = pair.mirrored ? 0.5 * pair.width_mm : pair.width_mm;
  RibSection section = rib.section;
  section.flange_mm = pair.large_bow ? 0 : section.flange_mm;
  const double stiffness = rib_bending(section, wall.section).stiffness_n_mm2;
  if (rib.along == WallRib::Along::width) {
    return PlateRib{{0, rib.at_mm}, {width, rib.at_mm}, stiffness};
  }
  const bool on_mirror = pair.mirrored && std::abs(rib.at_mm - width) <= geometry::mesh_snap_mm;
  if (rib.at_mm > width && !on_mirror) {
    return std::nullopt;
  }
  const double at = on_mirror ? width : rib.at_mm;
  return PlateRib{{at, 0}, {at, pair.height_mm}, on_mirror ? 0.5 * stiffness : stiffness};
}

std::shared_ptr<const WallMesh> mesh_walls(const WallPair& pair) {
  geometry::MeshRequest request;
  request.outline = outline_of(pair, pieces_of(pair));
  request.patches = pair.faces;
  request.patches.insert(request.patches.end(), pair.sheets.begin(), pair.sheets.end());
  const double middle = 0.5 * pair.width_mm;
  for (const auto& wall : {pair.first, pair.last}) {
    for (const PlatePoint& rod : wall ? wall->rods : std::vector<PlatePoint>{}) {
      if (!pair.mirrored || rod.at.x_mm <= middle) {
        request.points.push_back(rod.at);
      }
    }
    for (const WallRib& rib : wall ? wall->ribs : std::vector<WallRib>{}) {
      if (const auto bar = bar_of(pair, *wall, rib)) {
        request.lines.push_back({bar->from, bar->to});
      }
    }
  }
  request.points.push_back({middle, 0.5 * pair.height_mm});
  auto made = std::make_shared<WallMesh>();
  made->share = pair.mirrored ? 0.5 : 1;
  request.greatest_edge_mm = pair.edge_scale * default_edge_mm(pair.width_mm * pair.height_mm);
  made->mesh = geometry::triangulate(request);
  made->middle_node = node_nearest(made->mesh, {middle, 0.5 * pair.height_mm});
  const PlatePoints all = edge_points(made->mesh);
  const auto faces = static_cast<int>(pair.faces.size());
  made->face_area_mm2.assign(pair.faces.size(), 0);
  std::vector<Eigen::Index> pressed;
  for (std::size_t q = 0; q < all.at.size(); ++q) {
    for (int face = 0; face < faces; ++face) {
      if ((all.over[q] >> face & 1U) == 0) {
        continue;
      }
      const double area = all.area_mm2[static_cast<Eigen::Index>(q)];
      made->points.push_back({all.at[q], area, face, all.over[q] >> faces});
      made->face_area_mm2[static_cast<std::size_t>(face)] += area;
      pressed.push_back(static_cast<Eigen::Index>(q));
      break;
    }
  }
  made->rows.resize(static_cast<Eigen::Index>(pressed.size()), all.rows.cols());
  made->rows.reserve(Eigen::VectorXi::Constant(made->rows.rows(), 6));
  for (std::size_t q = 0; q < pressed.size(); ++q) {
    using Row = Eigen::SparseMatrix<double, Eigen::RowMajor>;
    for (Row::InnerIterator entry(all.rows, pressed[q]); entry; ++entry) {
      made->rows.insert(static_cast<Eigen::Index>(q), entry.col()) = entry.value();
    }
  }
  made->rows.makeCompressed();
  return made;
}

WallModes::WallModes(std::shared_ptr<const WallMesh> mesh, const WallPair& pair, bool lid)
    : mesh_(std::move(mesh)) {
  first_ = plate_of(*mesh_, pair, pair.first, lid);
  last_ = pair.first && pair.last && *pair.first == *pair.last
              ? first_
              : plate_of(*mesh_, pair, pair.last, lid);
  const auto points = static_cast<Eigen::Index>(mesh_->points.size());
  if (!first_.plate && !last_.plate) {
    shapes_.resize(points, 0);
    forces_.resize(points, 0);
    return;
  }
  pair.large_bow ? bend_and_stretch(pair) : bend(pair);
}

namespace {

/// Combinations of loads whose work on their own deflections is one each, softest last; at most
/// so many of the softest.
Eigen::MatrixXd scaled_modes(const Eigen::MatrixXd& give, Eigen::Index most) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> modes(0.5 * (give + give.transpose()));
  const Eigen::VectorXd& gives = modes.eigenvalues();
  const double least = least_give_share * gives[gives.size() - 1];
  const Eigen::Index kept = std::min<Eigen::Index>(most, (gives.array() > least).count());
  return modes.eigenvectors().rightCols(kept) *
         gives.tail(kept).cwiseSqrt().cwiseInverse().asDiagonal();
}

}  // namespace

void WallModes::bend(const WallPair& pair) {
  const auto points = static_cast<Eigen::Index>(mesh_->points.size());
  const Eigen::MatrixXd weighted = areas_of(*mesh_).asDiagonal() * pressure_fields(*mesh_, pair);
  const Eigen::MatrixXd loads = mesh_->rows.transpose() * weighted;
  struct Bent {
    Eigen::MatrixXd points;
    Eigen::MatrixXd nodes;
  };
  const auto bent = [&](const OneWall& wall) -> Bent {
    const Eigen::MatrixXd all = wall.give_scale * wall.plate->solve(loads);
    return {mesh_->rows * all, deflections_of(all)};
  };
  Eigen::MatrixXd deflection = Eigen::MatrixXd::Zero(points, loads.cols());
  if (first_.plate) {
    Bent one = bent(first_);
    deflection += one.points;
    first_nodes_ = std::move(one.nodes);
  }
  if (alike()) {
    deflection *= 2;
  } else if (last_.plate) {
    Bent one = bent(last_);
    deflection += one.points;
    last_nodes_ = std::move(one.nodes);
  }
  // Scaled so that the energy is half the sum of the squared amplitudes.
  const Eigen::MatrixXd scaled = scaled_modes(weighted.transpose() * deflection, loads.cols());
  shapes_ = deflection * scaled;
  forces_ = weighted * scaled;
  for (Eigen::MatrixXd* nodes : {&first_nodes_, &last_nodes_}) {
    if (nodes->size() > 0) {
      *nodes = (*nodes * scaled).eval();
    }
  }
}

/// Each wall by its own amplitudes, since walls that stretch do not bend in proportion; walls that
/// are alike by the same ones.
void WallModes::bend_and_stretch(const WallPair& pair) {
  const Eigen::MatrixXd weighted = areas_of(*mesh_).asDiagonal() * pressure_fields(*mesh_, pair);
  const Eigen::MatrixXd loads = mesh_->rows.transpose() * weighted;
  const auto points = static_cast<Eigen::Index>(mesh_->points.size());
  const auto add = [&](const OneWall& wall, EdgeDraw in_plane, double walls, bool is_last) {
    const Eigen::MatrixXd all = wall.give_scale * wall.plate->solve(loads);
    const Eigen::MatrixXd give = walls * weighted.transpose() * (mesh_->rows * all);
    const Eigen::MatrixXd unknowns = all * scaled_modes(give, stretching_shapes);
    const Eigen::Index before = shapes_.cols();
    Eigen::MatrixXd wider(points, before + unknowns.cols());
    wider << shapes_, walls * (mesh_->rows * unknowns);
    shapes_ = std::move(wider);
    BowStiffening stiffening(*wall.plate, unknowns, in_plane);
    if (const auto& second = wall.plate->backing().second) {
      // It slides on the wall, and whether its own edges are held is not known: they draw in.
      stiffening += BowStiffening(*wall.plate, *second, unknowns, EdgeDraw::free);
    }
    stretched_.push_back({std::move(stiffening), unknowns, before, walls, is_last});
  };
  shapes_.resize(points, 0);
  if (first_.plate) {
    add(first_, pair.first->in_plane, alike() ? 2 : 1, false);
  }
  if (last_.plate && !alike()) {
    add(last_, pair.last->in_plane, 1, true);
  }
  forces_.resize(points, 0);
}

WallModes::Stretching WallModes::stretching(const Eigen::VectorXd& amplitudes) const {
  Stretching sum{0, Eigen::VectorXd::Zero(amplitudes.size()),
                 Eigen::MatrixXd::Zero(amplitudes.size(), amplitudes.size())};
  for (const Stretched& wall : stretched_) {
    const Eigen::Index from = wall.first_amplitude;
    const Eigen::Index count = wall.unknowns.cols();
    const BowStiffening::Local one = wall.stiffening.at(amplitudes.segment(from, count));
    sum.energy_n_mm += wall.walls * one.energy_n_mm;
    sum.gradient.segment(from, count) += wall.walls * one.gradient;
    sum.hessian.block(from, from, count, count) += wall.walls * one.hessian;
  }
  return sum;
}

Eigen::VectorXd WallModes::first_bent(const Eigen::VectorXd& amplitudes) const {
  for (const Stretched& wall : stretched_) {
    if (!wall.is_last) {
      return wall.unknowns * amplitudes.segment(wall.first_amplitude, wall.unknowns.cols());
    }
  }
  return Eigen::VectorXd::Zero(3 * static_cast<Eigen::Index>(mesh_->mesh.nodes.size()));
}

Eigen::VectorXd WallModes::last_bent(const Eigen::VectorXd& amplitudes) const {
  if (alike()) {
    return first_bent(amplitudes);
  }
  for (const Stretched& wall : stretched_) {
    if (wall.is_last) {
      return wall.unknowns * amplitudes.segment(wall.first_amplitude, wall.unknowns.cols());
    }
  }
  return Eigen::VectorXd::Zero(3 * static_cast<Eigen::Index>(mesh_->mesh.nodes.size()));
}

Eigen::VectorXd WallModes::first_mm(const Eigen::VectorXd& amplitudes) const {
  if (bowed()) {
    return deflections_of(first_bent(amplitudes));
  }
  return first_.plate ? Eigen::VectorXd(first_nodes_ * amplitudes) : still();
}

Eigen::VectorXd WallModes::last_mm(const Eigen::VectorXd& amplitudes) const {
  if (alike()) {
    return first_mm(amplitudes);
  }
  if (bowed()) {
    return deflections_of(last_bent(amplitudes));
  }
  return last_.plate ? Eigen::VectorXd(last_nodes_ * amplitudes) : still();
}

Eigen::VectorXd WallModes::still() const {
  return Eigen::VectorXd::Zero(static_cast<Eigen::Index>(mesh_->mesh.nodes.size()));
}

Eigen::VectorXd WallModes::OneWall::bent(const WallMesh& mesh,
                                         const Eigen::VectorXd& pressure_mpa) const {
  if (!plate) {
    return Eigen::VectorXd::Zero(3 * static_cast<Eigen::Index>(mesh.mesh.nodes.size()));
  }
  const Eigen::VectorXd load = mesh.rows.transpose() * areas_of(mesh).cwiseProduct(pressure_mpa);
  return give_scale * plate->solve(load);
}

Eigen::VectorXd WallModes::OneWall::nodes_mm(const WallMesh& mesh,
                                             const Eigen::VectorXd& pressure_mpa) const {
  return deflections_of(bent(mesh, pressure_mpa));
}

Eigen::VectorXd WallModes::true_deflection(const Eigen::VectorXd& pressure_mpa) const {
  Eigen::VectorXd sum = mesh_->rows * first_.bent(*mesh_, pressure_mpa);
  if (alike()) {
    return 2 * sum;
  }
  return sum + mesh_->rows * last_.bent(*mesh_, pressure_mpa);
}

}  // namespace stackfit
