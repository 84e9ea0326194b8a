// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/outline.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace stackfit::geometry {
namespace {

/// Integrals over the region of 1, x, y, x^2 and y^2 about some point.
struct Moments {
  double area = 0;
  double x = 0;
  double y = 0;
  double xx = 0;
  double yy = 0;
};

Moments operator+(const Moments& a, const Moments& b) {
  return {a.area + b.area, a.x + b.x, a.y + b.y, a.xx + b.xx, a.yy + b.yy};
}

Point operator-(Point a, Point b) {
  return {a.x_mm - b.x_mm, a.y_mm - b.y_mm};
}

double cross(Point a, Point b) {
  return a.x_mm * b.y_mm - a.y_mm * b.x_mm;
}

double dot(Point a, Point b) {
  return a.x_mm * b.x_mm + a.y_mm * b.y_mm;
}

double length(Point a) {
  return std::hypot(a.x_mm, a.y_mm);
}

bool same(Point a, Point b) {
  return a.x_mm == b.x_mm && a.y_mm == b.y_mm;
}

bool finite(Point a) {
  return std::isfinite(a.x_mm) && std::isfinite(a.y_mm);
}

Point end_of(const Loop& loop, std::size_t edge) {
  return loop[(edge + 1) % loop.size()].from;
}

struct Arc {
  double radius = 0;
  double sweep = 0;      ///< radians, positive counterclockwise
  double direction = 0;  ///< of the arc's middle, seen from its centre
};

Arc arc_of(const Edge& edge, Point to) {
  const Point start = edge.from - edge.centre;
  const Point end = to - edge.centre;
  double sweep = std::atan2(cross(start, end), dot(start, end));
  if (edge.counterclockwise && sweep <= 0) {
    sweep += 2 * std::numbers::pi;
  } else if (!edge.counterclockwise && sweep >= 0) {
    sweep -= 2 * std::numbers::pi;
  }
  return {(length(start) + length(end)) / 2, sweep, std::atan2(start.y_mm, start.x_mm) + sweep / 2};
}

/// The triangle from the origin to a chord, counterclockwise positive (Green's theorem).
Moments under_chord(Point p, Point q) {
  const double twice_area = cross(p, q);
  return {twice_area / 2, twice_area * (p.x_mm + q.x_mm) / 6, twice_area * (p.y_mm + q.y_mm) / 6,
          twice_area * (p.x_mm * p.x_mm + p.x_mm * q.x_mm + q.x_mm * q.x_mm) / 12,
          twice_area * (p.y_mm * p.y_mm + p.y_mm * q.y_mm + q.y_mm * q.y_mm) / 12};
}

/// The piece of a disc between an arc and its chord, negative for a clockwise arc: a sector
/// less the triangle under it, first along the arc's own axes (u through its middle, v across).
Moments between_chord_and_arc(const Arc& arc, Point centre) {
  const double half = arc.sweep / 2;
  const double s = std::sin(half);
  const double c = std::cos(half);
  const double r2 = arc.radius * arc.radius;
  const double area = r2 * (half - s * c);
  const double u = 2.0 / 3.0 * r2 * arc.radius * s * s * s;
  const double uu = r2 * r2 / 4 * (half + s * c - 2 * s * c * c * c);
  const double vv = r2 * r2 / 4 * (half - s * c - 2.0 / 3.0 * s * s * s * c);
  const double cx = std::cos(arc.direction);
  const double cy = std::sin(arc.direction);
  const double x0 = centre.x_mm;
  const double y0 = centre.y_mm;
  return {area, x0 * area + cx * u, y0 * area + cy * u,
          x0 * x0 * area + 2 * x0 * cx * u + cx * cx * uu + cy * cy * vv,
          y0 * y0 * area + 2 * y0 * cy * u + cy * cy * uu + cx * cx * vv};
}

Moments moments_about(const Outline& outline, Point origin) {
  Moments sum;
  for (const Loop& loop : outline.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Point to = end_of(loop, i);
      sum = sum + under_chord(loop[i].from - origin, to - origin);
      if (loop[i].is_arc) {
        sum = sum + between_chord_and_arc(arc_of(loop[i], to), loop[i].centre - origin);
      }
    }
  }
  return sum;
}

/// The middle of the box round all points: integrals about it lose no digits to a distant origin.
Point middle_of(const Outline& outline) {
  constexpr double far = std::numeric_limits<double>::infinity();
  Point low{far, far};
  Point high{-far, -far};
  for (const Loop& loop : outline.loops) {
    for (const Edge& edge : loop) {
      low = {std::min(low.x_mm, edge.from.x_mm), std::min(low.y_mm, edge.from.y_mm)};
      high = {std::max(high.x_mm, edge.from.x_mm), std::max(high.y_mm, edge.from.y_mm)};
    }
  }
  return {(low.x_mm + high.x_mm) / 2, (low.y_mm + high.y_mm) / 2};
}

void require_size(const RectangleSize& size) {
  const double shorter = std::min(size.width_mm, size.height_mm);
  if (!(shorter > 0) || !std::isfinite(size.width_mm) || !std::isfinite(size.height_mm)) {
    throw std::invalid_argument("a rectangle needs a width and a height above zero");
  }
  if (!(size.corner_radius_mm >= 0 && size.corner_radius_mm <= shorter / 2)) {
    throw std::invalid_argument("a corner radius is from zero to half the shorter side");
  }
}

/// One corner of a rectangle: where the straight edge before it ends, and the next one starts.
struct Corner {
  Point start;
  Point end;
  Point centre;
};

/// Adds a corner's arc and the straight edge that leads on to `next`.
void add_corner(Loop& loop, const Corner& corner, Point next) {
  if (!same(corner.start, corner.end)) {
    loop.push_back({.from = corner.start, .is_arc = true, .centre = corner.centre});
  }
  if (!same(corner.end, next)) {
    loop.push_back({.from = corner.end});
  }
}

}  // namespace

Outline rounded_rectangle(const RectangleSize& size, Point centre) {
  require_size(size);
  if (!finite(centre)) {
    throw std::invalid_argument("a rectangle's centre must be finite");
  }
  const double x = size.width_mm / 2;
  const double y = size.height_mm / 2;
  // A corner rounder than it can be told from a sharp one, or none.
  const double reach = std::max(std::abs(centre.x_mm) + x, std::abs(centre.y_mm) + y);
  const double radius =
      size.corner_radius_mm > set_operation_position_error * reach ? size.corner_radius_mm : 0;
  // From the middle outwards, so that a radius of exactly half a side leaves no straight edge.
  const double xi = x - radius;
  const double yi = y - radius;
  const auto at = [&](double dx, double dy) { return Point{centre.x_mm + dx, centre.y_mm + dy}; };
  const Corner corners[] = {{at(xi, -y), at(x, -yi), at(xi, -yi)},
                            {at(x, yi), at(xi, y), at(xi, yi)},
                            {at(-xi, y), at(-x, yi), at(-xi, yi)},
                            {at(-x, -yi), at(-xi, -y), at(-xi, -yi)}};
  Loop loop;
  for (std::size_t i = 0; i < std::size(corners); ++i) {
    add_corner(loop, corners[i], corners[(i + 1) % std::size(corners)].start);
  }
  return {{loop}};
}

double area_mm2(const Outline& outline) {
  return moments_about(outline, middle_of(outline)).area;
}

double perimeter_mm(const Outline& outline) {
  double sum = 0;
  for (const Loop& loop : outline.loops) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Point to = end_of(loop, i);
      if (loop[i].is_arc) {
        const Arc arc = arc_of(loop[i], to);
        sum += arc.radius * std::abs(arc.sweep);
      } else {
        sum += length(to - loop[i].from);
      }
    }
  }
  return sum;
}

Point centroid_mm(const Outline& outline) {
  const Point origin = middle_of(outline);
  const Moments m = moments_about(outline, origin);
  if (!(m.area > 0)) {
    throw std::invalid_argument("an outline without area has no centroid");
  }
  return {origin.x_mm + m.x / m.area, origin.y_mm + m.y / m.area};
}

SecondMoments second_moments_mm4(const Outline& outline) {
  const Moments m = moments_about(outline, centroid_mm(outline));
  return {.ixx_mm4 = m.yy, .iyy_mm4 = m.xx};
}

bool identical(const Outline& a, const Outline& b) {
  const auto same_edge = [](const Edge& x, const Edge& y) {
    return x.from.x_mm == y.from.x_mm && x.from.y_mm == y.from.y_mm && x.is_arc == y.is_arc &&
           (!x.is_arc || (x.centre.x_mm == y.centre.x_mm && x.centre.y_mm == y.centre.y_mm &&
                          x.counterclockwise == y.counterclockwise));
  };
  return std::equal(a.loops.begin(), a.loops.end(), b.loops.begin(), b.loops.end(),
                    [&](const Loop& x, const Loop& y) {
                      return std::equal(x.begin(), x.end(), y.begin(), y.end(), same_edge);
                    });
}

}  // namespace stackfit::geometry
