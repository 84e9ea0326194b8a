// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/wall_result.hpp"

#include <algorithm>
#include <cmath>

namespace stackfit {
namespace {

/// A washer's outer diameter is about this many times the thread's: ISO 7089 (from memory; M8: 16).
constexpr double washer_over_thread = 2;

/// Von Mises stress at the surface from the moments per length: sigma = 6 M / t^2.
double surface_stress_mpa(double mx, double my, double mxy, double thickness_mm) {
  const double factor = 6 / (thickness_mm * thickness_mm);
  return factor * std::sqrt(mx * mx - mx * my + my * my + 3 * mxy * mxy);
}

/// The thin-plate moment under a point load has no bound: what a washer covers is averaged.
void average_under_washers(const geometry::Mesh& mesh, const WallPlate& wall, double washer_mm,
                           PlateMoments& moments) {
  for (const PlatePoint& rod : wall.rods) {
    std::vector<Eigen::Index> covered;
    for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
      if (std::hypot(mesh.nodes[i].x_mm - rod.at.x_mm, mesh.nodes[i].y_mm - rod.at.y_mm) <=
          0.5 * washer_mm) {
        covered.push_back(static_cast<Eigen::Index>(i));
      }
    }
    const auto level = [&](Eigen::VectorXd& field) {
      double sum = 0;
      for (const Eigen::Index i : covered) {
        sum += field[i];
      }
      for (const Eigen::Index i : covered) {
        field[i] = sum / static_cast<double>(covered.size());
      }
    };
    level(moments.mx);
    level(moments.my);
    level(moments.mxy);
  }
}

struct Bent {
  const WallPlate* wall = nullptr;
  const Plate* plate = nullptr;
  Eigen::VectorXd deflection;
  bool stretches = false;
};

WallResult describe(const Row& row, const WallMesh& mesh, const Bent& bent) {
  WallResult out;
  const double thickness = bent.wall->section.thickness_mm;
  const auto w = Eigen::Map<const Eigen::VectorXd, 0, Eigen::InnerStride<3>>(
      bent.deflection.data(), bent.deflection.size() / 3);
  out.bow_mm = w.cwiseAbs().maxCoeff();
  out.bow_middle_mm = w[mesh.middle_node];
  out.by_measured_bow = bent.wall->measured_bow.has_value();
  if (out.by_measured_bow) {
    return out;  // only its shape is known: no thickness, no stress
  }
  out.thickness_mm = thickness;
  out.span_mm = std::min(row.box.walls.width_mm, row.box.walls.height_mm);
  out.yield_mpa = bent.wall->yield_mpa;
  PlateMoments moments = bent.plate->moments(bent.deflection);
  if (row.box.rods) {
    average_under_washers(mesh.mesh, *bent.wall,
                          washer_over_thread * row.box.rods->rod.thread.diameter_mm, moments);
  }
  if (bent.stretches) {
    out.large_bow = true;
    // Added where they are greatest, not where they meet: on the safe side.
    out.stress_mpa = greatest_stretch_stress_mpa(*bent.plate, bent.deflection, bent.wall->in_plane);
  }
  const double stretch = out.stress_mpa;
  for (Eigen::Index i = 0; i < moments.mx.size(); ++i) {
    out.stress_mpa = std::max(
        out.stress_mpa,
        stretch + surface_stress_mpa(moments.mx[i], moments.my[i], moments.mxy[i], thickness));
  }
  return out;
}

}  // namespace

std::vector<WallResult> wall_results(const Row& row, const RowColumns::Full& full) {
  const WallMesh& mesh = full.walls->mesh();
  const auto bend = [&](const std::optional<WallPlate>& wall, const WallModes::OneWall& now,
                        const WallModes::OneWall& building) {
    Eigen::VectorXd deflection;
    if (now.plate != building.plate && full.built.pressure_mpa.size() > 0) {
      deflection = building.bent(mesh, full.built.pressure_mpa) +
                   now.bent(mesh, full.now.pressure_mpa - full.built.pressure_mpa);
    } else {
      deflection = now.bent(mesh, full.now.pressure_mpa);
    }
    return Bent{&*wall, now.plate.get(), std::move(deflection), false};
  };
  std::vector<WallResult> out;
  if (full.walls->bowed()) {
    const WallPair& pair = row.box.walls;
    if (pair.first) {
      out.push_back(describe(row, mesh,
                             {&*pair.first, full.walls->first().plate.get(),
                              full.walls->first_bent(full.now.amplitudes), true}));
      out.back().both = pair.first == pair.last;
    }
    if (pair.last && !(pair.first == pair.last)) {
      out.push_back(describe(row, mesh,
                             {&*pair.last, full.walls->last().plate.get(),
                              full.walls->last_bent(full.now.amplitudes), true}));
      out.back().last = true;
    }
    return out;
  }
  const RowBox& box = row.box;
  if (box.walls.first) {
    out.push_back(describe(
        row, mesh, bend(box.walls.first, full.walls->first(), full.walls_building->first())));
    out.back().both = box.walls.first == box.walls.last;
  }
  if (box.walls.last && !(box.walls.first == box.walls.last)) {
    out.push_back(
        describe(row, mesh, bend(box.walls.last, full.walls->last(), full.walls_building->last())));
    out.back().last = true;
  }
  return out;
}

}  // namespace stackfit
