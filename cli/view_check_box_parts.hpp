// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts of the box part of a check's text that stand in files of their own.
//
// For: view_check_box*.cpp only.
#pragma once

#include <string>

#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "solver/box_check.hpp"

namespace stackfit::cli {

struct BoxPage {
  const BoxCheck& check;
  TextLines& lines;
  const Figures& figures;
  bool all = false;  ///< also what can wait while all is well
};

/// Of what is said of the box as a whole.
inline constexpr TextLines::Indent box_lines{.first = 2, .next = 4};

// view_check_box.cpp
/// Newtons, and beside them the unit asked for; kgf is what a spring balance shows.
[[nodiscard]] std::string newtons_beside(double newton, const Figures& figures);
[[nodiscard]] std::string newtons(double newton);
// view_check_box_in.cpp
/// `by hand it takes 480 N (49 kgf) of push, a hand may 150 N (15 kgf)`.
[[nodiscard]] std::string why_not_closed(const InsertionResult& insertion, const Figures& figures);
/// Of a row that has an insertion: what fails, and the ways in that work.
void write_cannot_be_put_together(BoxPage& page, const RowCheck& row, TextLines::Indent indent);
// view_check_box_out.cpp
/// How hard the row presses as it stands; nothing where it does not stand yet.
void write_today(BoxPage& page);
/// How a cell is got out of it; in short where all is well and `all` was not asked for.
void write_taking_out(BoxPage& page);

}  // namespace stackfit::cli
