// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/mesh_lines.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <map>
#include <numbers>
#include <optional>
#include <set>
#include <utility>
#include <vector>

namespace stackfit::geometry {
namespace {

using std::numbers::pi;

Point operator+(Point a, Point b) {
  return {a.x_mm + b.x_mm, a.y_mm + b.y_mm};
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

Point at(Point a, Point b, double part) {
  return {std::lerp(a.x_mm, b.x_mm, part), std::lerp(a.y_mm, b.y_mm, part)};
}

/// How far along the line from `a` to `b` the nearest place to `p` lies: 0 at a, 1 at b.
double part_along(Point p, Point a, Point b) {
  const double squared = dot(b - a, b - a);
  return squared > 0 ? std::clamp(dot(p - a, b - a) / squared, 0.0, 1.0) : 0.0;
}

/// Points by number, in which what is no farther apart than mesh_snap_mm is the same point.
class PointSet {
 public:
  int add(Point p) {
    if (const std::optional<int> known = find(p)) {
      return *known;
    }
    const int number = static_cast<int>(points_.size());
    points_.push_back(p);
    by_x_.emplace(p.x_mm, number);
    return number;
  }

  /// The points with an x from `low_mm` to `high_mm`, or mesh_snap_mm beyond.
  [[nodiscard]] std::vector<int> between(double low_mm, double high_mm) const {
    std::vector<int> found;
    const auto end = by_x_.upper_bound(high_mm + mesh_snap_mm);
    for (auto it = by_x_.lower_bound(low_mm - mesh_snap_mm); it != end; ++it) {
      found.push_back(it->second);
    }
    return found;
  }

  [[nodiscard]] Point operator[](int number) const {
    return points_[static_cast<std::size_t>(number)];
  }
  [[nodiscard]] const std::vector<Point>& all() const { return points_; }

 private:
  [[nodiscard]] std::optional<int> find(Point p) const {
    const auto end = by_x_.upper_bound(p.x_mm + mesh_snap_mm);
    for (auto it = by_x_.lower_bound(p.x_mm - mesh_snap_mm); it != end; ++it) {
      if (length((*this)[it->second] - p) <= mesh_snap_mm) {
        return it->second;
      }
    }
    return std::nullopt;
  }

  std::vector<Point> points_;
  std::multimap<double, int> by_x_;
};

void add_corners(PointSet& points, const Outline& outline) {
  for (const Loop& loop : outline.loops) {
    for (const Edge& edge : loop) {
      points.add(edge.from);
    }
  }
}

// ---- Arcs into chords --------------------------------------------------------------------

class Arc {
 public:
  Arc(const Edge& edge, Point to, bool whole_circle)
      : centre_(edge.centre),
        start_(edge.from - edge.centre),
        sign_(edge.counterclockwise ? 1 : -1),
        sweep_(whole_circle ? 2 * pi : turn_to(to)) {}

  [[nodiscard]] double sweep() const { return sweep_; }
  [[nodiscard]] double radius() const { return length(start_); }
  [[nodiscard]] Point centre() const { return centre_; }

  /// How far round from the start `p` lies, the way the arc is travelled: 0 to 2 pi.
  [[nodiscard]] double turn_to(Point p) const {
    const Point ray = p - centre_;
    const double turn = sign_ * std::atan2(cross(start_, ray), dot(start_, ray));
    return turn >= 0 ? turn : turn + 2 * pi;
  }

  [[nodiscard]] Point at(double turn) const {
    const double c = std::cos(turn);
    const double s = sign_ * std::sin(turn);
    return centre_ + Point{c * start_.x_mm - s * start_.y_mm, s * start_.x_mm + c * start_.y_mm};
  }

  [[nodiscard]] bool passes(Point p) const {
    const double travelled = turn_to(p) * radius();
    return std::abs(length(p - centre_) - radius()) <= mesh_snap_mm && travelled > mesh_snap_mm &&
           travelled < sweep_ * radius() - mesh_snap_mm;
  }

 private:
  Point centre_;
  Point start_;
  double sign_;
  double sweep_;
};

struct Stop {
  double turn = 0;
  int point = 0;
};

/// The arc's ends, and every corner and asked point of the request that it passes: two arcs that
/// run along each other are then cut alike where they do.
std::vector<Stop> stops_of(const Arc& arc, const Line& line, const PointSet& corners) {
  std::vector<Stop> stops;
  const double x = arc.centre().x_mm;
  for (const int i : corners.between(x - arc.radius(), x + arc.radius())) {
    if (i != line.from && i != line.to && arc.passes(corners[i])) {
      stops.push_back({arc.turn_to(corners[i]), i});
    }
  }
  std::sort(stops.begin(), stops.end(), [](Stop a, Stop b) { return a.turn < b.turn; });
  stops.insert(stops.begin(), {0, line.from});
  stops.push_back({arc.sweep(), line.to});
  return stops;
}

class ChordCutter {
 public:
  /// `points` holds the corners and the asked points, and takes up the chords' ends.
  ChordCutter(PointSet& points, double greatest_edge_mm)
      : points_(points), corners_(points), greatest_edge_mm_(greatest_edge_mm) {}

  std::vector<Line> lines_of(const Outline& outline) {
    std::vector<Line> lines;
    int number = 0;
    for (const Loop& loop : outline.loops) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const Point to = loop[(i + 1) % loop.size()].from;
        const Line line{points_.add(loop[i].from), points_.add(to), number++};
        if (!loop[i].is_arc) {
          lines.push_back(line);
        } else if (line.from != line.to || loop.size() == 1) {
          add_chords(lines, Arc(loop[i], to, loop.size() == 1), line);
        }
      }
    }
    return lines;
  }

 private:
  void add_chords(std::vector<Line>& lines, const Arc& arc, const Line& line) {
    const std::vector<Stop> stops = stops_of(arc, line, corners_);
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
      const double turn = stops[i + 1].turn - stops[i].turn;
      const int count = chords(turn, arc.radius());
      int from = stops[i].point;
      for (int k = 1; k < count; ++k) {
        const int to = points_.add(arc.at(stops[i].turn + turn * k / count));
        lines.push_back({from, to, line.edge});
        from = to;
      }
      lines.push_back({from, stops[i + 1].point, line.edge});
    }
  }

  [[nodiscard]] int chords(double turn, double radius_mm) const {
    constexpr double rounding = 1e-9;  // a quarter of a circle is three chords, not just over
    const double by_angle = turn / (greatest_chord_angle_deg * pi / 180);
    const double by_length = turn * radius_mm / greatest_edge_mm_;
    return std::max(1, static_cast<int>(std::ceil(std::max(by_angle, by_length) - rounding)));
  }

  PointSet& points_;
  const PointSet corners_;
  double greatest_edge_mm_;
};

// ---- Cutting lines where they meet -------------------------------------------------------

struct Piece {
  Line line;
  std::size_t owner = 0;     ///< 0: the outline; k + 1: patch k; after the patches: asked lines
  std::vector<int> crossed;  ///< points at which other lines cross it
};

bool cross_each_other(Point a, Point b, Point c, Point d) {
  const bool c_left = cross(b - a, c - a) > 0;
  const bool d_left = cross(b - a, d - a) > 0;
  const bool a_left = cross(d - c, a - c) > 0;
  const bool b_left = cross(d - c, b - c) > 0;
  return c_left != d_left && a_left != b_left;
}

Point crossing(Point a, Point b, Point c, Point d) {
  const double a_side = cross(d - c, a - c);
  const double b_side = cross(d - c, b - c);
  return at(a, b, a_side / (a_side - b_side));
}

/// Cuts both lines where they cross. Where the end of one nearly lies on the other, that end is
/// the place.
void cut_at_crossing(Piece& p, Piece& q, PointSet& points) {
  const Point a = points[p.line.from];
  const Point b = points[p.line.to];
  const Point c = points[q.line.from];
  const Point d = points[q.line.to];
  const bool share_an_end = p.line.from == q.line.from || p.line.from == q.line.to ||
                            p.line.to == q.line.from || p.line.to == q.line.to;
  if (share_an_end || !cross_each_other(a, b, c, d)) {
    return;
  }
  struct End {
    double off_mm;
    int point;
    Piece* cuts;
  };
  const End ends[] = {{distance_to_line_mm(a, c, d), p.line.from, &q},
                      {distance_to_line_mm(b, c, d), p.line.to, &q},
                      {distance_to_line_mm(c, a, b), q.line.from, &p},
                      {distance_to_line_mm(d, a, b), q.line.to, &p}};
  const End& nearest = *std::min_element(std::begin(ends), std::end(ends),
                                         [](End x, End y) { return x.off_mm < y.off_mm; });
  if (nearest.off_mm <= mesh_snap_mm) {
    nearest.cuts->crossed.push_back(nearest.point);
    return;
  }
  const int place = points.add(crossing(a, b, c, d));
  p.crossed.push_back(place);
  q.crossed.push_back(place);
}

void find_crossings(std::vector<Piece>& pieces, PointSet& points) {
  struct Extent {
    double low_mm;
    double high_mm;
    Piece* piece;
  };
  std::vector<Extent> extents;
  for (Piece& piece : pieces) {
    const auto [low, high] =
        std::minmax({points[piece.line.from].x_mm, points[piece.line.to].x_mm});
    extents.push_back({low, high, &piece});
  }
  std::stable_sort(extents.begin(), extents.end(),
                   [](const Extent& a, const Extent& b) { return a.low_mm < b.low_mm; });
  for (auto a = extents.begin(); a != extents.end(); ++a) {
    for (auto b = std::next(a); b != extents.end() && b->low_mm <= a->high_mm; ++b) {
      cut_at_crossing(*a->piece, *b->piece, points);
    }
  }
}

/// Does `p` lie on the line, and cut it into shorter ones? Among points a snap apart, lines would
/// else be cut round and round.
bool cuts(Point p, Point a, Point b) {
  return distance_to_line_mm(p, a, b) <= mesh_snap_mm &&
         std::max(length(p - a), length(p - b)) < length(b - a);
}

/// The line in parts, from each point that lies on it or at which it is crossed to the next.
void add_parts(std::vector<Piece>& parts, const Piece& piece, const PointSet& points) {
  const auto& [line, owner, crossed] = piece;
  const Point a = points[line.from];
  const Point b = points[line.to];
  std::set<std::pair<double, int>> stops;
  for (const int i : points.between(std::min(a.x_mm, b.x_mm), std::max(a.x_mm, b.x_mm))) {
    if (cuts(points[i], a, b)) {
      stops.emplace(part_along(points[i], a, b), i);
    }
  }
  for (const int i : crossed) {
    stops.emplace(part_along(points[i], a, b), i);
  }
  int from = line.from;
  const auto go_to = [&](int to) {
    if (from != to) {
      parts.push_back({{from, to, line.edge}, owner, {}});
    }
    from = to;
  };
  for (const auto& [part, i] : stops) {
    go_to(i);
  }
  go_to(line.to);
}

/// A line that bends to meet a point may come to lie on the next one: again, until none does.
void cut_where_they_meet(std::vector<Piece>& pieces, PointSet& points) {
  constexpr int most_rounds = 20;  // two or three do, but where many points lie a snap apart
  std::size_t before = 0;
  for (int round = 0; round < most_rounds && before != pieces.size(); ++round) {
    before = pieces.size();
    find_crossings(pieces, points);
    std::vector<Piece> parts;
    for (const Piece& piece : pieces) {
      add_parts(parts, piece, points);
    }
    pieces = std::move(parts);
  }
}

void add_pieces(std::vector<Piece>& pieces, const std::vector<Line>& lines, std::size_t owner) {
  for (const Line& line : lines) {
    pieces.push_back({line, owner, {}});
  }
}

}  // namespace

double distance_to_line_mm(Point p, Point a, Point b) {
  return length(p - at(a, b, part_along(p, a, b)));
}

bool inside(const LineWeb& web, const std::vector<Line>& lines, Point p) {
  bool odd = false;
  for (const Line& line : lines) {
    const Point a = web.at(line.from) - p;
    const Point b = web.at(line.to) - p;
    // A ray from p towards greater x; a line's upper end counts, its lower one does not.
    if ((a.y_mm > 0) != (b.y_mm > 0) && (cross(a, b) > 0) == (b.y_mm > a.y_mm)) {
      odd = !odd;
    }
  }
  return odd;
}

LineWeb web_of(const MeshRequest& request) {
  LineWeb web;
  PointSet points;
  for (const Point p : request.points) {
    web.asked.push_back(points.add(p));
  }
  add_corners(points, request.outline);
  for (const Outline& patch : request.patches) {
    add_corners(points, patch);
  }
  std::vector<Line> asked_lines;
  for (const auto& [from, to] : request.lines) {
    asked_lines.push_back({points.add(from), points.add(to), 0});
  }
  ChordCutter cutter(points, request.greatest_edge_mm);
  std::vector<Piece> pieces;
  add_pieces(pieces, cutter.lines_of(request.outline), 0);
  for (std::size_t k = 0; k < request.patches.size(); ++k) {
    add_pieces(pieces, cutter.lines_of(request.patches[k]), k + 1);
  }
  const std::size_t patches = request.patches.size();
  add_pieces(pieces, asked_lines, patches + 1);
  cut_where_they_meet(pieces, points);
  web.patches.resize(patches);
  for (const Piece& piece : pieces) {
    (piece.owner == 0         ? web.outline
     : piece.owner <= patches ? web.patches[piece.owner - 1]
                              : web.asked_lines)
        .push_back(piece.line);
  }
  web.points = points.all();
  return web;
}

}  // namespace stackfit::geometry
