// SPDX-License-Identifier: GPL-3.0-or-later
//
// What all drawings of the build sheet have in common: width, size of text, signs, words.
//
// For: picture_*.cpp. Not for: drawings for paper (drawing_looks.hpp).
#pragma once

#include <string>
#include <string_view>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

/// Every drawing is so wide [user units].
inline constexpr double picture_width = 400;
/// 10 px where the drawing is 328 px wide, as on a small phone.
inline constexpr double picture_text = 12.5;
/// From the middle of a line of text down to its base line.
inline constexpr double half_letter = 0.36 * picture_text;
inline constexpr double text_line = 16;

/// Ids and names come from a file and may be of any length: as much as a sentence bears.
[[nodiscard]] std::string name_in_sentence(std::string_view text);
/// `94 kPa (13.6 psi)`.
[[nodiscard]] std::string both_pressures(double mpa);
/// `58.42`, in mm.
[[nodiscard]] std::string mm_text(double mm);

struct PictureText {
  SvgAnchor anchor = SvgAnchor::start;
  bool bold = false;
  bool quiet = false;
};
void write(SvgWriter& svg, SvgPoint at, std::string_view text, const PictureText& look = {});
/// Reads from below to above; `at` is on the middle of its letters.
void write_upright(SvgWriter& svg, SvgPoint at, std::string_view text,
                   const PictureText& look = {});

enum class Pointing : std::uint8_t { left, right, up, down };
/// A filled triangle with its tip at this point.
void draw_tip(SvgWriter& svg, SvgPoint tip, Pointing pointing, SvgFill fill = SvgFill::black,
              double size = 6);
/// A line with a tip at its second end; upright or lying.
void draw_arrow(SvgWriter& svg, SvgPoint from, SvgPoint to);
void draw_octagon(SvgWriter& svg, SvgPoint middle, double radius);
/// + or -.
void draw_polarity(SvgWriter& svg, SvgPoint middle, bool plus, double size);

}  // namespace stackfit::cli
