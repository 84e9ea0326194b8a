// SPDX-License-Identifier: GPL-3.0-or-later
//
// Any text as a quantity of every kind, alone, as a span and with a tolerance, and as the lines
// of a data sheet.
//
// Held: 1 exactly one of a value and what is allowed; 2 what is read is finite, no larger than
// largest_number in its unit, a span the right way up, a tolerance not negative; 3 spaces around it
// change nothing; 4 a value written with its unit reads as the same value, and as printed as that
// value to the places printed; 5 a span or tolerance that is a single quantity is that quantity.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <string>
#include <string_view>

#include "cli/data_lines.hpp"
#include "cli/quantity.hpp"
#include "cli/units.hpp"
#include "tests/fuzz/hold.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using stackfit::fuzz::hold;

constexpr std::array dimensions{Dimension::length,      Dimension::force,      Dimension::pressure,
                                Dimension::charge,      Dimension::percent,    Dimension::ratio,
                                Dimension::temperature, Dimension::mass,       Dimension::voltage,
                                Dimension::capacity,    Dimension::resistance, Dimension::torque,
                                Dimension::expansion};

/// Longer than any quantity by far; a quantity of megabytes says nothing new.
constexpr std::size_t longest_text = 512;

// The largest unit of each kind is below this many of the program's own: N per MN/m2 is the most.
constexpr double largest_factor = 1e7;

template <class Value>
void hold_one_of_two(const Parsed<Value>& read, std::string_view text) {
  hold(read.ok() != !read.allowed.empty(), "a value or what is allowed, never both or none", text);
  hold(read.ok() || read.note.empty(), "what is refused has no note on how it was read", text);
  hold(!read.ok() || read.mend.empty(), "what is read needs no mending", text);
}

void hold_sane(double value, std::string_view text) {
  hold(std::isfinite(value), "what is read is finite", text);
  hold(std::abs(value) <= largest_number * largest_factor, "what is read has a size", text);
}

void hold_round_trip(double value, Dimension dimension, std::string_view text) {
  const UnitChoice usual;
  const Unit& unit = usual.of(dimension);
  const double number = in_unit(value, unit);
  // What was read in a large unit may be too large a number of a small one.
  if (std::abs(number) > largest_number) return;
  const auto again = read_quantity(fmt::format("{:.17g} {}", number, unit.name), dimension);
  hold(again.ok(), "a value with its unit can be read again", text);
  // One rounding each way, of value and offset.
  constexpr double rounding = 1e-15;
  hold(std::abs(*again.value - value) <= rounding * (std::abs(value) + 4 * std::abs(unit.offset)),
       "a value with its unit reads as the same value", text);
  const auto printed = read_quantity(quantity_text(value, dimension, UnitChoice()), dimension);
  hold(printed.ok(), "a value as printed can be read again", text);
  const double places = unit.factor * std::pow(10, -unit.decimals);
  hold(std::abs(*printed.value - value) <= 0.51 * places + rounding * std::abs(value),
       "a value as printed reads as that value", text);
}

void try_quantity(std::string_view text, Dimension dimension) {
  const auto read = read_quantity(text, dimension);
  hold_one_of_two(read, text);
  const auto spaced = read_quantity("  " + std::string(text) + "\xC2\xA0\t", dimension);
  hold(read.value == spaced.value, "spaces around a quantity change nothing", text);
  if (!read.ok()) return;
  hold_sane(*read.value, text);
  hold_round_trip(*read.value, dimension, text);
}

void try_span(std::string_view text, Dimension dimension) {
  const auto read = read_span(text, dimension);
  hold_one_of_two(read, text);
  if (!read.ok()) return;
  hold_sane(read.value->low, text);
  hold_sane(read.value->high, text);
  hold(read.value->low <= read.value->high, "a span is the right way up", text);
}

void try_toleranced(std::string_view text, Dimension dimension) {
  const auto read = read_toleranced(text, dimension);
  hold_one_of_two(read, text);
  if (!read.ok()) return;
  hold_sane(read.value->value, text);
  if (!read.value->tolerance) {
    const auto alone = read_quantity(text, dimension);
    hold(alone.value == read.value->value, "without a tolerance it is a quantity", text);
    return;
  }
  hold(std::isfinite(*read.value->tolerance), "a tolerance is finite", text);
  hold(*read.value->tolerance >= 0, "a tolerance is not negative", text);
}

void try_thickness(std::string_view text) {
  const auto line = read_thickness_line(text);
  hold_one_of_two(line, text);
  if (!line.ok()) return;
  hold_sane(line.value->nominal_mm, text);
  hold(line.value->tolerance_mm.value_or(0) >= 0, "a tolerance is not negative", text);
  hold_sane(line.value->under_force_n.value_or(0), text);
  if (line.value->at_charge) {
    const Span charge = *line.value->at_charge;
    hold(std::isfinite(charge.low) && charge.low <= charge.high, "a span of charge", text);
  }
}

void try_lines(std::string_view text) {
  try_thickness(text);
  const auto pile = read_shim_pile(text);
  hold_one_of_two(pile, text);
  if (pile.ok()) {
    hold_sane(pile.value->thickness_mm, text);
    hold(pile.value->count >= 0, "a count is not negative", text);
  }
  const auto wall = read_wall(text);
  hold_one_of_two(wall, text);
  if (wall.ok()) hold_sane(wall.value->thickness_mm.value_or(0), text);
  const auto face = read_face(text);
  hold_one_of_two(face, text);
  if (face.ok()) {
    hold_sane(face.value->width_mm, text);
    hold_sane(face.value->height_mm, text);
  }
  const auto count = read_count(text);
  hold(!count || fmt::format("{}", *count).size() <= text.size(), "a count is what was written",
       text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size > longest_text) return 0;
  const std::string text = stackfit::fuzz::text_of(data, size);
  for (const Dimension dimension : dimensions) {
    try_quantity(text, dimension);
    try_span(text, dimension);
    try_toleranced(text, dimension);
  }
  try_lines(text);
  const auto number = read_number(text);
  hold(!number || std::isfinite(*number), "a number is finite", text);
  const UnitChoiceRead units = read_unit_choice(text);
  for (const Dimension dimension : dimensions) {
    hold(units.choice.of(dimension).dimension == dimension, "a unit of its own kind", text);
  }
  return 0;
}
