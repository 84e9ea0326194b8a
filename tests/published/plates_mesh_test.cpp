// SPDX-License-Identifier: GPL-3.0-or-later
//
// Plates on meshes of triangles against tables: plates.csv (Timoshenko & Woinowsky-Krieger,
// recomputed), plate_patch.csv (Roark; recomputed), plate_points.csv (recomputed).
//
// The plate is 100 mm wide with D = 1 N mm. A mesh of the default edge has no favourite direction
// as it is, and a dozen points drawn by a seed disturb it further.
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/plate.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"
#include "tests/solver/plate_meshes.hpp"

using namespace stackfit;
using published::number;
using published::Row;
using published::text;

namespace {

constexpr double width_mm = 100;
constexpr int seeds = 5;
const PlateSection unit_stiffness{.thickness_mm = 1, .modulus_mpa = 12 * 0.91, .poisson = 0.3};

PlateEdge edge(char letter) {
  return letter == 'S' ? PlateEdge::held : letter == 'C' ? PlateEdge::fixed : PlateEdge::free;
}

/// The table's left right bottom top, in the order of the mesh: bottom right top left.
std::vector<PlateEdge> sides(const std::string& edges) {
  return {edge(edges[2]), edge(edges[1]), edge(edges[3]), edge(edges[0])};
}

geometry::Outline rectangle(const geometry::Point& low, const geometry::Point& high) {
  return geometry::polygon({low, {high.x_mm, low.y_mm}, high, {low.x_mm, high.y_mm}});
}

/// A mesh of the default edge; the points must be nodes.
geometry::Mesh default_mesh(double height_mm, std::uint32_t seed,
                            std::vector<geometry::Point> points,
                            const std::vector<geometry::Outline>& patches = {}) {
  testing::Chance chance(seed);
  for (int i = 0; i < 12; ++i) {
    const double x = 0.5 + 0.45 * chance();
    const double y = 0.5 + 0.45 * chance();
    points.push_back({width_mm * x, height_mm * y});
  }
  return geometry::triangulate({.outline = rectangle({0, 0}, {width_mm, height_mm}),
                                .patches = patches,
                                .points = points,
                                .greatest_edge_mm = default_edge_mm(width_mm * height_mm)});
}

Eigen::Index node_at(const geometry::Mesh& mesh, const geometry::Point& at) {
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if (std::hypot(mesh.nodes[i].x_mm - at.x_mm, mesh.nodes[i].y_mm - at.y_mm) < 1e-9) {
      return static_cast<Eigen::Index>(i);
    }
  }
  throw std::runtime_error("the mesh lacks a node");
}

/// One line of plates.csv.
struct Case {
  std::vector<PlateEdge> sides;
  double height_mm = 0;
  geometry::Point at;
  bool at_fixed = false;
  std::string quantity;
  double value = 0;

  explicit Case(const Row& row)
      : sides(::sides(text(row, "edges"))),
        height_mm(width_mm * number(row, "b_over_a")),
        at{width_mm / 2, height_mm / 2},
        quantity(text(row, "quantity")),
        value(number(row, "value")) {
    const std::string& point = text(row, "point");
    if (point == "edge_mid" || point == "long_edge_mid") {
      at.x_mm = 0;
      at_fixed = true;
    } else if (point == "free_edge_mid") {
      at.y_mm = height_mm;
    } else if (point != "centre") {
      throw std::runtime_error("unknown point " + point);
    }
  }

  /// The table's coefficient, under q a^4/D = 1 mm or q a^2 = 1 N, as a part of its value.
  [[nodiscard]] double error_on(const geometry::Mesh& mesh) const {
    const Plate plate(mesh, unit_stiffness, {sides, {}});
    const double pressure_mpa = 1 / std::pow(width_mm, 4);
    const Eigen::VectorXd u = plate.solve(even_pressure(mesh, -1, pressure_mpa));
    const Eigen::Index node = node_at(mesh, at);
    if (quantity == "alpha") {
      return u[3 * node] / value - 1;
    }
    const PlateMoments m = plate.moments(u);
    const double moment = (quantity == "Mx" ? m.mx : m.my)[node];
    return moment / (pressure_mpa * width_mm * width_mm) / value - 1;
  }
};

/// Root mean square over the seeds, on a coarse mesh and after each of two halvings of its edges.
std::vector<double> errors_halving(const Case& plate) {
  std::vector<double> squares(3, 0.0);
  const double along = std::sqrt(plate.height_mm / width_mm);
  const auto even = [](double cells) { return 2 * static_cast<int>(std::lround(cells / 2)); };
  for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
    geometry::Mesh mesh = testing::irregular(
        {width_mm, plate.height_mm, even(8 / along), even(8 * along), 17 * seed});
    for (double& square : squares) {
      square += std::pow(plate.error_on(mesh), 2) / seeds;
      mesh = testing::halved(mesh);
    }
  }
  return {std::sqrt(squares[0]), std::sqrt(squares[1]), std::sqrt(squares[2])};
}

}  // namespace

TEST_CASE("meshed plates: deflections and moments under uniform load, default mesh, five seeds") {
  int moments = 0;
  int deflections = 0;
  for (const Row& row : published::read_table("plates.csv")) {
    const Case plate(row);
    const bool moment = plate.quantity != "alpha";
    const double allowed = !moment ? 0.005 : plate.at_fixed ? 0.03 : 0.02;
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
      INFO(text(row, "edges") << " b/a " << text(row, "b_over_a") << " " << text(row, "point")
                              << " " << plate.quantity << " seed " << seed);
      const double error = plate.error_on(default_mesh(plate.height_mm, seed, {plate.at}));
      CHECK(std::abs(error) < allowed);
    }
    ++(moment ? moments : deflections);
  }
  CHECK(moments == 8);
  CHECK(deflections == 18);
}

TEST_CASE("meshed plates: errors fall as the edges are halved twice") {
  for (const Row& row : published::read_table("plates.csv")) {
    const Case plate(row);
    const bool moment = plate.quantity != "alpha";
    const std::vector<double> errors = errors_halving(plate);
    INFO(text(row, "edges") << " b/a " << text(row, "b_over_a") << " " << text(row, "point") << " "
                            << plate.quantity << ": " << errors[0] << " " << errors[1] << " "
                            << errors[2]);
    // Below the second figure the table's own last digits show.
    CHECK(errors[2] < std::max(errors[0] / (moment ? 3 : 8), 0.0003));
  }
}

TEST_CASE("meshed plates: a loaded patch") {
  int moments = 0;
  for (const Row& row : published::read_table("plate_patch.csv")) {
    const double height_mm = width_mm * number(row, "b_over_a");
    const double u = width_mm * number(row, "u_over_a");
    const double v = width_mm * number(row, "v_over_a");
    const geometry::Point centre = {width_mm / 2, height_mm / 2};
    const geometry::Outline patch = rectangle({centre.x_mm - u / 2, centre.y_mm - v / 2},
                                              {centre.x_mm + u / 2, centre.y_mm + v / 2});
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
      INFO(text(row, "edges") << " patch " << u << " x " << v << " seed " << seed);
      const geometry::Mesh mesh = default_mesh(height_mm, seed, {centre}, {patch});
      const Plate plate(mesh, unit_stiffness, {sides(text(row, "edges")), {}});
      // One newton: w = k P a^2/D, and the load's own work is the mean deflection.
      const Eigen::VectorXd load = even_pressure(mesh, 0, 1 / (u * v));
      const Eigen::VectorXd w = plate.solve(load);
      const double scale = width_mm * width_mm;
      const Eigen::Index node = node_at(mesh, centre);
      CHECK(w[3 * node] / scale == Catch::Approx(number(row, "w_centre")).epsilon(0.005));
      CHECK(load.dot(w) / scale == Catch::Approx(number(row, "avg_patch")).epsilon(0.005));
      if (!text(row, "six_Mmax_over_P").empty()) {
        CHECK(6 * plate.moments(w).mx[node] ==
              Catch::Approx(number(row, "six_Mmax_over_P")).epsilon(0.02));
        ++moments;
      }
    }
  }
  CHECK(moments == 5 * seeds);
}

TEST_CASE("meshed plates: four rods at the corners") {
  int checked = 0;
  for (const Row& row : published::read_table("plate_points.csv")) {
    const double height_mm = width_mm * number(row, "b_over_a");
    const geometry::Point centre = {width_mm / 2, height_mm / 2};
    const geometry::Point side_a = {width_mm / 2, 0};  // the middle of a side of length a
    const geometry::Point side_b = {0, height_mm / 2};
    const PlateSupports rods{
        std::vector<PlateEdge>(4, PlateEdge::free),
        {{{0, 0}}, {{width_mm, 0}}, {{0, height_mm}}, {{width_mm, height_mm}}}};
    for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
      INFO("b/a " << text(row, "b_over_a") << " seed " << seed);
      const geometry::Mesh mesh = default_mesh(height_mm, seed, {centre, side_a, side_b});
      const Plate plate(mesh, unit_stiffness, rods);
      const double pressure_mpa = 1 / std::pow(width_mm, 4);
      const Eigen::VectorXd w = plate.solve(even_pressure(mesh, -1, pressure_mpa));
      const auto bow = [&](const geometry::Point& at) { return w[3 * node_at(mesh, at)]; };
      CHECK(bow(centre) == Catch::Approx(number(row, "w_centre")).epsilon(0.01));
      CHECK(bow(side_a) == Catch::Approx(number(row, "w_mid_side_a")).epsilon(0.01));
      CHECK(bow(side_b) == Catch::Approx(number(row, "w_mid_side_b")).epsilon(0.01));
      const PlateMoments m = plate.moments(w);
      const double scale = pressure_mpa * width_mm * width_mm;
      const Eigen::Index node = node_at(mesh, centre);
      CHECK(m.mx[node] / scale == Catch::Approx(number(row, "Mx_centre")).epsilon(0.02));
      CHECK(m.my[node] / scale == Catch::Approx(number(row, "My_centre")).epsilon(0.02));
      ++checked;
    }
  }
  CHECK(checked == 2 * seeds);
}
