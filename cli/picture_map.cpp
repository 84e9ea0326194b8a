// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "cli/figures.hpp"
#include "cli/picture_levels.hpp"
#include "cli/picture_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr double map_left = 8;
constexpr double map_top = 52;
constexpr double widest = 236;
constexpr double tallest = 300;
constexpr double scale_x = 268;
constexpr double swatch_width = 26;
constexpr double swatch_height = 24;

struct FaceOnPage {
  const PressureMap& map;
  SvgBox box;
  PressureMap fine;  ///< what is drawn

  /// Of the fine squares' corners.
  [[nodiscard]] double x(double column) const { return box.x + box.width * column / fine.columns; }
  [[nodiscard]] double y(double row) const { return box.y + box.height * row / fine.rows; }
};

FaceOnPage place_face(const PressureMap& map) {
  const double scale = std::min(widest / map.width_mm, tallest / map.height_mm);
  const double width = scale * map.width_mm;
  constexpr int finer_times = 3;
  return {map,
          {map_left + (widest - width) / 2, map_top, width, scale * map.height_mm},
          finer(map, finer_times)};
}

const StateResult& state_shown(const Answer& answer) {
  return answer.picture->worst_as_built ? answer.plan.as_built : answer.plan.highest;
}

std::string state_words(const Answer& answer) {
  const StateResult& state = state_shown(answer);
  std::string text = answer.picture->worst_as_built ? "as built" : "highest state";
  text += fmt::format(": {}, {} \u00b0C", charge_text(state.charge),
                      Figures().temperature_number(state.temperature_c));
  if (state.capacity_loss > 0) text += fmt::format(", {} lost", percent(state.capacity_loss));
  return text;
}

SquareSet squares_where(const PressureMap& map, const auto& wanted) {
  SquareSet set{map.columns, map.rows, {}};
  set.in.reserve(map.pressure_mpa.size());
  for (const double mpa : map.pressure_mpa) set.in.push_back(wanted(mpa));
  return set;
}

std::string path_of(const SvgWriter& svg, const FaceOnPage& face, const SquareSet& set) {
  std::string path;
  for (const CornerLoop& loop : outlines_of(set)) {
    // Corners turn by turn: after the first, only what changes is written.
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const std::string x = svg.number(face.x(loop[i].first));
      const std::string y = svg.number(face.y(loop[i].second));
      if (i == 0) {
        path += fmt::format("M{} {}", x, y);
      } else {
        path += loop[i].first == loop[i - 1].first ? "V" + y : "H" + x;
      }
    }
    path += 'Z';
  }
  return path;
}

// From the lowest level up, each over all that is at or above it: no seams between levels.
void draw_levels(SvgWriter& svg, const FaceOnPage& face, const MapLevels& levels) {
  for (int level = 0; level < MapLevels::count; ++level) {
    const std::string path = path_of(svg, face, squares_where(face.fine, [&](double mpa) {
                                       return mpa > 0 && levels.level_of(mpa) >= level;
                                     }));
    if (path.empty()) continue;
    const auto fill = static_cast<SvgFill>(static_cast<int>(SvgFill::map_0) + level);
    svg.path(path, {SvgLine::none, fill});
  }
  const std::string free =
      path_of(svg, face, squares_where(face.fine, [](double mpa) { return mpa <= 0; }));
  if (!free.empty()) svg.path(free, {SvgLine::none, SvgFill::hatch}, {"", "Does not touch", {}});
}

bool touches_all(const PressureMap& map) {
  return std::all_of(map.pressure_mpa.begin(), map.pressure_mpa.end(),
                     [](double mpa) { return mpa > 0; });
}

// Highest at the top, as one looks for it; figures stand at the levels' edges.
void draw_scale(SvgWriter& svg, const MapLevels& levels, bool touches) {
  const Figures figures;
  constexpr double kpa_x = scale_x + swatch_width + 32;
  constexpr double psi_x = kpa_x + 48;
  write(svg, {kpa_x, map_top - 12}, "kPa", {.anchor = SvgAnchor::end});
  write(svg, {psi_x, map_top - 12}, "psi", {.anchor = SvgAnchor::end, .quiet = true});
  for (int level = MapLevels::count; level >= 0; --level) {
    const double y = map_top + (MapLevels::count - level) * swatch_height;
    if (level > 0) {
      const auto fill = static_cast<SvgFill>(static_cast<int>(SvgFill::map_0) + level - 1);
      svg.rect({scale_x, y, swatch_width, swatch_height}, {SvgLine::thin, fill});
    }
    const double mpa = levels.edge_mpa(level);
    write(svg, {kpa_x, y + half_letter}, fmt::format("{:g}", std::round(mpa * 1e4) / 10),
          {.anchor = SvgAnchor::end});
    write(svg, {psi_x, y + half_letter}, figures.companion_number(mpa),
          {.anchor = SvgAnchor::end, .quiet = true});
  }
  if (touches) return;
  const double y = map_top + (MapLevels::count + 1) * swatch_height;
  svg.rect({scale_x, y, swatch_width, swatch_height}, {SvgLine::none, SvgFill::hatch});
  svg.rect({scale_x, y, swatch_width, swatch_height}, {SvgLine::thin, SvgFill::none});
  write(svg, {scale_x + swatch_width + 6, y + swatch_height / 2 + half_letter}, "not touching");
}

// The sign of the highest spot: rings, so that it shows on every level.
void draw_spot(SvgWriter& svg, SvgPoint at) {
  svg.circle(at, 6.5, {SvgLine::thin, SvgFill::white});
  svg.circle(at, 3.2, {SvgLine::none, SvgFill::black});
}

SvgPoint highest_spot(const FaceOnPage& face) {
  const auto& all = face.map.pressure_mpa;
  const auto index = static_cast<int>(std::max_element(all.begin(), all.end()) - all.begin());
  return {face.box.x + face.box.width * (index % face.map.columns + 0.5) / face.map.columns,
          face.box.y + face.box.height * (index / face.map.columns + 0.5) / face.map.rows};
}

std::string place_words(const FaceOnPage& face) {
  const SvgPoint spot = highest_spot(face);
  const double across = (spot.x - face.box.x) / face.box.width;
  const double down = (spot.y - face.box.y) / face.box.height;
  const char* height = down < 1.0 / 3 ? "top" : down > 2.0 / 3 ? "bottom" : "middle";
  const char* side = across < 1.0 / 3 ? " left" : across > 2.0 / 3 ? " right" : "";
  return fmt::format("{}{}", height, side);
}

void draw_terminals(SvgWriter& svg, const SvgBox& face) {
  const double wide = 0.16 * face.width;
  for (const double share : {0.2, 0.8}) {
    svg.rect({face.x + share * face.width - wide / 2, face.y - 7, wide, 7},
             {SvgLine::thin, SvgFill::metal});
  }
}

std::string in_words(const Answer& answer, const FaceOnPage& face) {
  const StateResult& state = state_shown(answer);
  std::string text =
      fmt::format("The face that is pressed most, {}. Highest {} near the {}, lowest {}, mean {}. ",
                  state_words(answer), both_pressures(state.highest_local_mpa), place_words(face),
                  both_pressures(state.lowest_local_mpa), both_pressures(state.face_pressure_mpa));
  return text + fmt::format("{} of the face is pressed.", percent(state.contact_share));
}

void check(const PressureMap& map) {
  const auto squares = static_cast<std::size_t>(map.columns) * static_cast<std::size_t>(map.rows);
  if (map.columns < 1 || map.rows < 1 || map.pressure_mpa.size() != squares || map.width_mm <= 0 ||
      map.height_mm <= 0) {
    throw std::invalid_argument("pressure_map: a map without a size");
  }
}

}  // namespace

std::string pressure_map(const Answer& answer, const std::string& id) {
  const PressureMap& map = answer.picture->worst_face;
  check(map);
  const FaceOnPage face = place_face(map);
  const MapLevels levels = levels_of(map);
  const double scale_bottom = map_top + (MapLevels::count + 2) * swatch_height;
  const double under = std::max(face.box.bottom(), scale_bottom) + text_line;
  SvgWriter svg({picture_width,
                 under + 1.6 * text_line + 4,
                 "Pressure over the face that is pressed most",
                 in_words(answer, face),
                 id,
                 {}});
  svg.define_hatch(5);
  write(svg, {map_left, half_letter + text_line / 2},
        text_to_fit(state_words(answer), picture_text, picture_width - map_left), {.bold = true});
  draw_terminals(svg, face.box);
  draw_levels(svg, face, levels);
  svg.rect(face.box, {SvgLine::wide, SvgFill::none});
  draw_spot(svg, highest_spot(face));
  draw_scale(svg, levels, touches_all(map));
  draw_spot(svg, {map_left + 8, under});
  write(svg, {map_left + 20, under + half_letter},
        fmt::format("highest {}", both_pressures(state_shown(answer).highest_local_mpa)));
  write(svg, {map_left + 20, under + text_line + half_letter},
        fmt::format("mean {}, face {:g} \u00d7 {:g} mm",
                    both_pressures(state_shown(answer).face_pressure_mpa), map.width_mm,
                    map.height_mm),
        {.quiet = true});
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
