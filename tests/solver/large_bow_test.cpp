// SPDX-License-Identifier: GPL-3.0-or-later
//
// What large_bow.hpp and large_bow_whole.hpp promise.
#include "solver/large_bow.hpp"

#include <rapidcheck.h>

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <vector>

#include "solver/large_bow_whole.hpp"
#include "tests/catch.hpp"
#include "tests/solver/plate_meshes.hpp"

using namespace stackfit;
using stackfit::testing::irregular;

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;
using geometry::Mesh;
using geometry::Point;

constexpr PlateSection sheet{1.5, 70000, 0.33};
constexpr double width_mm = 120;
constexpr double height_mm = 100;

Mesh wall_mesh(int columns = 10, int rows = 8) {
  return irregular({width_mm, height_mm, columns, rows, 11});
}

const std::vector<PlateEdge> open_top{PlateEdge::fixed, PlateEdge::held, PlateEdge::free,
                                      PlateEdge::fixed};

/// A deflection with its slopes.
struct Bow {
  double w_mm = 0;
  double dx = 0;
  double dy = 0;
};

/// A given bow as a shape of the plate.
VectorXd shape_of(const Mesh& mesh, const std::function<Bow(Point)>& bow) {
  VectorXd result(3 * static_cast<Index>(mesh.nodes.size()));
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
    const Bow at = bow(mesh.nodes[i]);
    result.segment<3>(3 * static_cast<Index>(i)) << at.w_mm, at.dx, at.dy;
  }
  return result;
}

/// P_n(x).
double legendre(int n, double x) {
  double before = 1;
  double now = x;
  for (int k = 1; k < n; ++k) {
    before = std::exchange(now, ((2 * k + 1) * x * now - k * before) / (k + 1));
  }
  return n == 0 ? 1 : now;
}

/// Deflections under all polynomial pressures up to a degree, in `step` steps of the exponents
/// (2: even ones, for a quarter plate from 0 to its size). Each stores 1 N mm of bending when
/// taken twice, and no two share any.
MatrixXd pressure_shapes(const Plate& plate, Point size, int degree, int step) {
  const PlatePoints points = edge_points(plate.mesh());
  std::vector<VectorXd> loads;
  for (int i = 0; i <= degree; i += step) {
    for (int j = 0; i + j <= degree; j += step) {
      VectorXd force = points.area_mm2;
      for (std::size_t p = 0; p < points.at.size(); ++p) {
        const double x = points.at[p].x_mm / size.x_mm;
        const double y = points.at[p].y_mm / size.y_mm;
        force[static_cast<Index>(p)] *= step == 2 ? legendre(i, x) * legendre(j, y)
                                                  : legendre(i, 2 * x - 1) * legendre(j, 2 * y - 1);
      }
      loads.push_back(points.rows.transpose() * force);
    }
  }
  MatrixXd all(plate.unknowns(), static_cast<Index>(loads.size()));
  for (std::size_t k = 0; k < loads.size(); ++k) {
    all.col(static_cast<Index>(k)) = loads[k];
  }
  const MatrixXd shapes = plate.solve(all);
  const Eigen::LLT<MatrixXd> bending(shapes.transpose() * (plate.stiffness() * shapes));
  REQUIRE(bending.info() == Eigen::Success);
  return bending.matrixU().solve<Eigen::OnTheRight>(shapes);
}

/// The bow among shapes that store 1/2 |c|^2 of bending, by Newton.
VectorXd reduced_bow(const BowStiffening& stiffening, const VectorXd& load) {
  VectorXd c = VectorXd::Zero(load.size());
  const auto energy = [&](const VectorXd& at) {
    return 0.5 * at.squaredNorm() + stiffening.energy_n_mm(at) - load.dot(at);
  };
  for (int i = 0; i < 100; ++i) {
    const BowStiffening::Local local = stiffening.at(c);
    const VectorXd slope = c + local.gradient - load;
    const MatrixXd tangent = MatrixXd::Identity(c.size(), c.size()) + local.hessian;
    VectorXd step = -tangent.ldlt().solve(slope);
    while (energy(c + step) > energy(c) && step.norm() > 1e-12 * c.norm()) {
      step /= 2;
    }
    c += step;
    if (step.norm() <= 1e-10 * c.norm()) {
      return c;
    }
  }
  throw std::runtime_error("no bow found");
}

VectorXd drawn(Index size) {
  VectorXd result(size);
  for (Index i = 0; i < size; ++i) {
    result[i] = *rc::gen::inRange(-1000, 1001) / 1000.0;
  }
  return result;
}

/// A wall with an open top and a few shapes of it.
struct Wall {
  Plate plate{wall_mesh(), sheet, {open_top, {}}};
  MatrixXd shapes = pressure_shapes(plate, {width_mm, height_mm}, 3, 1);
};

Mesh turned(Mesh mesh, double angle) {
  for (Point& node : mesh.nodes) {
    node = {std::cos(angle) * node.x_mm - std::sin(angle) * node.y_mm,
            std::sin(angle) * node.x_mm + std::cos(angle) * node.y_mm};
  }
  return mesh;
}

VectorXd turned_shape(VectorXd shape, double angle) {
  for (Index i = 0; i < shape.size(); i += 3) {
    const Eigen::Vector2d slope = shape.segment<2>(i + 1);
    shape.segment<2>(i + 1) = Eigen::Rotation2Dd(angle) * slope;
  }
  return shape;
}

/// The mesh and its mirror image at x = 0, where its left side lies; sides: 0 bottom, 1 right,
/// 2 top, 3 left.
Mesh with_image(const Mesh& half) {
  Mesh whole = half;
  std::vector<int> image;
  for (std::size_t i = 0; i < half.nodes.size(); ++i) {
    const Point at = half.nodes[i];
    image.push_back(at.x_mm == 0 ? static_cast<int>(i) : static_cast<int>(whole.nodes.size()));
    if (at.x_mm != 0) {
      whole.nodes.push_back({-at.x_mm, at.y_mm});
    }
  }
  const auto of = [&image](int node) { return image[static_cast<std::size_t>(node)]; };
  for (const auto& [a, b, c] : half.triangles) {
    whole.triangles.push_back({of(a), of(c), of(b)});
  }
  whole.over.resize(whole.triangles.size());
  whole.boundary.clear();
  for (const auto& edge : half.boundary) {
    if (edge.side != 3) {
      whole.boundary.push_back(edge);
      whole.boundary.push_back(
          {{of(edge.nodes[1]), of(edge.nodes[0])}, edge.side == 1 ? 3 : edge.side});
    }
  }
  return whole;
}

}  // namespace

// Contract 1.
TEST_CASE("large bow: stretching energy is never negative") {
  const Wall wall;
  for (const EdgeDraw draw : {EdgeDraw::free, EdgeDraw::held}) {
    const MatrixXd m = BowStiffening(wall.plate, wall.shapes, draw).products_n_mm();
    CHECK(m == m.transpose());
    const VectorXd parts = Eigen::SelfAdjointEigenSolver<MatrixXd>(m).eigenvalues();
    CHECK(parts.minCoeff() >= -1e-13 * parts.maxCoeff());
    CHECK(parts.maxCoeff() > 0);
  }
}

TEST_CASE("large bow: stretching energy goes with the fourth power of the bow") {
  const Wall wall;
  const BowStiffening stiffening(wall.plate, wall.shapes, EdgeDraw::held);
  CHECK(rc::check([&] {
    const VectorXd c = drawn(stiffening.shape_count());
    const double energy = stiffening.energy_n_mm(c);
    RC_ASSERT(energy >= 0);
    RC_ASSERT(std::abs(stiffening.energy_n_mm(-0.01 * c) - 1e-8 * energy) <= 1e-20 * energy);
    RC_ASSERT(std::abs(stiffening.at(c).energy_n_mm - energy) <= 1e-12 * energy);
    RC_ASSERT(std::abs(stiffening.at(c).gradient.dot(c) - 4 * energy) <= 1e-10 * energy);
  }));
}

// Contract 2.
TEST_CASE("large bow: gradient and second derivatives against differences") {
  const Wall wall;
  const BowStiffening stiffening(wall.plate, wall.shapes, EdgeDraw::free);
  CHECK(rc::check([&] {
    const VectorXd c = drawn(stiffening.shape_count());
    const VectorXd along = drawn(stiffening.shape_count());
    constexpr double step = 1e-4;
    const BowStiffening::Local local = stiffening.at(c);
    const double size = std::max({local.energy_n_mm, stiffening.energy_n_mm(along), 1e-30});
    const double slope =
        (stiffening.energy_n_mm(c + step * along) - stiffening.energy_n_mm(c - step * along)) /
        (2 * step);
    RC_ASSERT(std::abs(local.gradient.dot(along) - slope) <= 1e-6 * size);
    const VectorXd turn =
        (stiffening.at(c + step * along).gradient - stiffening.at(c - step * along).gradient) /
        (2 * step);
    const double stiffness = std::max(local.hessian.norm(), 1e-30) * along.norm();
    RC_ASSERT((local.hessian * along - turn).norm() <= 1e-6 * (stiffness + size));
    RC_ASSERT(local.hessian.isApprox(local.hessian.transpose(), 1e-12));
  }));
}

// Contract 3.
TEST_CASE("large bow: a bow rolled from a flat sheet stores next to nothing with free sides") {
  // A cantilever rolled about a line; 0.3 radians at its end, twelve thicknesses of bow.
  const double curvature = 0.3 / width_mm;
  const Mesh mesh = wall_mesh();
  const Plate plate(mesh, sheet,
                    {{PlateEdge::free, PlateEdge::free, PlateEdge::free, PlateEdge::fixed}, {}});
  const MatrixXd rolled = shape_of(mesh, [curvature](Point at) {
    return Bow{curvature * at.x_mm * at.x_mm / 2, curvature * at.x_mm, 0};
  });
  // The same with half its curvature across: what cannot be rolled.
  const MatrixXd dished = shape_of(mesh, [curvature](Point at) {
    return Bow{curvature * (at.x_mm * at.x_mm + at.y_mm * at.y_mm / 2) / 2, curvature * at.x_mm,
               curvature * at.y_mm / 2};
  });
  const VectorXd one = VectorXd::Ones(1);
  const double bending = 0.5 * rolled.col(0).dot(plate.stiffness() * rolled.col(0));
  const double as_rolled = BowStiffening(plate, rolled, EdgeDraw::free).energy_n_mm(one);
  const double as_dished = BowStiffening(plate, dished, EdgeDraw::free).energy_n_mm(one);
  CHECK(as_rolled < 0.003 * bending);
  CHECK(as_dished > 100 * as_rolled);
}

TEST_CASE("large bow: an even tilt turns a free sheet and stretches a held one evenly") {
  const Mesh mesh = turned(wall_mesh(), 0.4);
  const Plate plate(mesh, sheet, {open_top, {}});
  const double dx = 0.03;
  const double dy = -0.02;
  const MatrixXd tilt = shape_of(mesh, [&](Point at) {
    return Bow{dx * at.x_mm + dy * at.y_mm, dx, dy};
  });
  const VectorXd one = VectorXd::Ones(1);
  // Held all round nothing follows: the strain is (dx, dy)(dx, dy)'/2, along the slope, alone.
  const double strain = (dx * dx + dy * dy) / 2;
  const double held = 0.5 * sheet.modulus_mpa * sheet.thickness_mm /
                      (1 - sheet.poisson * sheet.poisson) * strain * strain * width_mm * height_mm;
  const std::vector<MembraneEdge> all_held(4, MembraneEdge::held);
  const std::vector<MembraneEdge> all_free(4, MembraneEdge::free);
  CHECK(BowStiffening(plate, tilt, all_held).energy_n_mm(one) == Catch::Approx(held).epsilon(1e-9));
  CHECK(BowStiffening(plate, tilt, all_free).energy_n_mm(one) < 1e-12 * held);
}

TEST_CASE("large bow: the more a side is held, the more energy is stored") {
  const Wall wall;
  const auto all = [&](MembraneEdge edge) {
    return BowStiffening(wall.plate, wall.shapes, std::vector<MembraneEdge>(4, edge));
  };
  const BowStiffening free = all(MembraneEdge::free);
  const BowStiffening straight = all(MembraneEdge::straight);
  const BowStiffening sliding = all(MembraneEdge::sliding);
  const BowStiffening held = all(MembraneEdge::held);
  CHECK(rc::check([&] {
    const VectorXd c = drawn(free.shape_count());
    RC_PRE(c.norm() > 0);
    RC_ASSERT(free.energy_n_mm(c) < straight.energy_n_mm(c));
    RC_ASSERT(straight.energy_n_mm(c) < sliding.energy_n_mm(c));
    RC_ASSERT(sliding.energy_n_mm(c) < held.energy_n_mm(c));
  }));
}

TEST_CASE("large bow: sides in the plane follow the plate's supports") {
  const std::vector<PlateEdge> sides{PlateEdge::fixed, PlateEdge::held, PlateEdge::free,
                                     PlateEdge::mirror};
  CHECK(membrane_sides(sides, EdgeDraw::free) ==
        std::vector<MembraneEdge>{MembraneEdge::free, MembraneEdge::free, MembraneEdge::free,
                                  MembraneEdge::sliding});
  CHECK(membrane_sides(sides, EdgeDraw::held) ==
        std::vector<MembraneEdge>{MembraneEdge::held, MembraneEdge::held, MembraneEdge::free,
                                  MembraneEdge::sliding});
}

TEST_CASE("large bow: a turned wall stores what it stored") {
  const double angle = 0.7;
  const Wall wall;
  const MatrixXd shape = wall.shapes.rowwise().sum();
  const Plate other(turned(wall_mesh(), angle), sheet, {open_top, {}});
  const MatrixXd other_shape = turned_shape(shape.col(0), angle);
  for (const MembraneEdge edge :
       {MembraneEdge::free, MembraneEdge::sliding, MembraneEdge::straight, MembraneEdge::held}) {
    const std::vector<MembraneEdge> sides(4, edge);
    const double energy = BowStiffening(wall.plate, shape, sides).products_n_mm()(0, 0);
    CHECK(BowStiffening(other, other_shape, sides).products_n_mm()(0, 0) ==
          Catch::Approx(energy).epsilon(1e-9));
  }
}

TEST_CASE("large bow: half a wall with a mirror is half the wall") {
  const Mesh half_mesh = wall_mesh();
  const Plate half(half_mesh, sheet,
                   {{PlateEdge::fixed, PlateEdge::held, PlateEdge::free, PlateEdge::mirror}, {}});
  const Plate whole(with_image(half_mesh), sheet,
                    {{PlateEdge::fixed, PlateEdge::held, PlateEdge::free, PlateEdge::held}, {}});
  for (const EdgeDraw draw : {EdgeDraw::free, EdgeDraw::held}) {
    const auto solved = [draw](const Plate& plate) {
      LargeBowRequest request;
      request.load_n = even_pressure(plate.mesh(), -1, 0.1);
      request.sides = membrane_sides(plate.supports().sides, draw);
      request.load_shares = {0.5, 1};
      LargeBow bow = bow_under_load(plate, request);
      REQUIRE(bow.usable());
      return bow.steps.back();
    };
    const LargeBowStep on_half = solved(half);
    const LargeBowStep on_whole = solved(whole);
    // The whole's first nodes are the half's.
    const VectorXd same = on_whole.deflections.head(on_half.deflections.size());
    CHECK((same - on_half.deflections).norm() < 1e-6 * same.norm());
    CHECK(on_whole.stretching_energy_n_mm ==
          Catch::Approx(2 * on_half.stretching_energy_n_mm).epsilon(1e-6));
    const VectorXd one = VectorXd::Ones(1);
    CHECK(BowStiffening(whole, on_whole.deflections, draw).energy_n_mm(one) ==
          Catch::Approx(2 * BowStiffening(half, on_half.deflections, draw).energy_n_mm(one))
              .epsilon(1e-6));
  }
}

TEST_CASE("large bow: condensed and whole plate store the same in the same bow") {
  const Wall wall;
  LargeBowRequest request;
  request.load_n = even_pressure(wall.plate.mesh(), -1, 0.3);
  for (const EdgeDraw draw : {EdgeDraw::free, EdgeDraw::held}) {
    request.sides = membrane_sides(open_top, draw);
    const LargeBow bow = bow_under_load(wall.plate, request);
    REQUIRE(bow.usable());
    for (const LargeBowStep& step : bow.steps) {
      const BowStiffening alone(wall.plate, step.deflections, draw);
      CHECK(alone.energy_n_mm(VectorXd::Ones(1)) ==
            Catch::Approx(step.stretching_energy_n_mm).epsilon(1e-9));
      CHECK(0.5 * step.deflections.dot(wall.plate.stiffness() * step.deflections) ==
            Catch::Approx(step.bending_energy_n_mm).epsilon(1e-9));
    }
  }
}

// Contract 4.
TEST_CASE("large bow: among polynomial shapes the bow is the whole plate's up to two thicknesses") {
  struct Case {
    PlateEdge edge;
    EdgeDraw draw;
    double pressure_mpa;  // a bow of about twice the thickness
  };
  const Case kind = GENERATE(
      Case{PlateEdge::fixed, EdgeDraw::free, 0.85}, Case{PlateEdge::fixed, EdgeDraw::held, 1.8},
      Case{PlateEdge::held, EdgeDraw::free, 0.28}, Case{PlateEdge::held, EdgeDraw::held, 1.3});
  const Mesh mesh = irregular({width_mm / 2, height_mm / 2, 12, 10, 5});
  const Plate plate(mesh, sheet,
                    {{PlateEdge::mirror, kind.edge, kind.edge, PlateEdge::mirror}, {}});
  LargeBowRequest request;
  request.load_n = even_pressure(mesh, -1, kind.pressure_mpa);
  request.sides = membrane_sides(plate.supports().sides, kind.draw);
  const LargeBow whole = bow_under_load(plate, request);
  REQUIRE(whole.usable());
  const double bow_mm = whole.steps.back().deflections[0];
  REQUIRE(bow_mm > 1.8 * sheet.thickness_mm);
  double energy = 0;
  double error = 1;
  // With more shapes the energy comes down to the whole plate's, never below.
  const LargeBowStep& last = whole.steps.back();
  const double whole_energy =
      last.bending_energy_n_mm + last.stretching_energy_n_mm - request.load_n.dot(last.deflections);
  for (const int degree : {2, 4, 8}) {
    const MatrixXd shapes = pressure_shapes(plate, {width_mm / 2, height_mm / 2}, degree, 2);
    const BowStiffening stiffening(plate, shapes, kind.draw);
    const VectorXd load = shapes.transpose() * request.load_n;
    const VectorXd c = reduced_bow(stiffening, load);
    const double found = 0.5 * c.squaredNorm() + stiffening.energy_n_mm(c) - load.dot(c);
    INFO("degree " << degree << ": " << shapes.row(0).dot(c) << " mm for " << bow_mm);
    CHECK(found >= whole_energy * (1 + 1e-9));  // both negative
    CHECK(found < energy);
    energy = found;
    error = std::abs(shapes.row(0).dot(c) / bow_mm - 1);
  }
  CHECK(error < 0.01);
}

TEST_CASE("large bow: under a small load it is the plate's own") {
  const Wall wall;
  LargeBowRequest request;
  request.load_n = even_pressure(wall.plate.mesh(), -1, 1e-5);
  request.sides = membrane_sides(open_top, EdgeDraw::held);
  const LargeBow bow = bow_under_load(wall.plate, request);
  REQUIRE(bow.usable());
  const VectorXd linear = wall.plate.solve(request.load_n);
  CHECK((bow.steps.back().deflections - linear).norm() < 1e-5 * linear.norm());
}

TEST_CASE("large bow: springs and rods carry as they do under a small bow") {
  const Mesh mesh = wall_mesh();
  const Point middle{width_mm / 2, height_mm / 2};
  const auto bow_at_middle = [&](double spring_n_per_mm) {
    const Plate plate(mesh, sheet, {open_top, {{middle, spring_n_per_mm, false}}});
    LargeBowRequest request;
    request.load_n = even_pressure(mesh, -1, 0.5);
    request.sides = membrane_sides(open_top, EdgeDraw::free);
    const LargeBow bow = bow_under_load(plate, request);
    REQUIRE(bow.usable());
    return bow.steps.back().deflections[3 * testing::grid_node({0, 0, 10, 8}, 5, 4)];
  };
  CHECK(bow_at_middle(1e9) < 1e-3 * bow_at_middle(1e-3));
}

TEST_CASE("large bow: a plate on its middle may snap, and the answer says so") {
  // A quarter of a square plate on one rod at its middle, with mirrors, under an even load: a dish
  // alike along x and y, until it is easier to roll about one of them. The mesh is alike too.
  const int cells = 8;
  Mesh mesh = irregular({100, 100, cells, cells, 1, 0});
  mesh.triangles.clear();
  for (int r = 0; r < cells; ++r) {
    for (int c = 0; c < cells; ++c) {
      const auto node = [&](int i, int j) {
        return testing::grid_node({0, 0, cells, cells}, c + i, r + j);
      };
      mesh.triangles.push_back({node(0, 0), node(1, 0), node(1, 1)});
      mesh.triangles.push_back({node(0, 0), node(1, 1), node(0, 1)});
    }
  }
  const std::vector<PlateEdge> sides{PlateEdge::mirror, PlateEdge::free, PlateEdge::free,
                                     PlateEdge::mirror};
  const Plate plate(mesh, sheet, {sides, {{{0, 0}}}});
  LargeBowRequest request;
  request.load_n = even_pressure(mesh, -1, 0.01);
  request.sides = membrane_sides(sides, EdgeDraw::free);
  request.load_shares.clear();
  for (int i = 1; i <= 40; ++i) {
    request.load_shares.push_back(0.25 * i);
  }
  const LargeBow dished = bow_under_load(plate, request);
  CHECK(dished.stop == LargeBowStop::unstable);
  CHECK_FALSE(dished.usable());
  REQUIRE_FALSE(dished.steps.empty());

  // A little more load along x, and it rolls instead.
  const PlatePoints points = edge_points(mesh);
  VectorXd more = points.area_mm2;
  for (std::size_t p = 0; p < points.at.size(); ++p) {
    more[static_cast<Index>(p)] *= 0.0002 * points.at[p].x_mm / 100;
  }
  request.load_n += points.rows.transpose() * more;
  const LargeBow rolled = bow_under_load(plate, request);
  REQUIRE(rolled.usable());
  const VectorXd& w = rolled.steps.back().deflections;
  const Index right = 3 * testing::grid_node({0, 0, cells, cells}, cells, 0);
  const Index top = 3 * testing::grid_node({0, 0, cells, cells}, 0, cells);
  CHECK(w[right] > 3 * std::abs(w[top]));
}

TEST_CASE("large bow: says when it came to no rest") {
  const Wall wall;
  LargeBowRequest request;
  request.load_n = even_pressure(wall.plate.mesh(), -1, 1);
  request.sides = membrane_sides(open_top, EdgeDraw::free);
  request.greatest_iterations = 1;
  const LargeBow bow = bow_under_load(wall.plate, request);
  CHECK(bow.stop == LargeBowStop::not_converged);
  CHECK_FALSE(bow.usable());
  CHECK_FALSE(LargeBow{}.usable());
}

TEST_CASE("large bow: without load it stays flat") {
  const Wall wall;
  LargeBowRequest request;
  request.load_n = VectorXd::Zero(wall.plate.unknowns());
  request.sides = membrane_sides(open_top, EdgeDraw::held);
  const LargeBow bow = bow_under_load(wall.plate, request);
  REQUIRE(bow.usable());
  CHECK(bow.steps.back().deflections.isZero());
}

TEST_CASE("large bow: what is not a request is refused") {
  const Wall wall;
  const Index unknowns = wall.plate.unknowns();
  const auto stiffening = [&](const MatrixXd& shapes) {
    return BowStiffening(wall.plate, shapes, EdgeDraw::free);
  };
  CHECK_THROWS_AS(stiffening(MatrixXd::Ones(unknowns - 1, 2)), std::invalid_argument);
  CHECK_THROWS_AS(stiffening(MatrixXd::Ones(unknowns, 0)), std::invalid_argument);
  CHECK_THROWS_AS(stiffening(MatrixXd::Ones(unknowns, BowStiffening::greatest_shape_count + 1)),
                  std::invalid_argument);
  CHECK_THROWS_AS(stiffening(MatrixXd::Constant(unknowns, 1, NAN)), std::invalid_argument);
  CHECK_THROWS_AS(
      BowStiffening(wall.plate, wall.shapes, std::vector<MembraneEdge>(3, MembraneEdge::free)),
      std::invalid_argument);
  CHECK_THROWS_AS(BowStiffening(wall.plate, wall.shapes,
                                {MembraneEdge::held, MembraneEdge::straight, MembraneEdge::free,
                                 MembraneEdge::free}),
                  std::invalid_argument);
  const BowStiffening sound = stiffening(wall.shapes);
  CHECK_THROWS_AS(sound.energy_n_mm(VectorXd::Zero(1)), std::invalid_argument);
  CHECK_THROWS_AS(sound.at(VectorXd::Zero(1)), std::invalid_argument);
  LargeBowRequest request;
  request.sides = membrane_sides(open_top, EdgeDraw::free);
  request.load_n = VectorXd::Zero(unknowns + 1);
  CHECK_THROWS_AS(bow_under_load(wall.plate, request), std::invalid_argument);
  request.load_n = VectorXd::Zero(unknowns);
  request.load_shares.clear();
  CHECK_THROWS_AS(bow_under_load(wall.plate, request), std::invalid_argument);
}
