// SPDX-License-Identifier: GPL-3.0-or-later
//
// Domes measured face by face, on their way into a row and an answer.
#include "solver/dome_reading.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>
#include <vector>

#include "solver/dome.hpp"
#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

using namespace stackfit;
using Catch::Approx;
using sample::find_warning;

namespace {

struct Face {
  double dome_mm = 0;
  double exponent = 2;
  double plane_mm = 0.7;
};

/// A grid of 5 by 5 over the sample's face of 120 x 100 mm, without noise, tilted.
std::vector<FacePoint> grid(const Face& face) {
  std::vector<FacePoint> points;
  for (int row = -2; row <= 2; ++row) {
    for (int column = -2; column <= 2; ++column) {
      const double xi = 0.42 * column;
      const double eta = 0.42 * row;
      points.push_back(
          {60 * xi, 50 * eta,
           face.plane_mm + 0.1 * xi - 0.2 * eta +
               face.dome_mm * std::pow((1 - xi * xi) * (1 - eta * eta), face.exponent)});
    }
  }
  return points;
}

struct Resolved {
  Row row;
  Findings findings;
};

Resolved resolved(const Build& build) {
  Resolved out;
  out.row = resolve_row(build, {}, out.findings);
  return out;
}

/// The sample with its first cell read in another way.
template <class Change>
Resolved with_first(Change change) {
  Build b = sample::build();
  change(b.cells[0]);
  return resolved(b);
}

bool notes(const Findings& findings, Assumed id) {
  return std::count(findings.assumed.begin(), findings.assumed.end(), id) > 0;
}

}  // namespace

TEST_CASE("a straightedge on both faces: the dome is their sum") {
  const Resolved r = with_first([](CellReading& c) { c.straightedge = {0.3, 0.25}; });
  const RowCell& cell = r.row.cells[0];
  CHECK(cell.dome_mm == Approx(0.55));
  CHECK(cell.dome_measured);
  CHECK(cell.edge_mm == 40);
  CHECK(cell.dome.by == DomeBy::straightedge);
  CHECK_FALSE(cell.dome.one_face);
  CHECK(cell.dome.exponent_assumed);
  CHECK(cell.slack_mm == Approx(0.2));
  CHECK(cell.free_mm == Approx(40 + mean_bulge_mm({0.55, 0.2, 2})));
  CHECK(notes(r.findings, Assumed::dome_exponent));
  CHECK_FALSE(find_warning(r.findings.warnings, WarningCode::dome_of_one_face));
  // The other three have no dome.
  CHECK(find_warning(r.findings.warnings, WarningCode::dome_not_measured)->size == 3);
}

TEST_CASE("a hollow face under a straightedge") {
  const Resolved r = with_first([](CellReading& c) { c.straightedge = {-0.3, -0.2}; });
  const RowCell& cell = r.row.cells[0];
  CHECK(cell.dome_mm == Approx(-0.5));
  CHECK(cell.slack_mm == 0);
  CHECK(cell.free_mm == Approx(40 - 0.5 * 64 / 225));
  CHECK(cell.swelling_mm() == 0);
}

TEST_CASE("one face only: the other is taken alike, and that is said") {
  for (const bool front : {true, false}) {
    Build b = sample::known();
    for (CellReading& c : b.cells) {
      c.middle_mm.reset();
      c.straightedge = {0.05, 0.05};
    }
    (front ? b.cells[1].straightedge.back_mm : b.cells[1].straightedge.front_mm).reset();
    const Answer answer = answer_pick(b);
    const Warning* const warning = find_warning(answer.warnings, WarningCode::dome_of_one_face);
    REQUIRE(warning != nullptr);
    CHECK(warning->size == 1);
    CHECK(warning->limit == 4);
    CHECK(answer.cells[1].dome_mm == Approx(0.1));
    CHECK(answer.cells[1].dome.one_face);
    CHECK_FALSE(answer.cells[0].dome.one_face);
    CHECK(std::any_of(answer.assumed_words.begin(), answer.assumed_words.end(),
                      [](const AssumedWord& word) {
                        return word.what == "the face that was not measured" && !word.published;
                      }));
  }
}

TEST_CASE("a dome measured by itself finds the edge under boards or middle") {
  const auto edge = [](const StraightedgeReading& gaps, bool boards) {
    const Resolved r = with_first([&](CellReading& c) {
      c.edge_mm.reset();
      (boards ? c.boards_mm : c.middle_mm) = 40.4;
      c.straightedge = gaps;
    });
    CHECK(r.row.cells[0].edge_measured);
    CHECK_FALSE(find_warning(r.findings.warnings, WarningCode::flat_at_boards_value));
    return r.row.cells[0].edge_mm;
  };
  CHECK(edge({0.3, 0.2}, true) == Approx(39.9));
  CHECK(edge({0.3, 0.2}, false) == Approx(39.9));
  // Boards rest on the edge of a hollow face; a middle reads its depth.
  CHECK(edge({0.3, -0.2}, true) == Approx(40.1));
  CHECK(edge({0.3, -0.2}, false) == Approx(40.3));
  // One face only, taken twice.
  CHECK(edge({0.2, {}}, true) == Approx(40.0));
}

TEST_CASE("a pressed reading keeps its mean thickness under a measured dome") {
  const auto pressed = [](const StraightedgeReading& gaps) {
    return with_first([&](CellReading& c) {
             c.edge_mm.reset();
             c.pressed = PressedReading{39.6, 1000};
             c.straightedge = gaps;
           })
        .row.cells[0];
  };
  const RowCell flat = pressed({});
  const RowCell domed = pressed({0.3, 0.3});
  CHECK(domed.free_mm == Approx(flat.free_mm));
  CHECK(flat.edge_mm == Approx(flat.free_mm));
  CHECK(domed.edge_mm == Approx(flat.free_mm - mean_bulge_mm({0.6, 0.2, 2})));
}

TEST_CASE("points: each face fitted, an exponent of the cell's own") {
  const Resolved r = with_first([](CellReading& c) {
    c.points.front = grid({0.4, 1.3});
    c.points.back = grid({0.25, 1.3});
  });
  const RowCell& cell = r.row.cells[0];
  CHECK(cell.dome_mm == Approx(0.65).epsilon(1e-6));
  CHECK(cell.dome.exponent == Approx(1.3).epsilon(1e-4));
  CHECK_FALSE(cell.dome.exponent_assumed);
  CHECK_FALSE(notes(r.findings, Assumed::dome_exponent));
  CHECK(cell.free_mm == Approx(40 + mean_bulge_mm({0.65, 0.2, 1.3})).epsilon(1e-7));
  CHECK(r.row.cells[1].dome.exponent == r.row.dome_exponent);
  REQUIRE(cell.dome.faces.size() == 2);
  CHECK(cell.dome.faces[0].front);
  CHECK_FALSE(cell.dome.faces[1].front);
  CHECK(cell.dome.faces[0].points_used == 25);
  REQUIRE(cell.dome.error_mm);
  CHECK(*cell.dome.error_mm < 1e-6);
}

TEST_CASE("a face of points beside one of the straightedge") {
  const Resolved r = with_first([](CellReading& c) {
    c.points.back = grid({-0.35, 1.6});
    c.straightedge = {0.1, 0.9};  // points beat the straightedge on the same face
  });
  const RowCell& cell = r.row.cells[0];
  CHECK(cell.dome_mm == Approx(-0.25).epsilon(1e-6));
  CHECK(cell.dome.by == DomeBy::points);
  CHECK(cell.dome.faces[0].by == DomeBy::straightedge);
  CHECK_FALSE(cell.dome.error_mm);
}

TEST_CASE("the better known exponent weighs more") {
  std::vector<FacePoint> rough = grid({0.3, 2.6});
  for (std::size_t i = 0; i < rough.size(); ++i) {
    rough[i].z_mm += i % 2 == 0 ? 0.02 : -0.02;
  }
  const Resolved r = with_first([&](CellReading& c) {
    c.points.front = grid({0.3, 1.4});
    c.points.back = rough;
  });
  CHECK(r.row.cells[0].dome.exponent == Approx(1.4).epsilon(1e-3));
}

TEST_CASE("both faces in one coordinate system tell the thickness") {
  const Resolved r = with_first([](CellReading& c) {
    c.edge_mm.reset();
    c.points.common_z = true;
    c.points.front = grid({0.4, 2, 39.5});
    c.points.back = grid({0.2, 2, 0.3});
    for (FacePoint& p : c.points.back) {
      p = {-p.x_mm, p.y_mm, -p.z_mm};  // as seen from the front, z towards it
    }
  });
  const RowCell& cell = r.row.cells[0];
  CHECK_FALSE(cell.from_data_sheet);
  CHECK(cell.edge_measured);
  CHECK(cell.edge_mm == Approx(39.8).epsilon(1e-9));
  CHECK(cell.dome_mm == Approx(0.6).epsilon(1e-6));
  CHECK_FALSE(find_warning(r.findings.warnings, WarningCode::cells_not_measured));
}

TEST_CASE("a reading that is off is named and does not count") {
  const Resolved r = with_first([](CellReading& c) {
    c.id = "A";
    c.points.front = grid({0.3, 2});
    c.points.back = grid({0.3, 2});
    c.points.back[7].z_mm += 0.4;
  });
  const Warning* const warning = find_warning(r.findings.warnings, WarningCode::dome_point_off);
  REQUIRE(warning != nullptr);
  CHECK(warning->where == "A, back");
  CHECK(warning->limit == 8);  // counted from 1
  CHECK(warning->size == Approx(0.4));
  const FaceDome& back = r.row.cells[0].dome.faces[1];
  REQUIRE(back.outliers.size() == 1);
  CHECK(back.outliers[0].number == 8);
  CHECK(back.points_used == 24);
  CHECK(r.row.cells[0].dome_mm == Approx(0.6).epsilon(1e-6));
}

TEST_CASE("an answer has the flatness of each face, and what boards would read") {
  Build b = sample::build();
  FacePoints& points = b.cells[0].points;
  b.cells[0].edge_mm.reset();
  points.common_z = true;
  points.front = grid({0.4, 1.3, 39.5});
  points.back = grid({0.2, 1.3, 0.3});
  points.back[7].z_mm += 0.5;
  for (FacePoint& p : points.back) {
    p = {-p.x_mm, p.y_mm, -p.z_mm};
  }
  const CellDome dome = answer_pressure(b).cells[0].dome;
  REQUIRE(dome.faces.size() == 2);
  // The middle stands out by the dome, the corners of the grid by a little of it.
  const double corner = std::pow((1 - 0.84 * 0.84) * (1 - 0.84 * 0.84), 1.3);
  CHECK(dome.faces[0].flatness_mm == Approx(0.4 * (1 - corner)).epsilon(1e-3));
  // The reading that is off does not count.
  CHECK(dome.faces[1].outliers.size() == 1);
  CHECK(dome.faces[1].flatness_mm == Approx(0.2 * (1 - corner)).epsilon(1e-3));
  REQUIRE(dome.boards_mm);
  // Boards lean on the faces, which are tilted by a seventh of a degree against each other.
  CHECK(std::abs(*dome.boards_mm - 40.4) < 0.1);
}

TEST_CASE("what a dome is assumed to be never refuses points that were let through") {
  // Within the inner half of the face a dome of exponent 1 is hard to tell from a plane.
  for (const double reach : {0.5, 0.6, 0.8}) {
    Build b = sample::build();
    for (const FacePoint& p : grid({0.3, 2})) {
      b.cells[0].points.front.push_back({p.x_mm * reach, p.y_mm * reach, p.z_mm});
    }
    Findings findings;
    for (const double exponent : {1.0, 1.5, 2.0}) {
      CHECK(resolve_row(b, Assumptions().with(Assumed::dome_exponent, exponent), findings)
                .cells[0]
                .dome_measured);
    }
  }
}

TEST_CASE("faces and thicknesses that disagree are said to") {
  const auto warning = [](std::optional<double> boards, const StraightedgeReading& gaps) {
    return find_warning(with_first([&](CellReading& c) {
                          c.boards_mm = boards;
                          c.straightedge = gaps;
                        }).findings.warnings,
                        WarningCode::dome_readings_differ) != nullptr;
  };
  CHECK_FALSE(warning(40.5, {0.3, 0.3}));
  CHECK(warning(40.5, {-0.3, -0.3}));
  CHECK(warning(40.1, {0.3, 0.3}));
  // Boards do not see a hollow.
  CHECK_FALSE(warning(40.0, {-0.4, -0.4}));
  CHECK_FALSE(warning({}, {0.4, 0.4}));
}

TEST_CASE("the row feels the exponent of each cell, also where rows share their curves") {
  const auto store = std::make_shared<WallStore>();
  const auto pressure = [&](double exponent) {
    Build b = sample::placed_evenly(sample::build(4, 3.9), "thick");
    for (CellReading& c : b.cells) {
      c.points.front = grid({0.5, exponent});
      c.points.back = grid({0.5, exponent});
    }
    const Study study(b, {}, store);
    ShimLoad load;
    load.thickness_mm = 5 * 0.8;
    return study.model().solve(study.model().build_state(), load).force_n;
  };
  const double wide = pressure(1.0);
  const double narrow = pressure(2.0);
  // A dome of exponent 1 holds 100/225 of its box, one of exponent 2 64/225: it presses more.
  CHECK(wide > 1.05 * narrow);
  CHECK(pressure(1.0) == wide);
}
