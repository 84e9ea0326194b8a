// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/figures.hpp"

#include <fmt/format.h>

#include <cmath>

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
std::string coarse_digits(double value, const Unit& unit, double fine_below) {
  const bool fine = std::fabs(value) < fine_below || unit.decimals == 0;
  return fixed(in_unit(value, unit), unit.decimals - (fine ? 0 : 1));
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

std::string Figures::pressure_number(double mpa) const {
  return digits(mpa, units_.of(Dimension::pressure));
}

std::string Figures::pressure(double mpa) const {
  return with_unit(pressure_number(mpa), pressure_unit());
}

std::string Figures::companion_number(double mpa) const {
  return digits(mpa, companion_of(units_.of(Dimension::pressure)));
}

std::string Figures::force_number(double newton) const {
  return digits(newton, units_.of(Dimension::force));
}

std::string Figures::force(double newton) const {
  return with_unit(force_number(newton), force_unit());
}

std::string Figures::length_number(double mm) const {
  constexpr double fine_below_mm = 0.995;
  return coarse_digits(mm, units_.of(Dimension::length), fine_below_mm);
}

std::string Figures::length(double mm) const {
  return with_unit(length_number(mm), length_unit());
}

std::string Figures::thickness_number(double mm) const {
  return number_text(mm, units_.of(Dimension::length));
}

std::string Figures::thickness(double mm) const {
  return with_unit(thickness_number(mm), length_unit());
}

std::string Figures::temperature_number(double celsius) const {
  return number_text(celsius, units_.of(Dimension::temperature));
}

std::string Figures::temperature(double celsius) const {
  return with_unit(temperature_number(celsius), temperature_unit());
}

std::string_view Figures::pressure_unit() const {
  return units_.of(Dimension::pressure).name;
}

std::string_view Figures::companion_unit() const {
  return companion_of(units_.of(Dimension::pressure)).name;
}

std::string_view Figures::force_unit() const {
  return units_.of(Dimension::force).name;
}

std::string_view Figures::length_unit() const {
  return units_.of(Dimension::length).name;
}

std::string_view Figures::temperature_unit() const {
  return units_.of(Dimension::temperature).name;
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
