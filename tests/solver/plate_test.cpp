// SPDX-License-Identifier: GPL-3.0-or-later
//
// Identities of thin plates on irregular meshes: patch test, rigid motions, symmetry, reciprocity,
// supports of every kind, points that integrate, and plates with an answer in closed form.
#include "solver/plate.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <type_traits>
#include <utility>
#include <vector>

#include "tests/catch.hpp"
#include "tests/solver/plate_meshes.hpp"

using namespace stackfit;
using namespace stackfit::testing;

static_assert(std::is_nothrow_move_constructible_v<Plate>);

namespace {

using Catch::Matchers::ContainsSubstring;
using Eigen::Index;

/// Of the largest figure of its kind: solving a few thousand equations loses some six digits.
constexpr double solved = 1e-9;
/// The same where nothing is solved.
constexpr double rounding = 1e-12;

const PlateSection steel{.thickness_mm = 2, .modulus_mpa = 205000, .poisson = 0.3};
const Grid small{.width_mm = 120, .height_mm = 80, .columns = 10, .rows = 6, .seed = 5};
constexpr Index small_unknowns = 231;  // 11 x 7 nodes
const std::vector<PlateEdge> all_free(4, PlateEdge::free);
const std::vector<PlateEdge> all_held(4, PlateEdge::held);
const std::vector<PlateEdge> mixed = {PlateEdge::fixed, PlateEdge::free, PlateEdge::held,
                                      PlateEdge::held};

/// A deflection and its slopes: a polynomial with coefficients of x^p y^q.
struct Polynomial {
  struct Term {
    double factor = 0;
    int p = 0;
    int q = 0;
  };
  std::vector<Term> terms;

  /// The derivative p times along x and q times along y.
  [[nodiscard]] double at(const geometry::Point& point, int along_x = 0, int along_y = 0) const {
    double sum = 0;
    for (const Term& term : terms) {
      sum += term.factor * derivative(point.x_mm, term.p, along_x) *
             derivative(point.y_mm, term.q, along_y);
    }
    return sum;
  }

  static double derivative(double x, int power, int times) {
    double factor = 1;
    for (int k = 0; k < times; ++k) {
      factor *= power - k;
    }
    return factor == 0 ? 0 : factor * std::pow(x, power - times);
  }
};

Eigen::VectorXd nodal(const geometry::Mesh& mesh, const Polynomial& w) {
  Eigen::VectorXd values(3 * static_cast<Index>(mesh.nodes.size()));
  Index i = 0;
  for (const auto& node : mesh.nodes) {
    values[i++] = w.at(node);
    values[i++] = w.at(node, 1, 0);
    values[i++] = w.at(node, 0, 1);
  }
  return values;
}

/// Deflections alone, without the slopes.
Eigen::VectorXd deflections(const Eigen::VectorXd& values) {
  return values(Eigen::seq(0, Eigen::last, 3));
}

double greatest(const Eigen::VectorXd& values) {
  return values.cwiseAbs().maxCoeff();
}

/// Largest difference, as a part of the largest figure.
double apart(const Eigen::VectorXd& a, const Eigen::VectorXd& b) {
  return greatest(a - b) / greatest(b);
}

std::vector<bool> on_boundary(const geometry::Mesh& mesh) {
  std::vector<bool> result(mesh.nodes.size(), false);
  for (const auto& edge : mesh.boundary) {
    for (const int node : edge.nodes) {
      result[static_cast<std::size_t>(node)] = true;
    }
  }
  return result;
}

std::size_t node_near(const geometry::Mesh& mesh, const geometry::Point& at) {
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if (std::hypot(mesh.nodes[i].x_mm - at.x_mm, mesh.nodes[i].y_mm - at.y_mm) < 1e-9) {
      return i;
    }
  }
  throw std::runtime_error("the test's mesh lacks a node");
}

Index unknown_at(const geometry::Mesh& mesh, const geometry::Point& at) {
  return 3 * static_cast<Index>(node_near(mesh, at));
}

Plate on_corners(const geometry::Mesh& mesh) {
  return {mesh, steel, {all_free, {{{0, 0}}, {{120, 0}}, {{0, 80}}}}};
}

/// The mesh seen in a mirror at x = 0.
geometry::Mesh mirrored(geometry::Mesh mesh) {
  for (auto& node : mesh.nodes) {
    node.x_mm = -node.x_mm;
  }
  for (auto& triangle : mesh.triangles) {
    std::swap(triangle[1], triangle[2]);
  }
  return mesh;
}

geometry::Mesh turned(geometry::Mesh mesh, double angle_rad) {
  for (auto& node : mesh.nodes) {
    node = {std::cos(angle_rad) * node.x_mm - std::sin(angle_rad) * node.y_mm,
            std::sin(angle_rad) * node.x_mm + std::cos(angle_rad) * node.y_mm};
  }
  return mesh;
}

/// The mesh and its image in the side x = 0 (a grid's side 3), as one plate; the nodes of the
/// first half keep their numbers. Sides of the image: bottom 4, right 5, top 6.
geometry::Mesh doubled(const geometry::Mesh& half) {
  const geometry::Mesh image = mirrored(half);
  geometry::Mesh whole = half;
  std::vector<int> number;
  for (std::size_t i = 0; i < image.nodes.size(); ++i) {
    const bool shared = image.nodes[i].x_mm == 0;
    number.push_back(static_cast<int>(shared ? i : whole.nodes.size()));
    if (!shared) {
      whole.nodes.push_back(image.nodes[i]);
    }
  }
  const auto renumbered = [&number](int i) { return number[static_cast<std::size_t>(i)]; };
  for (const auto& [i, j, k] : image.triangles) {
    whole.triangles.push_back({renumbered(i), renumbered(j), renumbered(k)});
  }
  whole.over.insert(whole.over.end(), image.over.begin(), image.over.end());
  std::erase_if(whole.boundary, [](const auto& edge) { return edge.side == 3; });
  const std::array<int, 3> sides = {3, 4, 5};
  for (const auto& edge : image.boundary) {
    if (edge.side != 3) {
      whole.boundary.push_back({{renumbered(edge.nodes[1]), renumbered(edge.nodes[0])},
                                sides[static_cast<std::size_t>(edge.side)]});
    }
  }
  return whole;
}

}  // namespace

TEST_CASE("plate: rigid motions give no force") {
  const geometry::Mesh mesh = irregular(small);
  const Plate plate = on_corners(mesh);
  const double scale = plate.stiffness().coeffs().cwiseAbs().maxCoeff();
  for (const Polynomial& motion :
       {Polynomial{{{1, 0, 0}}}, Polynomial{{{0.02, 1, 0}}}, Polynomial{{{-0.03, 0, 1}}}}) {
    CHECK(greatest(plate.stiffness() * nodal(mesh, motion)) < rounding * scale);
  }
}

TEST_CASE("plate: the stiffness is symmetric, with three motions that cost nothing") {
  const Plate plate = on_corners(irregular({120, 80, 4, 3, 8}));
  const Eigen::MatrixXd stiffness(plate.stiffness());
  CHECK((stiffness - stiffness.transpose()).cwiseAbs().maxCoeff() == 0);
  const Eigen::VectorXd strengths =
      Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(stiffness, Eigen::EigenvaluesOnly)
          .eigenvalues();
  const double most = strengths[strengths.size() - 1];
  CHECK(greatest(strengths.head<3>()) < rounding * most);
  CHECK(strengths[3] > 1e-8 * most);
}

TEST_CASE("plate: patch test, constant curvature needs no force inside") {
  const auto seed = static_cast<std::uint32_t>(GENERATE(1, 2, 3));
  Grid grid = small;
  grid.seed = seed;
  const geometry::Mesh mesh = irregular(grid);
  const Plate plate = on_corners(mesh);
  const Polynomial w{{{0.3, 0, 0}, {-0.01, 1, 0}, {2e-4, 2, 0}, {-3e-4, 1, 1}, {5e-4, 0, 2}}};
  const Eigen::VectorXd u = nodal(mesh, w);

  const Eigen::VectorXd forces = plate.stiffness() * u;
  const std::vector<bool> rim = on_boundary(mesh);
  double inside = 0;
  double at_rim = 0;
  for (Index i = 0; i < forces.size(); ++i) {
    double& most = rim[static_cast<std::size_t>(i / 3)] ? at_rim : inside;
    most = std::max(most, std::abs(forces[i]));
  }
  CHECK(inside < solved * at_rim);

  // M = -D (w'' + nu w''), by hand.
  const double d = 205000.0 * 8 / (12 * 0.91);
  const PlateMoments m = plate.moments(u);
  CHECK(greatest(m.mx.array() + d * (4e-4 + 0.3 * 1e-3)) < solved * d * 1e-3);
  CHECK(greatest(m.my.array() + d * (1e-3 + 0.3 * 4e-4)) < solved * d * 1e-3);
  CHECK(greatest(m.mxy.array() - d * 0.7 * 3e-4) < solved * d * 1e-3);
}

TEST_CASE("plate: patch test by solving, a corner pushed while three stand") {
  // Pure twist, w = P x y / (2 D (1 - nu)): corner forces 2 Mxy and nothing else along the sides
  // (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 11, number from memory).
  const geometry::Mesh mesh = irregular(small);
  const Plate plate = on_corners(mesh);
  Eigen::VectorXd load = Eigen::VectorXd::Zero(plate.unknowns());
  load[unknown_at(mesh, {120, 80})] = 40;
  const double twist = 40 / (2 * steel.stiffness_n_mm() * 0.7);
  CHECK(apart(plate.solve(load), nodal(mesh, {{{twist, 1, 1}}})) < solved);
}

TEST_CASE("plate: moments of any deflection up to the fourth degree are exact") {
  const geometry::Mesh mesh = irregular(small);
  const Plate plate = on_corners(mesh);
  const Polynomial w{{{1e-4, 2, 0},
                      {2e-6, 3, 0},
                      {-3e-6, 1, 2},
                      {2e-8, 4, 0},
                      {4e-8, 2, 2},
                      {-5e-8, 1, 3},
                      {1e-8, 0, 4}}};
  const PlateMoments m = plate.moments(nodal(mesh, w));
  const double d = steel.stiffness_n_mm();
  const double largest = greatest(m.mx);
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    const geometry::Point& at = mesh.nodes[i];
    const double xx = w.at(at, 2, 0);
    const double yy = w.at(at, 0, 2);
    const auto row = static_cast<Index>(i);
    REQUIRE(std::abs(m.mx[row] + d * (xx + 0.3 * yy)) < solved * largest);
    REQUIRE(std::abs(m.my[row] + d * (yy + 0.3 * xx)) < solved * largest);
    REQUIRE(std::abs(m.mxy[row] + d * 0.7 * w.at(at, 1, 1)) < solved * largest);
  }
}

TEST_CASE("plate: two triangles are enough for the moments of a quadratic") {
  const geometry::Mesh mesh = irregular({120, 80, 1, 1, 3});
  const Plate plate = on_corners(mesh);
  const PlateMoments m = plate.moments(nodal(mesh, {{{1e-4, 2, 0}}}));
  const double expected = -2e-4 * steel.stiffness_n_mm();
  CHECK(greatest(m.mx.array() - expected) < solved * std::abs(expected));
}

TEST_CASE("plate: a mirrored mesh gives a mirrored answer") {
  const geometry::Mesh mesh = irregular(small);
  const Plate plate(mesh, steel, {mixed, {}});
  const Plate image(mirrored(mesh), steel, {mixed, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(plate.mesh(), -1, 0.1));
  Eigen::VectorXd seen = image.solve(even_pressure(image.mesh(), -1, 0.1));
  seen(Eigen::seq(1, Eigen::last, 3)) *= -1;
  CHECK(apart(seen, u) < solved);
  CHECK(apart(image.moments(image.solve(even_pressure(image.mesh(), -1, 0.1))).mxy,
              -plate.moments(u).mxy) < solved);
}

TEST_CASE("plate: turned as a whole it answers the same, also along oblique sides") {
  const geometry::Mesh mesh = irregular(small);
  const double angle_rad = GENERATE(0.3, 0.7853981633974483, 2.0);
  const std::vector<PlateEdge> sides =
      GENERATE(std::vector<PlateEdge>(4, PlateEdge::held),
               std::vector<PlateEdge>{PlateEdge::mirror, PlateEdge::free, PlateEdge::held,
                                      PlateEdge::mirror});
  const Plate plate(mesh, steel, {sides, {}});
  const Plate oblique(turned(mesh, angle_rad), steel, {sides, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(plate.mesh(), -1, 0.1));
  const Eigen::VectorXd v = oblique.solve(even_pressure(oblique.mesh(), -1, 0.1));
  CHECK(apart(deflections(v), deflections(u)) < solved);
  const PlateMoments m = plate.moments(u);
  const PlateMoments n = oblique.moments(v);
  CHECK(apart(n.mx + n.my, m.mx + m.my) < solved);
  const double cc = std::cos(angle_rad) * std::cos(angle_rad);
  const double ss = std::sin(angle_rad) * std::sin(angle_rad);
  CHECK(apart(n.mx, cc * m.mx + ss * m.my - std::sin(2 * angle_rad) * m.mxy) < solved);
}

TEST_CASE("plate: held and fixed sides hold what they say, corners both slopes") {
  const geometry::Mesh mesh = turned(irregular(small), 0.3);
  const Plate plate(mesh, steel, {mixed, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(mesh, -1, 0.1));
  const double most = greatest(u);
  double turning = 0;
  for (const auto& edge : mesh.boundary) {
    for (const int node : edge.nodes) {
      const Eigen::Vector3d at = u.segment<3>(3 * static_cast<Index>(node));
      if (edge.side == 0) {
        CHECK(at.cwiseAbs().maxCoeff() == 0);
      } else if (edge.side == 2) {
        CHECK(at[0] == 0);
        CHECK(std::abs(std::cos(0.3) * at[1] + std::sin(0.3) * at[2]) < rounding * most);
        turning = std::max(turning, std::abs(at[2]));
      }
    }
  }
  CHECK(turning > 1e-3 * most);
  // Top and left meet at node (0, 80), before the turn: held along both.
  const geometry::Point corner = {-std::sin(0.3) * 80, std::cos(0.3) * 80};
  CHECK(greatest(u.segment<3>(unknown_at(mesh, corner))) == 0);
}

TEST_CASE("plate: half of a plate with a mirror is the whole plate's half") {
  const geometry::Mesh half = irregular(small);
  const geometry::Mesh whole = doubled(half);
  const Plate mirror(half, steel,
                     {{PlateEdge::held, PlateEdge::fixed, PlateEdge::free, PlateEdge::mirror}, {}});
  const Plate both(whole, steel,
                   {{PlateEdge::held, PlateEdge::fixed, PlateEdge::free, PlateEdge::held,
                     PlateEdge::fixed, PlateEdge::free},
                    {}});
  const Eigen::VectorXd u = mirror.solve(even_pressure(half, -1, 0.1));
  const Eigen::VectorXd v = both.solve(even_pressure(whole, -1, 0.1));
  CHECK(apart(v.head(u.size()), u) < solved);
}

TEST_CASE("plate: springs under points go from a floating plate to a rigid support") {
  const geometry::Mesh mesh = irregular(small);
  const std::array<geometry::Point, 4> corners = {{{0, 0}, {120, 0}, {0, 80}, {120, 80}}};
  const auto deflected_on = [&](double spring_n_per_mm, bool rigid) {
    PlateSupports supports{all_free, {}};
    for (const auto& corner : corners) {
      supports.points.push_back({corner, spring_n_per_mm, rigid});
    }
    const Plate plate(mesh, steel, supports);
    return deflections(plate.solve(even_pressure(mesh, -1, 0.01)));
  };
  // 96 N in the middle of four soft springs alike.
  const Eigen::VectorXd soft = deflected_on(1e-3, false);
  CHECK(soft.minCoeff() == Catch::Approx(24e3).epsilon(1e-4));
  CHECK(soft.maxCoeff() == Catch::Approx(24e3).epsilon(1e-4));
  const double rigid = greatest(deflected_on(0, true));
  double before = 1;
  for (const double spring_n_per_mm : {1e4, 1e5, 1e6, 1e7}) {
    const double off = greatest(deflected_on(spring_n_per_mm, false)) / rigid - 1;
    CHECK(off > 0);
    CHECK(off < before / 9);
    before = off;
  }
  CHECK(before < 1e-4);
}

TEST_CASE("plate: what the supports give back is the load") {
  const geometry::Mesh mesh = turned(irregular(small, {{2, 7, 1, 5}}), 0.4);
  const Plate plate(mesh, steel, {mixed, {}});
  const Eigen::VectorXd load = even_pressure(mesh, 0, 0.2);
  const Eigen::VectorXd u = plate.solve(load);
  const Eigen::VectorXd reactions = load - plate.stiffness() * u;
  const double total = load.dot(nodal(mesh, {{{1, 0, 0}}}));
  CHECK(std::abs(reactions.dot(nodal(mesh, {{{1, 0, 0}}})) / total - 1) < solved);
  const std::vector<bool> rim = on_boundary(mesh);
  double inside = 0;
  double at_rim = 0;
  for (Index i = 0; i < reactions.size(); ++i) {
    double& most = rim[static_cast<std::size_t>(i / 3)] ? at_rim : inside;
    most = std::max(most, std::abs(reactions[i]));
  }
  CHECK(inside < solved * at_rim);
  // No reaction works on what is left free.
  CHECK(std::abs(reactions.dot(u)) < solved * load.dot(u));
}

TEST_CASE("plate: work of one load on another's deflection goes both ways, many at once") {
  const geometry::Mesh mesh = irregular(small);
  const Plate plate(mesh, steel, {mixed, {{{60, 40}, 500, false}}});
  Chance chance(4);
  const Eigen::MatrixXd loads =
      Eigen::MatrixXd::NullaryExpr(plate.unknowns(), 6, [&chance] { return chance(); });
  const Eigen::MatrixXd u = plate.solve(loads);
  const Eigen::MatrixXd work = loads.transpose() * u;
  CHECK((work - work.transpose()).cwiseAbs().maxCoeff() < solved * work.cwiseAbs().maxCoeff());
  CHECK(work.diagonal().minCoeff() > 0);
  CHECK(apart(plate.solve(loads.col(3)), u.col(3)) < rounding);
}

TEST_CASE("plate: one that is free to move is refused") {
  const geometry::Mesh mesh = irregular(small);
  const auto build = [&mesh](const PlateSupports& supports) {
    return Plate(mesh, steel, supports).unknowns();
  };
  const auto free = PlateEdge::free;
  const auto held = PlateEdge::held;
  const auto mirror = PlateEdge::mirror;
  const auto fixed = PlateEdge::fixed;
  const std::vector<PlateSupports> loose = {
      {all_free, {}},
      {{held, free, free, free}, {}},
      {{mirror, mirror, mirror, mirror}, {}},
      {{mirror, free, free, held}, {}},
      {all_free, {{{0, 0}}, {{120, 80}}}},
      {all_free, {{{0, 0}}, {{60, 40}}, {{120, 80}, 300, false}}},
      {{free, mirror, free, mirror}, {{{120, 0}}}},
  };
  for (const PlateSupports& supports : loose) {
    CHECK_THROWS_WITH(build(supports), ContainsSubstring("free to move"));
  }
  const std::vector<PlateSupports> enough = {
      {{fixed, free, free, free}, {}},
      {{held, free, free, free}, {{{60, 80}}}},
      {{mirror, mirror, free, free}, {{{60, 40}}}},
      {all_free, {{{0, 0}}, {{120, 0}}, {{60, 40}, 300, false}}},
  };
  for (const PlateSupports& supports : enough) {
    CHECK(build(supports) == small_unknowns);
  }
}

TEST_CASE("plate: of two pieces each must be held") {
  geometry::Mesh mesh = irregular(small);
  const auto nodes = static_cast<int>(mesh.nodes.size());
  const geometry::Mesh other = irregular(small);
  for (geometry::Point at : other.nodes) {
    mesh.nodes.push_back({at.x_mm + 500, at.y_mm});
  }
  for (const auto& [i, j, k] : other.triangles) {
    mesh.triangles.push_back({i + nodes, j + nodes, k + nodes});
    mesh.over.push_back(0);
  }
  for (const auto& edge : other.boundary) {
    mesh.boundary.push_back({{edge.nodes[0] + nodes, edge.nodes[1] + nodes}, edge.side + 4});
  }
  std::vector<PlateEdge> sides(8, PlateEdge::free);
  sides[0] = PlateEdge::fixed;
  CHECK_THROWS_WITH(Plate(mesh, steel, {sides, {}}), ContainsSubstring("free to move"));
  sides[5] = PlateEdge::fixed;
  CHECK(Plate(mesh, steel, {sides, {}}).unknowns() == 2 * small_unknowns);
}

TEST_CASE("plate: what makes no sense is refused") {
  const geometry::Mesh mesh = irregular(small);
  const PlateSupports sound{all_held, {}};
  const auto build = [](const geometry::Mesh& m, const PlateSection& section,
                        const PlateSupports& supports) {
    return Plate(m, section, supports).unknowns();
  };
  REQUIRE(build(mesh, steel, sound) == small_unknowns);
  CHECK_THROWS_AS(build({}, steel, sound), std::invalid_argument);
  CHECK_THROWS_AS(build(mesh, {0, 205000, 0.3}, sound), std::invalid_argument);
  CHECK_THROWS_AS(build(mesh, {2, -1, 0.3}, sound), std::invalid_argument);
  CHECK_THROWS_AS(build(mesh, {2, 205000, 1}, sound), std::invalid_argument);
  CHECK_THROWS_AS(build(mesh, {std::nan(""), 205000, 0.3}, sound), std::invalid_argument);
  CHECK_THROWS_AS(build(mesh, steel, {{3, PlateEdge::held}, {}}), std::invalid_argument);
  CHECK_THROWS_AS(build(mesh, steel, {all_held, {{{61, 40}}}}), std::invalid_argument);
  CHECK_THROWS_AS(build(mesh, steel, {all_held, {{{60, 40}, 0, false}}}), std::invalid_argument);
  geometry::Mesh clockwise = mesh;
  std::swap(clockwise.triangles[3][0], clockwise.triangles[3][1]);
  CHECK_THROWS_AS(build(clockwise, steel, sound), std::invalid_argument);
  geometry::Mesh stray = mesh;
  stray.nodes.push_back({60.5, 40.5});
  CHECK_THROWS_AS(build(stray, steel, sound), std::invalid_argument);

  const Plate plate(mesh, steel, sound);
  CHECK_THROWS_AS(plate.solve(Eigen::VectorXd::Zero(9)), std::invalid_argument);
  CHECK_THROWS_AS(plate.moments(Eigen::VectorXd::Zero(9)), std::invalid_argument);
  CHECK_THROWS_AS(even_pressure(mesh, 64, 1), std::invalid_argument);
  CHECK_THROWS_AS(even_pressure(mesh, -2, 1), std::invalid_argument);
}

TEST_CASE("plate: a moved-to plate still answers") {
  const geometry::Mesh mesh = irregular(small);
  Plate first(mesh, steel, {all_held, {}});
  const Eigen::VectorXd load = even_pressure(mesh, -1, 0.1);
  const Eigen::VectorXd u = first.solve(load);
  const Plate second = std::move(first);
  CHECK(second.solve(load) == u);
}

TEST_CASE("plate points: weights integrate quadratics, also over one patch") {
  const geometry::Mesh mesh = irregular(small, {{2, 6, 1, 5}, {3, 8, 2, 4}});
  const PlatePoints points = edge_points(mesh);
  const auto integral = [&points](int patch, const Polynomial& f) {
    double sum = 0;
    for (std::size_t i = 0; i < points.at.size(); ++i) {
      const bool counts = patch < 0 || (points.over[i] >> patch & 1U) != 0;
      sum += counts ? points.area_mm2[static_cast<Index>(i)] * f.at(points.at[i]) : 0;
    }
    return sum;
  };
  const double cell_x = 12;
  const double cell_y = 80.0 / 6;
  CHECK(integral(-1, {{{1, 0, 0}}}) == Catch::Approx(9600).epsilon(rounding));
  CHECK(integral(-1, {{{1, 2, 0}}}) == Catch::Approx(80 * std::pow(120, 3) / 3).epsilon(rounding));
  CHECK(integral(-1, {{{1, 1, 1}}}) ==
        Catch::Approx(120.0 * 120 / 2 * 80 * 80 / 2).epsilon(rounding));
  const double x_part = (std::pow(6 * cell_x, 3) - std::pow(2 * cell_x, 3)) / 3;
  CHECK(integral(0, {{{1, 2, 0}}}) == Catch::Approx(x_part * 4 * cell_y).epsilon(rounding));
  CHECK(integral(1, {{{1, 0, 0}}}) == Catch::Approx(5 * cell_x * 2 * cell_y).epsilon(rounding));
}

TEST_CASE("plate points: the deflection at a point is exact for a cubic") {
  const geometry::Mesh mesh = irregular(small);
  const PlatePoints points = edge_points(mesh);
  const Polynomial w{{{0.2, 0, 0}, {0.01, 1, 0}, {1e-3, 0, 2}, {1e-5, 2, 1}, {-2e-5, 0, 3}}};
  const Eigen::VectorXd at_points = points.rows * nodal(mesh, w);
  const double most = greatest(at_points);
  for (std::size_t i = 0; i < points.at.size(); ++i) {
    REQUIRE(std::abs(at_points[static_cast<Index>(i)] - w.at(points.at[i])) < rounding * most);
  }
}

TEST_CASE("plate points: one an edge, two where the patches beside it differ") {
  // A grid of c x r cells has (c + 1) r + c (r + 1) + c r edges; a patch of 4 x 3 cells inside it
  // a rim of 14.
  const PlatePoints plain = edge_points(irregular(small));
  CHECK(plain.at.size() == 11 * 6 + 10 * 7 + 10 * 6);
  const PlatePoints patched = edge_points(irregular(small, {{2, 6, 1, 4}}));
  CHECK(patched.at.size() == plain.at.size() + 14);
  CHECK(patched.rows.rows() == static_cast<Index>(patched.at.size()));
  CHECK(patched.over.size() == patched.at.size());
  // A patch up to the plate's own rim has no outside there.
  CHECK(edge_points(irregular(small, {{0, 10, 0, 6}})).at.size() == plain.at.size());
}

TEST_CASE("plate points: an even pressure is the points' areas, and works through their rows") {
  const geometry::Mesh mesh = irregular(small, {{2, 6, 1, 5}});
  const PlatePoints points = edge_points(mesh);
  Eigen::VectorXd forces = 0.2 * points.area_mm2;
  CHECK(apart(even_pressure(mesh, -1, 0.2), points.rows.transpose() * forces) < rounding);
  for (std::size_t i = 0; i < points.over.size(); ++i) {
    forces[static_cast<Index>(i)] *= points.over[i] == 1 ? 1 : 0;
  }
  CHECK(apart(even_pressure(mesh, 0, 0.2), points.rows.transpose() * forces) < rounding);
  const double total = even_pressure(mesh, 0, 0.2).dot(nodal(mesh, {{{1, 0, 0}}}));
  CHECK(total == Catch::Approx(0.2 * 16 * (120.0 / 10) * (80.0 / 6)).epsilon(rounding));
  CHECK(greatest(even_pressure(mesh, 7, 0.2)) == 0);
}

TEST_CASE("plate: a round plate, fixed or held, has its known bow and moments") {
  // w0 = q R^4/(64 D) fixed, times (5 + nu)/(1 + nu) held; moments q R^2/8 at the fixed rim,
  // (1 + nu) q R^2/16 in its middle, (3 + nu) q R^2/16 in the middle of the held one (Timoshenko
  // and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 16, number from memory).
  const geometry::Mesh mesh = disc(100, 18);
  const double d = steel.stiffness_n_mm();
  const double q = 0.01;
  const Eigen::VectorXd load = even_pressure(mesh, -1, q);
  const auto rim = static_cast<Index>(mesh.nodes.size()) - 1;

  const Plate fixed(mesh, steel, {{PlateEdge::fixed}, {}});
  const Eigen::VectorXd u = fixed.solve(load);
  CHECK(u[0] == Catch::Approx(q * 1e8 / (64 * d)).epsilon(5e-3));
  const PlateMoments m = fixed.moments(u);
  CHECK(m.mx[0] == Catch::Approx(1.3 * q * 1e4 / 16).epsilon(0.02));
  // On the rim the moment across is -q R^2/8, that along nu times it.
  CHECK(m.mx[rim] + m.my[rim] == Catch::Approx(-1.3 * q * 1e4 / 8).epsilon(0.03));

  const Plate held(mesh, steel, {{PlateEdge::held}, {}});
  const Eigen::VectorXd v = held.solve(load);
  CHECK(v[0] == Catch::Approx(5.3 / 1.3 * q * 1e8 / (64 * d)).epsilon(5e-3));
  CHECK(held.moments(v).mx[0] == Catch::Approx(3.3 * q * 1e4 / 16).epsilon(0.02));
}

TEST_CASE("plate: a disc of four arcs from the mesher bows as a round plate") {
  const geometry::Outline outline = geometry::rounded_rectangle({200, 200, 100});
  const geometry::Mesh mesh =
      geometry::triangulate({.outline = outline,
                             .points = {{0, 0}},
                             .greatest_edge_mm = default_edge_mm(geometry::area_mm2(outline))});
  std::vector<PlateEdge> sides;
  for (const auto& loop : outline.loops) {
    sides.insert(sides.end(), loop.size(), PlateEdge::held);
  }
  const Plate plate(mesh, steel, {sides, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(mesh, -1, 0.01));
  const double expected = 5.3 / 1.3 * 0.01 * 1e8 / (64 * steel.stiffness_n_mm());
  CHECK(u[unknown_at(mesh, {0, 0})] == Catch::Approx(expected).epsilon(5e-3));
}

TEST_CASE("plate: chords cut in two hold an arc as well as whole ones") {
  // Along the held rim the moment across is 0, that along (1 - nu) q R^2/8 (as above).
  const geometry::Mesh mesh = halved(disc(100, 9));
  const Plate plate(mesh, steel, {{PlateEdge::held}, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(mesh, -1, 0.01));
  const double expected = 5.3 / 1.3 * 0.01 * 1e8 / (64 * steel.stiffness_n_mm());
  CHECK(u[0] == Catch::Approx(expected).epsilon(5e-3));
  const PlateMoments m = plate.moments(u);
  for (const auto& edge : mesh.boundary) {
    for (const int node : edge.nodes) {
      CHECK(m.mx[node] + m.my[node] == Catch::Approx(0.7 * 0.01 * 1e4 / 8).epsilon(0.02));
    }
  }
}

TEST_CASE("plate: a quarter of a round plate between mirrors bows as the whole") {
  geometry::Outline quarter;
  quarter.loops = {{{.from = {0, 0}}, {.from = {100, 0}, .is_arc = true}, {.from = {0, 100}}}};
  const geometry::Mesh mesh = geometry::triangulate(
      {.outline = quarter, .greatest_edge_mm = default_edge_mm(geometry::area_mm2(quarter))});
  const Plate plate(mesh, steel, {{PlateEdge::mirror, PlateEdge::held, PlateEdge::mirror}, {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(mesh, -1, 0.01));
  // As above; the slope at the rim is q R^3/(8 D (1 + nu)).
  const double scale = 0.01 * 1e6 / steel.stiffness_n_mm();
  CHECK(u[unknown_at(mesh, {0, 0})] == Catch::Approx(5.3 / 1.3 * 100 * scale / 64).epsilon(5e-3));
  const Eigen::Vector3d end = u.segment<3>(unknown_at(mesh, {100, 0}));
  CHECK(end[0] == 0);
  CHECK(end[1] == Catch::Approx(-scale / (8 * 1.3)).epsilon(0.02));
  CHECK(end[2] == 0);
}

TEST_CASE("plate: a straight held side is held along itself up to where an arc begins") {
  const geometry::Outline outline = geometry::rounded_rectangle({200, 120, 30});
  const geometry::Mesh mesh = geometry::triangulate({.outline = outline, .greatest_edge_mm = 12});
  const Plate plate(mesh, steel,
                    {std::vector<PlateEdge>(outline.loops.front().size(), PlateEdge::held), {}});
  const Eigen::VectorXd u = plate.solve(even_pressure(mesh, -1, 0.01));
  int checked = 0;
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    if (mesh.nodes[i].y_mm == -60) {
      const Eigen::Vector3d at = u.segment<3>(3 * static_cast<Index>(i));
      CHECK(std::abs(at[0]) < rounding * greatest(u));
      CHECK(std::abs(at[1]) < rounding * greatest(u));
      CHECK(at[2] > 0);
      ++checked;
    }
  }
  CHECK(checked > 12);
}

TEST_CASE("plate: a held side in many smooth pieces is held like one, corners are not") {
  geometry::Mesh mesh = disc(100, 8);
  const Plate one(mesh, steel, {{PlateEdge::held}, {}});
  const Eigen::VectorXd load = even_pressure(mesh, -1, 0.01);
  int side = 0;
  for (auto& edge : mesh.boundary) {
    edge.side = side++;
  }
  const std::vector<PlateEdge> sides(static_cast<std::size_t>(side), PlateEdge::held);
  const Plate many(mesh, steel, {sides, {}});
  CHECK(apart(many.solve(load), one.solve(load)) < rounding);
  // Six sides have corners of 60 degrees: their nodes cannot turn.
  const geometry::Mesh hexagon = disc(100, 1);
  geometry::Mesh cornered = hexagon;
  side = 0;
  for (auto& edge : cornered.boundary) {
    edge.side = side++;
  }
  const Plate sharp(cornered, steel, {std::vector<PlateEdge>(6, PlateEdge::held), {}});
  const Eigen::VectorXd u = sharp.solve(even_pressure(cornered, -1, 0.01));
  CHECK(u[0] > 0);
  CHECK(greatest(u.tail(18)) == 0);
}

TEST_CASE("plate: the default edge makes about two thousand triangles") {
  for (const double height_mm : {60.0, 100.0, 200.0}) {
    const double edge_mm = default_edge_mm(100 * height_mm);
    const geometry::Mesh mesh = geometry::triangulate(
        {.outline = geometry::rounded_rectangle({100, height_mm}), .greatest_edge_mm = edge_mm});
    CHECK(mesh.triangles.size() > 1700);
    CHECK(mesh.triangles.size() < 2500);
    CHECK(default_edge_mm(4 * 100 * height_mm) == Catch::Approx(2 * edge_mm));
  }
}
