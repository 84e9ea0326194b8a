// SPDX-License-Identifier: GPL-3.0-or-later
//
// Plates with a large bow against published and independently computed deflections; the sources
// stand in fixtures/published/large_bow.csv.
#include "solver/large_bow.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <numbers>
#include <stdexcept>
#include <string>
#include <tuple>
#include <vector>

#include "geometry/mesh.hpp"
#include "solver/large_bow_whole.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;

namespace {

constexpr double side_mm = 100;  ///< of the square; radius of the disc
constexpr double thickness_mm = 1;
constexpr double modulus_mpa = 70000;

/// Shape, bending, plane, Poisson's ratio.
using Kind = std::tuple<std::string, std::string, std::string, double>;

Kind kind_of(const published::Row& row) {
  return {published::text(row, "shape"), published::text(row, "bend"),
          published::text(row, "plane"), published::number(row, "poisson")};
}

/// How near the figures of each source should be met, and why.
double tolerance(const std::string& source) {
  static const std::map<std::string, double> known = {
      {"computed", 0.005},   // the mesh
      {"levy740", 0.02},     // six unknowns in the series; the report says less than some per cent
      {"levy737", 0.01},     // the same author's longer series
      {"timoshenko", 0.03},  // one shape of the bow for all loads
  };
  return known.at(source);
}

/// A quarter with its mirrors at the bottom and on the left, meshed as finely as a whole wall.
geometry::Mesh quarter(const std::string& shape) {
  geometry::MeshRequest request;
  request.points = {{0, 0}};
  if (shape == "disc") {
    request.outline.loops = {{{{0, 0}}, {{side_mm, 0}, true, {0, 0}, true}, {{0, side_mm}}}};
    request.greatest_edge_mm = default_edge_mm(std::numbers::pi * side_mm * side_mm);
    return geometry::triangulate(request);
  }
  const double half_mm = side_mm / 2;
  request.outline = geometry::polygon({{0, 0}, {half_mm, 0}, {half_mm, half_mm}, {0, half_mm}});
  request.greatest_edge_mm = default_edge_mm(side_mm * side_mm);
  return geometry::triangulate(request);
}

MembraneEdge membrane_edge(const std::string& plane) {
  static const std::map<std::string, MembraneEdge> names = {{"held", MembraneEdge::held},
                                                            {"sliding", MembraneEdge::sliding},
                                                            {"straight", MembraneEdge::straight},
                                                            {"free", MembraneEdge::free}};
  return names.at(plane);
}

/// The two mirrors and what lies between them.
template <typename Edge>
std::vector<Edge> around(const geometry::Mesh& mesh, Edge mirror, Edge outer) {
  int last = 0;
  for (const auto& edge : mesh.boundary) {
    last = std::max(last, edge.side);
  }
  std::vector<Edge> sides(static_cast<std::size_t>(last) + 1, outer);
  sides.front() = mirror;
  sides.back() = mirror;
  return sides;
}

Eigen::Index middle(const geometry::Mesh& mesh) {
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if (std::hypot(mesh.nodes[i].x_mm, mesh.nodes[i].y_mm) < 1e-9) {
      return 3 * static_cast<Eigen::Index>(i);
    }
  }
  throw std::logic_error("no node in the middle");
}

/// Deflections at the middle over thickness, for rising loads.
std::vector<double> bows(const Kind& kind, const std::vector<double>& loads) {
  const auto& [shape, bend, plane, poisson] = kind;
  const geometry::Mesh mesh = quarter(shape);
  const PlateEdge outer = bend == "fixed" ? PlateEdge::fixed : PlateEdge::held;
  const Plate plate(mesh, {thickness_mm, modulus_mpa, poisson},
                    {around(mesh, PlateEdge::mirror, outer), {}});
  LargeBowRequest request;
  request.load_n =
      even_pressure(mesh, -1, modulus_mpa * std::pow(thickness_mm, 4) / std::pow(side_mm, 4));
  request.sides = around(mesh, MembraneEdge::sliding, membrane_edge(plane));
  request.load_shares = loads;
  const LargeBow bow = bow_under_load(plate, request);
  REQUIRE(bow.usable());
  std::vector<double> result;
  for (const LargeBowStep& step : bow.steps) {
    result.push_back(step.deflections[middle(mesh)] / thickness_mm);
  }
  return result;
}

}  // namespace

TEST_CASE("large bow: published and computed deflections") {
  // Each kind of plate is solved once, for all its loads in rising order.
  std::map<Kind, std::map<double, std::vector<published::Row>>> plates;
  for (const published::Row& row : published::read_table("large_bow.csv")) {
    plates[kind_of(row)][published::number(row, "load")].push_back(row);
  }
  REQUIRE(plates.size() == 9);
  for (const auto& [kind, by_load] : plates) {
    std::vector<double> loads;
    for (const auto& entry : by_load) {
      loads.push_back(entry.first);
    }
    const std::vector<double> found = bows(kind, loads);
    std::size_t i = 0;
    for (const auto& [load, rows] : by_load) {
      for (const published::Row& row : rows) {
        const std::string& source = published::text(row, "source");
        const double expected = published::number(row, "w_over_h");
        INFO(std::get<0>(kind) << ' ' << std::get<1>(kind) << ' ' << std::get<2>(kind) << ", load "
                               << load << ", " << source << ": " << found[i] << " for "
                               << expected);
        CHECK(std::abs(found[i] / expected - 1) < tolerance(source));
      }
      ++i;
    }
  }
}
