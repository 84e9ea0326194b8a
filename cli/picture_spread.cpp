// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_spread.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "cli/figures.hpp"
#include "cli/picture_parts.hpp"
#include "cli/picture_scale.hpp"

namespace stackfit::cli {
namespace {

constexpr double spread_left = 14;
constexpr double spread_right = picture_width - 20;
constexpr double spread_top = 20;
constexpr double row_height = 42;
constexpr int squares = 100;
constexpr int squares_in_a_line = 20;

struct Row {
  const char* name;
  PressureSpread spread;
};

std::array<Row, 3> rows_of(const Chance& chance) {
  return {{{"lowest", chance.lowest}, {"as built", chance.as_built}, {"highest", chance.highest}}};
}

// --- Pressures ----------------------------------------------------------------------------

double greatest_mpa(const Answer& answer) {
  constexpr double air = 1.03;
  double greatest = answer.band.high_mpa;
  for (const Row& row : rows_of(*answer.chance)) {
    greatest = std::max(greatest, row.spread.high_mpa);
  }
  constexpr double near_enough = 1.8;
  const double limit = answer.band.limit_mpa.value_or(0);
  return air * (limit < near_enough * greatest ? std::max(limit, greatest) : greatest);
}

void draw_axes(SvgWriter& svg, const PressureAxis& axis, double bottom) {
  svg.line({spread_left, bottom}, {spread_right, bottom}, SvgLine::thin);
  svg.line({spread_left, spread_top}, {spread_right, spread_top}, SvgLine::thin);
  for (const PressureTick& tick : pressure_ticks(axis.top_mpa, TickUnit::kpa)) {
    svg.line({axis.at(tick.mpa), bottom}, {axis.at(tick.mpa), bottom + 3}, SvgLine::thin);
    write(svg, {axis.at(tick.mpa), bottom + 15}, tick.text, {.anchor = SvgAnchor::middle});
  }
  for (const PressureTick& tick : pressure_ticks(axis.top_mpa, TickUnit::psi)) {
    svg.line({axis.at(tick.mpa), spread_top - 3}, {axis.at(tick.mpa), spread_top}, SvgLine::thin);
    write(svg, {axis.at(tick.mpa), spread_top - 6}, tick.text,
          {.anchor = SvgAnchor::middle, .quiet = true});
  }
}

void draw_band(SvgWriter& svg, const PressureAxis& axis, const BandResult& band, double bottom) {
  const double low = axis.at(band.low_mpa);
  svg.rect({low, spread_top, axis.at(band.high_mpa) - low, bottom - spread_top},
           {SvgLine::none, SvgFill::band}, {"", "Your band"});
}

// Beside each bar, not through its words.
void draw_edges(SvgWriter& svg, const PressureAxis& axis, const BandResult& band, double bar) {
  constexpr double half = 9;
  if (band.model_margin > 0) {
    const double judged = axis.at(band.most_for(band.high_mpa));
    svg.line({judged, bar - half}, {judged, bar + half}, SvgLine::hidden);
  }
  if (band.limit_mpa && *band.limit_mpa <= axis.top_mpa) {
    const double limit = axis.at(*band.limit_mpa);
    svg.line({limit, bar - half}, {limit, bar + half}, SvgLine::wide);
  }
}

void draw_row(SvgWriter& svg, const PressureAxis& axis, const BandResult& band, const Row& row,
              double y) {
  const Figures figures;
  const double bar = y + 29;
  draw_edges(svg, axis, band, bar);
  const double low = axis.at(row.spread.low_mpa);
  const double high = axis.at(row.spread.high_mpa);
  const double median = axis.at(row.spread.median_mpa);
  svg.line({low, bar}, {high, bar}, SvgLine::wide);
  for (const double x : {low, high}) svg.line({x, bar - 5}, {x, bar + 5}, SvgLine::wide);
  svg.circle({median, bar}, 4.5, {SvgLine::wide, SvgFill::white});
  const std::string text = fmt::format(
      "{}: {} to {} kPa, middle {}", row.name, figures.pressure_number(row.spread.low_mpa),
      figures.pressure_number(row.spread.high_mpa), both_pressures(row.spread.median_mpa));
  write(svg, {spread_left + 6, y + 16}, text);
}

// --- A hundred builds ---------------------------------------------------------------------

enum class Fate : std::uint8_t { inside, too_tight, too_loose, not_got_in };

struct Share {
  Fate fate = Fate::inside;
  double share = 0;
  int count = 0;
};

// Whole hundredths by largest remainders; ways of failing may overlap, so they share what fails.
std::vector<Share> shares_of(const Chance& chance) {
  const double fails = 1 - chance.plan.chance;
  std::vector<Share> ways{{Fate::too_tight, std::max(chance.above, chance.above_limit), 0},
                          {Fate::too_loose, chance.below, 0},
                          {Fate::not_got_in, chance.not_got_in, 0}};
  double sum = 0;
  for (const Share& way : ways) sum += way.share;
  // As the chance in words: never more inside than there are.
  constexpr double rounding = 1e-9;
  int left_over = static_cast<int>(std::ceil(fails * squares - rounding));
  const int failing = left_over;
  std::vector<std::pair<double, std::size_t>> remainders;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const double exact_count = sum > 0 ? failing * ways[i].share / sum : 0;
    ways[i].count = static_cast<int>(std::floor(exact_count));
    left_over -= ways[i].count;
    remainders.emplace_back(exact_count - ways[i].count, i);
  }
  std::sort(remainders.rbegin(), remainders.rend());
  for (std::size_t i = 0; i < remainders.size() && left_over > 0; ++i, --left_over) {
    ++ways[remainders[i].second].count;
  }
  ways.front().count += left_over > 0 ? left_over : 0;  // fails, and no way of it was counted
  std::vector<Share> shares{{Fate::inside, chance.plan.chance, squares - failing}};
  shares.insert(shares.end(), ways.begin(), ways.end());
  return shares;
}

const char* words_of(Fate fate) {
  switch (fate) {
    case Fate::inside:
      return "inside the band";
    case Fate::too_tight:
      return "too tight";
    case Fate::too_loose:
      return "too loose";
    case Fate::not_got_in:
      return "cannot be got in";
  }
  return "";
}

SvgLook look_of(Fate fate) {
  if (fate == Fate::not_got_in) return {SvgLine::thin, SvgFill::none};
  return {SvgLine::none, fate == Fate::inside ? SvgFill::good : SvgFill::bad};
}

// As the commands of a path: a square, a triangle up or down, or a crossed square.
std::string sign_of(const SvgWriter& svg, SvgPoint middle, Fate fate) {
  constexpr double half = 5.5;
  constexpr double size = 2 * half;
  const std::string x = svg.number(middle.x - half);
  const std::string y = svg.number(middle.y - half);
  const std::string low = svg.number(middle.y + half);
  switch (fate) {
    case Fate::inside:
      return fmt::format("M{} {}h{}v{}h-{}z", x, y, size, size, size);
    case Fate::too_tight:
      return fmt::format("M{} {}h{}l-{} -{}z", x, low, size, half, size);
    case Fate::too_loose:
      return fmt::format("M{} {}h{}l-{} {}z", x, y, size, half, size);
    case Fate::not_got_in:
      return fmt::format("M{} {}h{}v{}h-{}zl{} {}m0 -{}l-{} {}", x, y, size, size, size, size, size,
                         size, size, size);
  }
  return "";
}

// Line by line, those inside first.
void draw_squares(SvgWriter& svg, const std::vector<Share>& shares, double y) {
  constexpr double step = (spread_right - spread_left) / squares_in_a_line;
  int index = 0;
  for (const Share& share : shares) {
    std::string path;
    for (int i = 0; i < share.count; ++i, ++index) {
      path += sign_of(svg,
                      {spread_left + step * (index % squares_in_a_line + 0.5),
                       y + step * (index / squares_in_a_line + 0.5)},
                      share.fate);
    }
    if (!path.empty()) svg.path(path, look_of(share.fate), {"", words_of(share.fate)});
  }
}

double write_shares(SvgWriter& svg, const std::vector<Share>& shares, double y) {
  for (const Share& share : shares) {
    if (share.count == 0) continue;
    svg.path(sign_of(svg, {spread_left + 6, y}, share.fate), look_of(share.fate));
    write(svg, {spread_left + 20, y + half_letter},
          fmt::format("{} of 100 {}", share.count, words_of(share.fate)));
    y += text_line;
  }
  return y;
}

std::string in_words(const Answer& answer, const std::vector<Share>& shares) {
  std::string text = fmt::format("The band is {} to {}.", both_pressures(answer.band.low_mpa),
                                 both_pressures(answer.band.high_mpa));
  for (const Row& row : rows_of(*answer.chance)) {
    text += fmt::format(" Face pressure {}: in 95 of 100 builds between {} and {}, middle {}.",
                        row.name, both_pressures(row.spread.low_mpa),
                        both_pressures(row.spread.high_mpa), both_pressures(row.spread.median_mpa));
  }
  text += " Of 100 builds like this one";
  for (const Share& share : shares) {
    if (share.count > 0) text += fmt::format(", {} {}", share.count, words_of(share.fate));
  }
  return text + ".";
}

std::string band_words(const BandResult& band) {
  std::string text = "Shaded: band";
  if (band.model_margin > 0) {
    text += fmt::format("; dashed: spread_top less {}", percent(band.model_margin));
  }
  if (band.limit_mpa) text += "; thick: limit";
  return text + ".";
}

}  // namespace

std::string pressure_spread(const Answer& answer, const std::string& id) {
  const auto rows = rows_of(*answer.chance);
  const std::vector<Share> shares = shares_of(*answer.chance);
  const auto kinds = std::count_if(shares.begin(), shares.end(),
                                   [](const Share& share) { return share.count > 0; });
  constexpr double bottom = spread_top + row_height * 3 + 4;
  constexpr double squares_top = bottom + 58;
  constexpr double squares_bottom =
      squares_top + (spread_right - spread_left) / squares_in_a_line * squares / squares_in_a_line;
  const PressureAxis axis{round_top_mpa(greatest_mpa(answer)), spread_left, spread_right};
  SvgWriter svg({picture_width,
                 squares_bottom + 14 + text_line * static_cast<double>(kinds),
                 "How sure the pressures are",
                 in_words(answer, shares),
                 id,
                 {}});
  draw_band(svg, axis, answer.band, bottom);
  draw_axes(svg, axis, bottom);
  write(svg, {picture_width, bottom - 4}, "kPa", {.anchor = SvgAnchor::end});
  write(svg, {picture_width, spread_top + 13}, "psi", {.anchor = SvgAnchor::end, .quiet = true});
  for (std::size_t i = 0; i < rows.size(); ++i) {
    draw_row(svg, axis, answer.band, rows[i], spread_top + row_height * static_cast<double>(i));
  }
  write(svg, {spread_left, bottom + 34}, band_words(answer.band), {.quiet = true});
  write(svg, {spread_left, bottom + 34 + text_line}, "Bars: 95 of 100 builds like this one.",
        {.quiet = true});
  draw_squares(svg, shares, squares_top);
  write_shares(svg, shares, squares_bottom + 12);
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
