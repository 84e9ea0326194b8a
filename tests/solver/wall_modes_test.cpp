// SPDX-License-Identifier: GPL-3.0-or-later
//
// The walls' shapes: that they are deflections of the plates, scaled to the energy, and enough.
#include "solver/wall_modes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <utility>
#include <vector>

#include "solver/columns.hpp"
#include "tests/catch.hpp"
#include "tests/column_rows.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::testing;

constexpr Rectangle tall_wall{0, 0, 180, 212};
constexpr Rectangle tall_face{4, 2, 172, 200};

HandRow flat_row(double cells_mm) {
  HandRow row;
  row.face = tall_face;
  row.cell_law = std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{0.06, 180, 1});
  row.cells_mm = cells_mm;
  return row;
}

WallPair tall_pair(double thickness_mm) {
  WallPair pair;
  pair.width_mm = tall_wall.width_mm;
  pair.height_mm = tall_wall.height_mm;
  pair.first = hand_wall({thickness_mm, 69000, 0.33}, tall_wall, open_top);
  pair.last = pair.first;
  pair.faces = {tall_face.outline()};
  return pair;
}

Eigen::VectorXd areas_of(const WallMesh& mesh) {
  Eigen::VectorXd area(static_cast<Eigen::Index>(mesh.points.size()));
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    area[static_cast<Eigen::Index>(q)] = mesh.points[q].area_mm2;
  }
  return area;
}

double relative(double found, double should) {
  return std::abs(found / should - 1);
}

}  // namespace

TEST_CASE("walls' shapes are what the plates do under their forces", "[columns]") {
  for (const bool differ : {false, true}) {
    for (const bool mirrored : {false, true}) {
      WallPair pair = tall_pair(2.5);
      pair.edge_scale = 2;
      pair.mirrored = mirrored;
      if (differ) {
        pair.last->section.thickness_mm = 5;
      }
      const WallModes walls(mesh_walls(pair), pair, false);
      const Eigen::VectorXd area = areas_of(walls.mesh());
      REQUIRE(walls.count() > 20);
      const double softest = walls.shapes().cwiseAbs().maxCoeff();
      for (const Eigen::Index mode : {Eigen::Index{0}, walls.count() / 2, walls.count() - 1}) {
        const Eigen::VectorXd bent =
            walls.true_deflection(walls.forces().col(mode).cwiseQuotient(area));
        CHECK((bent - walls.shapes().col(mode)).cwiseAbs().maxCoeff() < 1e-8 * softest);
      }
      // Half the sum of the squared amplitudes is half the work of the forces on the shapes.
      const Eigen::MatrixXd work = walls.forces().transpose() * walls.shapes();
      const auto one = Eigen::MatrixXd::Identity(walls.count(), walls.count());
      CHECK((work - one).cwiseAbs().maxCoeff() < 1e-6);
    }
  }
}

TEST_CASE("each wall takes its part of the shapes", "[columns]") {
  WallPair pair = tall_pair(2.5);
  pair.edge_scale = 2;
  pair.last->section.thickness_mm = 5;
  const WallModes walls(mesh_walls(pair), pair, false);
  const Eigen::VectorXd amplitudes = Eigen::VectorXd::Ones(walls.count());
  const Eigen::VectorXd first = walls.first_mm(amplitudes);
  const Eigen::VectorXd last = walls.last_mm(amplitudes);
  // Alike but for the thickness: eight times as stiff.
  CHECK((first - 8 * last).cwiseAbs().maxCoeff() < 1e-9 * first.cwiseAbs().maxCoeff());
}

TEST_CASE("the lid holds the top of both walls", "[columns]") {
  WallPair pair = tall_pair(2.5);
  pair.edge_scale = 2;
  const auto mesh = mesh_walls(pair);
  const WallModes open(mesh, pair, false);
  const WallModes closed(mesh, pair, true);
  const auto top_mm = [&](const WallModes& walls) {
    const Eigen::VectorXd even = Eigen::VectorXd::Constant(areas_of(*mesh).size(), 0.1);
    const Eigen::VectorXd bent = walls.first().nodes_mm(*mesh, even);
    double most = 0;
    for (Eigen::Index node = 0; node < bent.size(); ++node) {
      if (mesh->mesh.nodes[static_cast<std::size_t>(node)].y_mm == pair.height_mm) {
        most = std::max(most, std::abs(bent[node]));
      }
    }
    return most;
  };
  CHECK(top_mm(open) > 0.5);
  CHECK(top_mm(closed) == 0);
}

TEST_CASE("a wall known by its bow bows so under an even pressure", "[columns]") {
  for (const bool mirrored : {false, true}) {
    WallPair pair = tall_pair(2);
    pair.mirrored = mirrored;
    pair.first->measured_bow = WallPlate::Bow{0.7, 2500};
    const WallModes walls(mesh_walls(pair), pair, false);
    const WallMesh& mesh = walls.mesh();
    const Eigen::VectorXd even =
        Eigen::VectorXd::Constant(areas_of(mesh).size(), 2500 / tall_face.area_mm2());
    CHECK(relative(walls.first().nodes_mm(mesh, even)[mesh.middle_node], 0.7) < 1e-9);
    // The other one is still what its section makes of it.
    CHECK(relative(walls.last().nodes_mm(mesh, even)[mesh.middle_node], 0.7) > 0.1);
  }
}

TEST_CASE("columns' points cover the faces, each under its own sheets", "[columns]") {
  WallPair pair = tall_pair(2.5);
  pair.width_mm = 360;
  pair.first = hand_wall({2.5, 69000, 0.33}, {0, 0, 360, 212}, open_top);
  pair.last.reset();
  const Rectangle other{182, 2, 172, 200};
  const Rectangle sheet{150, 40, 90, 100};  // over parts of both faces
  pair.faces.push_back(other.outline());
  pair.sheets.push_back(sheet.outline());
  const auto mesh = mesh_walls(pair);
  std::array<double, 2> area{};
  std::array<double, 2> under{};
  for (const ColumnPoint& point : mesh->points) {
    const auto face = static_cast<std::size_t>(point.face);
    area.at(face) += point.area_mm2;
    under.at(face) += point.sheets == 1 ? point.area_mm2 : 0;
  }
  for (const std::size_t face : {0U, 1U}) {
    CHECK(relative(area.at(face), tall_face.area_mm2()) < 1e-12);
    CHECK(relative(mesh->face_area_mm2[face], area.at(face)) < 1e-12);
  }
  CHECK(relative(under[0], 26 * 100) < 1e-12);
  CHECK(relative(under[1], 58 * 100) < 1e-12);
}

// A harsh case: an open-topped wall of 2.5 mm under 235 kPa. By the shapes alone the force was off
// by SHAPES_FORCE and the lowest local pressure by SHAPES_LOWEST of itself.
TEST_CASE("the walls' shapes are enough", "[columns]") {
  const HandRow row = flat_row(8 * 50.0);
  const WallPair pair = tall_pair(2.5);
  const HandSetup hand =
      hand_setup(std::make_shared<const WallModes>(mesh_walls(pair), pair, false), {row});
  const Columns columns(hand.setup);
  const ColumnsLoad load = hand.load({5.16});
  const ColumnsState shapes = columns.solve(load);
  const ColumnsState full = columns.solve_fully(load);
  const double mean = full.total_force_n() / tall_face.area_mm2();
  INFO("mean " << mean << " MPa, force off by " << shapes.total_force_n() / full.total_force_n() - 1
               << ", lowest " << full.pressure_mpa.minCoeff() << " off by "
               << shapes.pressure_mpa.minCoeff() / full.pressure_mpa.minCoeff() - 1 << ", highest "
               << shapes.pressure_mpa.maxCoeff() / full.pressure_mpa.maxCoeff() - 1);
  CHECK(relative(mean, 0.235) < 0.02);
  CHECK(relative(shapes.total_force_n(), full.total_force_n()) < 3e-4);
  CHECK(std::abs(shapes.pressure_mpa.minCoeff() - full.pressure_mpa.minCoeff()) < 3e-3 * mean);
  CHECK(relative(shapes.pressure_mpa.maxCoeff(), full.pressure_mpa.maxCoeff()) < 3e-3);
}
