// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_row_walls.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "cli/picture_parts.hpp"

namespace stackfit::cli {
namespace {

std::string joined(const SvgWriter& svg, const std::vector<double>& values) {
  std::string text;
  for (const double value : values) text += (text.empty() ? "" : " ") + svg.number(value);
  return text;
}

// A wall whose inner face stands at `straight`, its outer one `outer` further; both bow alike. All
// are offsets in x: to the left for the wall at the left.
void draw_bowed(SvgWriter& svg, const std::vector<double>& ys, double straight, double outer,
                const std::vector<double>& bow, const std::string& title) {
  std::string path;
  const auto add = [&](std::size_t i, double offset) {
    path += fmt::format("{}{} {}", path.empty() ? "M" : "L", svg.number(straight + offset + bow[i]),
                        svg.number(ys[i]));
  };
  for (std::size_t i = 0; i < ys.size(); ++i) add(i, 0);
  for (std::size_t i = ys.size(); i-- > 0;) add(i, outer);
  svg.path(path + "Z", {SvgLine::wide, SvgFill::metal},
           {"",
            title,
            {"play-wall",
             {{"ys", joined(svg, ys)},
              {"straight", svg.number(straight)},
              {"outer", svg.number(outer)},
              {"bow", joined(svg, bow)}}}});
}

struct WallSpan {
  double from = 0;  ///< y where the line begins: the floor, or the far side
  double to = 0;
};

WallSpan wall_span(const StripPlace& place) {
  const RowLayout& layout = place.layout;
  const bool side = place.seen == Seen::from_side;
  const double wall = layout.units(side ? layout.wall_height_mm : layout.wall_width_mm);
  if (side && !layout.answer->clamp_frame) return {place.bottom, place.bottom - wall};
  const double middle = (place.top + place.bottom) / 2;
  return side ? WallSpan{middle + wall / 2, middle - wall / 2}
              : WallSpan{middle - wall / 2, middle + wall / 2};
}

double drawn_thickness(const RowLayout& layout, const DrawnWall& wall) {
  constexpr double least = 2.5;
  constexpr double most = 10;
  return std::clamp(layout.units(wall.thickness_mm), least, most);
}

// Its name upright outside, with an arrow at one that goes on last.
void name_wall(SvgWriter& svg, const DrawnWall& wall, double x, double away, WallSpan span) {
  constexpr double beyond = 20;
  constexpr double arrow = 16;
  const double middle = (span.from + span.to) / 2;
  write_upright(svg, {x + away * beyond, middle}, wall.name, {.anchor = SvgAnchor::middle});
  if (wall.comes_off) {
    const double y = middle + text_width_mm(wall.name, picture_text) / 2 + 8;
    draw_arrow(svg, {x + away * (beyond + 6), y}, {x + away * (beyond + 6 - arrow), y});
  }
}

}  // namespace

void draw_wall(SvgWriter& svg, const StripPlace& place, bool last) {
  const RowLayout& layout = place.layout;
  const DrawnWall& wall = last ? layout.last_wall : layout.first_wall;
  const double away = last ? 1 : -1;
  const double x = place.x(last ? layout.length_mm : 0);
  const WallSpan span = wall_span(place);
  const std::vector<double>& line = place.seen == Seen::from_side ? wall.up_mm : wall.across_mm;
  // Every other point of the line: as many as the eye needs.
  const std::size_t step = line.size() > 12 ? 2 : 1;
  std::vector<double> ys;
  std::vector<double> bow;
  for (std::size_t i = 0; i < line.size(); i += step) {
    const double share = static_cast<double>(i) / static_cast<double>(line.size() - 1);
    ys.push_back(span.from + share * (span.to - span.from));
    bow.push_back(away * layout.units(line[i]) * layout.bow_times);
  }
  const double thickness = drawn_thickness(layout, wall);
  draw_bowed(svg, ys, x, away * thickness, bow, wall.name);
  name_wall(svg, wall, x + away * thickness, away, span);
}

void draw_between_ends(SvgWriter& svg, const StripPlace& place) {
  const RowLayout& layout = place.layout;
  const double from = place.is_first() ? place.x(0) : place.x(place.strip.from_mm) - 8;
  const double to = place.is_last() ? place.x(layout.length_mm) : place.x(place.strip.to_mm) + 8;
  const WallSpan span = wall_span(place);
  if (!layout.answer->clamp_frame) {
    svg.line({from, span.from}, {to, span.from}, SvgLine::wide);
    if (place.seen == Seen::from_above) svg.line({from, span.to}, {to, span.to}, SvgLine::wide);
    return;
  }
  constexpr double nut = 7;
  constexpr double inset = 6;
  for (const double y :
       {std::min(span.from, span.to) + inset, std::max(span.from, span.to) - inset}) {
    const double left = place.is_first() ? from - 18 : from;
    const double right = place.is_last() ? to + 18 : to;
    svg.line({left, y}, {right, y}, SvgLine::wide);
    if (place.is_first()) {
      const double x = from - drawn_thickness(layout, layout.first_wall);
      svg.rect({x - 6, y - nut / 2, 6, nut}, {SvgLine::thin, SvgFill::black});
    }
    if (place.is_last()) {
      const double x = to + drawn_thickness(layout, layout.last_wall);
      svg.rect({x, y - nut / 2, 6, nut}, {SvgLine::thin, SvgFill::black});
    }
  }
}

}  // namespace stackfit::cli
