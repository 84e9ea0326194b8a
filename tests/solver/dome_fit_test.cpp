// SPDX-License-Identifier: GPL-3.0-or-later
//
// Domes made with known figures and fitted again.
#include "solver/dome_fit.hpp"

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <random>
#include <set>
#include <vector>

#include "tests/catch.hpp"

using namespace stackfit;

namespace {

constexpr HalfFace half_face{76, 94};
constexpr double noise_mm = 0.02;

struct Made {
  double dome_mm = 1;
  double exponent = 2;
  double offset_mm = 4.2;
  double tilt_x_mm = 0.3;
  double tilt_y_mm = -0.5;
};

double height(const Made& made, double xi, double eta) {
  return made.offset_mm + made.tilt_x_mm * xi + made.tilt_y_mm * eta +
         made.dome_mm * std::pow((1 - xi * xi) * (1 - eta * eta), made.exponent);
}

/// A grid that stays `reach` of the half face from the middle: clear of the rim.
std::vector<FacePoint> made_grid(const Made& made, int across = 5, double reach = 0.85) {
  std::vector<FacePoint> points;
  for (int row = 0; row < across; ++row) {
    for (int column = 0; column < across; ++column) {
      const double xi = reach * (2.0 * column / (across - 1) - 1);
      const double eta = reach * (2.0 * row / (across - 1) - 1);
      points.push_back({xi * half_face.width_mm, eta * half_face.height_mm, height(made, xi, eta)});
    }
  }
  return points;
}

/// Normal noise by Box and Muller on a 32-bit Mersenne twister: the same on every library.
class Noise {
 public:
  explicit Noise(std::uint32_t seed) : draw_(seed) {}
  double operator()() {
    const double radius = std::sqrt(-2 * std::log(uniform()));
    return noise_mm * radius * std::cos(2 * 3.14159265358979 * uniform());
  }

 private:
  double uniform() { return (static_cast<double>(draw_()) + 0.5) / 4294967296.0; }
  std::mt19937 draw_;
};

std::vector<FacePoint> noisy(std::vector<FacePoint> points, std::uint32_t seed) {
  Noise noise(seed);
  for (FacePoint& p : points) {
    p.z_mm += noise();
  }
  return points;
}

DomeFit fitted(const std::vector<FacePoint>& points) {
  const DomeFitResult result = fit_dome(points, half_face);
  REQUIRE(result.stop == DomeFitStop::fitted);
  return *result.fit;
}

}  // namespace

TEST_CASE("a dome without noise comes back") {
  for (const double exponent : {0.7, 1.0, 1.5, 2.0, 3.2}) {
    for (const double dome : {2.0, 0.3, -0.8}) {
      const DomeFit fit = fitted(made_grid({dome, exponent}));
      INFO("exponent " << exponent << ", dome " << dome);
      CHECK(std::abs(fit.face_dome_mm - dome) < 1e-6);
      CHECK(std::abs(fit.exponent - exponent) < 1e-5);
      CHECK(fit.exponent_from == ExponentFrom::fitted);
      CHECK(std::abs(fit.offset_mm - 4.2) < 1e-6);
      CHECK(std::abs(fit.tilt_x_mm - 0.3) < 1e-9);
      CHECK(std::abs(fit.tilt_y_mm + 0.5) < 1e-9);
      CHECK(fit.residual_mm < 1e-6);
      CHECK(fit.outliers.empty());
      CHECK(fit.used == 25);
    }
  }
}

TEST_CASE("25 readings with noise: the height lies within three of its errors") {
  constexpr std::uint32_t seeds = 20;
  for (const double reach : {0.8, 0.85, 0.9}) {
    for (const double exponent : {1.0, 1.5, 2.0}) {
      for (const double dome : {0.3, 0.5, 1.0, 2.0, -0.5, -1.0}) {
        int within = 0;
        int close = 0;
        for (std::uint32_t seed = 1; seed <= seeds; ++seed) {
          const DomeFit fit = fitted(noisy(made_grid({dome, exponent}, 5, reach), seed));
          const double miss = std::abs(fit.face_dome_mm - dome);
          within += miss <= 3 * fit.face_dome_error_mm ? 1 : 0;
          close += miss <= 0.02 * std::abs(dome) ? 1 : 0;
          // An error bar that holds because it is wide says nothing: five readings at most.
          CHECK(fit.face_dome_error_mm < 5 * noise_mm);
        }
        INFO("reach " << reach << ", exponent " << exponent << ", dome " << dome);
        CHECK(within >= 19);
        if (dome == 2.0 && (exponent > 1 || reach > 0.8)) {
          CHECK(close >= 19);
        }
      }
    }
  }
}

TEST_CASE("noise alone seldom names an outlier") {
  constexpr int faces = 1000;
  for (const int across : {3, 5, 7}) {
    int named = 0;
    for (std::uint32_t seed = 1; seed <= faces; ++seed) {
      named += fitted(noisy(made_grid({0.8, 1.6}, across), seed)).outliers.empty() ? 0 : 1;
    }
    INFO(across << " by " << across);
    // One in a hundred is meant; three standard errors of the count on top.
    CHECK(named <= 20);
  }
}

TEST_CASE("one reading that is off is named, wherever it lies") {
  for (std::size_t off = 0; off < 25; ++off) {
    for (const double by : {0.4, -0.4}) {
      std::vector<FacePoint> points = noisy(made_grid({0.8, 2}), 7);
      points[off].z_mm += by;
      const DomeFit fit = fitted(points);
      INFO("point " << off << " off by " << by);
      REQUIRE(fit.outliers.size() == 1);
      CHECK(fit.outliers[0].index == off);
      CHECK(std::abs(fit.outliers[0].residual_mm - by) < 0.15);
      CHECK(fit.used == 24);
      CHECK(std::abs(fit.face_dome_mm - 0.8) < 4 * fit.face_dome_error_mm);
    }
  }
}

TEST_CASE("several that are off do not hide each other") {
  for (std::uint32_t seed = 1; seed <= 20; ++seed) {
    std::vector<FacePoint> points = noisy(made_grid({1, 2}), seed);
    points[6].z_mm += 0.5;
    points[7].z_mm += 0.5;
    points[18].z_mm -= 0.6;
    std::set<std::size_t> named;
    for (const OutlyingPoint& point : fitted(points).outliers) {
      named.insert(point.index);
    }
    INFO("seed " << seed);
    CHECK(named == std::set<std::size_t>{6, 7, 18});
  }
}

TEST_CASE("an outlier among readings without noise") {
  std::vector<FacePoint> points = made_grid({0.8, 2});
  points[3].z_mm += 0.2;
  const DomeFit fit = fitted(points);
  REQUIRE(fit.outliers.size() == 1);
  CHECK(fit.outliers[0].index == 3);
  CHECK(std::abs(fit.outliers[0].residual_mm - 0.2) < 1e-6);
  // Two hundredths are within what anyone reads.
  points = made_grid({0.8, 2});
  points[3].z_mm += 0.02;
  CHECK(fitted(points).outliers.empty());
}

TEST_CASE("inside out, tilted, turned") {
  const std::vector<FacePoint> points = noisy(made_grid({0.9, 1.4}), 3);
  const DomeFit fit = fitted(points);
  std::vector<FacePoint> other = points;
  for (FacePoint& p : other) {
    p.z_mm = -p.z_mm;
  }
  CHECK(std::abs(fitted(other).face_dome_mm + fit.face_dome_mm) < 1e-6);
  other = points;
  for (FacePoint& p : other) {
    p.z_mm += 2 - 0.01 * p.x_mm + 0.02 * p.y_mm;
  }
  CHECK(std::abs(fitted(other).face_dome_mm - fit.face_dome_mm) < 1e-6);
  other = points;
  std::reverse(other.begin(), other.end());
  for (FacePoint& p : other) {
    p.x_mm = -p.x_mm;
  }
  CHECK(std::abs(fitted(other).face_dome_mm - fit.face_dome_mm) < 1e-6);
  CHECK(std::abs(fitted(other).tilt_x_mm + fit.tilt_x_mm) < 1e-6);
}

TEST_CASE("the exponent is assumed where the points do not bear one") {
  // Middle, corners and one side: a height, but no shape.
  std::vector<FacePoint> few;
  for (const auto& [xi, eta] : std::vector<std::pair<double, double>>{
           {0, 0}, {-0.8, -0.8}, {0.8, -0.8}, {0.8, 0.8}, {-0.8, 0.8}, {0, 0.8}}) {
    few.push_back({xi * half_face.width_mm, eta * half_face.height_mm, height({0.6, 2}, xi, eta)});
  }
  const DomeFit fit = fitted(few);
  CHECK(fit.exponent_from == ExponentFrom::too_few_points);
  CHECK(fit.exponent == 2);
  CHECK(std::abs(fit.face_dome_mm - 0.6) < 1e-9);
  // The readings have no noise, but the exponent may be another.
  CHECK(fit.face_dome_error_mm > 0.01);
  CHECK_FALSE(fit.exponent_is_fitted());
  // A flat face has no shape of dome.
  for (std::uint32_t seed = 1; seed <= 20; ++seed) {
    const DomeFit flat = fitted(noisy(made_grid({0, 2}), seed));
    CHECK(flat.exponent_from == ExponentFrom::low_dome);
    CHECK(std::abs(flat.face_dome_mm) < 3 * flat.face_dome_error_mm + 1e-12);
  }
  const DomeFit level = fitted(made_grid({0, 2, 1.5, 0, 0}));
  CHECK(level.exponent_from == ExponentFrom::low_dome);
  CHECK(std::abs(level.face_dome_mm) < 1e-9);
  // A few points of another dome: the assumed exponent's doubt holds it.
  for (FacePoint& p : few) {
    p.z_mm = height({0.6, 1}, p.x_mm / half_face.width_mm, p.y_mm / half_face.height_mm);
  }
  const DomeFit other = fitted(few);
  CHECK(std::abs(other.face_dome_mm - 0.6) < 3 * other.face_dome_error_mm);
}

TEST_CASE("an exponent beyond those sought is said to be") {
  const DomeFit fit = fitted(made_grid({1, 5}));
  CHECK(fit.exponent_from == ExponentFrom::at_end);
  CHECK(std::abs(fit.exponent - exponent_sought.high) < 1e-3);
}

TEST_CASE("whatever was read, the figures are numbers") {
  CHECK(rc::check([] {
    const auto count = *rc::gen::inRange<std::size_t>(0, 40);
    std::vector<FacePoint> points;
    for (std::size_t i = 0; i < count; ++i) {
      // Coarse steps: places met twice, on the edge and outside, heights that are alike.
      points.push_back({*rc::gen::inRange(-9, 10) * 10.0, *rc::gen::inRange(-11, 12) * 10.0,
                        *rc::gen::inRange(-20, 20) * 0.1});
    }
    const DomeFitResult result = fit_dome(points, half_face);
    RC_ASSERT(result.fit.has_value() == (result.stop == DomeFitStop::fitted));
    if (!result.fit) {
      return;
    }
    const DomeFit& fit = *result.fit;
    RC_ASSERT(std::isfinite(fit.face_dome_mm) && std::isfinite(fit.face_dome_error_mm));
    RC_ASSERT(fit.face_dome_error_mm >= 0);
    RC_ASSERT(fit.exponent >= exponent_sought.low && fit.exponent <= exponent_sought.high);
    RC_ASSERT(std::isfinite(fit.residual_mm) && std::isfinite(fit.exponent_error));
    RC_ASSERT(fit.used + fit.outliers.size() == points.size());
    RC_ASSERT(fit.used >= least_points_for_dome);
  }));
}

TEST_CASE("points that cannot tell a dome from a plane") {
  const Made made{0.6, 2};
  std::vector<FacePoint> points = made_grid(made);
  points.resize(least_points_for_dome - 1);
  CHECK(fit_dome(points, half_face).stop == DomeFitStop::too_few_points);
  CHECK_FALSE(fit_dome({}, half_face).fit);
  // All in one line; all near the middle; all at one distance from it.
  std::vector<FacePoint> line;
  std::vector<FacePoint> near;
  std::vector<FacePoint> edge;
  for (int i = 0; i < 8; ++i) {
    const double t = i / 3.5 - 1;
    line.push_back({0.8 * t * half_face.width_mm, 0, height(made, 0.8 * t, 0)});
    near.push_back({0.05 * t * half_face.width_mm, (i % 3 - 1) * 3.0,
                    height(made, 0.05 * t, (i % 3 - 1) * 3.0 / half_face.height_mm)});
    edge.push_back({(i % 2 == 0 ? 1 : -1) * half_face.width_mm, t * half_face.height_mm, 0.1});
  }
  CHECK(fit_dome(line, half_face).stop == DomeFitStop::badly_spread);
  CHECK(fit_dome(near, half_face).stop == DomeFitStop::badly_spread);
  CHECK(fit_dome(edge, half_face).stop == DomeFitStop::badly_spread);
}
