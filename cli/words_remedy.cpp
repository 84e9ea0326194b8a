// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/words_remedy.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/answer_words.hpp"
#include "cli/text_lines.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

// Remedies are steps of a hundredth of a millimetre or a tenth of a point at the finest;
// rounding here takes off only the dust of the arithmetic.
double rounded(double value, double steps_per_unit) {
  return std::round(value * steps_per_unit) / steps_per_unit;
}

std::string millimetres(double mm) {
  return exact(rounded(mm, 1000)) + " mm";
}

std::string points(double fraction) {
  return exact(rounded(fraction * 100, 100));
}

std::string charge_window(const Span& window) {
  return fmt::format("{}-{} %", points(window.low), points(window.high));
}

// A name that no entry of the kit is likely to have.
std::string new_name(const Remedy& remedy, std::string_view kind) {
  if (!remedy.name.empty()) {
    return remedy.name;
  }
  return fmt::format("{} {}", kind, exact(rounded(remedy.thickness_mm, 1000)));
}

SetArgument new_shim(const Remedy& remedy) {
  const Json entry{{"name", new_name(remedy, "new")},
                   {"thickness", millimetres(remedy.thickness_mm)},
                   {"count", remedy.count}};
  return {"kit.+", entry.dump()};
}

SetArgument end_pads(const Remedy& remedy) {
  Json entry{{"where", "ends"}, {"thickness", millimetres(remedy.thickness_mm)}};
  entry["grade"] = remedy.grade;
  return {"pads.+", entry.dump()};
}

// A wall that is said in one line is said so again, which also serves where nothing was said of
// it; of any other the thickness alone changes.
SetArgument end_wall(const Remedy& remedy) {
  const PlateWall& wall = remedy.wall;
  if (wall.edges || wall.in_plane || !wall.ribs.empty() || wall.second_plate) {
    return {"box.end_walls.thickness", millimetres(remedy.thickness_mm)};
  }
  std::string line = millimetres(remedy.thickness_mm);
  if (wall.material) {
    line += " " + std::string(first_word(wall_material_words(), *wall.material));
  }
  if (wall.joint) {
    line += " " + std::string(first_word(joint_words(), *wall.joint));
  }
  return {"box.end_walls", line};
}

bool needs_quotes(std::string_view text) {
  return text.find_first_not_of(
             "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
             "0123456789._+-") != std::string_view::npos;
}

std::string single_quoted(std::string_view text) {
  std::string quoted = "'";
  for (const char letter : text) {
    if (letter == '\'') {
      quoted += "'\\''";
    } else {
      quoted += letter;
    }
  }
  return quoted + "'";
}

std::string method_sentence(BuildMethod method) {
  switch (method) {
    case BuildMethod::hand:
      return "slide the last cell in by hand";
    case BuildMethod::end_wall_last:
      return "put one end wall on last, drawn in with two clamps";
    case BuildMethod::clamp:
      return "hold the row in a clamp while the last cell goes in";
    case BuildMethod::walls_spread:
      return "spread the end walls while the last cell goes in";
  }
  return {};
}

}  // namespace

std::optional<SetArgument> set_argument(const Remedy& remedy) {
  switch (remedy.code) {
    case RemedyCode::add_shims:
    case RemedyCode::insulating_sheets:
      return new_shim(remedy);
    case RemedyCode::more_of_a_kind:
      return SetArgument{fmt::format("kit.{}.count", remedy.kit_index),
                         std::to_string(remedy.count)};
    case RemedyCode::box_length:
      return SetArgument{"box.inner.length", millimetres(remedy.value)};
    case RemedyCode::frame_force:
      return SetArgument{"frame.force", fmt::format("{:.0f} N", remedy.value)};
    case RemedyCode::charge_window:
      return SetArgument{"use.charge", charge_window(remedy.window)};
    case RemedyCode::build_method:
      return SetArgument{"build.method", std::string(plain(remedy.method))};
    case RemedyCode::build_charge:
      return SetArgument{"build.charge", points(remedy.value) + " %"};
    case RemedyCode::slip_film:
      return SetArgument{"build.slip_film", "true"};
    case RemedyCode::end_wall:
      return end_wall(remedy);
    case RemedyCode::cell_order:
      return SetArgument{"cells_may_move", "true"};
    case RemedyCode::end_pads:
      return end_pads(remedy);
  }
  return std::nullopt;
}

SetArgument set_argument(const WayOutResult& way) {
  const auto method = [](BuildMethod value) {
    return SetArgument{"build.method", std::string(plain(value))};
  };
  switch (way.way) {
    case WayOut::end_wall_last:
      return method(BuildMethod::end_wall_last);
    case WayOut::walls_spread:
      return method(BuildMethod::walls_spread);
    case WayOut::lower_charge:
      return {"build.charge", points(way.charge) + " %"};
    case WayOut::clamp:
      return method(BuildMethod::clamp);
    case WayOut::slip_film:
      return {"build.slip_film", "true"};
  }
  return {};
}

std::string shell_option(const SetArgument& argument) {
  const std::string assignment = argument.path + "=" + argument.value;
  if (!needs_quotes(argument.value)) {
    return "--set " + assignment;
  }
  if (argument.value.find_first_of("\"'$`\\!") == std::string::npos) {
    return fmt::format("--set {}=\"{}\"", argument.path, argument.value);
  }
  return "--set " + single_quoted(assignment);
}

std::string sentence(const Remedy& remedy, const Figures& figures) {
  switch (remedy.code) {
    case RemedyCode::add_shims:
      return fmt::format("buy or cut {} of {}", counted(remedy.count, "shim"),
                         figures.thickness(remedy.thickness_mm));
    case RemedyCode::insulating_sheets:
      return fmt::format("get {} of {}, full face", counted(remedy.count, "insulating sheet"),
                         figures.thickness(remedy.thickness_mm));
    case RemedyCode::more_of_a_kind:
      return fmt::format("have {} of the {} in all", remedy.count,
                         shortened(printable(remedy.name), 24));
    case RemedyCode::box_length:
      return fmt::format("make the box {} long inside", figures.length(remedy.value));
    case RemedyCode::frame_force:
      return fmt::format("bring the frame to {}", figures.force(remedy.value));
    case RemedyCode::charge_window:
      return fmt::format("run it only between {} and {} charge", percent(remedy.window.low),
                         percent(remedy.window.high));
    case RemedyCode::build_method:
      return method_sentence(remedy.method);
    case RemedyCode::build_charge:
      return fmt::format("bring every cell to {} charge before building", percent(remedy.value));
    case RemedyCode::slip_film:
      return "lay slip film (PTFE or polyethylene) on both sides of the last cell";
    case RemedyCode::end_wall:
      return fmt::format("make the end walls {} thick", figures.thickness(remedy.thickness_mm));
    case RemedyCode::cell_order:
      return "let the cells change places: in another order the terminals meet their bars";
    case RemedyCode::end_pads:
      return fmt::format("put a foam pad of {}, ASTM D1056 grade {}, at both ends",
                         figures.thickness(remedy.thickness_mm), remedy.grade);
  }
  return {};
}

std::string sentence(const WayOutResult& way, const Figures& figures) {
  const std::string force = figures.force(way.force_n);
  switch (way.way) {
    case WayOut::end_wall_last:
      return fmt::format("end wall last: two clamps draw it in with {}", force);
    case WayOut::walls_spread:
      return fmt::format("walls spread by {} with {} while the cell goes in",
                         figures.length(way.spread_mm), force);
    case WayOut::lower_charge:
      return fmt::format("built at {} charge: {} of push", percent(way.charge), force);
    case WayOut::clamp:
      return fmt::format("the others clamped to {} ({}) while the cell goes in", force,
                         figures.pressure(way.face_pressure_mpa));
    case WayOut::slip_film:
      return fmt::format("slip film on both sides of the last cell: {} of push", force);
  }
  return {};
}

}  // namespace stackfit::cli
