// SPDX-License-Identifier: GPL-3.0-or-later
//
// The sheet of a drawing: its size, the scale, the frame round it, the title block and the notes.
//
// For: every drawing. A4 where its scale is 1:10 or larger, else the next larger sheet. Under the
// views lies a strip: notes to the left, the title block to the right.
// Not for: the views (drawing_box.cpp, drawing_frame.cpp).
#pragma once

#include <functional>
#include <span>
#include <string>
#include <vector>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

/// ISO 216 sheets, lying.
struct SheetSize {
  const char* name = "";
  double width_mm = 0;
  double height_mm = 0;
};
[[nodiscard]] std::span<const SheetSize> sheet_sizes();
/// 1:n of ISO 5455, largest first (numbers from memory).
[[nodiscard]] std::span<const int> drawing_scales();
/// On a sheet larger than A4 rather than on a smaller scale than this.
inline constexpr int least_scale_on_a_small_sheet = 10;

struct SheetChoice {
  SheetSize sheet;
  int denominator = 1;

  /// mm of the part as mm of paper.
  [[nodiscard]] double paper(double mm) const { return mm / denominator; }
};
[[nodiscard]] std::string scale_text(int denominator);

/// What goes into the title block, as the caller has it.
struct DrawingHead {
  std::string title;
  std::string file;
  std::string date;
  std::string general_tolerance;  ///< for sizes without one of their own; empty: not said
  std::string inline_id = {};     ///< for a page: its ids begin with this; empty: a file for paper
};
struct TitleBlock {
  DrawingHead head;
  std::string subject;      ///< what is drawn
  std::string sizes_label;  ///< of the field that says what the main sizes are
  std::string sizes_word;   ///< "after paint"
};

struct PaperNeed {
  double width_mm = 0;
  double height_mm = 0;
};
/// What the views take on paper at 1:n.
using NeedAt = std::function<PaperNeed(int denominator)>;

/// A note is one paragraph; `bold` for what must be seen.
struct DrawingNote {
  std::string text;
  bool bold = false;
};

/// What is bought, line by line; more than a sheet shows are counted in the last.
void add_kit_notes(std::vector<DrawingNote>& notes, const std::vector<std::string>& kit);

/// Throws std::invalid_argument for what no sheet holds.
[[nodiscard]] SheetChoice choose_sheet(const NeedAt& need, const std::vector<DrawingNote>& notes);
/// What is left for the views.
[[nodiscard]] SvgBox view_area(const SheetSize& sheet, const std::vector<DrawingNote>& notes);

/// Frame, notes and title block. What never changes is added: the cautions, and a line of 50 mm
/// to hold a ruler against.
void draw_sheet(SvgWriter& svg, const SheetChoice& choice, const TitleBlock& block,
                const std::vector<DrawingNote>& notes);

}  // namespace stackfit::cli
