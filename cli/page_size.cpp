// SPDX-License-Identifier: GPL-3.0-or-later
//
// The build sheet of `size`: what to order, its drawing, its parts.
#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "cli/answer_words.hpp"
#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_text.hpp"
#include "cli/size_drawing.hpp"
#include "cli/view_size.hpp"
#include "cli/view_size_parts.hpp"

namespace stackfit::cli {
namespace {

std::string section_id(std::size_t number) {
  return fmt::format("part-{}", number);
}

std::string drawing_html(const SizeAnswer& answer, const PageHead& head) {
  if (!answer.serves()) {
    return "";
  }
  try {
    return figure_html(drawing_of(answer, head.file, head.date, "drawing"),
                       "To scale, with its sizes. Print it by itself with --drawing.", true);
  } catch (const std::invalid_argument& cannot) {
    return fmt::format("<p>Not drawn: {}.</p>\n", html_of(cannot.what()));
  }
}

std::vector<AssumedLine> assumed_of(const SizeAnswer& answer, const Figures& figures) {
  Answer only_assumed;
  only_assumed.assumed = answer.assumed;
  only_assumed.assumed_words = answer.assumed_words;
  return assumed_lines(only_assumed, figures);
}

PageTone tone_of(const SizeAnswer& answer) {
  return answer.verdict == SizeVerdict::stop ? PageTone::stop
         : answer.serves()                   ? PageTone::inside
                                             : PageTone::warning;
}

}  // namespace

std::string page_of(const SizeAnswer& answer, const PageHead& head) {
  const Figures figures(head.units, Marks::in_text);
  SizePage page{answer, figures, true, TextLines(false)};
  write_size(page);
  PageSheet sheet;
  sheet.command = "size";
  sheet.title = answer.title;
  sheet.word = plain(answer.verdict);
  sheet.facts = {{"Cells", fmt::format("{} of {:g}±{:g} mm", answer.cell_count, answer.nominal_mm,
                                       answer.tolerance_mm)},
                 band_fact(answer.band, figures),
                 use_fact(answer.use_charge, answer.use_temperature_c, figures)};
  sheet.tone = tone_of(answer);
  std::size_t number = 0;
  for (const BlockSection& part : split_at_headings(page.lines.blocks())) {
    if (number == 0) {
      sheet.verdict_html = lead_html(without_word(part.blocks, sheet.word));
    } else {
      add_section(sheet, {section_id(number), sentence_case(part.title), section_html(part)});
    }
    if (number == 1) {
      add_section(sheet, {"drawing", "Drawing", drawing_html(answer, head)});
    }
    ++number;
  }
  add_section(sheet, {"assumed", "What is assumed", assumed_html(assumed_of(answer, figures))});
  add_section(sheet, {"measuring", "Where to measure", measuring_html()});
  add_section(sheet, {"cautions", "Cautions in full", cautions_html()});
  sheet.answer_json = size_json(answer).dump();
  return sheet_html(sheet, head);
}

}  // namespace stackfit::cli
