// SPDX-License-Identifier: GPL-3.0-or-later
//
// Set operations on outlines, carried out in exact arithmetic; only their results are rounded.
//
// Where set_operation_position_error comes from, in units of eps = 2^-52 times the reach:
//  - An arc given in doubles does not quite end on its circle. Its centre is moved along the
//    chord until it does, which moves the arc by no more than the ends differed: at most 8.
//  - A corner a + b sqrt(c) of a result is put together from two rounded numbers, a and
//    b sqrt(c) being no larger than twice the reach: at most 10 along each axis, 15 together.
//  - Corners nearer than `weld`, 32, are made one, loops narrower than that are left out, and arcs
//    of half that radius or less become straight: one of these at any place.
// Together 55, and 2^-46 is 64.
#include <CGAL/Exact_rational.h>
#include <CGAL/General_polygon_set_2.h>
#include <CGAL/Gps_circle_segment_traits_2.h>
#include <CGAL/Simple_cartesian.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <limits>
#include <list>
#include <stdexcept>
#include <utility>
#include <vector>

#include "geometry/outline.hpp"

namespace stackfit::geometry {
namespace {

using Rational = CGAL::Exact_rational;
using Kernel = CGAL::Simple_cartesian<Rational>;
using Traits = CGAL::Gps_circle_segment_traits_2<Kernel>;
using PolygonSet = CGAL::General_polygon_set_2<Traits>;
using Polygon = Traits::Polygon_2;
using PolygonWithHoles = Traits::Polygon_with_holes_2;
using Curve = Traits::X_monotone_curve_2;
using Corner = Traits::Point_2;
using Coordinate = Traits::CoordNT;
using ExactPoint = Kernel::Point_2;

/// Ends of an arc may differ in their distance from its centre by rounding, not by more: a part of
/// the radius, or what three rounded points come to, as a part of their reach.
constexpr double arc_mismatch = 1e-9;
constexpr double arc_rounding = 8 * std::numeric_limits<double>::epsilon();

double reach_mm(const Outline& outline) {
  double reach = 0;
  const auto include = [&reach](Point p) {
    reach = std::max({reach, std::abs(p.x_mm), std::abs(p.y_mm)});
  };
  for (const Loop& loop : outline.loops) {
    for (const Edge& edge : loop) {
      include(edge.from);
      if (edge.is_arc) {
        include(edge.centre);
      }
    }
  }
  return reach;
}

double reach_mm(const Outline& a, const Outline& b) {
  return std::max(reach_mm(a), reach_mm(b));
}

// ---- From doubles to exact curves ------------------------------------------------------

ExactPoint exact(Point p) {
  return {Rational(p.x_mm), Rational(p.y_mm)};
}

void require_arc(const Edge& edge, Point to) {
  const double start =
      std::hypot(edge.from.x_mm - edge.centre.x_mm, edge.from.y_mm - edge.centre.y_mm);
  const double end = std::hypot(to.x_mm - edge.centre.x_mm, to.y_mm - edge.centre.y_mm);
  const double reach = reach_mm(Outline{{{edge, {.from = to}}}});
  const double mismatch = std::max(arc_mismatch * start, arc_rounding * reach);
  if (!(start > 0) || !(std::abs(start - end) <= mismatch)) {
    throw std::invalid_argument("an arc's ends are not equally far from its centre");
  }
}

/// The circle through both ends whose centre is nearest to the one given.
Kernel::Circle_2 circle_through(const ExactPoint& p, const ExactPoint& q,
                                const ExactPoint& centre) {
  if (p == q) {
    return {centre, CGAL::squared_distance(centre, p)};
  }
  const Kernel::Vector_2 chord = q - p;
  const Rational off = ((CGAL::midpoint(p, q) - centre) * chord) / chord.squared_length();
  const ExactPoint on_bisector = centre + off * chord;
  return {on_bisector, CGAL::squared_distance(on_bisector, p)};
}

/// Where a counterclockwise arc turns back in x: an edge of a polygon must not.
class TurningPoints {
 public:
  explicit TurningPoints(const Kernel::Circle_2& circle)
      : centre_(circle.center()), squared_radius_(circle.squared_radius()) {}

  /// The arc's ends and the turning points between them, in order.
  std::vector<Corner> along(const ExactPoint& from, const ExactPoint& to) const {
    bool upper = from.y() > centre_.y() || (from.y() == centre_.y() && from.x() > centre_.x());
    const bool ends_upper = to.y() > centre_.y() || (to.y() == centre_.y() && to.x() < centre_.x());
    const bool ahead = upper ? to.x() < from.x() : to.x() > from.x();
    int turns = upper != ends_upper ? 1 : (ahead ? 0 : 2);
    std::vector<Corner> stops{Corner(from.x(), from.y())};
    for (; turns > 0; --turns) {
      stops.push_back(upper ? leftmost() : rightmost());
      upper = !upper;
    }
    stops.emplace_back(to.x(), to.y());
    return stops;
  }

 private:
  Corner leftmost() const { return at(-1); }
  Corner rightmost() const { return at(1); }
  Corner at(int side) const {
    return {Coordinate(centre_.x(), Rational(side), squared_radius_), Coordinate(centre_.y())};
  }

  ExactPoint centre_;
  Rational squared_radius_;
};

void append_arc(Polygon& polygon, const Edge& edge, Point to) {
  require_arc(edge, to);
  const ExactPoint p = exact(edge.from);
  const ExactPoint q = exact(to);
  const Kernel::Circle_2 circle = circle_through(p, q, exact(edge.centre));
  const TurningPoints turning(circle);
  std::vector<Corner> stops = edge.counterclockwise ? turning.along(p, q) : turning.along(q, p);
  if (!edge.counterclockwise) {
    std::reverse(stops.begin(), stops.end());
  }
  for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
    polygon.push_back(Curve(circle, stops[i], stops[i + 1],
                            edge.counterclockwise ? CGAL::COUNTERCLOCKWISE : CGAL::CLOCKWISE));
  }
}

Polygon exact_polygon(const Loop& loop) {
  Polygon polygon;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Point to = loop[(i + 1) % loop.size()].from;
    if (loop[i].is_arc) {
      append_arc(polygon, loop[i], to);
    } else {
      polygon.push_back(Curve(exact(loop[i].from), exact(to)));
    }
  }
  if (polygon.orientation() == CGAL::CLOCKWISE) {
    polygon.reverse_orientation();
  }
  return polygon;
}

/// Loops do not cross, so taking each in turn as "inside becomes outside" gives outer
/// boundaries, holes, and islands in holes, whatever their order.
PolygonSet exact_set(const Outline& outline) {
  PolygonSet set;
  for (const Loop& loop : outline.loops) {
    set.symmetric_difference(exact_polygon(loop));
  }
  return set;
}

// ---- And back --------------------------------------------------------------------------

/// a + b sqrt(c). Of nearly equal circles b or c alone may be beyond what a double holds; b^2 c is
/// a length squared.
double rounded(const Coordinate& c) {
  const double rational = CGAL::to_double(c.a0());
  if (!c.is_extended()) {
    return rational;
  }
  const double root = std::sqrt(CGAL::to_double(Rational(c.a1() * c.a1() * c.root())));
  return c.a1() < 0 ? rational - root : rational + root;
}

Point rounded(const Corner& corner) {
  return {rounded(corner.x()), rounded(corner.y())};
}

Edge rounded(const Curve& curve) {
  Edge edge{.from = rounded(curve.source())};
  if (curve.is_circular()) {
    const ExactPoint centre = curve.supporting_circle().center();
    edge.is_arc = true;
    edge.centre = {CGAL::to_double(centre.x()), CGAL::to_double(centre.y())};
    edge.counterclockwise = curve.orientation() == CGAL::COUNTERCLOCKWISE;
  }
  return edge;
}

Loop rounded(const Polygon& polygon) {
  Loop loop;
  for (auto curve = polygon.curves_begin(); curve != polygon.curves_end(); ++curve) {
    loop.push_back(rounded(*curve));
  }
  return loop;
}

/// Without the edges whose ends rounding has brought together: what is left of such an arc has
/// no direction, and would read as a full circle.
Loop welded(const Loop& loop, double weld_mm) {
  Loop kept;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Point from = loop[i].from;
    const Point to = loop[(i + 1) % loop.size()].from;
    if (std::hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm) > weld_mm) {
      kept.push_back(loop[i]);
    }
  }
  return kept;
}

/// Where a region touches itself at a corner its boundary comes in one piece, which goes through
/// that corner twice and which no set operation would take again: cut there into several.
std::vector<Loop> simple_loops(const Loop& loop, double weld_mm) {
  std::vector<Loop> loops;
  Loop open;
  for (Edge edge : loop) {
    const auto before = std::find_if(open.begin(), open.end(), [&](const Edge& other) {
      return std::hypot(other.from.x_mm - edge.from.x_mm, other.from.y_mm - edge.from.y_mm) <=
             weld_mm;
    });
    if (before != open.end()) {
      edge.from = before->from;
      loops.emplace_back(before, open.end());
      open.erase(before, open.end());
    }
    open.push_back(edge);
  }
  loops.push_back(std::move(open));
  return loops;
}

/// As far from one end as from the other again, after both were rounded. An arc too small to
/// have a radius becomes straight.
void settle_arc(Edge& edge, Point to, double weld_mm) {
  const Point chord{to.x_mm - edge.from.x_mm, to.y_mm - edge.from.y_mm};
  const double squared = chord.x_mm * chord.x_mm + chord.y_mm * chord.y_mm;
  // From the chord's middle to the centre, of which only the part across the chord is kept.
  const Point out{edge.centre.x_mm - (edge.from.x_mm + chord.x_mm / 2),
                  edge.centre.y_mm - (edge.from.y_mm + chord.y_mm / 2)};
  const double along = (out.x_mm * chord.x_mm + out.y_mm * chord.y_mm) / squared;
  edge.centre.x_mm -= along * chord.x_mm;
  edge.centre.y_mm -= along * chord.y_mm;
  edge.is_arc = std::hypot(edge.from.x_mm - edge.centre.x_mm, edge.from.y_mm - edge.centre.y_mm) >
                weld_mm / 2;
}

void settle_arcs(Loop& loop, double weld_mm) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    if (loop[i].is_arc) {
      settle_arc(loop[i], loop[(i + 1) % loop.size()].from, weld_mm);
    }
  }
}

void add_loop(Outline& outline, const Polygon& polygon, double weld_mm) {
  for (Loop& loop : simple_loops(welded(rounded(polygon), weld_mm), weld_mm)) {
    if (loop.size() < 2) {
      continue;
    }
    settle_arcs(loop, weld_mm);
    const Outline alone{{loop}};
    // A loop of width w has about half its perimeter times w of area.
    if (std::abs(area_mm2(alone)) > weld_mm * perimeter_mm(alone) / 2) {
      outline.loops.push_back(std::move(loop));
    }
  }
}

Outline rounded(const PolygonSet& set, double weld_mm) {
  std::list<PolygonWithHoles> parts;
  set.polygons_with_holes(std::back_inserter(parts));
  Outline outline;
  for (const PolygonWithHoles& part : parts) {
    add_loop(outline, part.outer_boundary(), weld_mm);
    for (auto hole = part.holes_begin(); hole != part.holes_end(); ++hole) {
      add_loop(outline, *hole, weld_mm);
    }
  }
  return outline;
}

double weld_mm(const Outline& a, const Outline& b) {
  return set_operation_position_error / 2 * reach_mm(a, b);
}

}  // namespace

Outline intersection(const Outline& a, const Outline& b) {
  PolygonSet set = exact_set(a);
  set.intersection(exact_set(b));
  return rounded(set, weld_mm(a, b));
}

Outline difference(const Outline& a, const Outline& b) {
  PolygonSet set = exact_set(a);
  set.difference(exact_set(b));
  return rounded(set, weld_mm(a, b));
}

double area_error_mm2(const Outline& a, const Outline& b) {
  return set_operation_position_error * reach_mm(a, b) * (perimeter_mm(a) + perimeter_mm(b));
}

}  // namespace stackfit::geometry
