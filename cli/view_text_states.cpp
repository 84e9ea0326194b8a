// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

std::string pads_column(const StateResult& state) {
  const std::string_view age = state.settled ? "settled" : "fresh";
  return fmt::format("{}{}", age, state.stiff_pads ? ", stiff" : "");
}

void write_state_line(TextPage& page, const StateResult& state) {
  const Figures& figures = page.figures;
  page.lines.line(fmt::format(
      "  {:>7}{:>8}{:>8}  {:<15}{:>8}{:>9}{:>12}  {}", charge_text(state.charge),
      figures.temperature_number(state.temperature_c), percent(state.capacity_loss),
      pads_column(state), figures.pressure_number(state.face_pressure_mpa),
      figures.companion_number(state.face_pressure_mpa), figures.force_number(state.force_n),
      state.standing == Standing::inside ? "inside" : code(state.standing)));
}

void write_curve_lines(TextPage& page, std::size_t first, std::size_t last) {
  const Answer& answer = page.answer;
  std::string charges = "  charge %";
  std::string pressures = fmt::format("  {:<8}", page.figures.pressure_unit());
  for (std::size_t i = first; i < last; ++i) {
    charges += fmt::format("{:>7.0f}", answer.curve_charge[i] * 100);
    pressures += fmt::format("{:>7}", page.figures.pressure_number(answer.curve_pressure_mpa[i]));
  }
  page.lines.line(charges);
  page.lines.line(pressures);
}

std::string cell_standing(const CellResult& cell) {
  if (cell.shows_sign) {
    return "SHOWS A SIGN";
  }
  if (cell.beyond_watch) {
    return cell.refused ? "SWOLLEN" : "swollen: WATCH";
  }
  return cell.signs.empty() ? "signs not said" : shortened(printable(cell.signs), 20);
}

}  // namespace

void write_states(TextPage& page) {
  const Figures& figures = page.figures;
  page.lines.line(
      fmt::format("{:<9}{:>8}{:>8}  {:<15}{:>8}{:>9}{:>12}", "EACH STATE",
                  figures.temperature_unit(), "lost", "pads", figures.pressure_unit(),
                  figures.companion_unit(), fmt::format("{} on face", figures.force_unit())),
      Emphasis::heading);
  for (const StateResult& state : page.answer.plan.states) {
    write_state_line(page, state);
  }
  page.lines.blank();
}

void write_curve(TextPage& page) {
  constexpr std::size_t points_a_line = 10;
  const std::size_t count =
      std::min(page.answer.curve_charge.size(), page.answer.curve_pressure_mpa.size());
  if (count == 0) {
    return;
  }
  page.lines.line("FACE PRESSURE AGAINST CHARGE, new, at the reference temperature",
                  Emphasis::heading);
  for (std::size_t first = 0; first < count; first += points_a_line) {
    write_curve_lines(page, first, std::min(first + points_a_line, count));
  }
  page.lines.blank();
}

void write_cells(TextPage& page) {
  const Figures& figures = page.figures;
  constexpr std::size_t id_width = 18;
  page.lines.line(fmt::format("{:<{}}{:>9}{:>9}{:>9}{:>10}  {}",
                              fmt::format("CELLS, {}", figures.length_unit()), id_width + 2, "free",
                              "edge", "dome", "swelling", "signs"),
                  Emphasis::heading);
  for (const CellResult& cell : page.answer.cells) {
    const std::string id = shortened(printable(cell.id), id_width);
    page.lines.line(fmt::format(
        "  {}{}{:>9}{:>9}{:>9}{:>10}  {}", id, std::string(id_width - display_width(id), ' '),
        figures.thickness_number(cell.free_mm), figures.thickness_number(cell.edge_mm),
        figures.thickness_number(cell.dome_mm) + (cell.dome.one_face ? "*" : ""),
        figures.thickness_number(cell.swelling_mm), cell_standing(cell)));
  }
  if (std::ranges::any_of(page.answer.cells,
                          [](const CellResult& cell) { return cell.dome.one_face; })) {
    page.lines.wrapped("* one face only was read, the other is taken alike", {2, 4});
  }
  page.lines.blank();
}

}  // namespace stackfit::cli
