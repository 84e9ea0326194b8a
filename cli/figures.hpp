// SPDX-License-Identifier: GPL-3.0-or-later
//
// Numbers as a person reads them: the unit chosen, and no more digits than the model earns.
//
// For: text on the bench. Not for: reading or plain printing of quantities (quantity.hpp,
// units.hpp), nor for JSON, which keeps every digit and one unit (view_json.hpp).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

#include "cli/units.hpp"
#include "solver/build.hpp"

namespace stackfit::cli {

/// With `Marks::in_text` every quantity carries what it is, between control characters that
/// no file's text can hold once it is printable(): a page turns them into elements whose unit the
/// reader may change (page_text.hpp).
enum class Marks : std::uint8_t { none, in_text };

/// What begins a mark, ends its head, and ends the whole.
inline constexpr char mark_begin = '\x02';
inline constexpr char mark_text = '\x1f';
inline constexpr char mark_end = '\x03';

/// Formats quantities in the chosen units. `..._number` leaves the unit's name out, for tables
/// and for "50 to 94 kPa".
class Figures {
 public:
  explicit Figures(UnitChoice units = {}, Marks marks = Marks::none);

  /// The same without marks: to compare what is printed.
  [[nodiscard]] Figures unmarked() const { return Figures(units_); }

  /// Face pressure from MPa: whole kPa from 10 on, one decimal below.
  [[nodiscard]] std::string pressure_number(double mpa) const;
  [[nodiscard]] std::string pressure(double mpa) const;
  /// The same in the second column of a table: psi, or kPa where psi was chosen.
  [[nodiscard]] std::string companion_number(double mpa) const;
  [[nodiscard]] std::string force_number(double newton) const;
  [[nodiscard]] std::string force(double newton) const;
  /// For room, interference, give: a tenth of a millimetre, a hundredth below one.
  [[nodiscard]] std::string length_number(double mm) const;
  [[nodiscard]] std::string length(double mm) const;
  /// For sheets, which are bought by their thickness: a hundredth of a millimetre.
  [[nodiscard]] std::string thickness_number(double mm) const;
  [[nodiscard]] std::string thickness(double mm) const;
  [[nodiscard]] std::string temperature(double celsius) const;
  [[nodiscard]] std::string temperature_number(double celsius) const;

  [[nodiscard]] std::string_view pressure_unit() const { return names_.pressure; }
  [[nodiscard]] std::string_view companion_unit() const { return names_.companion; }
  [[nodiscard]] std::string_view force_unit() const { return names_.force; }
  [[nodiscard]] std::string_view length_unit() const { return names_.length; }
  [[nodiscard]] std::string_view temperature_unit() const { return names_.temperature; }

 private:
  [[nodiscard]] std::string marked(char kind, double value, std::string text) const;
  [[nodiscard]] std::string unit_name(char kind, std::string_view name) const;

  UnitChoice units_;
  Marks marks_;
  struct Names {
    std::string pressure, companion, force, length, temperature;
  };
  Names names_;
};

/// `38 %` from 0.38; one decimal only where the figure has one.
[[nodiscard]] std::string percent(double fraction);
/// `61 %` from 0.607: a charge, which nobody knows more finely.
[[nodiscard]] std::string charge_text(double fraction);
/// `10-90 %`.
[[nodiscard]] std::string percent(const Span& fractions);
/// `1.3-2.6 %` of capacity lost; `4.3-20+ %` where a cell is worn out long before.
[[nodiscard]] std::string life_text(const Span& capacity_loss);
/// Shortest text that reads back as the same number.
[[nodiscard]] std::string exact(double value);

}  // namespace stackfit::cli
