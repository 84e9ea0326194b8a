// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rows of domed cells between rigid walls against nested adaptive quadrature in SciPy
// (fixtures/published/dome_row.json, made by tests/reference/dome_row.py): force within 0.2 % +
// 0.02 kPa x face area from the first touch to contact all over, by full solution and by curve.
#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "solver/study.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"

namespace {

using nlohmann::json;
using namespace stackfit;

json load_cases() {
  std::ifstream file(STACKFIT_FIXTURES_DIR "/published/dome_row.json");
  return json::parse(file);
}

Build build_of(const json& file, const json& c, double even_mm) {
  Build b = sample::known(4);
  const double nominal = file["nominal_mm"];
  b.cell.face = {file["face_mm"][0], file["face_mm"][1], 0.0};
  b.cell.softness = SoftnessLaw{file["squeeze_a_mpa"], file["squeeze_b"]};
  b.kit.clear();
  for (std::size_t i = 0; i < 4; ++i) {
    b.cells[i].edge_mm = nominal;
    b.cells[i].middle_mm = nominal + c["dome_mm"][i].get<double>();
  }
  const double sheets = c["sheets_mm"];
  if (sheets > 0) {
    SheetInput film = sample::sheet("film", sheets / 5);
    film.modulus_mpa = file["sheet_modulus_mpa"].get<double>();
    b.fixed_sheets.push_back(film);
  }
  b.box.inner_length_mm = {4 * nominal + sheets - even_mm};
  return b;
}

struct Miss {
  double force = 0;    ///< in shares of what is allowed
  double contact = 0;  ///< of the face
  double highest = 0;  ///< in shares of the peak + 10 kPa

  void widen(const Miss& other) {
    force = std::max(force, other.force);
    contact = std::max(contact, other.contact);
    highest = std::max(highest, other.highest);
  }
};

Miss miss(const StateResult& found, const json& should, double area_mm2) {
  const double force = should["force_n"];
  const double allowed = 0.002 * force + 2e-5 * area_mm2;
  const double highest = should["highest_mpa"];
  return {std::abs(found.force_n - force) / allowed,
          std::abs(found.contact_share - should["contact_share"].get<double>()),
          std::abs(found.highest_local_mpa - highest) / (highest + 0.01)};
}

TEST_CASE("domed cells between rigid walls press as adaptive quadrature says") {
  const json file = load_cases();
  const double area = file["face_mm"][0].get<double>() * file["face_mm"][1].get<double>();
  REQUIRE(file["cases"].size() == 7);
  Miss full;
  Miss curve;
  for (const json& c : file["cases"]) {
    const Assumptions assumptions = Assumptions().with(Assumed::dome_exponent, c["exponent"]);
    for (const json& solved : c["solved"]) {
      const Study study(build_of(file, c, solved["even_mm"]), assumptions);
      const RowState state = study.model().build_state();
      CAPTURE(c["name"].get<std::string>(), solved["even_mm"].get<double>());
      full.widen(miss(study.model().solve_fully(state, {}), solved, area));
      curve.widen(miss(study.model().solve(state, {}), solved, area));
      CHECK(full.force <= 1);
      CHECK(curve.force <= 1);
    }
  }
  CAPTURE(full.force, full.contact, full.highest, curve.force, curve.contact, curve.highest);
  CHECK(full.contact < 0.01);
  CHECK(full.highest < 0.02);
  // Contact jumps to the whole face where flat parts meet; a curve between rungs rounds that off.
  CHECK(curve.contact < 0.1);
  CHECK(curve.highest < 0.02);
}

}  // namespace
