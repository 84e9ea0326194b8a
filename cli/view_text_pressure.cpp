// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr int picture_width = 18;

// `#` on a line from the band's low end to its high end; outside it stands before or behind.
std::string band_picture(const BandResult& band, double mpa) {
  std::string inside(picture_width, '.');
  if (!(band.high_mpa > band.low_mpa)) {
    return {};
  }
  const double part = (mpa - band.low_mpa) / (band.high_mpa - band.low_mpa);
  if (part < 0) {
    return "#[" + inside + "]";
  }
  if (part > 1) {
    return " [" + inside + "]#";
  }
  const int at = std::min(static_cast<int>(part * picture_width), picture_width - 1);
  inside[static_cast<std::size_t>(at)] = '#';
  return " [" + inside + "]";
}

struct Row {
  std::string label;
  std::string pressure;
  std::string companion;
  std::string force;
  std::string picture;
};

void write_table_row(TextPage& page, const Row& row) {
  page.lines.line(fmt::format("  {:<23}{:>8} {:>9}{:>12}  {}", row.label, row.pressure,
                              row.companion, row.force, row.picture));
}

Row pressure_row(const TextPage& page, std::string label, double mpa, double newton) {
  const Figures& figures = page.figures;
  return {std::move(label), figures.pressure_number(mpa), figures.companion_number(mpa),
          figures.force_number(newton), band_picture(page.answer.band, mpa)};
}

void write_head(TextPage& page) {
  const Figures& figures = page.figures;
  page.lines.line(fmt::format("{:<25}{:>8} {:>9}{:>12}   {:<12}{:>8}", "FACE PRESSURE",
                              figures.pressure_unit(), figures.companion_unit(),
                              fmt::format("{} on face", figures.force_unit()), "low", "high"),
                  Emphasis::heading);
}

void write_band(TextPage& page) {
  const BandResult& band = page.answer.band;
  const Figures& figures = page.figures;
  const auto span = [](const std::string& low, const std::string& high) {
    return low + "-" + high;
  };
  const double area = band.face_area_mm2;
  write_table_row(
      page,
      {fmt::format("your band{}", star(band.assumed)),
       span(figures.pressure_number(band.low_mpa), figures.pressure_number(band.high_mpa)),
       span(figures.companion_number(band.low_mpa), figures.companion_number(band.high_mpa)),
       span(figures.force_number(band.low_mpa * area), figures.force_number(band.high_mpa * area)),
       " [" + std::string(picture_width, '.') + "]"});
  if (band.assumed && band.limit_mpa) {
    page.lines.line("    (made from the maker's one force *: ask for the range in use)");
  }
}

std::string state_label(const TextPage& page, std::string_view word, const StateResult& state) {
  return fmt::format("{}, {}, {}", word, charge_text(state.charge),
                     page.figures.temperature(state.temperature_c));
}

void write_state(TextPage& page, std::string_view word, const StateResult& state) {
  Row row =
      pressure_row(page, state_label(page, word, state), state.face_pressure_mpa, state.force_n);
  if (state.loose_by_mm > 0) {
    row.picture = " loose by " + page.figures.length(state.loose_by_mm);
  }
  write_table_row(page, row);
  const std::string more = also_of(state);
  if (!more.empty()) {
    page.lines.wrapped("(" + more.substr(2) + ")", {.first = 4, .next = 6});
  }
}

// The highest with the share added that the model is known to leave out.
void write_judged(TextPage& page) {
  const BandResult& band = page.answer.band;
  const StateResult& highest = page.answer.plan.highest;
  if (!(band.model_margin > 0) || highest.face_pressure_mpa == 0) {
    return;
  }
  const double factor = 1 + band.model_margin;
  write_table_row(page,
                  pressure_row(page,
                               fmt::format("  judged, +{:.0f} % doubt{}", band.model_margin * 100,
                                           star(rests_on(page.answer, Assumed::model_margin))),
                               highest.face_pressure_mpa * factor, highest.force_n * factor));
}

void write_limit(TextPage& page) {
  const BandResult& band = page.answer.band;
  if (band.limit_mpa) {
    Row row =
        pressure_row(page, "never above", *band.limit_mpa, *band.limit_mpa * band.face_area_mm2);
    row.picture.clear();
    write_table_row(page, row);
  } else {
    page.lines.line(fmt::format("  never above              not given: ask the maker{}",
                                band.assumed ? ", and for a range in use *" : ""));
  }
}

void write_local(TextPage& page) {
  const StateResult& highest = page.answer.plan.highest;
  constexpr double worth_naming = 1.02;
  if (highest.highest_local_mpa <= highest.face_pressure_mpa * worth_naming) {
    return;
  }
  const std::string touches =
      highest.contact_share < 1
          ? fmt::format("; {} of the face touches", percent(highest.contact_share))
          : std::string();
  page.lines.wrapped(fmt::format("(over the face then from {} to {}{})",
                                 page.figures.pressure_number(highest.lowest_local_mpa),
                                 page.figures.pressure(highest.highest_local_mpa), touches),
                     {.first = 4, .next = 6});
}

// Charge at which the curve has a peak of its own before the end; negative for none.
double inner_peak(const Answer& answer) {
  const auto& p = answer.curve_pressure_mpa;
  if (p.size() != answer.curve_charge.size()) {
    return -1;
  }
  for (std::size_t i = 1; i + 1 < p.size(); ++i) {
    if (p[i] > p[i - 1] && p[i] > p[i + 1]) {
      return answer.curve_charge[i];
    }
  }
  return -1;
}

void write_thick_twice(TextPage& page) {
  const double peak = inner_peak(page.answer);
  if (peak < 0) {
    return;
  }
  page.lines.line(
      fmt::format("  (Such a cell is thick twice: near {:.0f} % and again when full{}.)",
                  peak * 100, star(rests_on(page.answer, Assumed::swing_hump))));
}

}  // namespace

std::string also_of(const StateResult& state) {
  std::string text;
  if (state.settled) {
    text += ", pads settled";
  }
  if (state.stiff_pads) {
    text += ", pads at their grade's stiff end *";
  }
  if (state.capacity_loss > 0) {
    text += ", " + percent(state.capacity_loss) + " capacity lost";
  }
  return text;
}

void write_pressure(TextPage& page) {
  const PlanResult& plan = page.answer.plan;
  write_head(page);
  write_band(page);
  write_state(page, "lowest", plan.lowest);
  write_state(page, "as built", plan.as_built);
  write_state(page, "highest", plan.highest);
  write_judged(page);
  write_local(page);
  write_limit(page);
  write_thick_twice(page);
  page.lines.blank();
}

}  // namespace stackfit::cli
