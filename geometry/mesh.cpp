// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/mesh.hpp"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Delaunay_mesh_face_base_2.h>
#include <CGAL/Delaunay_mesh_size_criteria_2.h>
#include <CGAL/Delaunay_mesher_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_data_structure_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <numbers>
#include <numeric>
#include <set>
#include <stdexcept>
#include <unordered_map>
#include <utility>
#include <vector>

#include "geometry/mesh_lines.hpp"

namespace stackfit::geometry {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;

// ---- Narrow places -----------------------------------------------------------------------
//
// A mesher for a least angle alone fills a strip between two boundaries with triangles of the
// strip's own width. Here an edge counts as narrow when it is no longer than narrow_part_of_edge of
// the greatest, and two rules keep such a strip cheap:
//  (a) a boundary edge that is narrow is not split, however near another corner comes;
//  (b) a triangle with a narrow edge is not refined for its angle.
// Refinement stays sound: a new point is the centre of the circle round a triangle without narrow
// edges, so nothing lies nearer to it than its radius, which is more than a narrow edge (for an
// angle below 30 degrees). Were the point beyond a narrow boundary edge, the triangle would lie
// inside the circle over that edge (J. Ruppert, J. Algorithms 18 (1995) 548-585), too small for it.

/// Rule (a): CGAL asks for the angle at p over the edge from a to b to learn whether p stands in
/// the circle over the edge, which then has to be split.
struct Traits : Kernel {
  double narrow_mm = 0;

  struct Angle_2 {
    double narrow_mm = 0;
    CGAL::Angle operator()(const Point_2& a, const Point_2& p, const Point_2& b) const {
      const bool narrow = CGAL::squared_distance(a, b) <= narrow_mm * narrow_mm;
      return narrow ? CGAL::ACUTE : CGAL::angle(a, p, b);
    }
  };
  [[nodiscard]] Angle_2 angle_2_object() const { return {narrow_mm}; }
};

constexpr int no_number = -1;

/// What a vertex knows: its number, first among the web's points, later among the mesh's nodes.
struct Number {
  int value = no_number;
};
using Vertex = CGAL::Triangulation_vertex_base_with_info_2<Number, Traits>;
using Face = CGAL::Delaunay_mesh_face_base_2<Traits>;
using Structure = CGAL::Triangulation_data_structure_2<Vertex, Face>;
/// The lines of a web meet in their ends only, but where many points lie a snap apart it may have
/// left crossings: there CGAL adds vertices.
using Crossings = CGAL::Exact_predicates_tag;
using Triangulation = CGAL::Constrained_Delaunay_triangulation_2<Traits, Structure, Crossings>;

/// Rule (b).
class Criteria : public CGAL::Delaunay_mesh_size_criteria_2<Triangulation> {
  using Base = CGAL::Delaunay_mesh_size_criteria_2<Triangulation>;

 public:
  Criteria(double least_angle_deg, double greatest_edge_mm, double narrow_mm)
      : Base(0, greatest_edge_mm), narrow_mm_(narrow_mm) {
    // Not by Base's constructor: the class that keeps the bound is a virtual base of it.
    const double sine = std::sin(least_angle_deg * std::numbers::pi / 180);
    set_bound(sine * sine);
  }

  class Is_bad {
   public:
    Is_bad(const Base::Is_bad& base, double narrow_mm) : base_(base), narrow_mm_(narrow_mm) {}

    CGAL::Mesh_2::Face_badness operator()(Quality quality) const { return base_(quality); }
    CGAL::Mesh_2::Face_badness operator()(Face_handle face, Quality& quality) const {
      const CGAL::Mesh_2::Face_badness badness = base_(face, quality);
      return badness == CGAL::Mesh_2::BAD && has_narrow_edge(face) ? CGAL::Mesh_2::NOT_BAD
                                                                   : badness;
    }

   private:
    [[nodiscard]] bool has_narrow_edge(Face_handle face) const {
      for (int i = 0; i < 3; ++i) {
        if (CGAL::squared_distance(face->vertex(i)->point(), face->vertex((i + 1) % 3)->point()) <=
            narrow_mm_ * narrow_mm_) {
          return true;
        }
      }
      return false;
    }

    Base::Is_bad base_;
    double narrow_mm_;
  };
  [[nodiscard]] Is_bad is_bad_object() const { return {Base::is_bad_object(), narrow_mm_}; }

 private:
  double narrow_mm_;
};

using Mesher = CGAL::Delaunay_mesher_2<Triangulation, Criteria>;
using VertexHandle = Triangulation::Vertex_handle;
using FaceHandle = Triangulation::Face_handle;

// ---- The request -------------------------------------------------------------------------

bool finite(Point p) {
  return std::isfinite(p.x_mm) && std::isfinite(p.y_mm);
}

bool finite(const Outline& outline) {
  return std::all_of(outline.loops.begin(), outline.loops.end(), [](const Loop& loop) {
    return std::all_of(loop.begin(), loop.end(), [](const Edge& edge) {
      return finite(edge.from) && (!edge.is_arc || finite(edge.centre));
    });
  });
}

void require(bool kept, const char* otherwise) {
  if (!kept) {
    throw std::invalid_argument(otherwise);
  }
}

void require_sound(const MeshRequest& request) {
  require(finite(request.outline) &&
              std::all_of(request.patches.begin(), request.patches.end(),
                          [](const Outline& patch) { return finite(patch); }) &&
              std::all_of(request.points.begin(), request.points.end(),
                          [](Point p) { return finite(p); }) &&
              std::all_of(request.lines.begin(), request.lines.end(),
                          [](const auto& line) { return finite(line[0]) && finite(line[1]); }),
          "a mesh needs finite coordinates");
  require(area_mm2(request.outline) > 0, "a mesh needs an outline with an area");
  require(request.greatest_edge_mm > 0 && std::isfinite(request.greatest_edge_mm),
          "a mesh needs a greatest edge above zero");
  require(request.least_angle_deg >= 0 && request.least_angle_deg <= greatest_least_angle_deg,
          "the least angle of a mesh is from 0 to 28 degrees");
  require(request.patches.size() <= greatest_patch_count, "a mesh has at most 64 patches");
}

void require_points_inside(const LineWeb& web) {
  for (const int asked : web.asked) {
    const bool on_outline =
        std::any_of(web.outline.begin(), web.outline.end(),
                    [asked](const Line& line) { return line.from == asked || line.to == asked; });
    require(on_outline || inside(web, web.outline, web.at(asked)),
            "a point of a mesh lies outside its outline");
  }
}

// ---- Triangulation -----------------------------------------------------------------------

Point middle(Point a, Point b) {
  return {std::midpoint(a.x_mm, b.x_mm), std::midpoint(a.y_mm, b.y_mm)};
}

using LineEnds = std::pair<int, int>;  // the smaller number first

LineEnds ends_of(const Line& line) {
  return std::minmax(line.from, line.to);
}

/// How often the outline goes round more when a line is crossed from right to left, seen from its
/// end with the smaller number. Lines that two loops share, or that lead there and back, count 0.
std::map<LineEnds, int> turns_gained(const LineWeb& web) {
  std::map<LineEnds, int> turns;
  for (const Line& line : web.outline) {
    turns[ends_of(line)] += line.from < line.to ? 1 : -1;
  }
  return turns;
}

/// Each line once: the outline, and what of the patches and the asked lines lies in it.
std::set<LineEnds> constraints_of(const LineWeb& web) {
  std::set<LineEnds> constraints;
  for (const Line& line : web.outline) {
    constraints.insert(ends_of(line));
  }
  const auto add_inside = [&](const std::vector<Line>& lines) {
    for (const Line& line : lines) {
      if (inside(web, web.outline, middle(web.at(line.from), web.at(line.to)))) {
        constraints.insert(ends_of(line));
      }
    }
  };
  std::for_each(web.patches.begin(), web.patches.end(), add_inside);
  add_inside(web.asked_lines);
  return constraints;
}

class Builder {
 public:
  Builder(const LineWeb& web, const Traits& traits)
      : web_(web), triangulation_(traits), vertices_(web.points.size()) {
    for (const int asked : web.asked) {
      vertex(asked);
    }
    for (const auto& [from, to] : constraints_of(web)) {
      // One after the other: which is made first must not be the compiler's choice.
      const VertexHandle a = vertex(from);
      const VertexHandle b = vertex(to);
      triangulation_.insert_constraint(a, b);
    }
  }

  void refine(const MeshRequest& request) {
    mark_wall();
    Mesher mesher(triangulation_, Criteria(request.least_angle_deg, request.greatest_edge_mm,
                                           triangulation_.geom_traits().narrow_mm));
    mesher.init(true);
    mesher.refine_mesh();
  }

  [[nodiscard]] Mesh mesh() {
    Mesh mesh;
    for (const VertexHandle v : triangulation_.finite_vertex_handles()) {
      v->info() = {};
    }
    for (const FaceHandle face : triangulation_.finite_face_handles()) {
      if (face->is_in_domain()) {
        mesh.triangles.push_back({node(mesh, face->vertex(0)), node(mesh, face->vertex(1)),
                                  node(mesh, face->vertex(2))});
        mesh.over.push_back(patches_over(centroid(face)));
        add_boundary(mesh, face);
      }
    }
    return mesh;
  }

 private:
  static int number(VertexHandle v) { return v->info().value; }

  static Point point(VertexHandle v) { return {v->point().x(), v->point().y()}; }

  static Point centroid(FaceHandle face) {
    Point sum;
    for (int i = 0; i < 3; ++i) {
      const Point p = point(face->vertex(i));
      sum = {sum.x_mm + p.x_mm / 3, sum.y_mm + p.y_mm / 3};
    }
    return sum;
  }

  static int node(Mesh& mesh, VertexHandle v) {
    if (number(v) == no_number) {
      v->info() = {static_cast<int>(mesh.nodes.size())};
      mesh.nodes.push_back(point(v));
    }
    return number(v);
  }

  VertexHandle vertex(int number) {
    VertexHandle& handle = vertices_[static_cast<std::size_t>(number)];
    if (handle == VertexHandle()) {
      const Point p = web_.at(number);
      const FaceHandle near = last_ == VertexHandle() ? FaceHandle() : last_->face();
      handle = triangulation_.insert(Kernel::Point_2(p.x_mm, p.y_mm), near);
      handle->info() = {number};
      last_ = handle;
    }
    return handle;
  }

  /// From outside inwards, counting how often the outline goes round: wall is where it does. (To
  /// look where a triangle's middle lies would not do: corners that are nearly in line have
  /// triangles of no width.)
  void mark_wall() {
    const std::map<LineEnds, int> gained = turns_gained(web_);
    std::vector<FaceHandle> to_leave{triangulation_.infinite_face()};
    std::unordered_map<FaceHandle, int> turns{{to_leave.front(), 0}};
    while (!to_leave.empty()) {
      const FaceHandle face = to_leave.back();
      to_leave.pop_back();
      face->set_in_domain(turns[face] > 0);
      for (int i = 0; i < 3; ++i) {
        const int beyond = turns[face] + gain_across(gained, face, i);
        if (turns.emplace(face->neighbor(i), beyond).second) {
          to_leave.push_back(face->neighbor(i));
        }
      }
    }
  }

  /// The triangle lies to the left of its edges, so they are crossed from left to right.
  [[nodiscard]] int gain_across(const std::map<LineEnds, int>& gained, FaceHandle face,
                                int i) const {
    if (!face->is_constrained(i)) {
      return 0;
    }
    const VertexHandle from = face->vertex(Triangulation::ccw(i));
    const VertexHandle to = face->vertex(Triangulation::cw(i));
    const auto found = gained.find(std::minmax(number(from), number(to)));
    if (found != gained.end()) {
      return number(from) < number(to) ? -found->second : found->second;
    }
    return -lines_along(point(from), point(to));
  }

  /// How many lines of the outline run from `a` to `b` as parts of them, less those from b to a.
  [[nodiscard]] int lines_along(Point a, Point b) const {
    constexpr double rounding_mm = 1e-9;
    int along = 0;
    for (const Line& line : web_.outline) {
      const Point from = web_.at(line.from);
      const Point to = web_.at(line.to);
      if (std::max(distance_to_line_mm(a, from, to), distance_to_line_mm(b, from, to)) <=
          rounding_mm) {
        const double same_way =
            (b.x_mm - a.x_mm) * (to.x_mm - from.x_mm) + (b.y_mm - a.y_mm) * (to.y_mm - from.y_mm);
        along += same_way > 0 ? 1 : -1;
      }
    }
    return along;
  }

  [[nodiscard]] std::uint64_t patches_over(Point p) const {
    std::uint64_t over = 0;
    for (std::size_t k = 0; k < web_.patches.size(); ++k) {
      if (inside(web_, web_.patches[k], p)) {
        over |= std::uint64_t{1} << k;
      }
    }
    return over;
  }

  void add_boundary(Mesh& mesh, FaceHandle face) const {
    for (int i = 0; i < 3; ++i) {
      const FaceHandle beyond = face->neighbor(i);
      if (triangulation_.is_infinite(beyond) || !beyond->is_in_domain()) {
        const VertexHandle from = face->vertex(Triangulation::ccw(i));
        const VertexHandle to = face->vertex(Triangulation::cw(i));
        mesh.boundary.push_back(
            {{number(from), number(to)}, side_at(middle(point(from), point(to)))});
      }
    }
  }

  /// The edge of the outline nearest to a place on it.
  [[nodiscard]] int side_at(Point p) const {
    double nearest_mm = std::numeric_limits<double>::infinity();
    int side = 0;
    for (const Line& line : web_.outline) {
      const double distance = distance_to_line_mm(p, web_.at(line.from), web_.at(line.to));
      if (distance < nearest_mm) {
        nearest_mm = distance;
        side = line.edge;
      }
    }
    return side;
  }

  const LineWeb& web_;
  Triangulation triangulation_;
  std::vector<VertexHandle> vertices_;
  VertexHandle last_;
};

}  // namespace

Mesh triangulate(const MeshRequest& request) {
  require_sound(request);
  const LineWeb web = web_of(request);
  require_points_inside(web);
  Traits traits;
  traits.narrow_mm = narrow_part_of_edge * request.greatest_edge_mm;
  Builder builder(web, traits);
  builder.refine(request);
  return builder.mesh();
}

double triangle_area_mm2(const Mesh& mesh, std::size_t triangle) {
  const auto corner = [&](std::size_t i) {
    return mesh.nodes[static_cast<std::size_t>(mesh.triangles.at(triangle)[i])];
  };
  const Point a = corner(0);
  const Point b = corner(1);
  const Point c = corner(2);
  return ((b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (c.x_mm - a.x_mm) * (b.y_mm - a.y_mm)) / 2;
}

}  // namespace stackfit::geometry
