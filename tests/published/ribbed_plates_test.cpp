// SPDX-License-Identifier: GPL-3.0-or-later
//
// Plates with ribs on meshes of triangles: against a double sine series (ribbed_plates.csv,
// computed by tests/reference/ribbed_plates.py), and at the rigid limit against the plate that a
// rib cuts off (plates.csv).
#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/assumptions.hpp"
#include "solver/plate.hpp"
#include "solver/plate_ribs.hpp"
#include "solver/rib.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;
using Catch::Approx;
using published::number;
using published::Row;
using published::text;

namespace {

constexpr double side_mm = 100;
/// D = 1 N mm at 1 mm of thickness.
const PlateSection unit_stiffness{.thickness_mm = 1, .modulus_mpa = 12 * 0.91, .poisson = 0.3};
constexpr double pressure_mpa = 1e-8;  // q a^4 / D = 1 mm
constexpr std::array held{PlateEdge::held, PlateEdge::held, PlateEdge::held, PlateEdge::held};
constexpr std::array fixed{PlateEdge::fixed, PlateEdge::fixed, PlateEdge::fixed, PlateEdge::fixed};

struct Extent {
  double width_mm = side_mm;
  double height_mm = side_mm;
};

/// Ribs along x at these heights.
std::vector<PlateRib> ribs_at(const std::vector<double>& heights_mm, double bending_n_mm2,
                              double width_mm = side_mm) {
  std::vector<PlateRib> ribs;
  for (const double y : heights_mm) {
    ribs.push_back({{0, y}, {width_mm, y}, bending_n_mm2});
  }
  return ribs;
}

geometry::Mesh mesh_with(const Extent& size, const std::vector<PlateRib>& ribs,
                         std::vector<geometry::Point> points, double scale = 1) {
  geometry::MeshRequest request;
  request.outline = geometry::polygon(
      {{0, 0}, {size.width_mm, 0}, {size.width_mm, size.height_mm}, {0, size.height_mm}});
  for (const PlateRib& rib : ribs) {
    request.lines.push_back({rib.from, rib.to});
  }
  request.points = std::move(points);
  request.greatest_edge_mm = scale * default_edge_mm(size.width_mm * size.height_mm);
  return geometry::triangulate(request);
}

Eigen::Index node_at(const geometry::Mesh& mesh, const geometry::Point& at) {
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if (std::hypot(mesh.nodes[i].x_mm - at.x_mm, mesh.nodes[i].y_mm - at.y_mm) < 1e-9) {
      return static_cast<Eigen::Index>(i);
    }
  }
  throw std::runtime_error("the mesh lacks a node");
}

std::vector<PlateRib> ribs_of(const Row& row) {
  const double bars = number(row, "bars");
  std::vector<double> heights;
  for (int k = 1; k <= static_cast<int>(bars); ++k) {
    heights.push_back(side_mm * k / (bars + 1));
  }
  return ribs_at(heights, std::max(number(row, "gamma"), 1e-9) * side_mm);
}

/// The table's figure by the program, over the table's.
double ratio(const Row& row, double scale = 1) {
  const std::vector<PlateRib> ribs = ribs_of(row);
  const geometry::Point middle{side_mm / 2, side_mm / 2};
  const Plate plate(mesh_with({}, ribs, {middle}, scale), unit_stiffness,
                    {{held.begin(), held.end()}, {}}, {ribs, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(plate.mesh(), -1, pressure_mpa));
  const Eigen::Index node = node_at(plate.mesh(), middle);
  if (text(row, "quantity") == "alpha") {
    return u[3 * node] / number(row, "value");
  }
  // Of one bar in the middle its own bend is asked, else the plate's between them.
  double bend = plate.bend(u).xx[node];
  if (ribs.size() == 1) {
    const std::vector<int> nodes = nodes_along(plate.mesh(), ribs[0].from, ribs[0].to);
    const auto place = std::find(nodes.begin(), nodes.end(), static_cast<int>(node));
    bend = bend_along(plate.mesh(), nodes, u)[place - nodes.begin()];
  }
  return bend * side_mm * side_mm / number(row, "value");
}

}  // namespace

TEST_CASE("ribbed plates: deflection and bend at the middle are the sine series'") {
  int seen = 0;
  for (const Row& row : published::read_table("ribbed_plates.csv")) {
    if (number(row, "stretch") > 0) {
      continue;  // joined on one side: below
    }
    INFO(text(row, "bars") << " bars, gamma " << text(row, "gamma") << ", "
                           << text(row, "quantity"));
    const bool moment = text(row, "quantity") != "alpha";
    CHECK(std::abs(ratio(row) - 1) < (moment ? 0.02 : 0.005));
    ++seen;
  }
  CHECK(seen == 16);
}

TEST_CASE("ribbed plates: halving the edges takes the error down") {
  for (const Row& row : published::read_table("ribbed_plates.csv")) {
    if (text(row, "quantity") != "alpha" || text(row, "gamma") != "2") {
      continue;
    }
    INFO(text(row, "bars"));
    const double coarse = std::abs(ratio(row, 4) - 1);
    const double fine = std::abs(ratio(row, 1) - 1);
    CHECK(fine < std::max(coarse / 6, 2e-4));
  }
}

TEST_CASE("ribbed plates: a rigid rib across a plate twice as long leaves two fixed squares") {
  // CCCC, b/a 1: by symmetry the plate does not turn at the rib.
  const auto table = published::read_table("plates.csv");
  const auto square = std::find_if(table.begin(), table.end(), [](const Row& row) {
    return text(row, "edges") == "CCCC" && text(row, "b_over_a") == "1.0" &&
           text(row, "quantity") == "alpha";
  });
  REQUIRE(square != table.end());
  const Extent twice{side_mm, 2 * side_mm};
  const std::vector<PlateRib> ribs = ribs_at({side_mm}, 1e9);
  const geometry::Point at{side_mm / 2, side_mm / 2};
  const Plate plate(mesh_with(twice, ribs, {at}), unit_stiffness,
                    {{fixed.begin(), fixed.end()}, {}}, {ribs, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(plate.mesh(), -1, pressure_mpa));
  CHECK(std::abs(u[3 * node_at(plate.mesh(), at)] / number(*square, "value") - 1) < 0.01);
}

TEST_CASE("ribbed plates: the width of plate counted with a welded bar is on the soft side") {
  // Against the plate that the bar pulls along in its plane, solved as such.
  int seen = 0;
  for (const Row& row : published::read_table("ribbed_plates.csv")) {
    if (number(row, "stretch") <= 0) {
      continue;
    }
    INFO("gamma " << text(row, "gamma") << " " << text(row, "quantity"));
    const double share = assumption(Assumed::rib_flange).value;
    if (text(row, "quantity") == "flange") {
      CHECK(number(row, "value") > share);
      ++seen;
      continue;
    }
    RibSection bar;
    bar.height_mm = 2 * side_mm * number(row, "lever") - unit_stiffness.thickness_mm;
    bar.thickness_mm = side_mm * number(row, "stretch") / bar.height_mm;
    bar.modulus_mpa = unit_stiffness.modulus_mpa;
    const auto deflection = [&](double flange_mm) {
      bar.flange_mm = flange_mm;
      const double stiffness = rib_bending(bar, unit_stiffness).stiffness_n_mm2;
      if (flange_mm == 0) {
        CHECK(stiffness == Approx(number(row, "gamma") * side_mm).epsilon(1e-9));
      }
      const std::vector<PlateRib> ribs = ribs_at({side_mm / 2}, stiffness);
      const geometry::Point middle{side_mm / 2, side_mm / 2};
      const Plate plate(mesh_with({}, ribs, {middle}), unit_stiffness,
                        {{held.begin(), held.end()}, {}}, {ribs, {}});
      const Eigen::VectorXd u = plate.solve(even_pressure(plate.mesh(), -1, pressure_mpa));
      return u[3 * node_at(plate.mesh(), middle)] / number(row, "value");
    };
    const double counted = deflection(share * side_mm);
    CHECK(counted > 1);
    CHECK(counted < 1.1);
    CHECK(deflection(0) > 1.5);  // the bar by itself is far too soft for a welded one
    ++seen;
  }
  CHECK(seen == 4);
}
