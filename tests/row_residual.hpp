// SPDX-License-Identifier: GPL-3.0-or-later
//
// What is left over of a row's equilibrium where it was solved, computed again from what the build
// says: readings, swing, growth, heat, sheets, springs.
//
// For: tests that hold a state's pressures to the forces of walls, tie and columns.
// Not for: rows side by side, chosen shims that leave a part of the face free, cans with a rim.
// Pads by their own law, swing by its curve and plates by their factor: those have tests of their
// own. All else is arithmetic of this file.
#pragma once

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <variant>

#include "solver/study.hpp"

namespace stackfit::testing {

struct Residual {
  double gap_mm = 0;       ///< worst column: its parts' squeeze less the gap it stands in
  double force_share = 0;  ///< columns together against the state's force, against the tie's
  double walls_share = 0;  ///< walls against where these pressures bend them
  double energy_rise = 0;  ///< greatest rise on the way there, as a share of the energy

  void take(const Residual& other) {
    gap_mm = std::max(gap_mm, other.gap_mm);
    force_share = std::max(force_share, other.force_share);
    walls_share = std::max(walls_share, other.walls_share);
    energy_rise = std::max(energy_rise, other.energy_rise);
  }
};

/// A law A (exp(B eps) - 1), along its tangent above 1 MPa.
inline double cell_strain(const SoftnessLaw& law, double mpa) {
  constexpr double tangent_above_mpa = 1;
  const double curved = std::min(mpa, tangent_above_mpa);
  return std::log(1 + curved / law.a_mpa) / law.b + (mpa - curved) / (law.b * (law.a_mpa + curved));
}

/// Almen and Laszlo's disc (no flats), `parallel` nested; steel of DIN EN 16984.
inline double disc_force_n(const DiscSprings& disc, double one_mm) {
  constexpr double pi = 3.14159265358979323846;
  constexpr double modulus = 206000;
  constexpr double poisson = 0.3;
  const double t = disc.thickness_mm;
  const double h = disc.cone_height_mm;
  const double ratio = disc.outer_mm / disc.inner_mm;
  const double shape =
      std::pow((ratio - 1) / ratio, 2) / ((ratio + 1) / (ratio - 1) - 2 / std::log(ratio)) / pi;
  return disc.parallel * 4 * modulus / (1 - poisson * poisson) * one_mm /
         (shape * disc.outer_mm * disc.outer_mm) *
         ((h - one_mm) * (h - 0.5 * one_mm) * t + t * t * t);
}

/// How far a rod and its discs are drawn out at a force.
inline double rod_and_discs_mm(const Frame& frame, const Rod& rod, double rod_n) {
  double springs = 0;
  if (frame.springs) {
    const auto& disc = std::get<DiscSprings>(*frame.springs);
    double low = 0;
    double high = disc.cone_height_mm;
    constexpr int halvings = 80;
    for (int i = 0; i < halvings; ++i) {
      const double middle = 0.5 * (low + high);
      (disc_force_n(disc, middle) < rod_n ? low : high) = middle;
    }
    springs = disc.series * high;
  }
  return springs + rod_n * rod.length_mm / (rod.modulus_mpa * stress_area_mm2(rod.thread));
}

class RowResidual {
 public:
  RowResidual(const Study& study, const ShimLoad& load) : study_(study), load_(load) {}

  [[nodiscard]] Residual at(const RowState& state) const {
    const std::optional<RowColumns::Full> full = study_.model().columns_at(state, load_);
    return full ? columns(state, *full) : one_column(state);
  }
  /// Free length of cells, sheets and pads where the cells are flat; less the box, if there is one.
  [[nodiscard]] double even_mm(const RowState& state) const {
    const Build& build = study_.build();
    const Row& row = study_.row();
    const double warmer = state.temperature_c - 20;
    const auto cells = static_cast<double>(build.cells.size());
    const double nominal = build.cell.thickness.nominal_mm;
    double sum = load_.thickness_mm + load_.expansion_mm_per_k * warmer;
    for (const CellReading& cell : build.cells) {
      sum += *cell.edge_mm;
    }
    const double swung =
        row.swing.at(state.charge) - row.swing.at(build.measured_charge.value().charge);
    const double grown =
        *build.cell.growth.per_capacity_lost * *build.cell.growth.under_load * state.capacity_loss;
    sum += cells * nominal * (swung + grown + *build.cell.expansion_per_k * warmer);
    for (const RowGap& gap : row.gaps) {
      for (const RowSheet& sheet : gap.fixed) {
        sum += sheet.thickness_mm * (1 + sheet.expansion_per_k * warmer);
      }
      for (const RowPad& pad : gap.pads) {
        sum += pad.thickness_mm;
      }
    }
    return sum - row.box.inner_length_mm - row.box.tie_length_mm * row.box.expansion_per_k * warmer;
  }

 private:
  /// Squeeze of one column at a pressure; `built_mpa`: what it stood under when the pads settled.
  [[nodiscard]] double squeeze_mm(const RowState& state, std::uint64_t sheets, double mpa,
                                  double built_mpa) const {
    const Row& row = study_.row();
    const Build& build = study_.build();
    double sum = load_.whole_give_mm_per_mpa * mpa;
    sum += static_cast<double>(build.cells.size()) * build.cell.thickness.nominal_mm *
           cell_strain(std::get<SoftnessLaw>(*build.cell.softness), mpa);
    for (const RowGap& gap : row.gaps) {
      for (const RowSheet& sheet : gap.fixed) {
        const bool there = lies(sheets, sheet.outline);
        sum += there ? sheet.thickness_mm * mpa / sheet.modulus_mpa : sheet.thickness_mm;
      }
      for (const RowPad& pad : gap.pads) {
        const LawPtr& law = state.stiff_pads ? pad.stiff_edge : pad.soft_edge;
        const bool settled = state.settled && pad.relaxes;
        const double strain = settled ? row.foam_set * law->strain_at(built_mpa).value +
                                            law->strain_at(mpa / row.foam_share).value
                                      : law->strain_at(mpa).value;
        sum += pad.thickness_mm * (lies(sheets, pad.outline) ? strain : 1);
      }
    }
    return sum;
  }
  /// What is not there is squeezed by its whole thickness at no force.
  [[nodiscard]] static bool lies(std::uint64_t sheets, int outline) {
    return outline < 0 || (sheets >> static_cast<unsigned>(outline) & 1U) != 0;
  }

  [[nodiscard]] Residual one_column(const RowState& state) const {
    const double area = study_.row().face_area_mm2;
    RowState built = state;
    built.charge = study_.row().build_charge;
    built.temperature_c = study_.row().build_temperature_c;
    built.capacity_loss = 0;
    built.settled = false;
    const double force = study_.model().solve_fully(state, load_).force_n;
    const double built_mpa = study_.model().solve_fully(built, load_).force_n / area;
    Residual out;
    const double over = squeeze_mm(state, 0, force / area, built_mpa) - even_mm(state);
    out.gap_mm = force > 0 ? std::abs(over) : std::max(0.0, -over);
    return out;
  }

  [[nodiscard]] Residual columns(const RowState& state, const RowColumns::Full& full) const {
    const WallMesh& mesh = full.walls->mesh();
    const ColumnsState& now = full.now;
    const bool frame = study_.row().box.rods.has_value();
    const double even =
        frame ? even_mm(state) - even_mm(study_.model().build_state()) : even_mm(state);
    Residual out;
    double force = 0;
    for (std::size_t q = 0; q < mesh.points.size(); ++q) {
      const auto i = static_cast<Eigen::Index>(q);
      const double p = now.pressure_mpa[i];
      const bool stood = state.settled && full.built.pressure_mpa.size() > 0;
      const double built = stood ? full.built.pressure_mpa[i] : 0;
      const double gap = even + full.setup.bulge_mm[i] - now.wall_mm[i] - now.extension_mm;
      const double over = squeeze_mm(state, mesh.points[q].sheets, p, built) - gap;
      out.gap_mm = std::max(out.gap_mm, p > 0 ? std::abs(over) : std::max(0.0, -over));
      force += p * mesh.points[q].area_mm2 / mesh.share;
    }
    if (force > 0) {
      out.force_share = std::abs(full.figures.force_n / force - 1);
      out.force_share = std::max(out.force_share, tie_residual(full, force));
      out.walls_share = walls_residual(full);
    }
    double scale = 0;
    for (const double energy : now.path_n_mm) {
      scale = std::max(scale, std::abs(energy));
    }
    for (std::size_t i = 1; i < now.path_n_mm.size(); ++i) {
      out.energy_rise =
          std::max(out.energy_rise, (now.path_n_mm[i] - now.path_n_mm[i - 1]) / scale);
    }
    return out;
  }

  /// The tie's extension is that of this force, as a share of the extension.
  [[nodiscard]] double tie_residual(const RowColumns::Full& full, double force_n) const {
    const RowBox& box = study_.row().box;
    if (!box.rods) {
      const double should = box.sides_give_mm_per_n * force_n;
      return should > 0 ? std::abs(full.now.extension_mm / should - 1) : 0;
    }
    const Frame& said = *study_.build().frame;
    const double count = box.rods->count;
    const double from = rod_and_discs_mm(said, box.rods->rod, box.rods->force_n / count);
    const double to = rod_and_discs_mm(said, box.rods->rod, force_n / count);
    const double moved = full.now.extension_mm - full.built.extension_mm;
    return std::abs(to - from - moved) / (from + to);
  }

  [[nodiscard]] static double walls_residual(const RowColumns::Full& full) {
    const ColumnsState& now = full.now;
    const WallModes& walls = *full.walls;
    if (walls.bowed()) {
      Eigen::VectorXd force = now.pressure_mpa;
      for (Eigen::Index q = 0; q < force.size(); ++q) {
        force[q] *= walls.mesh().points[static_cast<std::size_t>(q)].area_mm2;
      }
      const Eigen::VectorXd bends = walls.shapes().transpose() * force;
      const Eigen::VectorXd left =
          now.amplitudes + walls.stretching(now.amplitudes).gradient - bends;
      return left.norm() / bends.norm();
    }
    const bool closed = full.walls != full.walls_building;
    Eigen::VectorXd should = walls.true_deflection(
        closed ? now.pressure_mpa - full.built.pressure_mpa : now.pressure_mpa);
    should += closed ? full.built.wall_mm : Eigen::VectorXd::Zero(should.size());
    const double most = should.cwiseAbs().maxCoeff();
    return most > 0 ? (now.wall_mm - should).cwiseAbs().maxCoeff() / most : 0;
  }

  const Study& study_;
  ShimLoad load_;
};

}  // namespace stackfit::testing
