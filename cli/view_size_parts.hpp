// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts of the text of `size`, one a file, in the order they are printed.
//
// For: view_size*.cpp only.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "solver/size.hpp"

namespace stackfit::cli {

struct SizePage {
  const SizeAnswer& answer;
  Figures figures;
  bool all = false;
  TextLines lines;
};

/// All but the first lines and the cautions: the verdict, then a heading for each block.
void write_size(SizePage& page);

/// One item of a block: what it is in the first column, what is said of it flowing beside it.
void write_item(SizePage& page, std::string_view what, const std::string& text);

// view_size_order.cpp
void write_order(SizePage& page);
void write_size_pressure(SizePage& page);
struct SizePressures {
  double lowest_mpa = 0;
  double built_mpa = 0;
  double highest_mpa = 0;
  std::optional<Span> life;
};
void write_size_pressures(SizePage& page, const SizePressures& pressures);
// view_size_frame.cpp
void write_frame_order(SizePage& page);
// view_size_instead.cpp
/// What else would do: waiting, fillers, what a lot has in common, pads, thin walls, softness.
void write_instead(SizePage& page);
// view_size_inside.cpp
/// Width, height, terminals, hold and weight.
void write_inside(SizePage& page);
// view_size_cuts.cpp
void write_cut_list(SizePage& page);
/// `end wall`, `filler plate`.
[[nodiscard]] std::string_view part_name(CutCode code);

/// `ORDER, ON ASSUMED FIGURES`.
[[nodiscard]] std::string_view plain(SizeVerdict verdict);
/// ` *` where the answer rests on this assumed figure.
[[nodiscard]] std::string_view size_star(const SizeAnswer& answer, Assumed id);
/// `28 of 0.50 mm, 3 of 2 mm`.
[[nodiscard]] std::string kit_words(const LengthOffer& length, const Figures& figures);
/// A length as it is ordered: `429 mm`, `428.5 mm`.
[[nodiscard]] std::string ordered(double mm);

}  // namespace stackfit::cli
