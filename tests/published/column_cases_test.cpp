// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rows as columns between bending walls, against an independent solution: Ritz plates and Gauss
// points on SciPy (fixtures/published/column_cases.json states the conventions).
#include <algorithm>
#include <cmath>
#include <fstream>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "solver/column_figures.hpp"
#include "solver/columns.hpp"
#include "tests/catch.hpp"
#include "tests/column_rows.hpp"

namespace {

using nlohmann::json;
using namespace stackfit;
using namespace stackfit::testing;

json load_cases() {
  std::ifstream file(STACKFIT_FIXTURES_DIR "/published/column_cases.json");
  return json::parse(file);
}

// --- from the table to columns --------------------------------------------------------------

PlateEdge edge_of(const std::string& word) {
  if (word == "fixed") {
    return PlateEdge::fixed;
  }
  if (word == "held") {
    return PlateEdge::held;
  }
  if (word == "free") {
    return PlateEdge::free;
  }
  throw std::runtime_error("no edge: " + word);
}

WallPlate wall_of(const json& wall) {
  const json& edges = wall["edges"];
  WallPlate made = hand_wall({wall["thickness_mm"], wall["modulus_mpa"], wall["poisson"]},
                             {0, 0, wall["width_mm"], wall["height_mm"]},
                             {edge_of(edges["left"]), edge_of(edges["right"]),
                              edge_of(edges["bottom"]), edge_of(edges["top"])});
  if (wall.contains("point_supports")) {
    for (const json& at : wall["point_supports"]) {
      made.rods.push_back({{at["x_mm"], at["y_mm"]}});
    }
  }
  return made;
}

Rectangle rectangle_of(const json& r) {
  return {r["x_mm"], r["y_mm"], r["width_mm"], r["height_mm"]};
}

HandRow row_of(const json& row) {
  HandRow made;
  const json& cells = row["cells"];
  made.face = rectangle_of(row["face"]);
  made.cell_law = std::make_shared<ExponentialLaw>(
      ExponentialLaw::Constants{cells["a_mpa"], cells["b"], cells["tangent_above_mpa"]});
  made.cells_mm = cells["count"].get<double>() * cells["nominal_mm"].get<double>();
  for (const json& dome : cells["domes"]) {
    made.domes.push_back({dome["height_mm"], dome["slack_mm"]});
  }
  made.sheets_give_mm_per_mpa = row["sheets_give_mm_per_mpa"];
  for (const json& pad : row["pads"]) {
    HandPad& each = made.pads.emplace_back();
    each.law = std::make_shared<TableLaw>(pad["strain"].get<std::vector<double>>(),
                                          pad["stress_mpa"].get<std::vector<double>>());
    each.thickness_mm = pad["thickness_mm"];
    if (pad.contains("patch")) {
      each.patch = rectangle_of(pad["patch"]);
      each.gap_outside_mm = pad["gap_outside_mm"];
    }
  }
  return made;
}

/// Rods of a given give, brought to a force: what a frame's tie is in the table.
TieLaw rods_of(double force_n, double give_mm_per_n) {
  constexpr double modulus_mpa = 200000;
  RodSet set;
  set.count = 1;
  set.force_n = force_n;
  set.rod.thread = {10, 1.5};
  set.rod.length_mm = 1;
  set.rod.modulus_mpa = modulus_mpa;
  set.rod.proof_stress_mpa = 1e6;
  set.rod.length_mm = give_mm_per_n / rod_give_mm_per_n(set.rod);
  return TieLaw::rods(set);
}

struct Solved {
  HandSetup built;
  ColumnsState built_state;
  std::optional<HandSetup> closed;
  ColumnsState closed_state;
};

std::vector<double> interferences(const json& rows) {
  std::vector<double> out;
  for (const json& row : rows) {
    out.push_back(row["interference_mm"]);
  }
  return out;
}

Solved solve(const json& c, double edge_scale, bool mirrored) {
  std::vector<HandRow> rows;
  for (const json& row : c["rows"]) {
    rows.push_back(row_of(row));
  }
  WallPair pair;
  pair.width_mm = c["wall_a"]["width_mm"];
  pair.height_mm = c["wall_a"]["height_mm"];
  pair.first = wall_of(c["wall_a"]);
  pair.last = wall_of(c["wall_b"]);
  pair.edge_scale = edge_scale;
  pair.mirrored = mirrored;
  pair = with_rows(std::move(pair), rows);
  const auto mesh = mesh_walls(pair);
  const double give = c["tie_give_mm_per_n"];
  const bool frame = c.contains("frame_force_n") && !c["frame_force_n"].is_null();

  Solved out;
  out.built = hand_setup(std::make_shared<const WallModes>(mesh, pair, false), rows);
  ColumnsLoad building = out.built.load(interferences(c["rows"]));
  const TieLaw sides = TieLaw::linear(give);
  if (frame) {
    building.pulled_n = c["frame_force_n"];
  } else {
    building.tie = &sides;
  }
  out.built_state = Columns(out.built.setup).solve_fully(building);
  if (!c.contains("closed")) {
    return out;
  }
  const json& later = c["closed"];
  const bool lid = later.value("lid_holds_top", false);
  out.closed = hand_setup(std::make_shared<const WallModes>(mesh, pair, lid), rows);
  ColumnsLoad closing = out.closed->load(later.contains("interference_mm")
                                             ? later["interference_mm"].get<std::vector<double>>()
                                             : interferences(c["rows"]));
  const TieLaw tie = frame && give > 0 ? rods_of(c["frame_force_n"], give) : sides;
  closing.tie = &tie;
  closing.tie_zero_mm = frame ? out.built_state.extension_mm : 0;
  closing.built = lid ? &out.built_state : nullptr;
  out.closed_state = Columns(out.closed->setup).solve_fully(closing);
  return out;
}

// --- comparing ------------------------------------------------------------------------------

/// How far a solution is from the table, worst over all rows and both stages; shares of the
/// table's figure, the contact share as a difference.
struct Errors {
  double force = 0;
  double walls = 0;  ///< mean deflection of both walls over a face
  double bow = 0;    ///< greatest deflection of either wall
  double highest = 0;
  double lowest = 0;
  double contact = 0;
  double extension = 0;
  double centre_mm = 0;
};

void worse(double& error, double found, double should, double scale) {
  error = std::max(error, std::abs(found - should) / scale);
}

double mean_walls_mm(const WallMesh& mesh, const ColumnsState& state, int face) {
  double sum = 0;
  double area = 0;
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    if (mesh.points[q].face == face) {
      sum += mesh.points[q].area_mm2 * state.wall_mm[static_cast<Eigen::Index>(q)];
      area += mesh.points[q].area_mm2;
    }
  }
  return sum / area;
}

void compare(const HandSetup& hand, const ColumnsState& state, const json& rows, const json& should,
             Errors& errors) {
  if (should["force_n"] == 0.0) {
    CHECK(state.stop == ColumnsStop::loose);
    CHECK(state.total_force_n() == 0);
    return;
  }
  REQUIRE(state.stop == ColumnsStop::converged);
  const WallMesh& mesh = hand.setup.walls->mesh();
  const double force = should["force_n"];
  worse(errors.force, state.total_force_n(), force, force);
  worse(errors.bow, state.first_bow_mm, should["wall_a_greatest_mm"], should["wall_a_greatest_mm"]);
  worse(errors.bow, state.last_bow_mm, should["wall_b_greatest_mm"], should["wall_b_greatest_mm"]);
  if (should["length_gain_mm"].get<double>() != 0) {
    worse(errors.extension, state.extension_mm, should["length_gain_mm"],
          std::abs(should["length_gain_mm"].get<double>()));
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Rectangle face = rectangle_of(rows[i]["face"]);
    const json& row = should["rows"][i];
    const auto number = static_cast<int>(i);
    const ColumnFigures figures = column_figures(hand.setup, state, number, face.area_mm2());
    worse(errors.force, figures.force_n, row["force_n"], row["force_n"]);
    worse(errors.highest, figures.highest_local_mpa, row["highest_pressure_mpa"],
          row["highest_pressure_mpa"]);
    worse(errors.lowest, figures.lowest_local_mpa, row["lowest_pressure_mpa"],
          row["mean_pressure_mpa"]);
    worse(errors.contact, figures.contact_share, row["contact_share"], 1);
    const double walls =
        row["wall_a_face_mean_mm"].get<double>() + row["wall_b_face_mean_mm"].get<double>();
    worse(errors.walls, mean_walls_mm(mesh, state, number), walls, walls);
    const double middle_y = face.y_mm + 0.5 * face.height_mm;
    worse(errors.centre_mm, figures.centre_y_mm + middle_y, row["centre_of_pressure_y_mm"], 1);
    if (mesh.share == 1) {
      const double middle_x = face.x_mm + 0.5 * face.width_mm;
      worse(errors.centre_mm, figures.centre_x_mm + middle_x, row["centre_of_pressure_x_mm"], 1);
    }
  }
}

Errors errors_of(const json& c, double edge_scale = 1, bool mirrored = false) {
  const Solved solved = solve(c, edge_scale, mirrored);
  Errors errors;
  compare(solved.built, solved.built_state, c["rows"], c["results"]["built"], errors);
  if (solved.closed) {
    compare(*solved.closed, solved.closed_state, c["rows"], c["results"]["closed"], errors);
  }
  return errors;
}

bool symmetric(const json& c) {
  const double width = c["wall_a"]["width_mm"];
  const auto centred = [&](const json& r) {
    return std::abs(r["x_mm"].get<double>() + 0.5 * r["width_mm"].get<double>() - 0.5 * width) <
           1e-9;
  };
  bool all = c["rows"].size() == 1;
  for (const char* wall : {"wall_a", "wall_b"}) {
    all = all && c[wall]["edges"]["left"] == c[wall]["edges"]["right"];
  }
  for (const json& row : c["rows"]) {
    all = all && centred(row["face"]);
    for (const json& pad : row["pads"]) {
      all = all && (!pad.contains("patch") || centred(pad["patch"]));
    }
  }
  return all;
}

/// Printed on a failure.
std::string text(const Errors& e) {
  std::string out;
  const auto add = [&out](const char* name, double value) {
    out += std::string(name) + " " + std::to_string(100 * value) + " %, ";
  };
  add("force", e.force);
  add("walls", e.walls);
  add("bow", e.bow);
  add("highest", e.highest);
  add("lowest", e.lowest);
  add("contact", e.contact);
  add("extension", e.extension);
  return out + "centre " + std::to_string(e.centre_mm) + " mm";
}

}  // namespace

// On the default mesh the worst found were: force 0.25 % (0.09 % but for the plate of 1 mm that
// touches in a ring), walls 0.24 %, bow 0.18 %, highest 2.2 % (at a free corner of a face and at
// the rim of a patch; else below 0.5 %), lowest 2.8 % of the mean, contact share 0.0022.
TEST_CASE("columns between bending walls agree with Ritz plates", "[columns]") {
  const json file = load_cases();
  REQUIRE(file["cases"].size() >= 33);
  for (const json& c : file["cases"]) {
    const Errors e = errors_of(c);
    INFO(c["name"].get<std::string>() << ": " << text(e));
    CHECK(e.force < 0.003);
    CHECK(e.walls < 0.003);
    CHECK(e.bow < 0.003);
    CHECK(e.highest < 0.03);
    CHECK(e.lowest < 0.03);  // of the mean pressure
    CHECK(e.contact < 0.003);
    CHECK(e.extension < 0.001);
    CHECK(e.centre_mm < 0.1);
  }
}

TEST_CASE("columns come nearer to Ritz plates on a finer mesh", "[columns]") {
  const json file = load_cases();
  for (const json& c : file["cases"]) {
    const Errors coarse = errors_of(c, 2);
    const Errors fine = errors_of(c, 0.5);
    INFO(c["name"].get<std::string>() << ": " << text(coarse) << "; fine: " << text(fine));
    // Four times as fine: a quarter of the error would be of the first order.
    constexpr double by_chance = 1e-5;  // errors of both signs may meet on the coarse mesh
    CHECK(fine.force <= 0.25 * coarse.force + by_chance);
    CHECK(fine.walls <= 0.25 * coarse.walls + by_chance);
  }
}

TEST_CASE("the left half of a symmetric row agrees with Ritz plates", "[columns]") {
  const json file = load_cases();
  for (const json& c : file["cases"]) {
    if (!symmetric(c)) {
      continue;
    }
    const Errors e = errors_of(c, 1, true);
    INFO(c["name"].get<std::string>() << ": " << text(e));
    CHECK(e.force < 0.003);
    CHECK(e.walls < 0.003);
    CHECK(e.bow < 0.003);
    CHECK(e.highest < 0.03);
    CHECK(e.contact < 0.005);
  }
}
