// SPDX-License-Identifier: GPL-3.0-or-later
//
// Two outlines from bytes (rounded rectangles, polygons, discs, on a grid where coincidences are
// common or anywhere), and what the set operations make of them.
//
// Held: 1 what is accepted is finite and has an area, what is refused has a message; 2 the
// contract of outline.hpp: area(A) = area(A and B) + area(A less B), the same whichever comes
// first, A and A is A, A less A is empty; 3 the part in both is no larger than either, and lies
// within the boxes round both; 4 results can be worked with: nothing of A and B is outside A,
// nothing of A less B is inside B; 5 a closed form's area, and a polygon's whichever way round.
#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <exception>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <vector>

#include "geometry/outline.hpp"
#include "tests/fuzz/hold.hpp"

namespace {

using namespace stackfit::geometry;
using stackfit::fuzz::hold;

/// As the reader allows lengths (cli/node.cpp).
constexpr double longest_mm = 1e5;
constexpr double least_size_mm = 1e-3;
/// Corners of a polygon; more of them say nothing new, and exact arithmetic takes its time.
constexpr unsigned most_points = 9;
/// Closed forms on a dozen edges: a few roundings each, well inside this.
constexpr double closed_form_error = 1e-13;

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}

  [[nodiscard]] bool empty() const { return left_ == 0; }

  std::uint8_t byte() {
    if (left_ == 0) return 0;
    --left_;
    return *data_++;
  }

  /// Signed sixteenths of a millimetre, up to 2 m.
  double on_grid_mm() {
    const unsigned low = byte();
    const unsigned high = byte();
    return static_cast<std::int16_t>(low | (high << 8U)) / 16.0;
  }

  /// Any number that a length may be; zero for the others.
  double anywhere_mm() {
    std::uint64_t bits = 0;
    for (unsigned i = 0; i < 8; ++i) bits |= std::uint64_t{byte()} << (8 * i);
    const auto number = std::bit_cast<double>(bits);
    return std::abs(number) <= longest_mm ? number : 0;
  }

  double mm(bool grid) { return grid ? on_grid_mm() : anywhere_mm(); }

 private:
  const std::uint8_t* data_;
  std::size_t left_;
};

struct Box {
  Point low{longest_mm, longest_mm};
  Point high{-longest_mm, -longest_mm};

  void include(Point p) {
    low = {std::min(low.x_mm, p.x_mm), std::min(low.y_mm, p.y_mm)};
    high = {std::max(high.x_mm, p.x_mm), std::max(high.y_mm, p.y_mm)};
  }
};

double reach_mm(const Outline& outline) {
  double reach = 0;
  for (const Loop& loop : outline.loops) {
    for (const Edge& edge : loop) {
      reach = std::max({reach, std::abs(edge.from.x_mm), std::abs(edge.from.y_mm),
                        edge.is_arc ? std::abs(edge.centre.x_mm) : 0,
                        edge.is_arc ? std::abs(edge.centre.y_mm) : 0});
    }
  }
  return reach;
}

// Round all of it: an arc's turning points are corners of the shapes drawn here, or the whole
// circle's box is taken.
Box box_round(const Outline& outline) {
  Box box;
  for (const Loop& loop : outline.loops) {
    for (const Edge& edge : loop) {
      box.include(edge.from);
      if (!edge.is_arc || loop.size() > 1) continue;
      const double r =
          std::hypot(edge.from.x_mm - edge.centre.x_mm, edge.from.y_mm - edge.centre.y_mm);
      box.include({edge.centre.x_mm - r, edge.centre.y_mm - r});
      box.include({edge.centre.x_mm + r, edge.centre.y_mm + r});
    }
  }
  return box;
}

void hold_finite(const Outline& outline) {
  for (const Loop& loop : outline.loops) {
    hold(!loop.empty(), "no loop is empty");
    for (const Edge& edge : loop) {
      hold(std::isfinite(edge.from.x_mm) && std::isfinite(edge.from.y_mm), "corners are finite");
      hold(std::isfinite(edge.centre.x_mm) && std::isfinite(edge.centre.y_mm),
           "centres are finite");
    }
  }
  hold(std::isfinite(area_mm2(outline)), "an area is finite");
  hold(std::isfinite(perimeter_mm(outline)), "a perimeter is finite");
}

void hold_figures(const Outline& outline) {
  hold_finite(outline);
  hold(area_mm2(outline) > 0, "what is accepted has an area");
  hold(perimeter_mm(outline) > 0, "what is accepted has a boundary");
  const Point centroid = centroid_mm(outline);
  hold(std::isfinite(centroid.x_mm) && std::isfinite(centroid.y_mm), "a centroid is finite");
  const SecondMoments moments = second_moments_mm4(outline);
  hold(std::isfinite(moments.ixx_mm4) && std::isfinite(moments.iyy_mm4), "moments are finite");
}

void hold_near(double a, double b, double error, const char* what) {
  hold(std::abs(a - b) <= error, what, fmt::format("{} and {}, within {}", a, b, error));
}

// ---- Shapes --------------------------------------------------------------------------------

Outline draw_rectangle(Bytes& bytes, bool grid) {
  RectangleSize size{bytes.mm(grid), bytes.mm(grid), bytes.mm(grid)};
  const Point centre{bytes.mm(grid), bytes.mm(grid)};
  if (std::min(size.width_mm, size.height_mm) > 0) {
    size.width_mm = std::max(size.width_mm, least_size_mm);
    size.height_mm = std::max(size.height_mm, least_size_mm);
  }
  Outline outline = rounded_rectangle(size, centre);
  const double r = size.corner_radius_mm;
  const double round = perimeter_mm(outline);
  hold_near(area_mm2(outline), size.width_mm * size.height_mm - (4 - std::numbers::pi) * r * r,
            4 * set_operation_position_error * reach_mm(outline) * round +
                closed_form_error * size.width_mm * size.height_mm,
            "a rounded rectangle has its area");
  return outline;
}

Outline draw_polygon(Bytes& bytes, bool grid) {
  std::vector<Point> points(3 + bytes.byte() % (most_points - 2));
  for (Point& point : points) point = {bytes.mm(grid), bytes.mm(grid)};
  Outline outline = polygon(points);
  std::ranges::reverse(points);
  hold_near(area_mm2(outline), area_mm2(polygon(points)),
            closed_form_error * reach_mm(outline) * perimeter_mm(outline),
            "a polygon has one area whichever way its points go round");
  return outline;
}

Outline draw_disc(Bytes& bytes, bool grid) {
  const Point centre{bytes.mm(grid), bytes.mm(grid)};
  const double radius = std::max(std::abs(bytes.mm(grid)), least_size_mm);
  return {{{{.from = {centre.x_mm + radius, centre.y_mm}, .is_arc = true, .centre = centre}}}};
}

std::optional<Outline> draw(Bytes& bytes) {
  const std::uint8_t kind = bytes.byte();
  const bool grid = (kind & 4U) == 0;
  try {
    switch (kind & 3U) {
      case 0:
      case 1:
        return draw_rectangle(bytes, grid);
      case 2:
        return draw_polygon(bytes, grid);
      default:
        return draw_disc(bytes, grid);
    }
  } catch (const std::invalid_argument& refusal) {
    hold(std::strlen(refusal.what()) > 0, "a refusal has a message");
    return std::nullopt;
  }
}

// ---- What must hold of two ---------------------------------------------------------------

void hold_within(const Outline& part, const Outline& whole, double position_error) {
  if (part.loops.empty()) return;
  const Box inner = box_round(part);
  const Box outer = box_round(whole);
  hold(inner.low.x_mm >= outer.low.x_mm - position_error &&
           inner.low.y_mm >= outer.low.y_mm - position_error &&
           inner.high.x_mm <= outer.high.x_mm + position_error &&
           inner.high.y_mm <= outer.high.y_mm + position_error,
       "the part in both lies within the box round each");
}

struct Parts {
  Outline both;
  Outline rest;  ///< of the first
};

Parts hold_split(const Outline& a, const Outline& b, double error) {
  Parts parts{intersection(a, b), difference(a, b)};
  hold_finite(parts.both);
  hold_finite(parts.rest);
  hold_near(area_mm2(parts.both) + area_mm2(parts.rest), area_mm2(a), 2 * error,
            "an outline is the part in the other and the part outside");
  hold(area_mm2(parts.both) >= -error, "no area is negative");
  hold(area_mm2(parts.rest) >= -error, "no area is negative");
  return parts;
}

void hold_of_itself(const Outline& a) {
  const double error = area_error_mm2(a, a);
  hold_near(area_mm2(intersection(a, a)), area_mm2(a), error, "A and A is A");
  hold(difference(a, a).loops.empty(), "A less A is empty");
  hold(intersection(a, {}).loops.empty(), "with an empty outline nothing is covered");
  hold_near(area_mm2(difference(a, {})), area_mm2(a), error, "nothing is taken out by nothing");
}

// Errors of operations one after another add up.
void hold_of_results(const Parts& parts, const Outline& a, const Outline& b, double error) {
  hold(area_mm2(difference(parts.both, a)) <= error + area_error_mm2(parts.both, a),
       "nothing of the part in both is outside the first");
  hold(area_mm2(difference(parts.both, b)) <= error + area_error_mm2(parts.both, b),
       "nothing of the part in both is outside the second");
  hold(area_mm2(intersection(parts.rest, b)) <= error + area_error_mm2(parts.rest, b),
       "nothing of the rest is inside the second");
}

void hold_of_two(const Outline& a, const Outline& b) {
  const double error = area_error_mm2(a, b);
  const double position = set_operation_position_error * std::max(reach_mm(a), reach_mm(b));
  const Parts one = hold_split(a, b, error);
  const Parts other = hold_split(b, a, error);
  hold_near(area_mm2(one.both), area_mm2(other.both), 2 * error,
            "the part in both is the same whichever comes first");
  hold(area_mm2(one.both) <= std::min(area_mm2(a), area_mm2(b)) + error,
       "the part in both is no larger than either");
  hold_within(one.both, a, position);
  hold_within(one.both, b, position);
  hold_of_results(one, a, b, error);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Bytes bytes(data, size);
  const std::optional<Outline> a = draw(bytes);
  if (!a) return 0;
  hold_figures(*a);
  try {
    if (bytes.empty()) {
      hold_of_itself(*a);
      return 0;
    }
    const std::optional<Outline> b = draw(bytes);
    if (b) hold_of_two(*a, *b);
  } catch (const std::exception& thrown) {
    hold(false, "set operations take every outline that was accepted", thrown.what());
  }
  return 0;
}
