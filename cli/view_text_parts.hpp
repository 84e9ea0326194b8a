// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts of the text view, one a file, in the order they are printed.
//
// For: view_text.cpp and its siblings only.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

/// What every part needs: the answer, the units and the lines written so far.
struct TextPage {
  const Answer& answer;
  Figures figures;
  bool all = false;
  TextLines lines;
};

// view_text_head.cpp
void write_stop(TextPage& page);
void write_title(TextPage& page);
void write_verdict(TextPage& page);
// view_text_failure.cpp
/// The rule that fails, in mm where it is one of lengths.
[[nodiscard]] std::string why_not(const Answer& answer, const Figures& figures);
void write_failure(TextPage& page);
// view_text_remedies.cpp
/// Changes that mend a build which does not fit, or make one surer that does.
void write_remedies(TextPage& page);
// view_text_plan.cpp
void write_plan(TextPage& page);
/// Kit, faces, insulation, lengths, walls, rods: all that is not where the sheets lie.
void write_plan_words(TextPage& page);
// view_text_row.cpp
void write_row(TextPage& page);
/// What stands at either end of the row: `fixed wall`, `loose wall`.
[[nodiscard]] std::string_view first_wall_name(const Answer& answer);
[[nodiscard]] std::string_view last_wall_name(const Answer& answer);
// view_text_order.cpp
/// Where the cells may change places: their order, and what is proven of it.
void write_order(TextPage& page);
/// The cell at a place, counted from 1: its number, or its id where cells were moved.
[[nodiscard]] std::string cell_at(const Answer& answer, int place);
// view_text_pressure.cpp
/// What else a state is, where it is not the plain one: `, pads settled`; else empty.
[[nodiscard]] std::string also_of(const StateResult& state);
void write_pressure(TextPage& page);
// view_text_states.cpp
void write_states(TextPage& page);
void write_curve(TextPage& page);
void write_cells(TextPage& page);
// view_text_moves.cpp
void write_moves(TextPage& page);
void write_warnings(TextPage& page);
// view_text_sure.cpp
/// The chance, how the rest fails and what to measure next; with --all what it hangs on.
void write_sure(TextPage& page);
// view_assumed.cpp
/// One figure or word that is assumed, in words; span, worth and source may be empty.
struct AssumedLine {
  std::string what;
  std::string taken;
  std::string span;
  std::string worth;  ///< what its span moves the highest pressure by
  std::string why;
  std::string source;
};
/// Most worth first.
[[nodiscard]] std::vector<AssumedLine> assumed_lines(const Answer& answer, const Figures& figures);
/// What is assumed, most worth first: value, span, worth, why.
void write_assumed(TextPage& page);
// view_text_steps.cpp
void write_steps(TextPage& page);
// view_text_close.cpp
void write_looser(TextPage& page);
void write_cautions(TextPage& page);

/// Whether the answer rests on this assumed figure, and ` *` where it does.
[[nodiscard]] bool rests_on(const Answer& answer, Assumed id);
[[nodiscard]] std::string_view star(bool assumed);

}  // namespace stackfit::cli
