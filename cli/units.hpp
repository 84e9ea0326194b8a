// SPDX-License-Identifier: GPL-3.0-or-later
//
// The units people write, and the ones the program thinks in (mm, N, MPa, K, kg).
//
// For: one table of units with exact factors, and which unit an answer is printed in.
// Not for: taking a written quantity apart (quantity.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace stackfit::cli {

/// Exact: NIST Special Publication 811 (2008), Appendix B.
inline constexpr double mm_per_inch = 25.4;

/// What a quantity measures; the unit it has inside the program stands beside it.
enum class Dimension : std::uint8_t {
  length,       ///< mm
  force,        ///< N
  pressure,     ///< MPa
  charge,       ///< fraction 0..1; always written with %
  percent,      ///< fraction; a bare number counts in %
  ratio,        ///< fraction; a bare number counts as it stands
  temperature,  ///< degrees Celsius
  mass,         ///< kg
  voltage,      ///< V
  capacity,     ///< Ah
  resistance,   ///< milliohm
  torque,       ///< N.mm
  expansion     ///< 1/K
};

/// One unit: value inside = value written * factor + offset.
struct Unit {
  const char* name;
  Dimension dimension;
  double factor;
  double offset = 0;
  int decimals = 2;  ///< places after the point when an answer is printed in it
};

/// The unit with this spelling, or null. Tolerates `in-lb`, `N·m`, `cm²`, `mΩ`, `°C`, capitals.
[[nodiscard]] const Unit* find_unit(Dimension dimension, std::string_view written);
/// Likewise in any dimension; the first of the table where a spelling serves two.
[[nodiscard]] const Unit* find_unit(std::string_view written);

/// The unit of a bare number, or null where a bare number is an error.
[[nodiscard]] const Unit* bare_unit(Dimension dimension);

/// In plain words, with examples: `a length such as 0.8 mm or 1/32 in; a bare number is mm`.
[[nodiscard]] std::string what_is_allowed(Dimension dimension);
/// `length`, `force`, `charge` ... for messages.
[[nodiscard]] std::string_view name_of(Dimension dimension);

/// The unit each kind of quantity is printed in.
class UnitChoice {
 public:
  UnitChoice();
  void set(const Unit& unit);
  [[nodiscard]] const Unit& of(Dimension dimension) const;

 private:
  std::vector<const Unit*> chosen_;
};

struct UnitChoiceRead {
  UnitChoice choice;
  std::string problem;  ///< empty when the text was understood
};
/// `mm,kPa,kgf,N.m`: any of them, in any order, one for each kind of quantity.
[[nodiscard]] UnitChoiceRead read_unit_choice(std::string_view text);

/// Value in the program's unit -> number in the chosen unit.
[[nodiscard]] double in_unit(double value, const Unit& unit);
/// Number in the written unit -> the program's unit.
[[nodiscard]] double from_unit(double number, const Unit& unit);

/// `12.3 mm`: value in the program's unit, printed in the chosen one with its usual places.
[[nodiscard]] std::string quantity_text(double value, Dimension dimension,
                                        const UnitChoice& choice);
/// The number alone, for tables whose head names the unit.
[[nodiscard]] std::string number_text(double value, const Unit& unit);

}  // namespace stackfit::cli
