// SPDX-License-Identifier: GPL-3.0-or-later
//
// The row on the page: drawings, gap by gap, cell by cell.
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/gap_recipes.hpp"
#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_text.hpp"
#include "cli/picture_gives.hpp"
#include "cli/picture_row.hpp"
#include "cli/picture_row_layout.hpp"

namespace stackfit::cli {
namespace {

std::string towards(const GapResult& gap, const Answer& answer) {
  return gap.slippery_towards_cell == 0
             ? ""
             : fmt::format("cell {}", cell_at(answer, gap.slippery_towards_cell));
}

std::string insulation_of(const GapResult& gap) {
  return !gap.insulation_due ? "not due" : gap.insulated ? "yes" : "BARE";
}

std::string sheets_of(const GapResult& gap, const Figures& figures) {
  return gap.sheets.empty() ? "nothing" : sheets_in_words(gap, figures);
}

bool alike_but_for_name(const std::vector<PageCell>& a, const std::vector<PageCell>& b) {
  return std::equal(
      a.begin() + 1, a.end(), b.begin() + 1, b.end(),
      [](const PageCell& one, const PageCell& other) { return one.text == other.text; });
}

// What to lay into each gap. Neighbours that take the same share a line: the drawings show them
// one by one.
std::string gaps_html(const Answer& answer, const Figures& figures) {
  PageTable table;
  const std::vector<GapResult>& gaps = answer.plan.gaps;
  const bool slippery = std::ranges::any_of(
      gaps, [](const GapResult& gap) { return gap.slippery_towards_cell != 0; });
  table.caption = "Gap by gap, from the " + std::string(first_wall_name(answer));
  table.head = {{"gap"}, {"sheets"}, number_cell("in all, " + std::string(figures.length_unit()))};
  if (slippery) {
    table.head.push_back({"slippery face to"});
  }
  table.head.push_back({"insulated"});
  std::string first;
  for (const GapResult& gap : gaps) {
    std::vector<PageCell> row = {row_head(printable(gap.name)),
                                 {sheets_of(gap, figures)},
                                 number_cell(figures.thickness_number(gap.total_mm))};
    if (slippery) {
      row.push_back({towards(gap, answer)});
    }
    row.push_back({insulation_of(gap)});
    if (!table.rows.empty() && alike_but_for_name(table.rows.back(), row)) {
      table.rows.back().front() =
          row_head(fmt::format("{} to {}, each", first, printable(gap.name)));
      continue;
    }
    first = printable(gap.name);
    table.rows.push_back(std::move(row));
  }
  return table_html(table);
}

std::string words_html(const Answer& answer, const Figures& figures) {
  TextPage page = marked_page(answer, figures);
  page.all = true;
  write_plan_words(page);
  std::vector<std::string> texts;
  for (const TextBlock& block : page.lines.blocks()) {
    if (!block.text.empty()) {
      texts.push_back(block.text);
    }
  }
  return list_html(texts);
}

std::string one_row_html(const Answer& answer, const Figures& figures) {
  const std::string id = fmt::format("row-{}", std::max(answer.row_number, 1));
  const std::string drawn =
      fmt::format("<div class=\"pair\">{}{}</div>\n",
                  figure_html(row_from_side(answer, id + "-side"), "From the side.", true),
                  figure_html(row_from_above(answer, id + "-above"), "From above.", true));
  const bool in_strips = row_layout(answer).strips.size() > 1;
  return fmt::format(
      "<div{}>{}<div class=\"pair wide-left\">{}<div class=\"prose\">{}</div></div></div>\n",
      in_strips ? " class=\"in-strips\"" : "", drawn, gaps_html(answer, figures),
      words_html(answer, figures));
}

std::string standing_of_cell(const CellResult& cell) {
  if (cell.shows_sign) {
    return "SHOWS A SIGN: " + printable(cell.signs);
  }
  if (cell.refused) {
    return "SWOLLEN: never pressed";
  }
  if (cell.beyond_watch) {
    return "swollen: watch, never pressed flat";
  }
  return cell.signs.empty() ? "signs not said" : printable(cell.signs);
}

}  // namespace

std::string gives_html(const Answer& answer) {
  const bool told = answer.has_plan && answer.plan.interference_mm > 0 && !answer.plan.frame;
  return told ? figure_html(
                    who_gives(answer.plan, fmt::format("gives-{}", std::max(answer.row_number, 1))),
                    "Who gives, as built.")
              : "";
}

std::string row_html(const Answer& answer, const Figures& figures) {
  if (answer.rows.empty()) {
    return one_row_html(answer, figures);
  }
  std::string out;
  for (const Answer& row : answer.rows) {
    out += fmt::format("<h3>Row {} of {}, cells {} to {}</h3>\n", row.row_number,
                       answer.rows.size(), row.first_cell, row.first_cell + row.cell_count - 1);
    out += row.has_plan ? one_row_html(row, figures) : "<p>No plan.</p>\n";
  }
  return out;
}

std::string cells_html(const Answer& answer, const Figures& figures) {
  PageTable table;
  const std::string unit = fmt::format(", {}", figures.length_unit());
  table.caption = "Free thickness is the mean over the face at the build's charge";
  table.head = {{"cell"},
                number_cell("free" + unit),
                number_cell("edge" + unit),
                number_cell("dome" + unit),
                number_cell("swollen by" + unit),
                {"near side"},
                {"signs"}};
  const auto add = [&](const Answer& row) {
    for (const CellResult& cell : row.cells) {
      table.rows.push_back({row_head(printable(cell.id)),
                            number_cell(figures.thickness_number(cell.free_mm)),
                            number_cell(figures.thickness_number(cell.edge_mm)),
                            number_cell(figures.thickness_number(cell.dome_mm)),
                            number_cell(figures.thickness_number(cell.swelling_mm)),
                            {cell.plus_near_side ? "+" : "-"},
                            {standing_of_cell(cell)}});
    }
  };
  if (answer.rows.empty()) {
    add(answer);
  }
  for (const Answer& row : answer.rows) {
    add(row);
  }
  return table_html(table);
}

}  // namespace stackfit::cli
