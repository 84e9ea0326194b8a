// SPDX-License-Identifier: GPL-3.0-or-later
//
// DimensionLine lines: arrows, witness lines and a figure, as ISO 129-1 shows them.
//
// For: drawings (drawing_box.cpp, drawing_frame.cpp). The figure stands above its line, and an
// upright one reads from the right. Where the figure does not fit between the witness lines, it
// stands beyond one of them on the line drawn longer; where the arrows do not, they point inwards.
// Not for: choosing what is dimensioned.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

/// 531.5 or 8: at most two decimals.
[[nodiscard]] std::string size_text(double mm);
struct DrawnTolerance {
  double plus_mm = 0;
  double minus_mm = 0;  ///< as a size: how much it may come smaller
};
enum class Along : std::uint8_t { across, upright };
enum class TextBeyond : std::uint8_t { first, last };  ///< past which end, where it does not fit

struct DimensionLine {
  Along along = Along::across;
  double from_mm = 0;     ///< x of the first end on paper, or y
  double to_mm = 0;       ///< of the second, which is greater
  double line_mm = 0;     ///< y of the dimension line, or x
  double witness_mm = 0;  ///< from where witness lines reach to it
  std::string text;
  std::optional<DrawnTolerance> tolerance = {};  ///< its two limits stand one over the other
  TextBeyond beyond = TextBeyond::last;
  double text_size_mm = 3;
  bool bold = false;

  [[nodiscard]] double figure_width() const;  ///< without limits
  [[nodiscard]] double text_width() const;
  [[nodiscard]] bool text_outside() const;
  /// By how much it reaches past its ends, on the side of `beyond`.
  [[nodiscard]] double overhang_mm() const;
};
void draw_dimension(SvgWriter& svg, const DimensionLine& dimension);

/// A note with a line that points at something; the text begins, or ends, where the line does.
struct Leader {
  SvgPoint at;
  SvgPoint knee;
  SvgAnchor anchor = SvgAnchor::start;
  std::string text;
};
void draw_leader(SvgWriter& svg, const Leader& leader);

}  // namespace stackfit::cli
