// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts of the text of `check`, in the order they are printed.
//
// For: view_check*.cpp only.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "solver/check.hpp"

namespace stackfit::cli {

struct CheckPage {
  const CheckAnswer& answer;
  Figures figures;
  bool all = false;
  TextLines lines;
};

// view_check.cpp
/// Why nothing may be done with a cell that shows a sign, and which it is.
[[nodiscard]] std::string stop_sentence(const CheckAnswer& answer);
void write_verdict(CheckPage& page);
/// Growth, what to leave out, the box, what comes next: each under its heading.
void write_check_body(CheckPage& page);
/// Every limit and figure that is assumed, why and from where.
void write_assumed(CheckPage& page);
/// `52.60 mm, the data sheet's`.
[[nodiscard]] std::string nominal_in_words(const CheckAnswer& answer, const Figures& figures);
/// Every rule that spoke of a cell, or that its thickness cannot clear it.
[[nodiscard]] std::string why(const CellCondition& cell);
/// The ids of all cells with this verdict, with commas; long lists end in a count.
[[nodiscard]] std::string ids_of(const CheckAnswer& answer, CellVerdict verdict);
/// As wide as the ids of a table need.
[[nodiscard]] std::size_t id_width(const CheckAnswer& answer);
[[nodiscard]] std::string padded(std::string_view text, std::size_t width);
/// Words flowed beside the columns before them.
void write_beside(TextLines& lines, const std::string& columns, const std::string& text);
/// Short enough for a table, safe to print.
[[nodiscard]] std::string short_id(const std::string& id);
// view_check_next.cpp
void write_growth(CheckPage& page);
void write_left_out(CheckPage& page);
void write_next(CheckPage& page);

}  // namespace stackfit::cli
