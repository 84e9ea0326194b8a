// SPDX-License-Identifier: GPL-3.0-or-later
//
// A rounded body that keeps a clear distance c from a bend is a body rounded by r + c that may
// touch it; and that stands in a corner of radius R exactly where a sharp-edged one, moved out by
// its radius, stands in a corner of radius R - r - c (both sides eroded by the disc r + c). So one
// formula serves all: the sharp edge at (g, h) lies on or inside the circle of the bend,
//   (R - g)^2 + (R - h)^2 <= R^2,   for g = h:  h = R (1 - 1 / sqrt 2).
#include "geometry/section_fit.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <stdexcept>

namespace stackfit::geometry {
namespace {

/// How much further from the corner than a sharp edge a rounded one stays, per mm of its radius,
/// in the sum of its distances from both walls: the support of a disc along the diagonal.
constexpr double round_edge_gain = 2 - std::numbers::sqrt2;

void require(bool holds, const char* message) {
  if (!holds) {
    throw std::invalid_argument(message);
  }
}

bool not_negative(double figure) {
  return std::isfinite(figure) && figure >= 0;
}

void require_fill(const CornerFill& fill) {
  require(not_negative(fill.bend_mm) && not_negative(fill.bead_mm),
          "a bend's radius and a bead's leg are from zero up");
}

void require_body(const BodyCorner& body) {
  require(not_negative(body.radius_mm) && not_negative(body.clear_mm),
          "an edge's radius and its clear distance are from zero up");
}

/// The part of a distance from a wall beyond the clear distance.
double beyond_clear(double off_mm, const BodyCorner& body) {
  require(not_negative(off_mm), "a distance from a wall is from zero up");
  require(off_mm >= body.clear_mm, "the body stands nearer to a wall than it must keep clear");
  return off_mm - body.clear_mm;
}

double bend_standoff(double radius, double other) {
  if (other >= radius) {
    return 0;
  }
  return radius - std::sqrt(other * (2 * radius - other));
}

/// The rectangle with a bend of its own in the lower and the upper corners.
Outline bent_rectangle(const Hollow& h) {
  Loop loop;
  const auto corner = [&](Point tip, double radius, Point before, Point after) {
    const auto towards = [&](Point d) {
      return Point{tip.x_mm + radius * d.x_mm, tip.y_mm + radius * d.y_mm};
    };
    if (radius > 0) {
      const Point centre = towards({before.x_mm + after.x_mm, before.y_mm + after.y_mm});
      loop.push_back({.from = towards(before), .is_arc = true, .centre = centre});
    }
    loop.push_back({.from = towards(after)});
  };
  const double w = h.width_mm;
  const double t = h.height_mm;
  corner({0, 0}, h.lower.bend_mm, {0, 1}, {1, 0});
  corner({w, 0}, h.lower.bend_mm, {-1, 0}, {0, 1});
  corner({w, t}, h.upper.bend_mm, {0, -1}, {-1, 0});
  corner({0, t}, h.upper.bend_mm, {1, 0}, {0, -1});
  // Bends of half a side meet and leave no straight edge between them.
  Loop kept;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Point next = loop[(i + 1) % loop.size()].from;
    if (loop[i].from.x_mm != next.x_mm || loop[i].from.y_mm != next.y_mm) {
      kept.push_back(loop[i]);
    }
  }
  return {{kept}};
}

void cut_bead(Outline& outline, const Hollow& h, bool right, bool upper) {
  const double leg = upper ? h.upper.bead_mm : h.lower.bead_mm;
  if (leg == 0) {
    return;
  }
  const double x = right ? h.width_mm : 0;
  const double y = upper ? h.height_mm : 0;
  const Outline bead = polygon({{x, y}, {right ? x - leg : leg, y}, {x, upper ? y - leg : leg}});
  outline = difference(outline, bead);
}

Outline head_outline(const Hollow& h, const WallHead& head) {
  const bool upright = head.wall == HollowWall::left || head.wall == HollowWall::right;
  const double along = upright ? h.height_mm : h.width_mm;
  const double across = upright ? h.width_mm : h.height_mm;
  require(head.from_mm >= 0 && head.to_mm > head.from_mm && head.to_mm <= along,
          "a head lies on its wall");
  require(head.stands_mm > 0 && head.stands_mm < across, "a head stands into the hollow");
  const bool far = head.wall == HollowWall::right || head.wall == HollowWall::upper;
  const double near = far ? across - head.stands_mm : 0;
  const double end = far ? across : head.stands_mm;
  return upright ? polygon({{near, head.from_mm},
                            {end, head.from_mm},
                            {end, head.to_mm},
                            {near, head.to_mm}})
                 : polygon({{head.from_mm, near},
                            {head.to_mm, near},
                            {head.to_mm, end},
                            {head.from_mm, end}});
}

}  // namespace

Outline hollow_outline(const Hollow& hollow) {
  const double shorter = std::min(hollow.width_mm, hollow.height_mm);
  require(std::isfinite(hollow.width_mm) && std::isfinite(hollow.height_mm) && shorter > 0,
          "a hollow needs a width and a height above zero");
  for (const CornerFill& fill : {hollow.lower, hollow.upper}) {
    require_fill(fill);
    require(std::max(fill.bend_mm, fill.bead_mm) <= shorter / 2,
            "what fills a corner is at most half the shorter side");
  }
  Outline outline = bent_rectangle(hollow);
  for (const bool upper : {false, true}) {
    for (const bool right : {false, true}) {
      cut_bead(outline, hollow, right, upper);
    }
  }
  for (const WallHead& head : hollow.heads) {
    outline = difference(outline, head_outline(hollow, head));
  }
  return outline;
}

bool stands_inside(const Outline& body, const Outline& hollow) {
  return difference(body, hollow).loops.empty();
}

double least_standoff_mm(const CornerFill& fill, double other_mm, const BodyCorner& body) {
  require_fill(fill);
  require_body(body);
  const double other = beyond_clear(other_mm, body);
  const double rounding = body.radius_mm + body.clear_mm;
  const double bend = bend_standoff(std::max(0.0, fill.bend_mm - rounding), other);
  const double bead = fill.bead_mm - other - round_edge_gain * rounding;
  return body.clear_mm + std::max({0.0, bend, bead});
}

double greatest_bend_mm(const CornerDistances& off, const BodyCorner& body) {
  require_body(body);
  const double g = beyond_clear(off.one_mm, body);
  const double h = beyond_clear(off.other_mm, body);
  // The larger root of (R - g)^2 + (R - h)^2 = R^2.
  return body.radius_mm + body.clear_mm + g + h + std::sqrt(2 * g * h);
}

double greatest_bead_mm(const CornerDistances& off, const BodyCorner& body) {
  require_body(body);
  return beyond_clear(off.one_mm, body) + beyond_clear(off.other_mm, body) +
         round_edge_gain * (body.radius_mm + body.clear_mm);
}

}  // namespace stackfit::geometry
