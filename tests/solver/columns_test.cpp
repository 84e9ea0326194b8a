// SPDX-License-Identifier: GPL-3.0-or-later
//
// What columns.hpp promises, by its numbers, and what follows from its energy: one answer from
// every start, the same for swapped walls and for the mirror image.
#include "solver/columns.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <random>
#include <utility>
#include <vector>

#include "solver/series.hpp"
#include "tests/catch.hpp"
#include "tests/column_rows.hpp"
#include "tests/solver/draw_springs.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::testing;

// --- rows to solve --------------------------------------------------------------------------

constexpr double aluminium_mpa = 69000;
constexpr Rectangle tall_wall{0, 0, 180, 212};
constexpr Rectangle tall_face{4, 2, 172, 200};

LawPtr cell_law() {
  return std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{0.06, 180, 1});
}

HandRow flat_row(double cells_mm = 400) {
  HandRow row;
  row.face = tall_face;
  row.cell_law = cell_law();
  row.cells_mm = cells_mm;
  return row;
}

/// Both walls alike, their tops open, meshed coarsely: what is tested here holds on any mesh.
WallPair tall_pair(double thickness_mm, double modulus_mpa = aluminium_mpa) {
  WallPair pair;
  pair.width_mm = tall_wall.width_mm;
  pair.height_mm = tall_wall.height_mm;
  pair.first = hand_wall({thickness_mm, modulus_mpa, 0.33}, tall_wall, open_top);
  pair.last = pair.first;
  pair.edge_scale = 2;
  return pair;
}

/// Rows between walls, ready to solve.
struct HandBox {
  WallPair pair;
  std::shared_ptr<const WallMesh> mesh;
  HandSetup hand;
  Columns columns{ColumnsSetup{}};
};

HandBox box_of(WallPair pair, const std::vector<HandRow>& rows, bool lid = false,
               std::shared_ptr<const WallMesh> mesh = nullptr) {
  HandBox box;
  box.pair = with_rows(std::move(pair), rows);
  box.mesh = mesh != nullptr ? std::move(mesh) : mesh_walls(box.pair);
  box.hand = hand_setup(std::make_shared<const WallModes>(box.mesh, box.pair, lid), rows);
  box.columns = Columns(box.hand.setup);
  return box;
}

std::vector<HandRow> draw_rows() {
  HandRow row;
  row.face = {draw_between(2, 20), draw_between(0, 10), draw_between(100, 155),
              draw_between(120, 200)};
  row.cell_law = std::make_shared<ExponentialLaw>(
      ExponentialLaw::Constants{draw_between(0.03, 0.12), draw_between(100, 250), 1});
  row.cells_mm = draw_between(30, 800);
  if (*rc::gen::inRange(0, 2) == 0) {
    row.domes.assign(3, {draw_between(-0.2, 0.8), 0.1});
  }
  const int pad = *rc::gen::inRange(0, 4);
  if (pad == 1) {
    row.pads.push_back({foam(draw_between(0.3, 3)), draw_between(1, 6), std::nullopt, 0});
  } else if (pad == 2) {
    const Rectangle& f = row.face;
    row.pads.push_back({foam(draw_between(0.3, 3)), 3,
                        Rectangle{f.x_mm + 10, f.y_mm + 12, f.width_mm - 40, f.height_mm - 35},
                        draw_between(0, 3)});
  }
  return {row};
}

WallPair draw_pair() {
  const auto edge = [] {
    return *rc::gen::element(PlateEdge::fixed, PlateEdge::held, PlateEdge::free);
  };
  const auto wall = [&] {
    // Two opposite edges at least hold it.
    return hand_wall(
        {draw_between(1, 6), aluminium_mpa, 0.33}, tall_wall,
        {PlateEdge::fixed, *rc::gen::element(PlateEdge::fixed, PlateEdge::held), edge(), edge()});
  };
  WallPair pair;
  pair.width_mm = tall_wall.width_mm;
  pair.height_mm = tall_wall.height_mm;
  pair.edge_scale = 2.5;
  pair.first = wall();
  const int last = *rc::gen::inRange(0, 3);
  if (last == 0) {
    pair.last = pair.first;
  } else if (last == 1) {
    pair.last = wall();
  }
  return pair;
}

double relative(double found, double should) {
  return std::abs(found / should - 1);
}

/// An interference at which the highest column, if its walls stood still, had a pressure.
double at_pressure_mm(const HandBox& box, double pressure_mpa) {
  double squeeze = 0;
  for (const ColumnLaw& law : box.hand.setup.laws) {
    squeeze = std::max(squeeze, law.squeeze_mm(pressure_mpa));
  }
  return box.columns.first_touch_mm(box.hand.load({0})) + squeeze;
}

bool finite(const ColumnsState& state) {
  return std::isfinite(state.total_force_n()) && state.pressure_mpa.allFinite() &&
         state.wall_mm.allFinite() && std::isfinite(state.extension_mm) &&
         std::isfinite(state.energy_n_mm) && std::isfinite(state.first_bow_mm);
}

}  // namespace

// --- 4: one column --------------------------------------------------------------------------

TEST_CASE("walls a billion times stiffer and flat cells make one column", "[columns]") {
  for (const bool pad : {false, true}) {
    for (const double sides_give : {0.0, 1e-4}) {
      HandRow row = flat_row();
      row.sheets_give_mm_per_mpa = 0.004;
      const double area = row.face.area_mm2();
      Series series;
      series.add({row.cell_law, row.cells_mm, area});
      series.add_give(row.sheets_give_mm_per_mpa / area + sides_give);
      if (pad) {
        row.pads.push_back({foam(1), 4, std::nullopt, 0});
        series.add({row.pads.front().law, 4, area});
      }
      const HandBox box = box_of(tall_pair(3, 1e9 * aluminium_mpa), {row});
      const TieLaw tie = TieLaw::linear(sides_give);
      for (const double interference : {0.01, 0.5, 2.0, 6.0}) {
        ColumnsLoad load = box.hand.load({interference});
        load.tie = &tie;
        const double force = series.solve(interference).force_n;
        for (const ColumnsState& state : {box.columns.solve(load), box.columns.solve_fully(load)}) {
          REQUIRE(state.stop == ColumnsStop::converged);
          CHECK(relative(state.total_force_n(), force) < 1e-6);
          CHECK(relative(state.pressure_mpa.minCoeff(), force / area) < 1e-6);
          CHECK(relative(state.pressure_mpa.maxCoeff(), force / area) < 1e-6);
          CHECK(std::abs(state.extension_mm - sides_give * force) < 1e-6 * interference);
        }
      }
    }
  }
}

TEST_CASE("no walls at all make one column", "[columns]") {
  WallPair pair = tall_pair(3);
  pair.first.reset();
  pair.last.reset();
  const HandRow row = flat_row();
  const HandBox box = box_of(pair, {row});
  Series series;
  series.add({row.cell_law, row.cells_mm, row.face.area_mm2()});
  const ColumnsState state = box.columns.solve_fully(box.hand.load({2}));
  CHECK(relative(state.total_force_n(), series.solve(2).force_n) < 1e-9);
  CHECK(state.first_bow_mm == 0);
  CHECK(state.wall_mm.isZero());
}

// --- swapped and mirrored -------------------------------------------------------------------

TEST_CASE("the first wall and the last may be swapped", "[columns]") {
  HandRow row = flat_row();
  row.domes.assign(2, {0.5, 0.1});
  WallPair pair = tall_pair(2);
  pair.last = hand_wall({4, 200000, 0.3}, tall_wall,
                        {PlateEdge::held, PlateEdge::fixed, PlateEdge::held, PlateEdge::held});
  WallPair swapped = pair;
  std::swap(swapped.first, swapped.last);
  const HandBox one = box_of(pair, {row});
  const HandBox two = box_of(swapped, {row}, false, one.mesh);
  const ColumnsLoad load = one.hand.load({1});
  const ColumnsState a = one.columns.solve_fully(load);
  const ColumnsState b = two.columns.solve_fully(load);
  REQUIRE(a.stop == ColumnsStop::converged);
  CHECK(relative(a.total_force_n(), b.total_force_n()) < 1e-9);
  CHECK(relative(a.first_bow_mm, b.last_bow_mm) < 1e-9);
  CHECK(relative(a.last_bow_mm, b.first_bow_mm) < 1e-9);
  CHECK(a.first_bow_mm > 2 * a.last_bow_mm);
  CHECK((a.pressure_mpa - b.pressure_mpa).cwiseAbs().maxCoeff() < 1e-9 * a.pressure_mpa.maxCoeff());
}

namespace {

/// The mesh seen from the other side: x to width - x, triangles and rim turned about. Sides of a
/// rectangle: 0 bottom, 1 right, 2 top, 3 left.
std::shared_ptr<const WallMesh> mirror_image(const WallMesh& mesh, double width_mm) {
  auto made = std::make_shared<WallMesh>(mesh);
  for (geometry::Point& node : made->mesh.nodes) {
    node.x_mm = width_mm - node.x_mm;
  }
  for (auto& triangle : made->mesh.triangles) {
    std::swap(triangle[1], triangle[2]);
  }
  for (auto& edge : made->mesh.boundary) {
    std::swap(edge.nodes[0], edge.nodes[1]);
    edge.side = edge.side == 1 ? 3 : edge.side == 3 ? 1 : edge.side;
  }
  for (ColumnPoint& point : made->points) {
    point.at.x_mm = width_mm - point.at.x_mm;
  }
  for (int row = 0; row < made->rows.outerSize(); ++row) {
    using Rows = Eigen::SparseMatrix<double, Eigen::RowMajor>;
    for (Rows::InnerIterator entry(made->rows, row); entry; ++entry) {
      if (entry.col() % 3 == 1) {  // slopes in x
        entry.valueRef() = -entry.value();
      }
    }
  }
  return made;
}

}  // namespace

TEST_CASE("the mirror image of a row has the mirror image of its answer", "[columns]") {
  HandRow row = flat_row();
  row.face = {8, 2, 130, 180};
  row.domes.assign(2, {0.5, 0.1});
  row.pads.push_back({foam(1.5), 3, Rectangle{20, 12, 70, 110}, 2.2});
  WallPair pair = tall_pair(2.5);
  pair.last = hand_wall({4, aluminium_mpa, 0.33}, tall_wall,
                        {PlateEdge::held, PlateEdge::fixed, PlateEdge::held, PlateEdge::free});
  const auto turned = [](Rectangle r) {
    return Rectangle{tall_wall.width_mm - r.x_mm - r.width_mm, r.y_mm, r.width_mm, r.height_mm};
  };
  HandRow other = row;
  other.face = turned(row.face);
  other.pads.front().patch = turned(*row.pads.front().patch);
  WallPair other_pair = pair;
  std::swap(other_pair.first->left, other_pair.first->right);
  std::swap(other_pair.last->left, other_pair.last->right);

  const HandBox one = box_of(pair, {row});
  const HandBox two = box_of(other_pair, {other}, false, mirror_image(*one.mesh, pair.width_mm));
  const ColumnsState a = one.columns.solve_fully(one.hand.load({1.5}));
  const ColumnsState b = two.columns.solve_fully(two.hand.load({1.5}));
  REQUIRE(a.stop == ColumnsStop::converged);
  CHECK(relative(a.total_force_n(), b.total_force_n()) < 1e-9);
  CHECK((a.pressure_mpa - b.pressure_mpa).cwiseAbs().maxCoeff() < 1e-9 * a.pressure_mpa.maxCoeff());
  CHECK(relative(a.first_bow_mm, b.first_bow_mm) < 1e-9);
}

TEST_CASE("the left half of a symmetric row answers for the whole", "[columns]") {
  HandRow row = flat_row();
  row.domes.assign(3, {0.4, 0.1});
  row.pads.push_back({foam(1), 3, Rectangle{30, 20, 120, 150}, 2.0});
  const auto apart = [&](double edge_scale) {
    WallPair pair = tall_pair(2.5);
    pair.edge_scale = edge_scale;
    const HandBox whole = box_of(pair, {row});
    pair.mirrored = true;
    const HandBox half = box_of(pair, {row});
    CHECK(half.mesh->share == 0.5);
    const ColumnsState a = whole.columns.solve_fully(whole.hand.load({1.6}));
    const ColumnsState b = half.columns.solve_fully(half.hand.load({1.6}));
    CHECK(relative(b.first_bow_mm, a.first_bow_mm) < 0.003);
    CHECK(relative(b.energy_n_mm, a.energy_n_mm) < 0.003);
    return relative(b.total_force_n(), a.total_force_n());
  };
  const double coarse = apart(2);
  const double normal = apart(1);
  const double fine = apart(0.5);
  INFO(coarse << ", " << normal << ", " << fine);
  CHECK(normal < 1e-3);
  CHECK(fine < 0.5 * coarse + 1e-6);
}

// --- 3: balance -----------------------------------------------------------------------------

namespace {

/// Forces of a wall's edges and rods on it under pressures of the columns [N], and what is left
/// over where nothing holds it.
struct Reactions {
  double sum_n = 0;
  double left_over_n = 0;
};

Reactions reactions_of(const WallMesh& mesh, const WallModes::OneWall& wall,
                       const Eigen::VectorXd& pressure_mpa) {
  const Eigen::VectorXd bent = wall.bent(mesh, pressure_mpa);
  Eigen::VectorXd force(pressure_mpa.size());
  for (Eigen::Index q = 0; q < force.size(); ++q) {
    force[q] = pressure_mpa[q] * mesh.points[static_cast<std::size_t>(q)].area_mm2;
  }
  const Eigen::VectorXd rest = wall.plate->stiffness() * bent - mesh.rows.transpose() * force;
  Reactions out;
  for (Eigen::Index node = 0; node < rest.size() / 3; ++node) {
    // A node that does not move at all is held.
    if (bent[3 * node] == 0) {
      out.sum_n -= rest[3 * node];
    } else {
      out.left_over_n = std::max(out.left_over_n, std::abs(rest[3 * node]));
    }
  }
  return out;
}

/// Everything that a full solution must keep to, whatever the row.
void check_balance(const HandBox& box, const ColumnsLoad& load, const ColumnsState& state) {
  const double force = state.total_force_n();
  const WallModes& walls = *box.hand.setup.walls;
  Eigen::VectorXd since_built = state.pressure_mpa;
  Eigen::VectorXd built_mm = Eigen::VectorXd::Zero(since_built.size());
  if (load.built != nullptr) {
    since_built -= load.built->pressure_mpa;
    built_mm = load.built->wall_mm;
  }
  const double since_n = force - (load.built != nullptr ? load.built->total_force_n() : 0);
  for (const WallModes::OneWall& wall : {walls.first(), walls.last()}) {
    if (wall.plate) {
      const Reactions reactions = reactions_of(*box.mesh, wall, since_built);
      CHECK(std::abs(reactions.sum_n - since_n) < 1e-8 * force + 1e-9);
      CHECK(reactions.left_over_n < 1e-8 * force + 1e-9);
    }
  }
  // The walls stand where these pressures bend them, and the pressures are those of the gaps.
  const Eigen::VectorXd should = built_mm + walls.true_deflection(since_built);
  CHECK((state.wall_mm - should).cwiseAbs().maxCoeff() < 1e-9 * (1e-3 + should.maxCoeff()));
  double worst = 0;
  for (std::size_t q = 0; q < box.mesh->points.size(); ++q) {
    const auto i = static_cast<Eigen::Index>(q);
    const auto region = static_cast<std::size_t>(box.hand.setup.region[q]);
    const double gap = load.interference_mm[static_cast<std::size_t>(box.mesh->points[q].face)] +
                       load.region_shift_mm[region] + box.hand.setup.bulge_mm[i] -
                       state.wall_mm[i] - state.extension_mm;
    const double p = box.hand.setup.laws[region].at(gap, 0, 0).mpa;
    worst = std::max(worst, std::abs(p - state.pressure_mpa[i]));
  }
  CHECK(worst < 1e-9 * state.pressure_mpa.maxCoeff());
  if (load.tie != nullptr && !load.tie->rigid()) {
    const double pull = load.tie->force_at(state.extension_mm - load.tie_zero_mm).n;
    CHECK(std::abs(pull - force) < 1e-8 * force);
  }
}

}  // namespace

TEST_CASE("pressures of a full solution balance the walls' reactions", "[columns]") {
  HandRow row = flat_row(200);
  row.domes.assign(2, {0.4, 0.1});
  const TieLaw tie = TieLaw::linear(5e-5);
  for (const double thickness : {0.2, 0.5, 1.0, 2.5, 6.0, 50.0}) {
    WallPair pair = tall_pair(thickness);
    pair.last->section.thickness_mm *= 1.5;
    const HandBox box = box_of(pair, {row});
    for (const double interference : {-0.4, 0.1, 2.0, 20.0}) {
      INFO(thickness << " mm, " << interference << " mm");
      ColumnsLoad load = box.hand.load({interference});
      load.tie = &tie;
      const ColumnsState state = box.columns.solve_fully(load);
      REQUIRE(state.stop == ColumnsStop::converged);
      check_balance(box, load, state);
    }
  }
}

TEST_CASE("a lid put on later balances the walls as well", "[columns]") {
  HandRow row = flat_row(200);
  row.domes.assign(2, {0.4, 0.1});
  for (const double thickness : {0.5, 2.5}) {
    const HandBox open = box_of(tall_pair(thickness), {row});
    const HandBox closed = box_of(tall_pair(thickness), {row}, true, open.mesh);
    const ColumnsState built = open.columns.solve_fully(open.hand.load({0.5}));
    for (const double interference : {-0.2, 0.2, 0.5, 1.5}) {
      INFO(thickness << " mm, " << interference << " mm");
      ColumnsLoad load = closed.hand.load({interference});
      load.built = &built;
      const ColumnsState state = closed.columns.solve_fully(load);
      REQUIRE(state.stop == ColumnsStop::converged);
      check_balance(closed, load, state);
      // Where nothing changed since, nothing moves.
      if (interference == 0.5) {
        CHECK(relative(state.total_force_n(), built.total_force_n()) < 1e-9);
        CHECK(relative(state.first_bow_mm, built.first_bow_mm) < 1e-9);
      }
    }
  }
}

TEST_CASE("a frame brought to a force presses with it", "[columns]") {
  HandRow row = flat_row();
  row.domes.assign(2, {0.4, 0.1});
  const HandBox box = box_of(tall_pair(8), {row});
  for (const double pull : {1.0, 3000.0, 1e5}) {
    ColumnsLoad load = box.hand.load({0});
    load.pulled_n = pull;
    const ColumnsState state = box.columns.solve_fully(load);
    REQUIRE(state.stop == ColumnsStop::converged);
    CHECK(relative(state.total_force_n(), pull) < 1e-9);
    check_balance(box, load, state);
  }
}

// --- 1 and 2: the search, and more interference ------------------------------------------------

namespace {

bool never_rises(const ColumnsState& state) {
  double scale = 0;
  for (const double energy : state.path_n_mm) {
    scale = std::max(scale, std::abs(energy));
  }
  for (std::size_t i = 1; i < state.path_n_mm.size(); ++i) {
    if (state.path_n_mm[i] > state.path_n_mm[i - 1] + 1e-11 * scale) {
      return false;
    }
  }
  return !state.path_n_mm.empty();
}

}  // namespace

TEST_CASE("the energy never rises on the way, and more interference is more force", "[columns]") {
  REQUIRE(rc::check("rising interference", [] {
    const HandBox box = box_of(draw_pair(), draw_rows());
    const TieLaw tie = TieLaw::linear(*rc::gen::element(0.0, 1e-5, 3e-4));
    double before = 0;
    double by_shapes_before = 0;
    for (const double pressure : {0.003, 0.03, 0.1, 0.5, 3.0}) {
      ColumnsLoad load = box.hand.load({at_pressure_mm(box, pressure)});
      load.tie = &tie;
      const ColumnsState shapes = box.columns.solve(load);
      const ColumnsState full = box.columns.solve_fully(load);
      RC_ASSERT(shapes.stop == ColumnsStop::converged);
      RC_ASSERT(full.stop == ColumnsStop::converged);
      RC_ASSERT(never_rises(shapes));
      RC_ASSERT(never_rises(full));
      RC_ASSERT(shapes.path_n_mm.size() == static_cast<std::size_t>(shapes.steps) + 1);
      RC_ASSERT(full.total_force_n() > before);
      RC_ASSERT(shapes.total_force_n() > by_shapes_before);
      before = full.total_force_n();
      by_shapes_before = shapes.total_force_n();
    }
  }));
}

TEST_CASE("every start leads to the same answer", "[columns]") {
  REQUIRE(rc::check("starts", [] {
    const HandBox box = box_of(draw_pair(), draw_rows());
    const TieLaw tie = TieLaw::linear(*rc::gen::element(0.0, 1e-4));
    const auto load_at = [&](double pressure_mpa) {
      ColumnsLoad load = box.hand.load({at_pressure_mm(box, pressure_mpa)});
      load.tie = &tie;
      return load;
    };
    const ColumnsLoad load = load_at(std::pow(10, draw_between(-2, 0)));
    const ColumnsState first = box.columns.solve(load);
    const ColumnsState first_full = box.columns.solve_fully(load);
    RC_ASSERT(first.stop == ColumnsStop::converged);
    std::vector<ColumnsState> starts{box.columns.solve(load_at(20)),
                                     box.columns.solve(load_at(1e-4))};
    // And one from nowhere.
    ColumnsState odd = first;
    std::mt19937 bits(static_cast<std::uint32_t>(*rc::gen::inRange(0, 1000000)));
    for (double& each : odd.amplitudes) {
      each = 100 * (static_cast<double>(bits()) / 2147483648.0 - 1);
    }
    odd.factor = nullptr;
    starts.push_back(odd);
    for (const ColumnsState& start : starts) {
      const ColumnsState state = box.columns.solve(load, &start);
      RC_ASSERT(state.stop == ColumnsStop::converged);
      RC_ASSERT(relative(state.total_force_n(), first.total_force_n()) < 1e-8);
      RC_ASSERT((state.pressure_mpa - first.pressure_mpa).cwiseAbs().maxCoeff() <
                1e-8 * first.pressure_mpa.maxCoeff());
      const ColumnsState full = box.columns.solve_fully(load, &start);
      RC_ASSERT(relative(full.total_force_n(), first_full.total_force_n()) < 1e-8);
    }
  }));
}

TEST_CASE("slopes with the interference are those of two solutions", "[columns]") {
  WallPair pair;
  pair.width_mm = 300;
  pair.height_mm = 124;
  pair.first = hand_wall({3, aluminium_mpa, 0.33}, {0, 0, 300, 124}, open_top);
  pair.last = pair.first;
  pair.edge_scale = 2;
  HandRow left = flat_row(180);
  left.face = {5, 3, 140, 110};
  HandRow right = left;
  right.face = {155, 3, 140, 110};
  right.domes.assign(2, {0.4, 0.1});
  const HandBox box = box_of(pair, {left, right});
  const TieLaw tie = TieLaw::linear(3e-5);
  const auto solved = [&](double more_mm, bool fully) {
    ColumnsLoad load = box.hand.load({0.9 + more_mm, 0.5 + more_mm});
    load.tie = &tie;
    return fully ? box.columns.solve_fully(load) : box.columns.solve(load);
  };
  constexpr double by = 1e-5;
  for (const bool fully : {false, true}) {
    const ColumnsState at = solved(0, fully);
    const ColumnsState more = solved(by, fully);
    const ColumnsState less = solved(-by, fully);
    REQUIRE(at.force_n[1] > 0);
    for (const std::size_t face : {0U, 1U}) {
      const double slope = (more.force_n[face] - less.force_n[face]) / (2 * by);
      CHECK(relative(at.force_per_mm[face], slope) < 1e-4);
    }
    CHECK(relative(at.extension_per_mm, (more.extension_mm - less.extension_mm) / (2 * by)) < 1e-4);
    const Eigen::VectorXd moved = (more.amplitudes - less.amplitudes) / (2 * by);
    CHECK((at.amplitudes_per_mm - moved).norm() < 1e-4 * moved.norm());
  }
}

TEST_CASE("a row presses from its first touch on", "[columns]") {
  REQUIRE(rc::check("first touch", [] {
    const HandBox box = box_of(draw_pair(), draw_rows());
    const TieLaw tie = TieLaw::linear(*rc::gen::element(0.0, 1e-4));
    ColumnsLoad load = box.hand.load({0});
    load.tie = &tie;
    const double touch = box.columns.first_touch_mm(load);
    load.interference_mm = {touch - 1e-9};
    RC_ASSERT(box.columns.solve_fully(load).stop == ColumnsStop::loose);
    RC_ASSERT(box.columns.solve_fully(load).total_force_n() == 0);
    for (const double more : {1e-9, 1e-6, 1e-3}) {
      load.interference_mm = {touch + more};
      const ColumnsState state = box.columns.solve_fully(load);
      RC_ASSERT(state.stop == ColumnsStop::converged);
      RC_ASSERT(state.total_force_n() > 0);
    }
  }));
}

// --- extremes -------------------------------------------------------------------------------

TEST_CASE("extremes have an answer", "[columns]") {
  for (const double thickness : {0.2, 50.0}) {
    for (const double cells_mm : {50.0, 64 * 50.0}) {
      HandRow row = flat_row(cells_mm);
      row.pads.push_back({foam(0.25), 2, std::nullopt, 0});
      const HandBox box = box_of(tall_pair(thickness), {row});
      // Ten times what a row is built with, and foam that is pressed solid.
      for (const double interference : {1e-9, 0.02 * cells_mm, 0.2 * cells_mm, 50.0}) {
        INFO(thickness << " mm, cells " << cells_mm << " mm, " << interference << " mm");
        const ColumnsState state = box.columns.solve_fully(box.hand.load({interference}));
        CHECK(state.stop == ColumnsStop::converged);
        CHECK(finite(state));
        CHECK(state.total_force_n() > 0);
      }
      const ColumnsState loose = box.columns.solve_fully(box.hand.load({-1e6}));
      CHECK(loose.stop == ColumnsStop::loose);
      CHECK(finite(loose));
      CHECK(loose.total_force_n() == 0);
    }
  }
}

TEST_CASE("every reason to stop has its sentence", "[columns]") {
  for (const ColumnsStop stop :
       {ColumnsStop::loose, ColumnsStop::converged, ColumnsStop::cap_reached,
        ColumnsStop::no_descent, ColumnsStop::singular}) {
    CHECK(!sentence(stop).empty());
  }
}
