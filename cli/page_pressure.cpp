// SPDX-License-Identifier: GPL-3.0-or-later
//
// Pressures on the page: the table, the chart, the map, and how sure they are.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_text.hpp"
#include "cli/picture_map.hpp"
#include "cli/picture_pressure.hpp"
#include "cli/picture_spread.hpp"
#include "cli/words_chance.hpp"

namespace stackfit::cli {
namespace {

std::vector<PageCell> units_head(std::string first, const Figures& figures) {
  return {{std::move(first)},
          number_cell(std::string(figures.pressure_unit())),
          number_cell(std::string(figures.companion_unit())),
          number_cell(fmt::format("{} on face", figures.force_unit()))};
}

std::vector<PageCell> span_row(std::string name, const Span& mpa, double area_mm2,
                               const Figures& figures) {
  return {row_head(std::move(name)),
          number_cell(fmt::format("{}-{}", figures.pressure_number(mpa.low),
                                  figures.pressure_number(mpa.high))),
          number_cell(fmt::format("{}-{}", figures.companion_number(mpa.low),
                                  figures.companion_number(mpa.high))),
          number_cell(fmt::format("{}-{}", figures.force_number(mpa.low * area_mm2),
                                  figures.force_number(mpa.high * area_mm2))),
          {}};
}

std::vector<PageCell> pressure_row(std::string name, double mpa, double newton, PageCell standing,
                                   const Figures& figures) {
  return {row_head(std::move(name)), number_cell(figures.pressure_number(mpa)),
          number_cell(figures.companion_number(mpa)), number_cell(figures.force_number(newton)),
          std::move(standing)};
}

std::string standing_words(const StateResult& state, const Figures& figures) {
  return state.loose_by_mm > 0 ? "loose by " + figures.length(state.loose_by_mm)
                               : std::string(plain(state.standing));
}

PageCell standing_of(const StateResult& state, const Figures& figures) {
  return standing_cell(standing_words(state, figures), state.standing);
}

std::vector<PageCell> state_row(std::string_view word, const StateResult& state,
                                const Figures& figures) {
  return pressure_row(fmt::format("{}, {}, {}{}", word, charge_text(state.charge),
                                  figures.temperature(state.temperature_c), also_of(state)),
                      state.face_pressure_mpa, state.force_n, standing_of(state, figures), figures);
}

void add_limits(const Answer& answer, const Figures& figures, PageTable& table) {
  const BandResult& band = answer.band;
  const StateResult& highest = answer.plan.highest;
  if (band.model_margin > 0 && highest.face_pressure_mpa > 0) {
    table.rows.push_back(
        pressure_row(fmt::format("highest as judged, +{:.0f} % doubt{}", band.model_margin * 100,
                                 star(rests_on(answer, Assumed::model_margin))),
                     band.judged(highest.face_pressure_mpa),
                     highest.force_n * (1 + band.model_margin), {}, figures));
  }
  if (band.limit_mpa) {
    table.rows.push_back(pressure_row("never above", *band.limit_mpa,
                                      *band.limit_mpa * band.face_area_mm2, {}, figures));
  } else {
    table.rows.push_back({row_head("never above"), {"not given"}, {""}, {""}, {"ask the maker"}});
  }
}

PageTable pressure_table(const Answer& answer, const Figures& figures) {
  const BandResult& band = answer.band;
  PageTable table;
  table.caption = "Face pressure in the states that count";
  table.head = units_head("state", figures);
  table.head.push_back({"against your band"});
  table.rows.push_back(span_row(fmt::format("your band{}", star(band.assumed)),
                                {band.low_mpa, band.high_mpa}, band.face_area_mm2, figures));
  table.rows.push_back(state_row("lowest", answer.plan.lowest, figures));
  table.rows.push_back(state_row("as built", answer.plan.as_built, figures));
  table.rows.push_back(state_row("highest", answer.plan.highest, figures));
  add_limits(answer, figures, table);
  return table;
}

PageTable states_table(const Answer& answer, const Figures& figures) {
  PageTable table;
  table.caption = "In every corner of charge, heat and age";
  table.look = "fine";
  table.head = {number_cell("charge"),
                number_cell(std::string(figures.temperature_unit())),
                number_cell("capacity lost"),
                {"pads"},
                number_cell(std::string(figures.pressure_unit())),
                number_cell(std::string(figures.companion_unit())),
                number_cell(fmt::format("{} on face", figures.force_unit())),
                {"against your band"}};
  for (const StateResult& state : answer.plan.states) {
    const std::string pads =
        fmt::format("{}{}", state.settled ? "settled" : "fresh", state.stiff_pads ? ", stiff" : "");
    table.rows.push_back({number_cell(charge_text(state.charge)),
                          number_cell(figures.temperature_number(state.temperature_c)),
                          number_cell(percent(state.capacity_loss)),
                          {pads},
                          number_cell(figures.pressure_number(state.face_pressure_mpa)),
                          number_cell(figures.companion_number(state.face_pressure_mpa)),
                          number_cell(figures.force_number(state.force_n)),
                          standing_of(state, figures)});
  }
  return table;
}

std::string one_html(const Answer& answer, const Figures& figures) {
  return table_html(pressure_table(answer, figures)) +
         fmt::format("<details class=\"states\"><summary>Each state</summary>{}</details>\n",
                     table_html(states_table(answer, figures)));
}

// Of several rows each by itself, under its name.
template <class Html>
std::string of_rows(const Answer& answer, const Html& html) {
  if (answer.rows.empty()) {
    return html(answer);
  }
  std::string out;
  for (const Answer& row : answer.rows) {
    if (row.has_plan) {
      out += fmt::format("<div><h3>Row {} of {}</h3>\n{}</div>\n", row.row_number,
                         answer.rows.size(), html(row));
    }
  }
  return fmt::format("<div class=\"rows\">{}</div>\n", out);
}

std::string moves_html(const Answer& answer, const Figures& figures) {
  TextPage page = marked_page(answer, figures);
  page.all = true;
  write_moves(page);
  const std::vector<BlockSection> parts = split_at_headings(page.lines.blocks());
  return parts.size() < 2 ? "" : blocks_html(parts[1].blocks);
}

std::string id_of(std::string_view name, const Answer& answer) {
  return fmt::format("{}-{}", name, std::max(answer.row_number, 1));
}

PageTable spread_table(const Chance& chance, const Figures& figures) {
  PageTable table;
  table.caption = fmt::format("Face pressure over the draws, {}", figures.pressure_unit());
  table.head = {{"state"}, number_cell("2.5 %"), number_cell("50 %"), number_cell("97.5 %")};
  const auto add = [&](std::string name, const PressureSpread& spread) {
    table.rows.push_back({row_head(std::move(name)),
                          number_cell(figures.pressure_number(spread.low_mpa)),
                          number_cell(figures.pressure_number(spread.median_mpa)),
                          number_cell(figures.pressure_number(spread.high_mpa))});
  };
  add("lowest", chance.lowest);
  add("as built", chance.as_built);
  add("highest", chance.highest);
  return table;
}

std::string hundred(double share) {
  return fmt::format("{:.0f}", std::clamp(share, 0.0, 1.0) * 100);
}

PageTable inputs_table(const Chance& chance) {
  PageTable table;
  table.look = "fine";
  table.caption = "Share of the doubt, in 100: alone, and with all it acts together with";
  table.head = {{"what is not known exactly"},
                number_cell("highest, alone"),
                number_cell("highest, with all"),
                number_cell("failing, alone"),
                number_cell("failing, with all")};
  for (const InputShare& share : chance.inputs) {
    table.rows.push_back({row_head(name_of(share) + std::string(star(share.assumed))),
                          number_cell(hundred(share.first_order_pressure)),
                          number_cell(hundred(share.total_pressure)),
                          number_cell(hundred(share.first_order_failing)),
                          number_cell(hundred(share.total_failing))});
  }
  return table;
}

}  // namespace

std::string pressure_html(const Answer& answer, const Figures& figures) {
  return of_rows(answer, [&](const Answer& row) { return one_html(row, figures); });
}

std::string charge_html(const Answer& answer, const Figures& figures) {
  return of_rows(answer, [&](const Answer& row) {
    if (row.curve_charge.empty()) {
      return std::string();
    }
    const std::string moves = moves_html(row, figures);
    const std::string chart =
        figure_html(pressure_over_charge(row, id_of("curve", row)),
                    "Face pressure from empty to full, new and aged, cold and warm.");
    return moves.empty()
               ? chart
               : fmt::format(
                     "<div class=\"pair wide-left\">{}<div class=\"prose\"><h3>What moves "
                     "the highest</h3>{}</div></div>\n",
                     chart, moves);
  });
}

std::string worst_face_html(const Answer& answer) {
  return of_rows(answer, [&](const Answer& row) {
    if (!row.picture) {
      return std::string();
    }
    return fmt::format("<div class=\"pair\">{}{}</div>\n",
                       figure_html(pressure_map(row, id_of("map", row)),
                                   "Pressure over the face in the state that presses it most."),
                       gives_html(row));
  });
}

std::string sure_html(const Answer& answer, const Figures& figures) {
  if (!answer.chance) {
    return "";
  }
  TextPage page = marked_page(answer, figures);
  write_sure(page);
  const std::vector<BlockSection> parts = split_at_headings(page.lines.blocks());
  const std::string_view inputs =
      answer.chance->assumed_inputs ? "<p><strong>With assumed inputs *</strong></p>\n" : "";
  std::string out = fmt::format("<div class=\"pair\">{}<div class=\"prose\">{}{}</div></div>\n",
                                figure_html(pressure_spread(answer, "spread"),
                                            "What a hundred builds like this one would see."),
                                inputs, parts.size() < 2 ? "" : blocks_html(parts[1].blocks));
  out += fmt::format(
      "<details class=\"screen-only\"><summary>What the chance hangs "
      "on</summary>{}{}<p>{}</p></details>\n",
      table_html(spread_table(*answer.chance, figures)),
      answer.chance->inputs.empty() ? "" : table_html(inputs_table(*answer.chance)),
      html_of(chance_leaves_out));
  return out;
}

}  // namespace stackfit::cli
