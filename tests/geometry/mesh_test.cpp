// SPDX-License-Identifier: GPL-3.0-or-later
//
// The numbered properties of mesh.hpp, on walls with faces, sheets, holes and rods.
#include "geometry/mesh.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <numbers>
#include <set>
#include <stdexcept>
#include <utility>
#include <vector>

#include "tests/catch.hpp"
#include "tests/geometry/shapes.hpp"

namespace stackfit::geometry::testing {
namespace {

using Catch::Matchers::WithinAbs;
using std::numbers::pi;

/// Sums of some thousand areas, each with a few roundings, over a wall of 30,000 mm^2.
constexpr double rounding_mm2 = 30000 * 1e-11;
/// Snapping moves a boundary by this at most, and the area by that times its length.
double snapped_mm2(const Outline& outline) {
  return mesh_snap_mm * perimeter_mm(outline);
}

// ---- Looking at a mesh -------------------------------------------------------------------

Point node(const Mesh& mesh, int number) {
  return mesh.nodes.at(static_cast<std::size_t>(number));
}

Point corner(const Mesh& mesh, std::size_t triangle, std::size_t i) {
  return node(mesh, mesh.triangles.at(triangle).at(i % 3));
}

double distance_mm(Point a, Point b) {
  return std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm);
}

double angle_deg(const Mesh& mesh, std::size_t triangle, std::size_t i) {
  const Point at = corner(mesh, triangle, i);
  const Point a = corner(mesh, triangle, i + 1);
  const Point b = corner(mesh, triangle, i + 2);
  const double ux = a.x_mm - at.x_mm, uy = a.y_mm - at.y_mm;
  const double vx = b.x_mm - at.x_mm, vy = b.y_mm - at.y_mm;
  return std::atan2(ux * vy - uy * vx, ux * vx + uy * vy) * 180 / pi;
}

double least_angle_deg(const Mesh& mesh) {
  double least = 180;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t i = 0; i < 3; ++i) {
      least = std::min(least, angle_deg(mesh, t, i));
    }
  }
  return least;
}

double longest_edge_mm(const Mesh& mesh) {
  double longest = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t i = 0; i < 3; ++i) {
      longest = std::max(longest, distance_mm(corner(mesh, t, i), corner(mesh, t, i + 1)));
    }
  }
  return longest;
}

/// The mesher compares squares, so an edge of just the length asked may seem longer by a rounding.
bool keeps_to(const Mesh& mesh, double greatest_edge_mm) {
  return longest_edge_mm(mesh) <= greatest_edge_mm * (1 + 1e-12);
}

/// Area of the triangles whose mask has every bit of `all`.
double area_over_mm2(const Mesh& mesh, std::uint64_t all) {
  double sum = 0;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    sum += (mesh.over[t] & all) == all ? triangle_area_mm2(mesh, t) : 0;
  }
  return sum;
}

bool has_node(const Mesh& mesh, Point p, double within_mm) {
  return std::any_of(mesh.nodes.begin(), mesh.nodes.end(),
                     [&](Point n) { return distance_mm(n, p) <= within_mm; });
}

double side_length_mm(const Mesh& mesh, int side) {
  double sum = 0;
  for (const Mesh::BoundaryEdge& edge : mesh.boundary) {
    sum +=
        edge.side == side ? distance_mm(node(mesh, edge.nodes[0]), node(mesh, edge.nodes[1])) : 0;
  }
  return sum;
}

/// What an arc's chords leave out: of every chord that turns by a, r^2/2 (a - sin a). Chords
/// turn by no more than greatest_chord_angle_deg, so the most is that of these.
double chord_error_mm2(double radius_mm, double turn_rad) {
  const double chord = greatest_chord_angle_deg * pi / 180;
  return turn_rad / chord * radius_mm * radius_mm / 2 * (chord - std::sin(chord));
}

std::set<std::pair<int, int>> edges_of(const Mesh& mesh) {
  std::set<std::pair<int, int>> edges;
  for (const std::array<int, 3>& t : mesh.triangles) {
    for (std::size_t i = 0; i < 3; ++i) {
      edges.insert(std::minmax(t[i], t[(i + 1) % 3]));
    }
  }
  return edges;
}

/// Vertices - edges + faces: 1 for a sheet, one less for each hole in it.
long euler_characteristic(const Mesh& mesh) {
  return static_cast<long>(mesh.nodes.size()) - static_cast<long>(edges_of(mesh).size()) +
         static_cast<long>(mesh.triangles.size());
}

/// What holds for every mesh, whatever was asked.
void check_is_a_mesh(const Mesh& mesh, long holes) {
  REQUIRE(mesh.over.size() == mesh.triangles.size());
  std::map<std::pair<int, int>, int> travelled;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    CHECK(triangle_area_mm2(mesh, t) > 0);
    for (std::size_t i = 0; i < 3; ++i) {
      ++travelled[{mesh.triangles[t][i], mesh.triangles[t][(i + 1) % 3]}];
    }
  }
  std::size_t alone = 0;
  for (const auto& [edge, times] : travelled) {
    CHECK(times == 1);
    alone += travelled.count({edge.second, edge.first}) == 0 ? 1U : 0U;
  }
  // Exactly the edges with a triangle on one side only are boundary, travelled as it is.
  CHECK(mesh.boundary.size() == alone);
  for (const Mesh::BoundaryEdge& edge : mesh.boundary) {
    CHECK(travelled.count({edge.nodes[0], edge.nodes[1]}) == 1);
    CHECK(travelled.count({edge.nodes[1], edge.nodes[0]}) == 0);
  }
  CHECK(euler_characteristic(mesh) == 1 - holes);
}

/// How deep inside the triangle `p` lies; below zero outside [mm].
double depth_mm(const Mesh& mesh, std::size_t triangle, Point p) {
  double depth = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < 3; ++i) {
    const Point c = corner(mesh, triangle, i);
    const Point d = corner(mesh, triangle, i + 1);
    const double cross =
        (d.x_mm - c.x_mm) * (p.y_mm - c.y_mm) - (d.y_mm - c.y_mm) * (p.x_mm - c.x_mm);
    depth = std::min(depth, cross / distance_mm(c, d));
  }
  return depth;
}

/// Does any triangle have a piece of the closed polygon in its inside?
bool crosses(const Mesh& mesh, const std::vector<Point>& polygon) {
  constexpr int samples = 500;
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Point a = polygon[k];
    const Point b = polygon[(k + 1) % polygon.size()];
    for (int s = 0; s < samples; ++s) {
      const double part = (s + 0.5) / samples;
      const Point p{std::lerp(a.x_mm, b.x_mm, part), std::lerp(a.y_mm, b.y_mm, part)};
      for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (depth_mm(mesh, t, p) > 2 * mesh_snap_mm) {
          return true;
        }
      }
    }
  }
  return false;
}

// ---- The wall of most tests --------------------------------------------------------------

/// Its sides: 0 right, 1 top, 2 left, 3 floor, as rounded_rectangle starts at its lower right.
Outline wall() {
  return rounded_rectangle({150, 200, 0});
}

/// Stands on the floor in the middle.
Outline face() {
  return rounded_rectangle({141, 183, 3}, {0, -100 + 183 / 2.0});
}

MeshRequest wall_with_face() {
  return {.outline = wall(),
          .patches = {face()},
          .points = {{-66, 92}, {66, 92}, {0, 95.5}},
          .greatest_edge_mm = 8};
}

TEST_CASE("1: the triangles cover the wall once, and nothing else") {
  const Mesh mesh = triangulate(wall_with_face());
  check_is_a_mesh(mesh, 0);
  CHECK_THAT(area_over_mm2(mesh, 0), WithinAbs(150 * 200, rounding_mm2));
}

TEST_CASE("1: a rounded wall is covered but for what its chords leave out") {
  const Outline rounded = rounded_rectangle({150, 200, 8});
  const Mesh mesh = triangulate({.outline = rounded, .greatest_edge_mm = 10});
  check_is_a_mesh(mesh, 0);
  const double missing = area_mm2(rounded) - area_over_mm2(mesh, 0);
  CHECK(missing > 0);
  CHECK(missing <= chord_error_mm2(8, 2 * pi) + rounding_mm2);
}

TEST_CASE("1: a hole has no triangles, and its edge is boundary") {
  const Outline holed = difference(wall(), disc(3.3, {-60, 90}));
  const Mesh mesh = triangulate({.outline = holed, .greatest_edge_mm = 8});
  check_is_a_mesh(mesh, 1);
  const double extra = area_over_mm2(mesh, 0) - area_mm2(holed);
  CHECK(extra > 0);
  CHECK(extra <= chord_error_mm2(3.3, 2 * pi) + rounding_mm2);
  int round_hole = 0;
  for (const Mesh::BoundaryEdge& edge : mesh.boundary) {
    const double from_centre = distance_mm(node(mesh, edge.nodes[0]), {-60, 90});
    if (from_centre < 10) {
      ++round_hole;
      CHECK_THAT(from_centre, WithinAbs(3.3, 3.3 * (1 - std::cos(pi / 12)) + mesh_snap_mm));
      CHECK(edge.side >= 4);
    } else {
      CHECK(edge.side < 4);
    }
  }
  CHECK(round_hole >= 12);
}

TEST_CASE("1: a circle that is one edge is a hole too") {
  Outline holed = wall();
  holed.loops.push_back(
      {{.from = {5, 0}, .is_arc = true, .centre = {0, 0}, .counterclockwise = false}});
  const Mesh mesh = triangulate({.outline = holed, .greatest_edge_mm = 12});
  check_is_a_mesh(mesh, 1);
  // Twelve chords: a regular dodecagon.
  CHECK_THAT(side_length_mm(mesh, 4), WithinAbs(24 * 5 * std::sin(pi / 12), 1e-9));
}

TEST_CASE("1: walls of any shape are covered but for the chords") {
  REQUIRE(rc::check([] {
    const Outline shape = draw_shape();
    const double size = std::sqrt(area_mm2(shape));
    RC_PRE(size > 5);
    const Mesh mesh = triangulate({.outline = shape, .greatest_edge_mm = size / 4});
    // A chord of turn a leaves out r^2/2 (a - sin a) < (r a) r a^2/12; r is 100 mm at most.
    const double chord = greatest_chord_angle_deg * pi / 180;
    const double chords = perimeter_mm(shape) * 100 * chord * chord / 12;
    RC_ASSERT(std::abs(area_over_mm2(mesh, 0) - area_mm2(shape)) <= chords);
    RC_ASSERT(keeps_to(mesh, size / 4));
  }));
}

TEST_CASE("2: triangles under a face add up to it, and none lies half under it") {
  const Mesh mesh = triangulate(wall_with_face());
  const double missing = area_mm2(face()) - area_over_mm2(mesh, 1);
  CHECK(missing > 0);
  CHECK(missing <= chord_error_mm2(3, 2 * pi) + rounding_mm2);
  CHECK(area_over_mm2(mesh, 2) == 0);
}

TEST_CASE("2: no triangle reaches across a face's edge") {
  const std::vector<Point> sheet{{-60, -100}, {55, -100}, {40, 30}, {-70, 60}};
  const Mesh with =
      triangulate({.outline = wall(), .patches = {polygon(sheet)}, .greatest_edge_mm = 20});
  CHECK_FALSE(crosses(with, sheet));
  const Mesh without = triangulate({.outline = wall(), .greatest_edge_mm = 20});
  CHECK(crosses(without, sheet));
}

TEST_CASE("2: a sheet with a cut-out over a face") {
  MeshRequest request = wall_with_face();
  const Outline window = rounded_rectangle({60, 80, 10});
  request.patches.push_back(difference(face(), window));
  const Mesh mesh = triangulate(request);
  check_is_a_mesh(mesh, 0);
  const double chords = chord_error_mm2(3, 2 * pi) + chord_error_mm2(10, 2 * pi);
  CHECK_THAT(area_over_mm2(mesh, 0b01) - area_over_mm2(mesh, 0b11),
             WithinAbs(area_mm2(window), chord_error_mm2(10, 2 * pi) + rounding_mm2));
  CHECK_THAT(area_over_mm2(mesh, 0b10),
             WithinAbs(area_mm2(request.patches[1]), chords + rounding_mm2));
  // Nowhere under the sheet but under the face.
  CHECK_THAT(area_over_mm2(mesh, 0b10) - area_over_mm2(mesh, 0b11), WithinAbs(0, 1e-9));
}

TEST_CASE("2: of a patch beyond the wall the part on the wall remains") {
  const Outline beyond = rounded_rectangle({100, 120, 5}, {75, 100});
  const Mesh mesh = triangulate({.outline = wall(), .patches = {beyond}, .greatest_edge_mm = 8});
  check_is_a_mesh(mesh, 0);
  const double common = area_mm2(intersection(wall(), beyond));
  CHECK_THAT(area_over_mm2(mesh, 1), WithinAbs(common, chord_error_mm2(5, 2 * pi) + rounding_mm2));
  CHECK(area_over_mm2(mesh, 1) < area_mm2(beyond) / 2);
}

TEST_CASE("2: a patch quite outside, and an empty one, cover nothing") {
  const Mesh mesh = triangulate({.outline = wall(),
                                 .patches = {rounded_rectangle({10, 10, 2}, {200, 0}), Outline{}},
                                 .greatest_edge_mm = 20});
  CHECK(std::all_of(mesh.over.begin(), mesh.over.end(), [](std::uint64_t m) { return m == 0; }));
  CHECK(has_node(mesh, {75, 100}, 1e-9));
  CHECK_FALSE(has_node(mesh, {195, 0}, 20));
}

TEST_CASE("2: a patch that is the wall covers it all") {
  const Outline rounded = rounded_rectangle({150, 200, 8});
  const Mesh mesh = triangulate({.outline = rounded, .patches = {rounded}, .greatest_edge_mm = 10});
  CHECK(std::all_of(mesh.over.begin(), mesh.over.end(), [](std::uint64_t m) { return m == 1; }));
  const Mesh bare = triangulate({.outline = rounded, .greatest_edge_mm = 10});
  CHECK(mesh.triangles == bare.triangles);
}

TEST_CASE("2: two faces side by side share an edge and no area") {
  const Outline left = rounded_rectangle({70, 183, 3}, {-35, -8.5});
  const Outline right = rounded_rectangle({70, 183, 3}, {35, -8.5});
  const Mesh mesh =
      triangulate({.outline = wall(), .patches = {left, right}, .greatest_edge_mm = 8});
  check_is_a_mesh(mesh, 0);
  CHECK(area_over_mm2(mesh, 3) == 0);
  const double error = chord_error_mm2(3, 2 * pi) + rounding_mm2;
  CHECK_THAT(area_over_mm2(mesh, 1), WithinAbs(area_mm2(left), error));
  CHECK_THAT(area_over_mm2(mesh, 2), WithinAbs(area_mm2(right), error));
}

TEST_CASE("2: patches that cross overlap where both are") {
  const Outline across = rounded_rectangle({120, 40, 0}, {5, 3});
  const Outline upright = rounded_rectangle({40, 120, 0}, {-7, 1});
  const Mesh mesh =
      triangulate({.outline = wall(), .patches = {across, upright}, .greatest_edge_mm = 15});
  check_is_a_mesh(mesh, 0);
  CHECK_THAT(area_over_mm2(mesh, 3), WithinAbs(1600, rounding_mm2));
  CHECK_THAT(area_over_mm2(mesh, 1), WithinAbs(4800, rounding_mm2));
  CHECK_THAT(area_over_mm2(mesh, 2), WithinAbs(4800, rounding_mm2));
}

TEST_CASE("2: the same circle begun elsewhere has the same chords") {
  const Outline washer = disc(9, {10, 20});
  const Outline turned = moved(disc(9), {.turn_rad = 0.3, .shift = {10, 20}});
  const Mesh mesh =
      triangulate({.outline = wall(), .patches = {washer, turned}, .greatest_edge_mm = 15});
  CHECK(area_over_mm2(mesh, 1) > 0);
  CHECK(area_over_mm2(mesh, 3) == area_over_mm2(mesh, 1));
  CHECK(area_over_mm2(mesh, 3) == area_over_mm2(mesh, 2));
}

TEST_CASE("2: the 64th patch has its bit") {
  MeshRequest request{.outline = wall(), .greatest_edge_mm = 30};
  request.patches.assign(63, Outline{});
  request.patches.push_back(rounded_rectangle({20, 20, 0}));
  const Mesh mesh = triangulate(request);
  CHECK_THAT(area_over_mm2(mesh, std::uint64_t{1} << 63), WithinAbs(400, rounding_mm2));
}

TEST_CASE("2: what is given nearly on the floor stands on it") {
  for (const double off_mm : {-0.9e-3, -1e-6, -1e-9, 1e-9, 1e-6, 0.9e-3}) {
    CAPTURE(off_mm);
    MeshRequest request = wall_with_face();
    const std::size_t exact = triangulate(request).triangles.size();
    request.patches = {rounded_rectangle({141, 183, 3}, {0, -8.5 + off_mm})};
    const Mesh mesh = triangulate(request);
    CHECK(mesh.triangles.size() <= exact + exact / 10);
    // A rounded corner leaves the floor at half a chord's turn, 15 degrees. In strips of off_mm the
    // angles would be a tenth of one.
    CHECK(least_angle_deg(mesh) > 13);
    CHECK_THAT(area_over_mm2(mesh, 0), WithinAbs(30000, snapped_mm2(wall())));
  }
}

TEST_CASE("3: every asked point is a node, wherever it lies") {
  MeshRequest request = wall_with_face();
  request.points = {{-66, 92},   {66, 92},         {0.1, 0.2},       // in the open
                    {75, 33.3},  {-75, 100},       {10, -100},       // on the wall's edge
                    {-70.5, 11}, {70.5 - 1e-7, 5}, {3, 83 + 5e-7}};  // on the face's edge
  const Mesh mesh = triangulate(request);
  check_is_a_mesh(mesh, 0);
  for (const Point p : request.points) {
    CAPTURE(p.x_mm, p.y_mm);
    CHECK(has_node(mesh, p, 1e-9));
  }
}

TEST_CASE("3: no edge is longer than asked") {
  for (const double greatest_mm : {40.0, 20.0, 9.0, 5.0}) {
    CAPTURE(greatest_mm);
    MeshRequest request = wall_with_face();
    request.greatest_edge_mm = greatest_mm;
    const Mesh mesh = triangulate(request);
    CHECK(keeps_to(mesh, greatest_mm));
    CHECK(longest_edge_mm(mesh) > greatest_mm / 2);
  }
}

TEST_CASE("3: random patches and points are followed, and the size is kept") {
  REQUIRE(rc::check([] {
    MeshRequest request{.outline = wall(), .greatest_edge_mm = 25, .least_angle_deg = 20};
    for (int k = *rc::gen::inRange(0, 4); k > 0; --k) {
      request.patches.push_back(rounded_rectangle(
          {double(*rc::gen::inRange(2, 30)) * 5, double(*rc::gen::inRange(2, 40)) * 5,
           double(*rc::gen::inRange(0, 6))},
          {double(*rc::gen::inRange(-15, 16)) * 5, double(*rc::gen::inRange(-20, 21)) * 5}));
    }
    for (int k = *rc::gen::inRange(0, 4); k > 0; --k) {
      request.points.push_back({draw_mm(-750, 750), draw_mm(-1000, 1000)});
    }
    const Mesh mesh = triangulate(request);
    RC_ASSERT(keeps_to(mesh, 25));
    RC_ASSERT(euler_characteristic(mesh) == 1);
    RC_ASSERT(std::abs(area_over_mm2(mesh, 0) - 30000) <= rounding_mm2);
    for (const Point p : request.points) {
      RC_ASSERT(has_node(mesh, p, 1e-9));
    }
    for (std::size_t k = 0; k < request.patches.size(); ++k) {
      const Outline on_wall = intersection(request.patches[k], wall());
      const double error = chord_error_mm2(5, 2 * pi) + snapped_mm2(request.patches[k]);
      RC_ASSERT(std::abs(area_over_mm2(mesh, std::uint64_t{1} << k) - area_mm2(on_wall)) <= error);
    }
  }));
}

TEST_CASE("4: edges run along every asked line, across faces, rods and other lines") {
  MeshRequest request = wall_with_face();
  request.points = {{-75, 30}, {12, 30}};
  request.lines = {{{{-75, 30}, {75, 30}}},      // from edge to edge, through an asked point
                   {{{20, -100}, {20, 100}}},    // across the first
                   {{{-75, 82.9}, {75, 82.9}}},  // a hair below the face's upper edge
                   {{{-60, -90}, {-10, -20}}}};  // within the face, aslant
  const Mesh mesh = triangulate(request);
  check_is_a_mesh(mesh, 0);
  CHECK(keeps_to(mesh, request.greatest_edge_mm));
  for (const auto& [from, to] : request.lines) {
    CAPTURE(from.x_mm, from.y_mm);
    double covered_mm = 0;
    for (const auto& [i, j] : edges_of(mesh)) {
      const Point a = node(mesh, i);
      const Point b = node(mesh, j);
      const auto on_line = [&, start = from, end = to](Point p) {
        return distance_mm(start, p) + distance_mm(p, end) < distance_mm(start, end) + 1e-5;
      };
      covered_mm += on_line(a) && on_line(b) ? distance_mm(a, b) : 0;
    }
    CHECK_THAT(covered_mm, WithinAbs(distance_mm(from, to), 1e-5));
  }
}

TEST_CASE(
    "4: of a line beyond the wall the part on the wall remains, and one on its edge adds none") {
  MeshRequest request = wall_with_face();
  const Mesh plain = triangulate(request);
  request.lines = {{{{75, -100}, {75, 100}}}};
  CHECK(triangulate(request).triangles == plain.triangles);
  request.lines = {{{{-200, 0}, {200, 0}}}};
  const Mesh mesh = triangulate(request);
  check_is_a_mesh(mesh, 0);
  CHECK(has_node(mesh, {-75, 0}, 1e-9));
  CHECK(has_node(mesh, {75, 0}, 1e-9));
}

TEST_CASE("5: the same request gives the same mesh") {
  MeshRequest request = wall_with_face();
  request.lines = {{{{-75, 30}, {75, 30}}}};
  request.patches.push_back(difference(face(), rounded_rectangle({60, 80, 10})));
  const Mesh first = triangulate(request);
  // Something else in between: nothing may be carried over, nor hang on where memory lies.
  const Mesh other = triangulate({.outline = face(), .greatest_edge_mm = 3});
  const Mesh second = triangulate(request);
  REQUIRE(other.nodes.size() > 100);
  REQUIRE(first.nodes.size() == second.nodes.size());
  for (std::size_t i = 0; i < first.nodes.size(); ++i) {
    REQUIRE(first.nodes[i].x_mm == second.nodes[i].x_mm);
    REQUIRE(first.nodes[i].y_mm == second.nodes[i].y_mm);
  }
  CHECK(first.triangles == second.triangles);
  CHECK(first.over == second.over);
  REQUIRE(first.boundary.size() == second.boundary.size());
  for (std::size_t i = 0; i < first.boundary.size(); ++i) {
    REQUIRE(first.boundary[i].nodes == second.boundary[i].nodes);
    REQUIRE(first.boundary[i].side == second.boundary[i].side);
  }
}

// ---- Sides -------------------------------------------------------------------------------

TEST_CASE("boundary edges know their side of the outline") {
  const Mesh mesh = triangulate(wall_with_face());
  for (const Mesh::BoundaryEdge& edge : mesh.boundary) {
    const Point a = node(mesh, edge.nodes[0]);
    const Point b = node(mesh, edge.nodes[1]);
    const double x = (a.x_mm + b.x_mm) / 2;
    const double y = (a.y_mm + b.y_mm) / 2;
    CHECK(edge.side == (x > 74.9 ? 0 : y > 99.9 ? 1 : x < -74.9 ? 2 : 3));
  }
  CHECK_THAT(side_length_mm(mesh, 0), WithinAbs(200, 1e-9));
  CHECK_THAT(side_length_mm(mesh, 1), WithinAbs(150, 1e-9));
  CHECK_THAT(side_length_mm(mesh, 2), WithinAbs(200, 1e-9));
  CHECK_THAT(side_length_mm(mesh, 3), WithinAbs(150, 1e-9));
}

TEST_CASE("a side in parts keeps its parts") {
  const Outline parts{{{{.from = {0, 0}},
                        {.from = {30, 0}},
                        {.from = {70, 0}},
                        {.from = {100, 0}},
                        {.from = {100, 80}},
                        {.from = {0, 80}}}}};
  const Mesh mesh = triangulate({.outline = parts, .greatest_edge_mm = 10});
  const std::array<double, 6> expected{30, 40, 30, 80, 100, 80};
  for (std::size_t side = 0; side < expected.size(); ++side) {
    CAPTURE(side);
    CHECK_THAT(side_length_mm(mesh, static_cast<int>(side)), WithinAbs(expected[side], 1e-9));
  }
}

TEST_CASE("sides are counted through all loops, arcs among them") {
  const Outline holed = difference(rounded_rectangle({100, 80, 6}), rounded_rectangle({20, 10, 0}));
  REQUIRE(holed.loops.size() == 2);
  const Mesh mesh = triangulate({.outline = holed, .greatest_edge_mm = 8});
  check_is_a_mesh(mesh, 1);
  int side = 0;
  for (const Loop& loop : holed.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i, ++side) {
      CAPTURE(side);
      const Point to = loop[(i + 1) % loop.size()].from;
      // A quarter of a circle is three chords; set operations may cut it at its turning points.
      const double straight = distance_mm(loop[i].from, to);
      const double expected = loop[i].is_arc ? 6 * 6 * std::sin(pi / 12) : straight;
      CHECK_THAT(side_length_mm(mesh, side), WithinAbs(expected, 1e-9));
    }
  }
}

// ---- Angles ------------------------------------------------------------------------------

TEST_CASE("the least angle is kept where the request has no smaller one") {
  for (const double least_deg : {15.0, 25.0, 28.0}) {
    CAPTURE(least_deg);
    const Mesh mesh = triangulate({.outline = wall(),
                                   .patches = {rounded_rectangle({100, 120, 0}, {5, -40})},
                                   .points = {{1, 2}, {60, 95}},
                                   .greatest_edge_mm = 12,
                                   .least_angle_deg = least_deg});
    CHECK(least_angle_deg(mesh) >= least_deg - 1e-9);
  }
}

TEST_CASE("a small corner of the request is kept, and spoils only its own triangles") {
  const Mesh mesh = triangulate(
      {.outline = polygon({{0, 0}, {100, 0}, {100, 100 * std::tan(6 * pi / 180)}, {50, 60}}),
       .greatest_edge_mm = 12});
  CHECK_THAT(
      area_over_mm2(mesh, 0),
      WithinAbs(
          area_mm2(polygon({{0, 0}, {100, 0}, {100, 100 * std::tan(6 * pi / 180)}, {50, 60}})),
          1e-8));
  const MeshRequest face_request = wall_with_face();
  const Mesh standing = triangulate(face_request);
  int small = 0;
  for (std::size_t t = 0; t < standing.triangles.size(); ++t) {
    for (std::size_t i = 0; i < 3; ++i) {
      if (angle_deg(standing, t, i) < face_request.least_angle_deg - 1e-9) {
        ++small;
        // The two places where the face's rounded corners leave the floor.
        CHECK(std::abs(std::abs(corner(standing, t, i).x_mm) - 67.5) < 4);
        CHECK(corner(standing, t, i).y_mm < -96);
      }
    }
  }
  CHECK(small >= 1);
  CHECK(small <= 4);
}

TEST_CASE("a strip of any width beside the wall's edge costs little, and is followed") {
  const MeshRequest bare{.outline = wall(), .greatest_edge_mm = 8};
  const std::size_t without = triangulate(bare).triangles.size();
  for (const double gap_mm : {1.0, 0.1, 0.01, 0.0021}) {
    CAPTURE(gap_mm);
    MeshRequest request = bare;
    request.patches = {rounded_rectangle({150 - 2 * gap_mm, 160, 0}, {0, 3})};
    const Mesh mesh = triangulate(request);
    check_is_a_mesh(mesh, 0);
    CHECK(mesh.triangles.size() < 2 * without);
    CHECK(keeps_to(mesh, 8));
    CHECK_THAT(area_over_mm2(mesh, 1), WithinAbs(160 * (150 - 2 * gap_mm), rounding_mm2));
    CHECK_THAT(area_over_mm2(mesh, 0), WithinAbs(30000, rounding_mm2));
  }
}

TEST_CASE("nine walls a few snaps apart, each a little turned, are still a mesh of the wall") {
  REQUIRE(rc::check([] {
    MeshRequest request{.outline = wall(), .greatest_edge_mm = 40};
    const auto hair = [] { return *rc::gen::inRange(-30, 31) * mesh_snap_mm / 10; };
    for (int k = 0; k < 8; ++k) {
      const Move move{.turn_rad = hair() / 100, .shift = {hair(), hair()}};
      request.patches.push_back(moved(wall(), move));
    }
    const Mesh mesh = triangulate(request);
    RC_ASSERT(mesh.triangles.size() < 5000U);
    // Corners and edges bend more than once here, by a snap each.
    RC_ASSERT(std::abs(area_over_mm2(mesh, 0) - 30000) <= 3 * snapped_mm2(wall()));
  }));
}

TEST_CASE("a wedge between a patch and the floor costs little, however sharp") {
  const MeshRequest bare{.outline = wall(), .greatest_edge_mm = 8};
  const std::size_t without = triangulate(bare).triangles.size();
  for (const double rise_mm : {20.0, 2.0, 0.2, 0.02}) {
    CAPTURE(rise_mm);
    MeshRequest request = bare;
    request.patches = {polygon({{-75, -100}, {75, -100 + rise_mm}, {75, 50}, {-75, 50}})};
    const Mesh mesh = triangulate(request);
    CHECK(mesh.triangles.size() < 2 * without);
    CHECK_THAT(area_over_mm2(mesh, 1), WithinAbs(150 * (150 - rise_mm / 2), rounding_mm2));
  }
}

// ---- Refusals ----------------------------------------------------------------------------

TEST_CASE("what cannot be meshed is refused") {
  const MeshRequest sound = wall_with_face();
  const auto refused = [&](auto change) {
    MeshRequest request = sound;
    change(request);
    CHECK_THROWS_AS(triangulate(request), std::invalid_argument);
  };
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  constexpr double infinite = std::numeric_limits<double>::infinity();
  CHECK_NOTHROW(triangulate(sound));
  refused([](MeshRequest& r) { r.outline = {}; });
  refused([](MeshRequest& r) { r.outline = reversed(r.outline); });
  for (const double size : {0.0, -1.0, nan, infinite}) {
    refused([=](MeshRequest& r) { r.greatest_edge_mm = size; });
  }
  for (const double angle : {-1.0, 28.1, nan}) {
    refused([=](MeshRequest& r) { r.least_angle_deg = angle; });
  }
  refused([](MeshRequest& r) { r.patches.assign(65, Outline{}); });
  refused([](MeshRequest& r) { r.points.push_back({75.01, 0}); });
  refused([](MeshRequest& r) {
    r.outline = difference(r.outline, disc(5));
    r.points = {{1, 1}};
  });
  refused([](MeshRequest& r) { r.points.push_back({nan, 0}); });
  refused([](MeshRequest& r) { r.lines.push_back({{{0, 0}, {infinite, 0}}}); });
  refused([](MeshRequest& r) { r.patches[0].loops[0][0].from.x_mm = nan; });
}

}  // namespace
}  // namespace stackfit::geometry::testing
