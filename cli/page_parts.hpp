// SPDX-License-Identifier: GPL-3.0-or-later
//
// The sections of the page, in the order in which they stand, and the sheet round them.
//
// For: page*.cpp only.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "cli/figures.hpp"
#include "cli/page.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {

struct PageSection {
  std::string id;
  std::string title;
  std::string html;
  bool screen_only = false;  ///< not printed
};

/// How a verdict looks: a word and a shape go with each.
enum class PageTone : std::uint8_t {
  inside,
  doubtful,  ///< inside, and likelier not
  warning,
  stop
};

struct PageFact {
  std::string name;
  std::string text;
};

/// What `pick`, `pressure` and `size` have in common in the title block.
[[nodiscard]] PageFact band_fact(const BandResult& band, const Figures& figures);
[[nodiscard]] PageFact use_fact(const Span& charge, const Span& temperature_c,
                                const Figures& figures);

/// All that a sheet is made of; `html` members are safe already.
struct PageSheet {
  std::string command;          ///< `pick`
  std::string title;            ///< of the build, as it is
  std::vector<PageFact> facts;  ///< of the title block
  PageTone tone = PageTone::warning;
  std::string word;  ///< the verdict in capitals
  std::string verdict_html;
  std::string stopped;  ///< why nothing may be pressed at all; empty: nothing stops
  std::vector<PageSection> sections;
  std::string answer_json;
  std::string play_json;  ///< empty: nothing to play with
};
[[nodiscard]] std::string sheet_html(const PageSheet& sheet, const PageHead& head);

/// A verdict without the word it begins with, nor the option that a terminal is told of.
[[nodiscard]] std::vector<TextBlock> without_word(std::vector<TextBlock> blocks,
                                                  std::string_view word);
/// Flowing text of a verdict.
[[nodiscard]] std::string lead_html(std::span<const TextBlock> blocks);

/// A section is left out where its text is empty.
void add_section(PageSheet& sheet, PageSection section);

// page_bench.cpp
/// What to lay out before beginning.
[[nodiscard]] std::vector<std::string> tools_of(const Answer& answer);
[[nodiscard]] std::string bench_html(const Answer& answer, const Figures& figures);
[[nodiscard]] std::string steps_html(const Answer& answer, const Figures& figures);
[[nodiscard]] std::string blanks_html(const Answer& answer, const Figures& figures);
[[nodiscard]] std::string later_html(const Answer& answer, const PageHead& head);
// page_pressure.cpp
[[nodiscard]] std::string pressure_html(const Answer& answer, const Figures& figures);
/// The chart, and beside it what moves the highest.
[[nodiscard]] std::string charge_html(const Answer& answer, const Figures& figures);
[[nodiscard]] std::string worst_face_html(const Answer& answer);
[[nodiscard]] std::string sure_html(const Answer& answer, const Figures& figures);
// page_row.cpp
/// Who gives, as one bar.
[[nodiscard]] std::string gives_html(const Answer& answer);
/// Drawings of every row, what lies in each gap, and what is said of it.
[[nodiscard]] std::string row_html(const Answer& answer, const Figures& figures);
[[nodiscard]] std::string cells_html(const Answer& answer, const Figures& figures);
// page_play.cpp
/// The sliders; empty where there is nothing to play with.
[[nodiscard]] std::string play_html(const Answer& answer);
[[nodiscard]] std::string play_json(const Answer& answer);
// page_assumed.cpp
[[nodiscard]] std::string assumed_html(const std::vector<AssumedLine>& lines);
// page_measuring.cpp
[[nodiscard]] std::string measuring_html();
[[nodiscard]] std::string cautions_html();

/// A text page whose figures are marked, to be read block by block.
[[nodiscard]] TextPage marked_page(const Answer& answer, const Figures& figures);

}  // namespace stackfit::cli
