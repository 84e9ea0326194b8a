// SPDX-License-Identifier: GPL-3.0-or-later
//
// The clamp frame: plates, rods, the springs on them, and whether these can go together.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/convert_parts.hpp"

namespace stackfit::cli {
namespace {

FramePlates convert_plates(const Node& plates) {
  return {convert_plate_thickness(plates), plates.word("material", wall_material_words()),
          plates.quantity("width", Dimension::length).value_or(0),
          plates.quantity("height", Dimension::length).value_or(0)};
}

// Thickness of the rod from its thread: 8 mm of "M8". None where the schema refused the thread.
std::optional<double> thread_mm(std::string_view size) {
  return size.starts_with('M') ? read_number(size.substr(1)) : std::nullopt;
}

// A place that could not be read is left out: it was complained of.
std::optional<RodPosition> convert_position(const Node& node) {
  const std::vector<Node> pair = node.items();
  if (pair.size() != 2) return std::nullopt;
  const auto across = pair[0].quantity(Dimension::length, Sign::any);
  const auto up = pair[1].quantity(Dimension::length, Sign::any);
  if (!across || !up) return std::nullopt;
  return RodPosition{*across, *up};
}

std::vector<RodPosition> convert_positions(const Node& rods) {
  std::vector<RodPosition> at;
  for (const Node& node : rods.items("at")) {
    if (const auto position = convert_position(node)) at.push_back(*position);
  }
  const auto spread = rods.child("spread");
  if (!spread || rods.has("at")) return at;
  const auto width = spread->quantity("width", Dimension::length);
  const auto height = spread->quantity("height", Dimension::length);
  if (!width || !height) return at;
  const double right = *width / 2;
  const double top = *height / 2;
  return {{-right, -top}, {right, -top}, {right, top}, {-right, top}};
}

// A form holds 8.8 as a number.
std::optional<std::string> convert_grade(const Node& rods) {
  const auto grade = rods.child("grade");
  if (grade && grade->json().is_number()) return grade->json().dump();
  return rods.text("grade");
}

FrameRods convert_rods(const Node& rods) {
  FrameRods out;
  out.size = rods.text("size").value_or("");
  out.grade = convert_grade(rods);
  out.at = convert_positions(rods);
  out.length_mm = rods.quantity("length", Dimension::length);
  out.prevailing_torque_nmm =
      rods.quantity("prevailing_torque", Dimension::torque, Sign::not_negative);
  return out;
}

DiscSprings convert_disc(const Node& springs, const Node& disc) {
  DiscSprings out;
  out.outer_mm = disc.quantity("outer", Dimension::length).value_or(0);
  out.inner_mm = disc.quantity("inner", Dimension::length).value_or(0);
  out.thickness_mm = disc.quantity("thickness", Dimension::length).value_or(0);
  out.cone_height_mm = disc.quantity("cone_height", Dimension::length).value_or(0);
  out.reduced_thickness_mm = disc.quantity("reduced_thickness", Dimension::length);
  out.parallel = springs.whole("parallel").value_or(out.parallel);
  out.series = springs.whole("series").value_or(out.series);
  if (out.outer_mm > 0 && out.inner_mm >= out.outer_mm) {
    disc.child("inner")->problem(
        fmt::format("a hole smaller than the disc, {:g} mm across", out.outer_mm),
        "check which of the two diameters is the outer one");
  }
  if (out.reduced_thickness_mm && out.thickness_mm > 0 &&
      *out.reduced_thickness_mm > out.thickness_mm) {
    disc.child("reduced_thickness")
        ->problem(fmt::format("at most the thickness, {:g} mm", out.thickness_mm));
  }
  return out;
}

HelicalSprings convert_helical(const Node& springs, const Node& helical) {
  HelicalSprings out;
  out.wire_mm = helical.quantity("wire", Dimension::length).value_or(0);
  out.mean_diameter_mm = helical.quantity("mean_diameter", Dimension::length).value_or(0);
  const auto turns = helical.child("active_turns");
  if (turns && turns->json().is_number()) out.active_turns = turns->json().get<double>();
  out.free_length_mm = helical.quantity("free_length", Dimension::length);
  out.solid_length_mm = helical.quantity("solid_length", Dimension::length);
  out.modulus_mpa = helical.quantity("modulus", Dimension::pressure);
  if (out.wire_mm > 0 && out.mean_diameter_mm > 0 && out.mean_diameter_mm <= out.wire_mm) {
    helical.child("mean_diameter")
        ->problem(fmt::format("a coil wider than its wire, {:g} mm", out.wire_mm));
  }
  if (out.free_length_mm && out.solid_length_mm && *out.solid_length_mm >= *out.free_length_mm) {
    helical.child("solid_length")
        ->problem(fmt::format("less than the length without load, {:g} mm", *out.free_length_mm));
  }
  for (const char* key : {"parallel", "series"}) {
    if (!springs.has(key)) continue;
    springs.child(key)->problem_found(fmt::format(R"("{}" beside "helical")", key),
                                      "one helical spring on each rod",
                                      "parallel and series count disc springs");
  }
  return out;
}

std::optional<RodSprings> convert_springs(const Node& springs) {
  if (const auto disc = springs.child("disc")) return convert_disc(springs, *disc);
  if (const auto helical = springs.child("helical")) return convert_helical(springs, *helical);
  return std::nullopt;
}

// A rod must pass through its springs.
void check_bore(const Node& springs, const RodSprings& said, double rod_mm) {
  if (const auto* disc = std::get_if<DiscSprings>(&said)) {
    if (disc->inner_mm <= 0 || disc->inner_mm >= rod_mm) return;
    springs.child("disc")->child("inner")->problem(
        fmt::format("a hole that a rod of {:g} mm goes through", rod_mm));
    return;
  }
  const auto& helical = std::get<HelicalSprings>(said);
  const double inside = helical.mean_diameter_mm - helical.wire_mm;
  if (helical.wire_mm <= 0 || inside <= 0 || inside >= rod_mm) return;
  springs.child("helical")
      ->child("mean_diameter")
      ->problem_found(fmt::format("a coil {:g} mm wide inside", inside),
                      fmt::format("a coil that a rod of {:g} mm goes through", rod_mm));
}

// How far the middle of a rod is from the cells' outline; 0 on it.
double distance_mm(const RodPosition& rod, const CoveredFace& cells) {
  const double radius = cells.corner_radius_mm;
  const double across = std::abs(rod.x_mm) - (cells.width_mm / 2 - radius);
  const double up = std::abs(rod.y_mm) - (cells.height_mm / 2 - radius);
  return std::max(0.0, std::hypot(std::max(across, 0.0), std::max(up, 0.0)) - radius);
}

class RodCheck {
 public:
  RodCheck(const Frame& said, const CoveredFace& cells, double rod_mm)
      : plates_(said.plates), cells_(cells), rod_mm_(rod_mm) {}

  void fits(const Node& node, const RodPosition& rod) const {
    const double half = rod_mm_ / 2;
    if (plates_.width_mm > 0 && plates_.height_mm > 0 &&
        (std::abs(rod.x_mm) + half > plates_.width_mm / 2 ||
         std::abs(rod.y_mm) + half > plates_.height_mm / 2)) {
      node.problem_found(place_words(rod),
                         fmt::format("the whole rod, {:g} mm thick, on the plate of {:g} x {:g} mm",
                                     rod_mm_, plates_.width_mm, plates_.height_mm),
                         "places count from the middle of the plate, to the right and upwards");
      return;
    }
    if (cells_.width_mm > 0 && cells_.height_mm > 0 && distance_mm(rod, cells_) < half) {
      node.problem_found(
          place_words(rod) + ", in the way of the cells",
          fmt::format("the whole rod, {:g} mm thick, beside the cells' face of {:g} x {:g} mm",
                      rod_mm_, cells_.width_mm, cells_.height_mm),
          fmt::format("{:g} mm or more to the side, or {:g} mm or more up or down",
                      cells_.width_mm / 2 + half, cells_.height_mm / 2 + half));
    }
  }

  // Two rods in one place are one rod written twice.
  void apart(const Node& list, const std::vector<RodPosition>& at) const {
    const std::vector<Node> nodes = list.items();
    for (std::size_t index = 0; index < at.size(); ++index) {
      for (std::size_t before = 0; before < index; ++before) {
        const double gap =
            std::hypot(at[index].x_mm - at[before].x_mm, at[index].y_mm - at[before].y_mm);
        if (gap >= rod_mm_) continue;
        nodes[index].problem_found(
            fmt::format("{}, {:g} mm from rod {}", place_words(at[index]), gap, before + 1),
            "a place of its own for each rod");
        break;
      }
    }
  }

 private:
  static std::string place_words(const RodPosition& rod) {
    return fmt::format("a rod at [{:g}, {:g}] mm", rod.x_mm, rod.y_mm);
  }

  const FramePlates& plates_;
  const CoveredFace& cells_;
  double rod_mm_;
};

// Rods on one line let the plates tip over it. Nearer to a line than a rod is thick is on it.
bool on_one_line(const std::vector<RodPosition>& at, double rod_mm) {
  RodPosition from;
  RodPosition to;
  double length = 0;
  for (const RodPosition& one : at) {
    for (const RodPosition& other : at) {
      const double apart = std::hypot(other.x_mm - one.x_mm, other.y_mm - one.y_mm);
      if (apart <= length) continue;
      length = apart;
      from = one;
      to = other;
    }
  }
  if (length == 0) return true;
  return std::ranges::all_of(at, [&](const RodPosition& rod) {
    const double area = (to.x_mm - from.x_mm) * (rod.y_mm - from.y_mm) -
                        (to.y_mm - from.y_mm) * (rod.x_mm - from.x_mm);
    return std::abs(area) / length < rod_mm;
  });
}

void check_positions(const Node& rods, const Frame& said, const CoveredFace& cells, double rod_mm) {
  const RodCheck check(said, cells, rod_mm);
  const std::vector<RodPosition>& at = said.rods.at;
  const auto list = rods.child("at");
  if (!list) {
    // The four corners are alike.
    const auto spread = rods.child("spread");
    if (spread && !at.empty()) check.fits(*spread, at.front());
    return;
  }
  const std::vector<Node> nodes = list->items();
  // Where a place could not be read, the others cannot be told apart by number.
  if (at.size() != nodes.size()) return;
  for (std::size_t index = 0; index < at.size(); ++index) {
    check.fits(nodes[index], at[index]);
  }
  check.apart(*list, at);
  if (at.size() >= 3 && on_one_line(at, rod_mm)) {
    list->problem_found("all rods on one line",
                        "at least one rod away from the line through the others",
                        "on one line the plates tip");
  }
}

}  // namespace

Frame convert_frame(const Node& frame) {
  Frame out;
  if (const auto plates = frame.child("plates")) out.plates = convert_plates(*plates);
  if (const auto rods = frame.child("rods")) out.rods = convert_rods(*rods);
  if (const auto springs = frame.child("springs")) out.springs = convert_springs(*springs);
  out.force_n = frame.quantity("force", Dimension::force);
  return out;
}

void check_rods(const Node& frame, const Frame& said, const CoveredFace& cells) {
  const auto rod_mm = thread_mm(said.rods.size);
  const auto rods = frame.child("rods");
  if (!rod_mm || !rods) return;
  check_positions(*rods, said, cells, *rod_mm);
  if (said.springs) check_bore(*frame.child("springs"), *said.springs, *rod_mm);
}

}  // namespace stackfit::cli
