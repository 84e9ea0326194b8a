// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/figures.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

namespace stackfit::cli {
namespace {

// A value that rounds to nothing is printed as 0, never as -0.
std::string fixed(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) {
    text.erase(0, 1);
  }
  return text;
}

// Rounded to whole numbers, 9.96 would read 10.0: the decimal goes where the figure reaches 10.
bool reads_below_ten(double value) {
  constexpr double half_a_tenth = 0.05;
  return std::fabs(value) + half_a_tenth < 10;
}

// A unit printed in whole numbers gets one decimal below ten.
std::string digits(double value, const Unit& unit) {
  const double number = in_unit(value, unit);
  const bool small = unit.decimals == 0 && reads_below_ten(number) && number != 0;
  return fixed(number, small ? 1 : unit.decimals);
}

// One place less than for a sheet, unless that place is all there is.
std::string coarse_digits(double mm, const Unit& unit) {
  constexpr double fine_below_mm = 0.995;
  const bool fine = std::fabs(mm) < fine_below_mm || unit.decimals == 0;
  return fixed(in_unit(mm, unit), unit.decimals - (fine ? 0 : 1));
}

const Unit& companion_of(const Unit& unit) {
  const Unit& psi = *find_unit(Dimension::pressure, "psi");
  return &unit == &psi ? *find_unit(Dimension::pressure, "kPa") : psi;
}

// 38 from 0.38, 37.5 from 0.375.
std::string percent_number(double fraction) {
  constexpr double whole_within = 0.05;
  const double value = fraction * 100;
  return fixed(value, std::fabs(value - std::round(value)) < whole_within ? 0 : 1);
}

std::string with_unit(const std::string& number, std::string_view unit) {
  return fmt::format("{} {}", number, unit);
}

}  // namespace

Figures::Figures(UnitChoice units, Marks marks) : units_(std::move(units)), marks_(marks) {
  const Unit& pressure = units_.of(Dimension::pressure);
  names_ = {unit_name('P', pressure.name), unit_name('C', companion_of(pressure).name),
            unit_name('F', units_.of(Dimension::force).name),
            unit_name('L', units_.of(Dimension::length).name),
            unit_name('T', units_.of(Dimension::temperature).name)};
}

std::string Figures::marked(char kind, double value, std::string text) const {
  return marks_ == Marks::none
             ? std::move(text)
             : fmt::format("{}{}{}{}{}{}", mark_begin, kind, value, mark_text, text, mark_end);
}

std::string Figures::unit_name(char kind, std::string_view name) const {
  return marks_ == Marks::none
             ? std::string(name)
             : fmt::format("{}{}{}{}{}", mark_begin, kind, mark_text, name, mark_end);
}

std::string Figures::pressure_number(double mpa) const {
  return marked('p', mpa, digits(mpa, units_.of(Dimension::pressure)));
}

std::string Figures::pressure(double mpa) const {
  const Unit& unit = units_.of(Dimension::pressure);
  return marked('P', mpa, with_unit(digits(mpa, unit), unit.name));
}

std::string Figures::companion_number(double mpa) const {
  return marked('c', mpa, digits(mpa, companion_of(units_.of(Dimension::pressure))));
}

std::string Figures::force_number(double newton) const {
  return marked('f', newton, digits(newton, units_.of(Dimension::force)));
}

std::string Figures::force(double newton) const {
  const Unit& unit = units_.of(Dimension::force);
  return marked('F', newton, with_unit(digits(newton, unit), unit.name));
}

std::string Figures::length_number(double mm) const {
  return marked('l', mm, coarse_digits(mm, units_.of(Dimension::length)));
}

std::string Figures::length(double mm) const {
  const Unit& unit = units_.of(Dimension::length);
  return marked('L', mm, with_unit(coarse_digits(mm, unit), unit.name));
}

std::string Figures::thickness_number(double mm) const {
  return marked('d', mm, number_text(mm, units_.of(Dimension::length)));
}

std::string Figures::thickness(double mm) const {
  const Unit& unit = units_.of(Dimension::length);
  return marked('D', mm, with_unit(number_text(mm, unit), unit.name));
}

std::string Figures::temperature_number(double celsius) const {
  return marked('t', celsius, number_text(celsius, units_.of(Dimension::temperature)));
}

std::string Figures::temperature(double celsius) const {
  const Unit& unit = units_.of(Dimension::temperature);
  return marked('T', celsius, with_unit(number_text(celsius, unit), unit.name));
}

std::string percent(double fraction) {
  return percent_number(fraction) + " %";
}

std::string percent(const Span& fractions) {
  return fmt::format("{}-{} %", percent_number(fractions.low), percent_number(fractions.high));
}

std::string charge_text(double fraction) {
  return fixed(fraction * 100, 0) + " %";
}

std::string life_text(const Span& capacity_loss) {
  // A pack is commonly given up at four fifths of its capacity; growth beyond is not foretold.
  constexpr double worn_out = 0.20;
  std::string worn = fixed(worn_out * 100, 0) + "+ %";
  if (capacity_loss.low > worn_out) {
    return worn;
  }
  const std::string low = fixed(capacity_loss.low * 100, 1);
  if (capacity_loss.high > worn_out) {
    return fmt::format("{}-{}", low, worn);
  }
  return fmt::format("{}-{} %", low, fixed(capacity_loss.high * 100, 1));
}

std::string exact(double value) {
  return fmt::format("{}", value);
}

}  // namespace stackfit::cli
