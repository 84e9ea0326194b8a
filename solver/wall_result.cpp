// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/wall_result.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "solver/plate_ribs.hpp"

namespace stackfit {
namespace {

/// A washer's outer diameter is about this many times the thread's: ISO 7089 (from memory; M8: 16).
constexpr double washer_over_thread = 2;

/// Von Mises stress at the surface from the moments per length: sigma = 6 M / t^2.
double surface_stress_mpa(double mx, double my, double mxy, double thickness_mm) {
  const double factor = 6 / (thickness_mm * thickness_mm);
  return factor * std::sqrt(mx * mx - mx * my + my * my + 3 * mxy * mxy);
}

double surface_stress_mpa(const PlateMoments& moments, Eigen::Index node, double thickness_mm) {
  return surface_stress_mpa(moments.mx[node], moments.my[node], moments.mxy[node], thickness_mm);
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

/// Of two stresses the one nearer to yield counts; where a yield is not known, the greater.
double share_of_yield(double stress_mpa, double yield_mpa) {
  return yield_mpa > 0 ? stress_mpa / yield_mpa : stress_mpa;
}

struct Bent {
  const WallPlate* wall = nullptr;
  const Plate* plate = nullptr;
  Eigen::VectorXd deflection;
  bool stretches = false;
};

/// Greatest stress on the way of any rib: at its outer edge, and what the wall under a welded one
/// is pulled by on top of its own bending.
struct RibStress {
  double outer_mpa = 0;
  double yield_mpa = 0;
  Eigen::VectorXd wall_mpa;  ///< at each node
};

RibStress rib_stress(const WallPair& pair, const Bent& bent, double stretch_mpa) {
  const PlateSection& section = bent.wall->section;
  const geometry::Mesh& mesh = bent.plate->mesh();
  RibStress most{0, 0, Eigen::VectorXd::Zero(static_cast<Eigen::Index>(mesh.nodes.size()))};
  double used = -1;
  for (const WallRib& rib : bent.wall->ribs) {
    const auto bar = bar_of(pair, *bent.wall, rib);
    if (!bar) {
      continue;
    }
    // Where the wall stretches only the bar's own stiffness is counted, but it is welded on still:
    // its outer edge is as far off, and is pulled along with the wall.
    const RibBending bending = rib_bending(rib.section, section);
    const double pulled = stretch_mpa * rib.section.modulus_mpa / section.modulus_mpa;
    const std::vector<int> nodes = nodes_along(mesh, bar->from, bar->to);
    const Eigen::VectorXd bend = bend_along(mesh, nodes, bent.deflection).cwiseAbs();
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      double& under = most.wall_mpa[nodes[i]];
      under = std::max(under,
                       section.modulus_mpa * bend[static_cast<Eigen::Index>(i)] * bending.wall_mm);
    }
    const double outer = rib.section.modulus_mpa * bend.maxCoeff() * bending.outer_mm + pulled;
    if (share_of_yield(outer, rib.yield_mpa) > used) {
      used = share_of_yield(outer, rib.yield_mpa);
      most.outer_mpa = outer;
      most.yield_mpa = rib.yield_mpa;
    }
  }
  return most;
}

double greatest_surface_stress_mpa(const PlateSection& section, const PlateMoments& moments,
                                   const Eigen::VectorXd& on_top_mpa) {
  double greatest = 0;
  for (Eigen::Index i = 0; i < moments.mx.size(); ++i) {
    greatest =
        std::max(greatest, on_top_mpa[i] + surface_stress_mpa(moments, i, section.thickness_mm));
  }
  return greatest;
}

/// The stress in either plate where there are two, by the one that is nearer to its yield.
void add_second_plate(const Bent& bent, const PlateBend& bend, WallResult& out) {
  if (!bent.wall->second) {
    return;
  }
  const PlateSection& second = *bent.wall->second;
  const double stretch = bent.stretches ? greatest_stretch_stress_mpa(
                                              *bent.plate, second, bent.deflection, EdgeDraw::free)
                                        : 0;
  const double stress = greatest_surface_stress_mpa(
      second, moments_in(second, bend), Eigen::VectorXd::Constant(bend.xx.size(), stretch));
  out.second_plate_mm = second.thickness_mm;
  if (share_of_yield(stress, bent.wall->second_yield_mpa) >
      share_of_yield(out.stress_mpa, out.yield_mpa)) {
    out.stress_in_second_plate = true;
    out.stress_mpa = stress;
    out.yield_mpa = bent.wall->second_yield_mpa;
  }
}

void add_stress(const Row& row, const WallMesh& mesh, const Bent& bent, WallResult& out) {
  const PlateBend bend = bent.plate->bend(bent.deflection);
  PlateMoments moments = moments_in(bent.wall->section, bend);
  if (row.box.rods) {
    average_under_washers(mesh.mesh, *bent.wall,
                          washer_over_thread * row.box.rods->rod.thread.diameter_mm, moments);
  }
  double stretch = 0;
  if (bent.stretches) {
    out.large_bow = true;
    // Added where they are greatest, not where they meet: on the safe side.
    stretch = greatest_stretch_stress_mpa(*bent.plate, bent.wall->section, bent.deflection,
                                          bent.wall->in_plane);
  }
  Eigen::VectorXd on_top = Eigen::VectorXd::Constant(moments.mx.size(), stretch);
  if (!bent.wall->ribs.empty()) {
    const RibStress ribs = rib_stress(row.box.walls, bent, stretch);
    on_top += ribs.wall_mpa;
    out.rib_stress_mpa = ribs.outer_mpa;
    out.rib_yield_mpa = ribs.yield_mpa;
  }
  out.stress_mpa = greatest_surface_stress_mpa(bent.wall->section, moments, on_top);
  add_second_plate(bent, bend, out);
}

WallResult describe(const Row& row, const WallMesh& mesh, const Bent& bent) {
  WallResult out;
  const auto w = Eigen::Map<const Eigen::VectorXd, 0, Eigen::InnerStride<3>>(
      bent.deflection.data(), bent.deflection.size() / 3);
  out.bow_mm = w.cwiseAbs().maxCoeff();
  out.bow_middle_mm = w[mesh.middle_node];
  out.by_measured_bow = bent.wall->measured_bow.has_value();
  if (out.by_measured_bow) {
    return out;  // only its shape is known: no thickness, no stress
  }
  out.thickness_mm = bent.wall->section.thickness_mm;
  out.span_mm = std::min(row.box.walls.width_mm, row.box.walls.height_mm);
  out.yield_mpa = bent.wall->yield_mpa;
  add_stress(row, mesh, bent, out);
  return out;
}

/// All unknowns of one wall in the state of a full solution.
Eigen::VectorXd bent_wall(const RowColumns::Full& full, bool last) {
  const WallMesh& mesh = full.walls->mesh();
  if (full.walls->bowed()) {
    return last ? full.walls->last_bent(full.now.amplitudes)
                : full.walls->first_bent(full.now.amplitudes);
  }
  const WallModes::OneWall& now = last ? full.walls->last() : full.walls->first();
  const WallModes::OneWall& building =
      last ? full.walls_building->last() : full.walls_building->first();
  if (now.plate != building.plate && full.built.pressure_mpa.size() > 0) {
    return building.bent(mesh, full.built.pressure_mpa) +
           now.bent(mesh, full.now.pressure_mpa - full.built.pressure_mpa);
  }
  return now.bent(mesh, full.now.pressure_mpa);
}

/// Where a point lies in a triangle: the three corners' weights, the least of them first to judge.
std::array<double, 3> weights_in(const geometry::Mesh& mesh, std::size_t triangle,
                                 geometry::Point at) {
  const auto& corner = mesh.triangles[triangle];
  const auto node = [&](std::size_t i) { return mesh.nodes[static_cast<std::size_t>(corner[i])]; };
  const auto twice_area = [](geometry::Point a, geometry::Point b, geometry::Point c) {
    return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (c.x_mm - a.x_mm) * (b.y_mm - a.y_mm);
  };
  const double whole = twice_area(node(0), node(1), node(2));
  return {twice_area(at, node(1), node(2)) / whole, twice_area(node(0), at, node(2)) / whole,
          twice_area(node(0), node(1), at) / whole};
}

}  // namespace

std::vector<WallResult> wall_results(const Row& row, const RowColumns::Full& full) {
  const WallMesh& mesh = full.walls->mesh();
  const WallPair& pair = row.box.walls;
  const bool stretches = full.walls->bowed();
  std::vector<WallResult> out;
  if (pair.first) {
    out.push_back(describe(
        row, mesh,
        {&*pair.first, full.walls->first().plate.get(), bent_wall(full, false), stretches}));
    out.back().both = pair.first == pair.last;
  }
  if (pair.last && !(pair.first == pair.last)) {
    out.push_back(
        describe(row, mesh,
                 {&*pair.last, full.walls->last().plate.get(), bent_wall(full, true), stretches}));
    out.back().last = true;
  }
  return out;
}

double wall_deflection_mm(const Row& row, const RowColumns::Full& full, const WallPoint& point) {
  const WallPair& pair = row.box.walls;
  if (!(point.last_wall ? pair.last : pair.first)) {
    return 0;
  }
  const geometry::Mesh& mesh = full.walls->mesh().mesh;
  geometry::Point at{0.5 * pair.width_mm + point.x_mm, 0.5 * pair.height_mm + point.y_mm};
  const Eigen::VectorXd bent = bent_wall(full, point.last_wall);
  for (const bool mirror : {false, true}) {
    if (mirror) {
      at.x_mm = pair.width_mm - at.x_mm;  // of walls alike left and right, half is meshed
    }
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      const std::array<double, 3> weight = weights_in(mesh, t, at);
      constexpr double rounding = 1e-9;
      if (*std::min_element(weight.begin(), weight.end()) < -rounding) {
        continue;
      }
      double sum = 0;
      for (std::size_t i = 0; i < weight.size(); ++i) {
        sum += weight[i] * bent[3 * mesh.triangles[t][i]];
      }
      return sum;
    }
  }
  throw std::invalid_argument("a point outside the wall");
}

}  // namespace stackfit
