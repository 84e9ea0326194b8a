// SPDX-License-Identifier: GPL-3.0-or-later
//
// Quantities as people write them: `0.8 mm`, `1 1/2 in`, `63.4±0.6 mm`, `30-40 %`, `240 kgf`.
//
// For: a written quantity -> a number in mm, N, MPa, K, kg, or what is allowed instead.
// Not for: the table of units and printing (units.hpp), or the lines of a data sheet, which
// hold several quantities (data_lines.hpp).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "cli/units.hpp"
#include "solver/build.hpp"

namespace stackfit::cli {

/// No quantity of this trade is larger, in the unit it is written in.
inline constexpr double largest_number = 1e9;

/// What was read, or why not. Exactly one of value and allowed is there.
template <class Value>
struct Parsed {
  std::optional<Value> value;
  std::string allowed;  ///< what could have stood there
  std::string mend;     ///< the likely intention; may be empty
  std::string note;     ///< how it was read, where that is worth a word

  [[nodiscard]] bool ok() const { return value.has_value(); }
};

/// A value with what stands after ±, both in the program's unit.
struct Toleranced {
  double value = 0;
  std::optional<double> tolerance;
};

/// Plain number, decimal point, nothing before or after it; no NaN, no infinity.
[[nodiscard]] std::optional<double> read_number(std::string_view text);

[[nodiscard]] Parsed<double> read_quantity(std::string_view text, Dimension dimension);
/// A number that came without a unit.
[[nodiscard]] Parsed<double> read_bare(double number, Dimension dimension);
/// `30-40 %`, `5 to 40 C`, `50 kPa - 150 kPa`; a single value is a span of no width.
[[nodiscard]] Parsed<Span> read_span(std::string_view text, Dimension dimension);
/// `63.4±0.6 mm`, `240kgf +-15`, `240 kgf +/- 5 %`; the tolerance may be left out.
[[nodiscard]] Parsed<Toleranced> read_toleranced(std::string_view text, Dimension dimension);

/// Without spaces (and no-break spaces) at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);
/// A blank of a form: nothing, or a question mark.
[[nodiscard]] bool is_blank(std::string_view text);

}  // namespace stackfit::cli
