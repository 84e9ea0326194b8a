// SPDX-License-Identifier: GPL-3.0-or-later
//
// Minimum-zone flatness (ISO 1101) of constructed point sets whose answers were found by brute
// force over all face normals and edge pairs (fixtures/published/flatness.json says so).
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <vector>

#include "geometry/flatness.hpp"
#include "tests/catch.hpp"

namespace {

using nlohmann::json;
using namespace stackfit;

std::vector<geometry::SpacePoint> points_of(const json& set) {
  const double scale = set.value("scale", 1.0);
  std::vector<geometry::SpacePoint> points;
  for (const json& p : set["points"]) {
    points.push_back(
        {scale * p[0].get<double>(), scale * p[1].get<double>(), scale * p[2].get<double>()});
  }
  return points;
}

}  // namespace

TEST_CASE("minimum-zone flatness of constructed sets") {
  // The file's figures stand to twelve decimals.
  constexpr double tolerance_mm = 1e-9;
  std::ifstream stream(STACKFIT_FIXTURES_DIR "/published/flatness.json");
  const json file = json::parse(stream);
  REQUIRE(file["sets"].size() == 5);
  for (const json& set : file["sets"]) {
    INFO(set["name"]);
    const double flatness = geometry::flatness_mm(points_of(set));
    CHECK(std::abs(flatness - set["flatness"].get<double>()) <= tolerance_mm);
    if (set.contains("lsq")) {
      // The range about a least-squares plane is never smaller.
      CHECK(flatness < set["lsq"].get<double>());
    }
  }
}
