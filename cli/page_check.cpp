// SPDX-License-Identifier: GPL-3.0-or-later
//
// The build sheet of `check`: cell by cell, the box, what comes next.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/answer_words.hpp"
#include "cli/check_words.hpp"
#include "cli/csv.hpp"
#include "cli/days.hpp"
#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_text.hpp"
#include "cli/picture_row.hpp"
#include "cli/view_check.hpp"
#include "cli/view_check_parts.hpp"

namespace stackfit::cli {
namespace {

std::string number_or_dash(const std::optional<double>& mm, const Figures& figures) {
  return mm ? figures.thickness_number(*mm) : "-";
}

PageTable cells_table(const CheckAnswer& answer, const Figures& figures) {
  PageTable table;
  table.caption = fmt::format("Swollen in % of {}", nominal_in_words(answer, figures));
  const std::string unit = fmt::format(", {}", figures.length_unit());
  table.head = {{"cell"},
                number_cell("edge" + unit),
                number_cell("dome" + unit),
                number_cell("swollen, %"),
                {"verdict"},
                {"why"}};
  for (const CellCondition& cell : answer.cells) {
    table.rows.push_back(
        {row_head(printable(cell.id)),
         number_cell(number_or_dash(cell.edge_mm, figures)),
         number_cell(number_or_dash(cell.dome_mm, figures)),
         number_cell(cell.swelling ? fmt::format("{:.1f}", 100 * *cell.swelling) : "-"),
         {std::string(plain(cell.verdict))},
         {why(cell)}});
  }
  return table;
}

// The row as it would stand with the plan that is said to fit, or as it lies.
std::string row_drawing(const CheckAnswer& answer) {
  if (!answer.box || answer.any_sign()) {
    return "";
  }
  const RowCheck& row = answer.box->row;
  const PlanResult* plan = row.plan() != nullptr ? row.plan()
                           : row.as_placed       ? &*row.as_placed
                                                 : nullptr;
  if (plan == nullptr || plan->gaps.size() != answer.cells.size() + 1) {
    return "";
  }
  Answer drawn;
  drawn.question = Question::pressure;
  drawn.has_plan = true;
  drawn.plan = *plan;
  drawn.band = answer.box->band;
  drawn.clamp_frame = answer.box->clamp_frame;
  drawn.cell_count = static_cast<int>(answer.cells.size());
  for (const CellCondition& cell : answer.cells) {
    CellResult& made = drawn.cells.emplace_back();
    made.id = cell.id;
    made.edge_mm = cell.edge_mm.value_or(answer.nominal_mm);
    made.free_mm = made.edge_mm;
    made.dome_mm = cell.dome_mm.value_or(0);
    made.swelling_mm = cell.swelling_mm.value_or(0);
    made.beyond_watch = cell.verdict != CellVerdict::no_fault_found;
    made.plus_near_side = drawn.cells.size() % 2 == 1;
  }
  const std::string caption = row.plan() == nullptr
                                  ? "The row as it lies. It is not to be left so: see above."
                              : row.changed.has_value() ? "The row with its sheets changed."
                                                        : "The row as it lies.";
  return figure_html(row_from_side(drawn, "row-side"), caption, true);
}

std::string log_html(const CheckAnswer& answer) {
  std::string lines = "date,cell,edge (mm),boards (mm),charge,signs\n";
  for (const CellCondition& cell : answer.cells) {
    lines += fmt::format("{},{},{},,,\n", day_text(answer.today), csv_field(printable(cell.id)),
                         cell.edge_mm ? fmt::format("{:.2f}", *cell.edge_mm) : "");
  }
  return fmt::format(
      "<p>Measure again by <strong>{}</strong>, at the same charge and in the same way. Lines of "
      "{} for the log, charge and signs to be filled in:</p>\n"
      "<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Lines for the log\"><pre "
      "class=\"copy\">{}</pre></div>\n",
      day_text(answer.next_check), day_text(answer.today), lines_html(lines));
}

std::string check_assumed_html(const CheckAnswer& answer, const Figures& figures) {
  CheckPage page{answer, figures, true, TextLines(false)};
  write_assumed(page);
  return fmt::format("<div class=\"assumed\">{}</div>", blocks_html(page.lines.blocks()));
}

std::string word_of(const CheckAnswer& answer) {
  if (answer.verdict == CellVerdict::no_fault_found && answer.box && answer.box_warns()) {
    return "THE BOX DOES NOT DO AS IT IS";  // worse than what is said of the cells
  }
  switch (answer.verdict) {
    case CellVerdict::set_aside:
      return "SET ASIDE";
    case CellVerdict::watch:
      return "WATCH";
    case CellVerdict::no_fault_found:
      return "NO FAULT FOUND";
  }
  return "";
}

// The word is not said again.
std::vector<TextBlock> without(const std::string& word, std::vector<TextBlock> blocks) {
  const bool first = !blocks.empty() && blocks.front().text.starts_with(word);
  if (!first) {
    std::erase_if(blocks, [&](const TextBlock& block) { return block.text.starts_with(word); });
  }
  return without_word(std::move(blocks), word);
}

PageTone tone_of(const CheckAnswer& answer) {
  return answer.any_sign()                                                      ? PageTone::stop
         : answer.verdict == CellVerdict::no_fault_found && !answer.box_warns() ? PageTone::inside
                                                                                : PageTone::warning;
}

}  // namespace

std::string page_of(const CheckAnswer& answer, const PageHead& head) {
  const Figures figures(head.units, Marks::in_text);
  CheckPage page{answer, figures, true, TextLines(false)};
  write_check_body(page);
  std::vector<BlockSection> parts = split_at_headings(page.lines.blocks());
  PageSheet sheet;
  sheet.command = "check";
  sheet.title = answer.title;
  sheet.facts = {{"Cells", std::to_string(answer.cells.size())},
                 {"Measured on", day_text(answer.today)},
                 {"Next check", day_text(answer.next_check)}};
  sheet.tone = tone_of(answer);
  if (answer.any_sign()) {
    sheet.stopped = stop_sentence(answer);
  }
  CheckPage verdict{answer, figures, true, TextLines(false)};
  write_verdict(verdict);
  sheet.word = word_of(answer);
  sheet.verdict_html = lead_html(without(sheet.word, verdict.lines.blocks()));
  add_section(sheet, {"cells", "The cells", table_html(cells_table(answer, figures))});
  std::size_t number = 0;
  for (const BlockSection& part : parts) {
    add_section(sheet,
                {fmt::format("part-{}", ++number),
                 part.title.empty() ? "More" : sentence_case(part.title), section_html(part)});
  }
  add_section(sheet, {"row", "The row", row_drawing(answer)});
  add_section(sheet, {"assumed", "What is assumed", check_assumed_html(answer, figures)});
  add_section(sheet, {"later", "The next check", log_html(answer)});
  add_section(sheet, {"measuring", "Where to measure", measuring_html()});
  add_section(sheet, {"cautions", "Cautions in full", cautions_html()});
  sheet.answer_json = json_of(answer).dump();
  return sheet_html(sheet, head);
}

}  // namespace stackfit::cli
