// SPDX-License-Identifier: GPL-3.0-or-later
//
// A polygon from points that people typed: what is wrong with them is found here, before any
// set operation sees them.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <stdexcept>
#include <vector>

#include "geometry/outline.hpp"

namespace stackfit::geometry {
namespace {

struct Segment {
  Point a;
  Point b;
};

/// Sign of the turn a, b, c: +1 left, -1 right, 0 straight on or too close to tell.
///
/// The product difference of four rounded differences is off by less than
/// (3 + 16 u) u (|l| + |r|) with u = 2^-53, l and r the two products (J. R. Shewchuk 1997,
/// "Adaptive precision floating-point arithmetic and fast robust geometric predicates",
/// Discrete & Computational Geometry 18, section 4.1). 4 u covers it and its own rounding.
int turn(Point a, Point b, Point c) {
  const double l = (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm);
  const double r = (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
  const double doubt = 2 * std::numeric_limits<double>::epsilon() * (std::abs(l) + std::abs(r));
  if (std::abs(l - r) <= doubt) {
    return 0;
  }
  return l > r ? 1 : -1;
}

bool on_one_side(const Segment& line, const Segment& other) {
  return turn(line.a, line.b, other.a) * turn(line.a, line.b, other.b) > 0;
}

/// The two lie apart along one axis at least.
bool boxes_apart(const Segment& s, const Segment& t) {
  return std::max(s.a.x_mm, s.b.x_mm) < std::min(t.a.x_mm, t.b.x_mm) ||
         std::max(t.a.x_mm, t.b.x_mm) < std::min(s.a.x_mm, s.b.x_mm) ||
         std::max(s.a.y_mm, s.b.y_mm) < std::min(t.a.y_mm, t.b.y_mm) ||
         std::max(t.a.y_mm, t.b.y_mm) < std::min(s.a.y_mm, s.b.y_mm);
}

/// True where it is certain: segments that cannot be told apart count as touching.
bool surely_apart(const Segment& s, const Segment& t) {
  return boxes_apart(s, t) || on_one_side(s, t) || on_one_side(t, s);
}

/// The second of two edges that share a corner lies back over the first.
bool folds_back(const Segment& first, const Segment& second) {
  const double along = (first.b.x_mm - first.a.x_mm) * (second.b.x_mm - second.a.x_mm) +
                       (first.b.y_mm - first.a.y_mm) * (second.b.y_mm - second.a.y_mm);
  return along < 0 && turn(first.a, first.b, second.b) == 0;
}

std::vector<Point> without_repeats(const std::vector<Point>& points) {
  std::vector<Point> kept;
  for (const Point& p : points) {
    if (!std::isfinite(p.x_mm) || !std::isfinite(p.y_mm)) {
      throw std::invalid_argument("a polygon's points must be finite");
    }
    if (kept.empty() || kept.back().x_mm != p.x_mm || kept.back().y_mm != p.y_mm) {
      kept.push_back(p);
    }
  }
  while (kept.size() > 1 && kept.front().x_mm == kept.back().x_mm &&
         kept.front().y_mm == kept.back().y_mm) {
    kept.pop_back();
  }
  if (kept.size() < 3) {
    throw std::invalid_argument("a polygon needs three different points");
  }
  return kept;
}

void require_simple(const std::vector<Point>& points) {
  const std::size_t n = points.size();
  const auto edge = [&](std::size_t i) { return Segment{points[i], points[(i + 1) % n]}; };
  for (std::size_t i = 0; i < n; ++i) {
    if (folds_back(edge(i), edge((i + 1) % n))) {
      throw std::invalid_argument("two edges of the polygon lie over each other");
    }
    for (std::size_t j = i + 2; j < n; ++j) {
      const bool neighbours = i == 0 && j == n - 1;
      if (!neighbours && !surely_apart(edge(i), edge(j))) {
        throw std::invalid_argument("two edges of the polygon cross or touch");
      }
    }
  }
}

}  // namespace

Outline polygon(const std::vector<Point>& points) {
  const std::vector<Point> kept = without_repeats(points);
  require_simple(kept);
  Loop loop;
  for (const Point& p : kept) {
    loop.push_back({.from = p});
  }
  Outline outline{{loop}};
  if (area_mm2(outline) < 0) {
    std::reverse(outline.loops.front().begin(), outline.loops.front().end());
  }
  if (!(area_mm2(outline) > 0)) {
    throw std::invalid_argument("the polygon has no area");
  }
  return outline;
}

}  // namespace stackfit::geometry
