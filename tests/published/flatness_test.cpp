// SPDX-License-Identifier: GPL-3.0-or-later
//
// Minimum-zone flatness of constructed sets with known answers (fixtures/published/flatness.json:
// by brute force over all face normals and edge pairs), to 1e-9, however they are turned.
#include "geometry/flatness.hpp"

#include <Eigen/Geometry>
#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/catch.hpp"

namespace {

using Catch::Matchers::WithinAbs;
using nlohmann::json;
using stackfit::geometry::SpacePoint;
using stackfit::geometry::width_mm;

json load_sets() {
  std::ifstream file(STACKFIT_FIXTURES_DIR "/published/flatness.json");
  return json::parse(file).at("sets");
}

std::vector<SpacePoint> points_of(const json& set, const Eigen::Matrix3d& turned) {
  const double scale = set.value("scale", 1.0);
  std::vector<SpacePoint> points;
  for (const json& p : set.at("points")) {
    const Eigen::Vector3d at =
        turned *
        (scale * Eigen::Vector3d(p[0].get<double>(), p[1].get<double>(), p[2].get<double>()));
    points.push_back({at.x(), at.y(), at.z()});
  }
  return points;
}

TEST_CASE("flatness is that of the published sets") {
  const json sets = load_sets();
  REQUIRE(sets.size() == 5);
  for (const json& set : sets) {
    CAPTURE(set.at("name").get<std::string>());
    CHECK_THAT(width_mm(points_of(set, Eigen::Matrix3d::Identity())),
               WithinAbs(set.at("flatness").get<double>(), 1e-9));
  }
}

TEST_CASE("flatness does not depend on how the face lies") {
  const Eigen::Matrix3d turned =
      Eigen::AngleAxisd(0.7, Eigen::Vector3d(1, 2, -0.5).normalized()).matrix();
  for (const json& set : load_sets()) {
    CAPTURE(set.at("name").get<std::string>());
    CHECK_THAT(width_mm(points_of(set, turned)), WithinAbs(set.at("flatness").get<double>(), 1e-9));
  }
}

TEST_CASE("flatness is never more than the range of least-squares residuals") {
  for (const json& set : load_sets()) {
    if (set.contains("lsq")) {
      CHECK(width_mm(points_of(set, Eigen::Matrix3d::Identity())) < set.at("lsq").get<double>());
    }
  }
}

TEST_CASE("readings inside the hull, repeated or on a grid change nothing") {
  // A dial reads in hundredths: many points of one height, edges and planes full of them.
  std::vector<SpacePoint> points;
  for (int i = 0; i <= 20; ++i) {
    for (int j = 0; j <= 20; ++j) {
      const double height = (i == 10 && j == 10) ? 0.30 : (i + j) % 2 == 0 ? 0.0 : 0.01;
      points.push_back({7.0 * i, 9.0 * j, height});
    }
  }
  CHECK_THAT(width_mm(points), WithinAbs(0.30, 1e-6));
  const std::size_t once = points.size();
  for (std::size_t i = 0; i < once; ++i) {
    points.push_back(points[i]);
  }
  CHECK_THAT(width_mm(points), WithinAbs(0.30, 1e-6));
}

TEST_CASE("points in one plane, or too few of them, have no width") {
  CHECK(width_mm({}) == 0);
  CHECK(width_mm({{0, 0, 0}, {1, 0, 0}, {0, 1, 5}}) == 0);
  CHECK(width_mm({{0, 0, 0}, {1, 0, 1}, {0, 1, 1}, {1, 1, 2}, {2, 2, 4}}) == 0);
  CHECK(width_mm({{0, 0, 0}, {1, 1, 1}, {2, 2, 2}, {3, 3, 3}, {4, 4, 4}}) == 0);
  CHECK_THROWS_AS(width_mm({{0, 0, 0}, {NAN, 0, 1}, {0, 1, 1}, {1, 1, 3}}), std::invalid_argument);
}

TEST_CASE("both faces together have their envelope's thickness") {
  // Two flat faces 60 mm apart, one with a dome of 0.8: boards meet its top.
  std::vector<SpacePoint> points;
  for (int i = -2; i <= 2; ++i) {
    for (int j = -2; j <= 2; ++j) {
      points.push_back({30.0 * i, 40.0 * j, 0});
      points.push_back({30.0 * i, 40.0 * j, 60 + (i == 0 && j == 0 ? 0.8 : 0.0)});
    }
  }
  CHECK_THAT(width_mm(points), WithinAbs(60.8, 1e-9));
}

}  // namespace
