// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/units.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

namespace stackfit::cli {
namespace {

// With the inch, the exact definitions everything else follows from: NIST Special Publication 811
// (2008), Appendix B.
constexpr double kg_per_pound = 0.45359237;
constexpr double standard_gravity = 9.80665;  // m/s2

constexpr double n_per_lbf = kg_per_pound * standard_gravity;
constexpr double mpa_per_psi = n_per_lbf / (mm_per_inch * mm_per_inch);
constexpr double square_mm_per_square_cm = 100;
constexpr double inches_per_foot = 12;
constexpr double zero_c_in_k = 273.15;
constexpr double f_per_c = 1.8;
constexpr double zero_c_in_f = 32;

using enum Dimension;

// The first unit of a dimension is the one its answers are printed in unless asked otherwise.
constexpr std::array units{
    Unit{"mm", length, 1, 0, 2},
    Unit{"cm", length, 10, 0, 3},
    Unit{"m", length, 1000, 0, 5},
    Unit{"um", length, 1e-3, 0, 0},
    Unit{"in", length, mm_per_inch, 0, 4},
    Unit{"mil", length, mm_per_inch / 1000, 0, 1},
    Unit{"ft", length, mm_per_inch* inches_per_foot, 0, 5},

    Unit{"kgf", force, standard_gravity, 0, 0},
    Unit{"N", force, 1, 0, 0},
    Unit{"kN", force, 1000, 0, 3},
    Unit{"lbf", force, n_per_lbf, 0, 0},

    Unit{"kPa", pressure, 1e-3, 0, 0},
    Unit{"Pa", pressure, 1e-6, 0, 0},
    Unit{"MPa", pressure, 1, 0, 3},
    Unit{"GPa", pressure, 1000, 0, 6},
    Unit{"N/mm2", pressure, 1, 0, 3},
    Unit{"bar", pressure, 0.1, 0, 2},
    Unit{"mbar", pressure, 1e-4, 0, 0},
    Unit{"psi", pressure, mpa_per_psi, 0, 1},
    Unit{"kgf/cm2", pressure, standard_gravity / square_mm_per_square_cm, 0, 2},

    Unit{"%", percent, 0.01, 0, 2},
    Unit{"%", charge, 0.01, 0, 0},
    Unit{"%", ratio, 0.01, 0, 2},

    Unit{"C", temperature, 1, 0, 0},
    Unit{"F", temperature, 1 / f_per_c, -zero_c_in_f / f_per_c, 0},
    Unit{"K", temperature, 1, -zero_c_in_k, 0},

    Unit{"kg", mass, 1, 0, 2},
    Unit{"g", mass, 1e-3, 0, 0},
    Unit{"lb", mass, kg_per_pound, 0, 2},

    Unit{"V", voltage, 1, 0, 2},
    Unit{"mV", voltage, 1e-3, 0, 0},

    Unit{"Ah", capacity, 1, 0, 1},
    Unit{"mAh", capacity, 1e-3, 0, 0},

    Unit{"mohm", resistance, 1, 0, 2},
    Unit{"uohm", resistance, 1e-3, 0, 0},
    Unit{"ohm", resistance, 1000, 0, 5},

    Unit{"N.m", torque, 1000, 0, 1},
    Unit{"N.mm", torque, 1, 0, 0},
    Unit{"lbf.in", torque, n_per_lbf* mm_per_inch, 0, 0},
    Unit{"lbf.ft", torque, n_per_lbf* mm_per_inch* inches_per_foot, 0, 1},
    Unit{"kgf.cm", torque, standard_gravity * 10, 0, 0},

    Unit{"1/K", expansion, 1, 0, 7},
    Unit{"/K", expansion, 1, 0, 7},
    Unit{"ppm/K", expansion, 1e-6, 0, 1},
    Unit{"um/m.K", expansion, 1e-6, 0, 1},
};

struct Spelling {
  std::string_view written;
  std::string_view meant;
};

// Signs that keyboards and data sheets vary in. Applied from the top, before the table is asked.
constexpr std::array signs{
    Spelling{"\xC2\xB7", "."},
    Spelling{"\xE2\x8B\x85", "."},
    Spelling{"*", "."},
    Spelling{"\xC2\xB2", "2"},
    Spelling{"^", ""},
    Spelling{"\xC2\xB0", ""},
    Spelling{"\xC2\xB5", "u"},
    Spelling{"\xCE\xBC", "u"},
    Spelling{"\xCE\xA9", "ohm"},
    Spelling{"\xE2\x84\xA6", "ohm"},
    Spelling{"\xE2\x80\xB3", "in"},
    Spelling{"\"", "in"},
    Spelling{"\xE2\x84\x83", "C"},
    Spelling{" ", ""},
    Spelling{"\xC2\xA0", ""},
};

// Whole spellings that stand for a unit of the table, compared in small letters.
constexpr std::array spellings{
    Spelling{"inch", "in"},       Spelling{"inches", "in"},      Spelling{"thou", "mil"},
    Spelling{"mils", "mil"},      Spelling{"micron", "um"},      Spelling{"microns", "um"},
    Spelling{"newton", "N"},      Spelling{"kp", "kgf"},         Spelling{"lbs", "lb"},
    Spelling{"lbsf", "lbf"},      Spelling{"nm", "N.m"},         Spelling{"n-m", "N.m"},
    Spelling{"n-mm", "N.mm"},     Spelling{"nmm", "N.mm"},       Spelling{"in-lb", "lbf.in"},
    Spelling{"in.lb", "lbf.in"},  Spelling{"in-lbf", "lbf.in"},  Spelling{"in.lbf", "lbf.in"},
    Spelling{"lb-in", "lbf.in"},  Spelling{"lb.in", "lbf.in"},   Spelling{"lbf-in", "lbf.in"},
    Spelling{"ft-lb", "lbf.ft"},  Spelling{"ft.lb", "lbf.ft"},   Spelling{"ft-lbf", "lbf.ft"},
    Spelling{"ft.lbf", "lbf.ft"}, Spelling{"lb-ft", "lbf.ft"},   Spelling{"lb.ft", "lbf.ft"},
    Spelling{"lbf-ft", "lbf.ft"}, Spelling{"kgf-cm", "kgf.cm"},  Spelling{"kgfcm", "kgf.cm"},
    Spelling{"lbf/in2", "psi"},   Spelling{"kp/cm2", "kgf/cm2"}, Spelling{"degc", "C"},
    Spelling{"celsius", "C"},     Spelling{"degf", "F"},         Spelling{"fahrenheit", "F"},
    Spelling{"kelvin", "K"},      Spelling{"percent", "%"},      Spelling{"volt", "V"},
    Spelling{"volts", "V"},       Spelling{"gram", "g"},         Spelling{"perkelvin", "1/K"},
    Spelling{"1/c", "1/K"},       Spelling{"/c", "1/K"},         Spelling{"k-1", "1/K"},
    Spelling{"ppm/c", "ppm/K"},   Spelling{"ppm", "ppm/K"},
};

std::string small_letters(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(), [](unsigned char letter) {
    return static_cast<char>(std::tolower(letter));
  });
  return out;
}

std::string without_odd_signs(std::string_view written) {
  std::string text(written);
  for (const Spelling& sign : signs) {
    for (auto at = text.find(sign.written); at != std::string::npos;
         at = text.find(sign.written, at + sign.meant.size())) {
      text.replace(at, sign.written.size(), sign.meant);
    }
  }
  return text;
}

// Capitals are forgiven, except where a capital M would turn milli into mega.
bool same_unit(std::string_view written, std::string_view name) {
  if (written == name) return true;
  if (small_letters(written) != small_letters(name)) return false;
  if (small_letters(written.substr(0, 1)) != "m" || written[0] == name[0]) return true;
  const bool all_small = small_letters(written) == written;
  const bool any_small =
      std::ranges::any_of(written, [](unsigned char letter) { return std::islower(letter) != 0; });
  return all_small || !any_small;
}

const Unit* find_exact(std::optional<Dimension> dimension, std::string_view name) {
  const auto fits = [&](const Unit& unit) {
    return (!dimension || unit.dimension == *dimension) && same_unit(name, unit.name);
  };
  const auto* const found = std::ranges::find_if(units, fits);
  return found == units.end() ? nullptr : found;
}

const Unit* find_in(std::optional<Dimension> dimension, std::string_view written) {
  const std::string text = without_odd_signs(written);
  if (text.empty()) return nullptr;
  if (const Unit* unit = find_exact(dimension, text)) return unit;
  const std::string small = small_letters(text);
  const auto* const spelling = std::ranges::find(spellings, small, &Spelling::written);
  return spelling == spellings.end() ? nullptr : find_exact(dimension, spelling->meant);
}

struct DimensionWords {
  Dimension dimension;
  std::string_view name;
  std::string_view allowed;
  std::string_view bare;  ///< unit of a bare number; empty where that is an error
};

constexpr std::array dimension_words{
    DimensionWords{length, "length", "a length such as 0.8 mm or 1/32 in; a bare number is mm",
                   "mm"},
    DimensionWords{force, "force", "a force with its unit, such as 240 kgf, 2350 N or 530 lbf", ""},
    DimensionWords{pressure, "pressure",
                   "a pressure with its unit, such as 90 kPa, 12 psi or 0.9 bar", ""},
    DimensionWords{charge, "charge", "a charge from 0 to 100 % with its %, such as 40 %", ""},
    DimensionWords{percent, "percentage", "a percentage such as 0.6 %; a bare number is in %", "%"},
    DimensionWords{ratio, "ratio", "a number such as 0.15, or a percentage such as 15 %", "1"},
    DimensionWords{temperature, "temperature",
                   "a temperature such as 25 C or 77 F; a bare number is C", "C"},
    DimensionWords{mass, "mass", "a mass such as 5.4 kg; a bare number is kg", "kg"},
    DimensionWords{voltage, "voltage", "a voltage such as 3.30 V; a bare number is V", "V"},
    DimensionWords{capacity, "capacity", "a capacity such as 280 Ah; a bare number is Ah", "Ah"},
    DimensionWords{resistance, "resistance",
                   "a resistance such as 0.18 mohm; a bare number is mohm", "mohm"},
    DimensionWords{torque, "torque", "a torque with its unit, such as 0.9 N.m or 45 in-lb", ""},
    DimensionWords{expansion, "expansion",
                   "an expansion such as 40e-6/K or 40 ppm/K; a bare number is per K", "1/K"},
};

constexpr Unit as_it_stands{"", ratio, 1, 0, 3};

const DimensionWords& words_of(Dimension dimension) {
  return *std::ranges::find(dimension_words, dimension, &DimensionWords::dimension);
}

}  // namespace

const Unit* find_unit(Dimension dimension, std::string_view written) {
  return find_in(dimension, written);
}

const Unit* find_unit(std::string_view written) {
  return find_in(std::nullopt, written);
}

const Unit* bare_unit(Dimension dimension) {
  if (dimension == ratio) return &as_it_stands;
  const std::string_view bare = words_of(dimension).bare;
  return bare.empty() ? nullptr : find_exact(dimension, bare);
}

std::string what_is_allowed(Dimension dimension) {
  return std::string(words_of(dimension).allowed);
}

std::string_view name_of(Dimension dimension) {
  return words_of(dimension).name;
}

UnitChoice::UnitChoice() : chosen_(dimension_words.size(), nullptr) {
  for (const Unit& unit : units) {
    const Unit*& slot = chosen_[static_cast<std::size_t>(unit.dimension)];
    if (slot == nullptr) slot = &unit;
  }
}

void UnitChoice::set(const Unit& unit) {
  chosen_[static_cast<std::size_t>(unit.dimension)] = &unit;
}

const Unit& UnitChoice::of(Dimension dimension) const {
  return *chosen_[static_cast<std::size_t>(dimension)];
}

UnitChoiceRead read_unit_choice(std::string_view text) {
  UnitChoiceRead read;
  std::vector<Dimension> said;
  while (!text.empty()) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view written = text.substr(0, comma);
    text.remove_prefix(std::min(comma + 1, text.size()));
    const Unit* unit = find_unit(written);
    if (unit == nullptr) {
      read.problem = fmt::format(
          "\"{}\" is not a unit this program knows; allowed are for example mm, in, kPa, psi, bar, "
          "kgf, N, lbf, N.m, lbf.in, C, F, kg, lb",
          written);
      return read;
    }
    if (std::ranges::find(said, unit->dimension) != said.end()) {
      read.problem =
          fmt::format("two units for one {}: keep one of them", name_of(unit->dimension));
      return read;
    }
    said.push_back(unit->dimension);
    read.choice.set(*unit);
  }
  return read;
}

double in_unit(double value, const Unit& unit) {
  return (value - unit.offset) / unit.factor;
}

double from_unit(double number, const Unit& unit) {
  return number * unit.factor + unit.offset;
}

std::string number_text(double value, const Unit& unit) {
  const double number = in_unit(value, unit);
  const double step = std::pow(10.0, -unit.decimals);
  // A value that rounds to nothing is printed without a minus sign.
  const bool nothing = std::abs(number) < step / 2;
  return fmt::format("{:.{}f}", nothing ? 0.0 : number, unit.decimals);
}

std::string quantity_text(double value, Dimension dimension, const UnitChoice& choice) {
  const Unit& unit = choice.of(dimension);
  return number_text(value, unit) + ' ' + unit.name;
}

}  // namespace stackfit::cli
