// SPDX-License-Identifier: GPL-3.0-or-later
//
// One-column stacks solved with SciPy brentq to 1e-15 (fixtures/published/stack_cases.json
// states the conventions): force to 1e-6 relative, room left to 1e-9 mm.
#include <fstream>
#include <nlohmann/json.hpp>

#include "geometry/outline.hpp"
#include "solver/law.hpp"
#include "solver/series.hpp"
#include "solver/swing.hpp"
#include "tests/catch.hpp"

namespace {

using nlohmann::json;
using namespace stackfit;

json load_cases() {
  std::ifstream file(STACKFIT_FIXTURES_DIR "/published/stack_cases.json");
  return json::parse(file);
}

std::vector<double> numbers(const json& list, double scale = 1) {
  std::vector<double> out;
  for (const json& value : list) {
    out.push_back(scale * value.get<double>());
  }
  return out;
}

Series series_of(const json& file, const json& c, double area) {
  Series series;
  const auto count = static_cast<double>(c["cells_mm"].size());
  series.add({std::make_shared<ExponentialLaw>(
                  ExponentialLaw::Constants{c["squeeze_a_mpa"], c["squeeze_b"], 1.0}),
              count * c["nominal_mm"].get<double>(), area});
  for (const json& sheet : c["hard_sheets"]) {
    const double thickness = sheet[0];
    const double modulus = sheet[1];
    const double share = sheet[2];
    series.add_give(thickness / (modulus * share * area));
  }
  const auto foam =
      std::make_shared<TableLaw>(numbers(file["foam"]["eps"]), numbers(file["foam"]["sigma_mpa"]));
  for (const json& pad : c["foam_mm"]) {
    series.add({foam, pad.get<double>(), area});
  }
  series.add_give(2 * c["wall_mm_per_n"].get<double>() + c["side_mm_per_n"].get<double>());
  return series;
}

double free_length(const json& c) {
  double sum = 0;
  for (const json& cell : c["cells_mm"]) {
    sum += cell.get<double>();
  }
  for (const json& sheet : c["hard_sheets"]) {
    sum += sheet[0].get<double>();
  }
  for (const json& pad : c["foam_mm"]) {
    sum += pad.get<double>();
  }
  return sum - c["inner_length_mm"].get<double>();
}

}  // namespace

TEST_CASE("one-column stacks agree with SciPy") {
  const json file = load_cases();
  const SwingCurve swing(numbers(file["swing"]["charge"]), numbers(file["swing"]["percent"], 0.01));
  REQUIRE(file["cases"].size() >= 4);
  for (const json& c : file["cases"]) {
    const double area = geometry::area_mm2(geometry::rounded_rectangle(
        {c["face_width_mm"], c["face_height_mm"], c["corner_radius_mm"]}));
    const Series series = series_of(file, c, area);
    const double cells = static_cast<double>(c["cells_mm"].size()) * c["nominal_mm"].get<double>();
    for (const json& result : c["results"]) {
      INFO(c["name"] << " at charge " << result["charge"]);
      const double grown =
          cells * (swing.at(result["charge"]) - swing.at(c["measured_at"].get<double>()));
      const SeriesResult solved = series.solve(free_length(c) + grown);
      const double force = result["force_n"];
      CHECK(std::abs(solved.force_n - force) <= 1e-6 * force);
      CHECK(std::abs(solved.loose_by_mm - result["loose_by_mm"].get<double>()) < 1e-9);
      CHECK(solved.stop != SeriesStop::cap_reached);
    }
  }
}
