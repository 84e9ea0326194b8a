// SPDX-License-Identifier: GPL-3.0-or-later
//
// Heights read over a face, and gaps under a straightedge: whether they can be true.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/convert_parts.hpp"
#include "cli/units.hpp"
#include "geometry/flatness.hpp"
#include "solver/dome_fit.hpp"
#include "solver/dome_reading.hpp"

namespace stackfit::cli {
namespace {

// No face stands out or in by more than this and is still pressed; tilt of the reading plane
// included (common practice).
constexpr double most_height_mm = 6;
// A point is laid out no better than this.
constexpr double laid_out_mm = 0.5;
// Points nearer than this are one place.
constexpr double same_place_mm = 0.01;
// Of the face, each way: points that reach less far are not spread over it.
constexpr double least_reach = 0.3;
// So many points are named one by one; where more are wrong, all are for one reason.
constexpr std::size_t most_named = 3;
constexpr double thinnest_part = 0.8;
constexpr double thickest_part = 1.2;

struct ReadPoint {
  Node node;
  FacePoint at;
};

struct Extent {
  double low = HUGE_VAL;
  double high = -HUGE_VAL;

  void add(double value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
  [[nodiscard]] double reach() const { return std::max(std::abs(low), std::abs(high)); }
  [[nodiscard]] double across() const { return high - low; }
};

/// The points of one face, being checked.
class FaceCheck {
 public:
  FaceCheck(const Node& list, const FaceSize& face)
      : list_(list), half_{face.width_mm / 2, face.height_mm / 2} {
    for (const Node& item : list.items()) read(item);
  }

  [[nodiscard]] const std::vector<ReadPoint>& points() const { return points_; }
  [[nodiscard]] bool sound() const { return sound_; }

  void check() {
    if (half_.width_mm <= 0 || half_.height_mm <= 0) return;
    const std::size_t listed = list_.items().size();
    if (listed < least_points_for_dome) {
      list_.problem_found(fmt::format("{} points on a face", listed),
                          fmt::format("{} points or more, {} to tell how the dome falls off",
                                      least_points_for_dome, least_points_for_exponent),
                          "read a grid of 5 by 5, or use a straightedge");
      sound_ = false;
    }
    check_places();
    check_duplicates();
    check_heights();
  }

  /// Where each point by itself can be true: whether they tell a dome, and one that can be.
  void check_fit(const std::vector<FacePoint>& outwards) {
    if (!sound_ || half_.width_mm <= 0 || half_.height_mm <= 0) return;
    const DomeFitResult result = fit_dome(outwards, half_);
    if (!result.fit) {
      list_.problem_found("points that do not tell a dome from a tilt",
                          "points in the middle of the face, towards its corners and between",
                          "read a grid of 5 by 5");
      sound_ = false;
    } else if (std::abs(result.fit->face_dome_mm) > most_height_mm) {
      list_.problem_found(fmt::format("a dome of {:.1f} mm", result.fit->face_dome_mm),
                          fmt::format("a dome of up to {:g} mm on one face", most_height_mm),
                          "are x and y from the middle of the face, and z in mm?");
      sound_ = false;
    }
  }

 private:
  void read(const Node& item) {
    std::array<std::optional<double>, 3> value;
    const std::vector<Node> parts = item.items();
    for (std::size_t i = 0; i < std::min(parts.size(), value.size()); ++i) {
      value.at(i) = parts[i].quantity(Dimension::length, Sign::any);
    }
    if (parts.size() != value.size() || !value[0] || !value[1] || !value[2]) {
      sound_ = false;  // it was complained of already
      return;
    }
    for (std::size_t i = 0; i < value.size(); ++i) {
      if (std::abs(*value.at(i)) <= geometry::farthest_point_mm) continue;
      parts[i].problem(fmt::format("up to {:g} mm either way", geometry::farthest_point_mm));
      sound_ = false;
      return;
    }
    points_.push_back({item, {*value[0], *value[1], *value[2]}});
    x_.add(*value[0]);
    y_.add(*value[1]);
  }

  [[nodiscard]] bool outside(const FacePoint& p) const {
    return std::abs(p.x_mm) > half_.width_mm + laid_out_mm ||
           std::abs(p.y_mm) > half_.height_mm + laid_out_mm;
  }
  [[nodiscard]] bool all_within(double scale) const {
    return scale * x_.reach() <= half_.width_mm + laid_out_mm &&
           scale * y_.reach() <= half_.height_mm + laid_out_mm;
  }
  [[nodiscard]] std::string face_text() const {
    return fmt::format("{:g} x {:g} mm", 2 * half_.width_mm, 2 * half_.height_mm);
  }

  void check_places() {
    const auto astray =
        std::ranges::count_if(points_, [&](const auto& p) { return outside(p.at); });
    if (astray > 0) {
      name_outside(static_cast<std::size_t>(astray));
      sound_ = false;
    } else if (sound_ && points_.size() >= least_points_for_dome &&
               x_.across() < least_reach * 2 * half_.width_mm &&
               y_.across() < least_reach * 2 * half_.height_mm) {
      list_.problem_found(
          fmt::format("points over {:.1f} x {:.1f} mm of the face", x_.across(), y_.across()),
          fmt::format("points spread over the face of {}", face_text()), mend_too_close());
      sound_ = false;
    }
  }

  void name_outside(std::size_t count) {
    const std::string allowed =
        fmt::format("x and y from the middle of the face of {}: up to {:g} and {:g} mm either way",
                    face_text(), half_.width_mm, half_.height_mm);
    std::size_t named = 0;
    for (const ReadPoint& point : points_) {
      if (!outside(point.at)) continue;
      const std::string found =
          count > most_named
              ? fmt::format("{} of {} points outside the face", count, points_.size())
              : fmt::format("a point at {:g}, {:g} mm, outside the face", point.at.x_mm,
                            point.at.y_mm);
      point.node.problem_found(found, allowed, mend_outside(count));
      if (count > most_named || ++named == count) return;
    }
  }

  // A few astray are slips; where many are, x and y mean something else.
  [[nodiscard]] std::string mend_outside(std::size_t count) const {
    if (count <= most_named) return "measure the place again";
    const bool one_corner = x_.low >= -laid_out_mm && y_.low >= -laid_out_mm;
    if (one_corner && x_.high <= 2 * half_.width_mm && y_.high <= 2 * half_.height_mm) {
      return "were x and y measured from a corner?";
    }
    if (x_.reach() <= half_.height_mm && y_.reach() <= half_.width_mm) {
      return "are x and y exchanged, or the face's width and height?";
    }
    if (all_within(1 / mm_per_inch)) return "millimetres in an inch column?";
    return "measure the place again";
  }

  [[nodiscard]] std::string mend_too_close() const {
    constexpr double mm_per_cm = 10;
    if (all_within(mm_per_inch)) return "inches in a mm column?";
    if (all_within(mm_per_cm)) return "centimetres in a mm column?";
    return "read a grid of 5 by 5";
  }

  void check_duplicates() {
    std::size_t named = 0;
    for (std::size_t i = 0; i < points_.size() && named < most_named; ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        if (!same_place(points_[i].at, points_[j].at)) continue;
        points_[i].node.problem_found(
            fmt::format("a second reading at {:g}, {:g} mm", points_[i].at.x_mm,
                        points_[i].at.y_mm),
            "each place of a face once",
            fmt::format("point {} of this face has it already; write down the mean, or read again",
                        j + 1));
        sound_ = false;
        ++named;
        break;
      }
    }
  }

  static bool same_place(const FacePoint& a, const FacePoint& b) {
    return std::abs(a.x_mm - b.x_mm) < same_place_mm && std::abs(a.y_mm - b.y_mm) < same_place_mm;
  }

  void check_heights() {
    const double middle = middle_height();
    std::size_t named = 0;
    for (const ReadPoint& point : points_) {
      const double off = point.at.z_mm - middle;
      if (std::abs(off) <= most_height_mm) continue;
      point.node.problem_found(
          fmt::format("a height {:.2f} mm from the middle one of its face", off),
          fmt::format("heights within {:g} mm of each other's middle", most_height_mm),
          "a slip of the decimal point or of the unit? else level the cell first");
      sound_ = false;
      if (++named == most_named) return;
    }
  }

  [[nodiscard]] double middle_height() const {
    std::vector<double> heights;
    for (const ReadPoint& point : points_) heights.push_back(point.at.z_mm);
    if (heights.empty()) return 0;
    const auto middle = heights.begin() + static_cast<std::ptrdiff_t>(heights.size() / 2);
    std::ranges::nth_element(heights, middle);
    return *middle;
  }

  Node list_;
  HalfFace half_;
  std::vector<ReadPoint> points_;
  Extent x_;
  Extent y_;
  bool sound_ = true;
};

std::vector<FacePoint> places_of(const FaceCheck& face) {
  std::vector<FacePoint> out;
  for (const ReadPoint& point : face.points()) out.push_back(point.at);
  return out;
}

// Both faces in one coordinate system tell how thick the cell is: is it that cell?
void check_thickness(const Node& node, const FacePoints& points, const CellType& type) {
  const double nominal = type.thickness.nominal_mm;
  const HalfFace half{type.face.width_mm / 2, type.face.height_mm / 2};
  const DomeFitResult front = fit_dome(outward_points(points, true), half);
  const DomeFitResult back = fit_dome(outward_points(points, false), half);
  if (!front.fit || !back.fit || nominal <= 0) return;
  const double edge = front.fit->offset_mm + back.fit->offset_mm;
  if (edge < thinnest_part * nominal || edge > thickest_part * nominal) {
    node.problem_found(
        fmt::format("faces {:.2f} mm apart in one coordinate system", edge),
        fmt::format("from {:.1f} to {:.1f} mm for a cell of {:g} mm, z from back to front",
                    thinnest_part * nominal, thickest_part * nominal, nominal),
        "where each face has a plane of its own, the column is z, not common_z");
    return;
  }
  const auto in_space = [](const std::vector<FacePoint>& face) {
    std::vector<geometry::SpacePoint> out;
    out.reserve(face.size());
    for (const FacePoint& p : face) out.push_back({p.x_mm, p.y_mm, p.z_mm});
    return out;
  };
  if (!geometry::envelope_thickness_mm(in_space(points.front), in_space(points.back))) {
    node.problem_found("points that reach less far over the face than the cell is thick",
                       "points spread over both faces", "read a grid of 5 by 5");
  }
}

}  // namespace

FacePoints convert_points(const Node& points, const CellType& type) {
  FacePoints out;
  if (!points.json().is_object()) return out;
  out.common_z = points.flag("common_z").value_or(false);
  bool sound = true;
  for (const bool front : {true, false}) {
    const auto list = points.child(front ? "front" : "back");
    if (!list || !list->json().is_array()) continue;
    FaceCheck face(*list, type.face);
    face.check();
    (front ? out.front : out.back) = places_of(face);
    face.check_fit(outward_points(out, front));
    sound = sound && face.sound();
  }
  const bool both = points.has("front") && points.has("back");
  if (!points.has("front") && !points.has("back")) {
    points.problem_found("no points", R"("front", "back" or both, each a list of [x, y, z])");
  } else if (out.common_z && !both) {
    points.problem_found("one face alone in a common coordinate system",
                         "points of both faces, or z from a plane of the face's own",
                         "the column is z, not common_z");
  } else if (out.common_z && sound) {
    check_thickness(points, out, type);
  }
  return out;
}

StraightedgeReading convert_straightedge(const Node& straightedge) {
  if (straightedge.json().is_object() && !straightedge.has("front") && !straightedge.has("back")) {
    straightedge.problem_found("no gaps", R"("front", "back" or both, each a length)");
  }
  const auto gap_of = [&](std::string_view key) {
    const auto node = straightedge.child(key);
    auto gap = node ? node->quantity(Dimension::length, Sign::any) : std::nullopt;
    if (gap && std::abs(*gap) > most_height_mm) {
      node->problem(
          fmt::format("a gap from -{0:g} to {0:g} mm under the straightedge", most_height_mm),
          "the feeler's figure at the edges; with a minus where the middle is hollow");
    }
    return gap;
  };
  return {gap_of("front"), gap_of("back")};
}

}  // namespace stackfit::cli
