// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_parts.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "cli/figures.hpp"
#include "cli/text_lines.hpp"

namespace stackfit::cli {

std::string name_in_sentence(std::string_view text) {
  constexpr std::size_t longest = 40;
  return shortened(printable(text), longest);
}

std::string both_pressures(double mpa) {
  const Figures figures;
  return fmt::format("{} ({} {})", figures.pressure(mpa), figures.companion_number(mpa),
                     figures.companion_unit());
}

std::string mm_text(double mm) {
  return Figures().thickness_number(mm);
}

void write(SvgWriter& svg, SvgPoint at, std::string_view text, const PictureText& look) {
  svg.text(
      at, text,
      {.size_mm = picture_text, .anchor = look.anchor, .bold = look.bold, .quiet = look.quiet});
}

void write_upright(SvgWriter& svg, SvgPoint at, std::string_view text, const PictureText& look) {
  svg.text({at.x + half_letter, at.y}, text,
           {.size_mm = picture_text,
            .anchor = look.anchor,
            .turned = true,
            .bold = look.bold,
            .quiet = look.quiet});
}

void draw_tip(SvgWriter& svg, SvgPoint tip, Pointing pointing, SvgFill fill, double size) {
  const bool lying = pointing == Pointing::left || pointing == Pointing::right;
  const double back = pointing == Pointing::left || pointing == Pointing::up ? size : -size;
  const double half = 0.45 * size;
  const std::vector<SvgPoint> corners =
      lying
          ? std::vector<SvgPoint>{tip, {tip.x + back, tip.y - half}, {tip.x + back, tip.y + half}}
          : std::vector<SvgPoint>{tip, {tip.x - half, tip.y + back}, {tip.x + half, tip.y + back}};
  svg.polygon(corners, {SvgLine::none, fill});
}

void draw_arrow(SvgWriter& svg, SvgPoint from, SvgPoint to) {
  svg.line(from, to, SvgLine::thin);
  const bool lying = std::abs(to.x - from.x) > std::abs(to.y - from.y);
  draw_tip(svg, to,
           lying ? (to.x > from.x ? Pointing::right : Pointing::left)
                 : (to.y > from.y ? Pointing::down : Pointing::up));
}

void draw_octagon(SvgWriter& svg, SvgPoint middle, double radius) {
  std::vector<SvgPoint> corners;
  for (int i = 0; i < 8; ++i) {
    const double angle = (i + 0.5) * std::numbers::pi / 4;
    corners.push_back({middle.x + radius * std::cos(angle), middle.y + radius * std::sin(angle)});
  }
  svg.polygon(corners, {SvgLine::thin, SvgFill::bad});
}

void draw_polarity(SvgWriter& svg, SvgPoint middle, bool plus, double size) {
  const double half = size / 2;
  std::string path =
      fmt::format("M{} {}h{}", svg.number(middle.x - half), svg.number(middle.y), svg.number(size));
  if (plus) {
    path += fmt::format("M{} {}v{}", svg.number(middle.x), svg.number(middle.y - half),
                        svg.number(size));
  }
  svg.path(path, {SvgLine::wide, SvgFill::none});
}

}  // namespace stackfit::cli
