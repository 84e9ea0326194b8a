// SPDX-License-Identifier: GPL-3.0-or-later
//
// A side is met as chords: straight runs of the mesh's boundary. Where chords meet, a corner is
// told from a smooth side; inside a chord the side may lie beyond it.
#include "solver/plate_sides.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <stdexcept>

namespace stackfit {
namespace {

using Eigen::Vector2d;

const double smooth_turn_cosine = std::cos(smooth_turn_deg * std::numbers::pi / 180);
/// Half the turn: a side beside a mirror turns by twice its angle to the mirror's normal.
const double same_direction_sine = std::sin(smooth_turn_deg * std::numbers::pi / 360);

std::size_t index(int number) {
  return static_cast<std::size_t>(number);
}

Vector2d place(const geometry::Point& point) {
  return {point.x_mm, point.y_mm};
}

/// Turned left by a right angle.
Vector2d across(const Vector2d& along) {
  return {-along.y(), along.x()};
}

/// A straight run of a side, from one node where it turns or ends to the next.
struct Chord {
  PlateEdge kind = PlateEdge::free;
  int side = 0;
  std::vector<std::size_t> nodes;  ///< from end to end
  Vector2d along;                  ///< unit vector from the first node to the last
  double length_mm = 0;
};

/// A chord as seen from one of its ends.
struct ChordAtNode {
  const Chord* chord = nullptr;
  Vector2d away;  ///< unit vector along the chord, out of the node
};

/// Cuts the boundary into chords.
class Chords {
 public:
  Chords(const geometry::Mesh& mesh, const std::vector<PlateEdge>& sides)
      : mesh_(&mesh), edges_at_(mesh.nodes.size()), used_(mesh.boundary.size(), false) {
    for (std::size_t e = 0; e < mesh.boundary.size(); ++e) {
      for (const int node : mesh.boundary[e].nodes) {
        edges_at_[index(node)].push_back(e);
      }
    }
    for (std::size_t node = 0; node < edges_at_.size(); ++node) {
      if (!goes_straight_on(node)) {
        for (const std::size_t edge : edges_at_[node]) {
          if (!used_[edge]) {
            found_.push_back(from(node, edge, sides));
          }
        }
      }
    }
  }

  [[nodiscard]] const std::vector<Chord>& found() const { return found_; }

 private:
  [[nodiscard]] std::size_t other_end(std::size_t edge, std::size_t node) const {
    const auto [i, j] = mesh_->boundary[edge].nodes;
    return index(i) == node ? index(j) : index(i);
  }

  [[nodiscard]] Vector2d away(std::size_t edge, std::size_t node) const {
    return (place(mesh_->nodes[other_end(edge, node)]) - place(mesh_->nodes[node])).normalized();
  }

  /// Whether one side passes the node without a turn.
  [[nodiscard]] bool goes_straight_on(std::size_t node) const {
    constexpr double straight_rad = 1e-6;  // nodes in the middle of a chord are rounded
    const auto& edges = edges_at_[node];
    if (edges.size() != 2 || mesh_->boundary[edges[0]].side != mesh_->boundary[edges[1]].side) {
      return false;
    }
    return (away(edges[0], node) + away(edges[1], node)).norm() < straight_rad;
  }

  Chord from(std::size_t node, std::size_t edge, const std::vector<PlateEdge>& sides) {
    const int side = mesh_->boundary[edge].side;
    Chord chord{sides[index(side)], side, {node}, {}, 0};
    used_[edge] = true;
    node = other_end(edge, node);
    while (goes_straight_on(node)) {
      chord.nodes.push_back(node);
      edge = edges_at_[node][edges_at_[node][0] == edge ? 1 : 0];
      used_[edge] = true;
      node = other_end(edge, node);
    }
    chord.nodes.push_back(node);
    const Vector2d span = place(mesh_->nodes[node]) - place(mesh_->nodes[chord.nodes.front()]);
    chord.length_mm = span.norm();
    chord.along = span / chord.length_mm;
    return chord;
  }

  const geometry::Mesh* mesh_;
  std::vector<std::vector<std::size_t>> edges_at_;
  std::vector<bool> used_;
  std::vector<Chord> found_;
};

/// Whether two chords that meet at a node are pieces of one smooth side.
bool continues(const ChordAtNode& a, const ChordAtNode& b) {
  return a.chord->kind == b.chord->kind &&
         (a.chord->side == b.chord->side || a.away.dot(b.away) < -smooth_turn_cosine);
}

/// The direction of a smooth side where two of its chords meet.
Vector2d tangent(const ChordAtNode& a, const ChordAtNode& b) {
  // Chords so unequal are a straight side that runs into an arc.
  constexpr double unequal = 3;
  const double la = a.chord->length_mm;
  const double lb = b.chord->length_mm;
  if (a.chord->side != b.chord->side && std::max(la, lb) > unequal * std::min(la, lb)) {
    return la > lb ? a.away : b.away;
  }
  // The tangent of a circle turns from each of two chords by half the angle that chord spans.
  return (lb * a.away - la * b.away).normalized();
}

/// Directions of the sides of one kind at a node; two that continue each other count once.
std::vector<Vector2d> directions(const std::vector<ChordAtNode>& chords, PlateEdge kind) {
  std::vector<Vector2d> found;
  std::vector<bool> used(chords.size(), false);
  for (std::size_t i = 0; i < chords.size(); ++i) {
    if (used[i] || chords[i].chord->kind != kind) {
      continue;
    }
    found.push_back(chords[i].away);
    for (std::size_t j = i + 1; j < chords.size(); ++j) {
      if (!used[j] && continues(chords[i], chords[j])) {
        used[j] = true;
        found.back() = tangent(chords[i], chords[j]);
        break;
      }
    }
  }
  return found;
}

/// Where chords meet, what each of them holds is held.
NodeSupport where_chords_meet(const std::vector<ChordAtNode>& chords) {
  NodeSupport support;
  const auto hold_slope = [&support](const Vector2d& direction) {
    for (const Vector2d& held : support.slopes) {
      if (std::abs(held.x() * direction.y() - held.y() * direction.x()) < same_direction_sine) {
        return;
      }
    }
    support.slopes.push_back(direction);
  };
  // Mirrors first: their direction is exact, that of a chord of a curved side is not.
  for (const Vector2d& along : directions(chords, PlateEdge::mirror)) {
    hold_slope(across(along));
  }
  for (const Vector2d& along : directions(chords, PlateEdge::held)) {
    support.deflection = true;
    hold_slope(along);
  }
  for (const ChordAtNode& at : chords) {
    if (at.chord->kind == PlateEdge::fixed) {
      support.deflection = true;
      hold_slope(Vector2d::UnitX());
      hold_slope(Vector2d::UnitY());
    }
  }
  if (support.slopes.size() >= 2) {
    support.slopes = {Vector2d::UnitX(), Vector2d::UnitY()};
  }
  return support;
}

/// How fast a smooth side leaves its chord at one of the chord's ends.
double rise(const Chord& chord, const NodeSupport& end) {
  if (end.slopes.size() != 1) {
    return 0;  // a corner
  }
  const Vector2d& tangent = end.slopes.front();
  return across(chord.along).dot(tangent) / chord.along.dot(tangent);
}

/// Inside a chord of a held side the side itself is taken for the cubic that has its directions at
/// the chord's ends: a mesher cuts chords in the middle, not arcs.
NodeSupport inside_held(const Chord& chord, double part, double rise_first, double rise_last) {
  const double p = part;
  const double height_mm = chord.length_mm * ((p - 2 * p * p + p * p * p) * rise_first +
                                              (p * p * p - p * p) * rise_last);
  const double slope = (1 - 4 * p + 3 * p * p) * rise_first + (3 * p * p - 2 * p) * rise_last;
  const Vector2d normal = across(chord.along);
  return {true, {(chord.along + slope * normal).normalized()}, height_mm * normal};
}

NodeSupport inside(const Chord& chord, double part, const NodeSupport& first,
                   const NodeSupport& last) {
  switch (chord.kind) {
    case PlateEdge::fixed:
      return {true, {Vector2d::UnitX(), Vector2d::UnitY()}, Vector2d::Zero()};
    case PlateEdge::held:
      return inside_held(chord, part, rise(chord, first), rise(chord, last));
    case PlateEdge::mirror:
      return {false, {across(chord.along)}, Vector2d::Zero()};
    case PlateEdge::free:
      break;
  }
  return {};
}

/// How many sides the mesh knows of: their numbers count on from 0.
std::size_t count_sides(const geometry::Mesh& mesh) {
  int last = -1;
  for (const auto& edge : mesh.boundary) {
    last = std::max(last, edge.side);
  }
  return index(last + 1);
}

}  // namespace

std::vector<NodeSupport> side_supports(const geometry::Mesh& mesh,
                                       const std::vector<PlateEdge>& sides) {
  if (sides.size() != count_sides(mesh)) {
    throw std::invalid_argument("a plate needs one kind of support for each edge of its outline");
  }
  const Chords chords(mesh, sides);
  std::vector<std::vector<ChordAtNode>> ends(mesh.nodes.size());
  for (const Chord& chord : chords.found()) {
    ends[chord.nodes.front()].push_back({&chord, chord.along});
    ends[chord.nodes.back()].push_back({&chord, -chord.along});
  }
  std::vector<NodeSupport> supports;
  supports.reserve(ends.size());
  for (const auto& at_node : ends) {
    supports.push_back(where_chords_meet(at_node));
  }
  for (const Chord& chord : chords.found()) {
    const NodeSupport& first = supports[chord.nodes.front()];
    const NodeSupport& last = supports[chord.nodes.back()];
    for (std::size_t i = 1; i + 1 < chord.nodes.size(); ++i) {
      const std::size_t node = chord.nodes[i];
      const Vector2d from = place(mesh.nodes[node]) - place(mesh.nodes[chord.nodes.front()]);
      supports[node] = inside(chord, from.norm() / chord.length_mm, first, last);
    }
  }
  return supports;
}

}  // namespace stackfit
