// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/quantity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "cli/characters.hpp"

namespace stackfit::cli {
namespace {

constexpr std::string_view digits = "0123456789";
constexpr std::string_view no_break_space = "\xC2\xA0";

// A number at the front of a text, and how many letters it took. None where there is no number.
struct FrontNumber {
  double value = 0;
  std::size_t length = 0;
};

std::optional<FrontNumber> front_decimal(std::string_view text) {
  const bool plus = !text.empty() && text[0] == '+';
  const std::string_view rest = text.substr(plus ? 1 : 0);
  // from_chars would also take "inf" and "nan".
  const std::size_t first = (!plus && rest.starts_with('-')) ? 1 : 0;
  if (rest.size() <= first || (!is_digit(rest[first]) && rest[first] != '.')) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
  if (error == std::errc::invalid_argument) return std::nullopt;
  if (error == std::errc::result_out_of_range) value = HUGE_VAL;
  return FrontNumber{value, static_cast<std::size_t>(end - text.data())};
}

std::size_t count_digits(std::string_view text) {
  return std::min(text.find_first_not_of(digits), text.size());
}

// "a/b" in whole numbers, at the front.
std::optional<FrontNumber> front_fraction(std::string_view text) {
  const std::size_t upper = count_digits(text);
  if (upper == 0 || upper >= text.size() || text[upper] != '/') return std::nullopt;
  const std::size_t lower = count_digits(text.substr(upper + 1));
  if (lower == 0) return std::nullopt;
  const auto top = read_number(text.substr(0, upper));
  const auto bottom = read_number(text.substr(upper + 1, lower));
  if (!top || !bottom || *bottom == 0) return std::nullopt;
  return FrontNumber{*top / *bottom, upper + 1 + lower};
}

// A decimal number, "1/32", "1 1/2" or "1-1/2".
std::optional<FrontNumber> front_number(std::string_view text) {
  if (const auto fraction = front_fraction(text)) return fraction;
  const auto whole = front_decimal(text);
  if (!whole || whole->length != count_digits(text)) return whole;
  const std::string_view rest = text.substr(whole->length);
  if (rest.empty() || (rest[0] != ' ' && rest[0] != '-')) return whole;
  const auto fraction = front_fraction(rest.substr(1));
  if (!fraction || fraction->value >= 1) return whole;
  return FrontNumber{whole->value + fraction->value, whole->length + 1 + fraction->length};
}

template <class Value>
Parsed<Value> refused(std::string allowed, std::string mend = {}) {
  return {std::nullopt, std::move(allowed), std::move(mend), {}};
}

// A unit that belongs to another kind of quantity is worth naming.
std::string wrong_unit_words(std::string_view unit, Dimension wanted) {
  if (unit.starts_with(',')) return "write the decimal point as a point, not a comma";
  const Unit* other = find_unit(unit);
  if (other == nullptr) return fmt::format("\"{}\" is not a unit this program knows", unit);
  return fmt::format("{} is a unit of {}, and this is a {}", unit, name_of(other->dimension),
                     name_of(wanted));
}

struct UnitFound {
  const Unit* unit = nullptr;
  std::string note;
};

// `kg` and `lb` are said for kgf and lbf in every shop: read so, and said so.
UnitFound unit_for(std::string_view written, Dimension dimension) {
  if (const Unit* unit = find_unit(dimension, written)) return {unit, {}};
  if (dimension == Dimension::pressure) {
    if (trimmed(written) == "kg/cm2" || trimmed(written) == "kg/cm\xC2\xB2") {
      return {find_unit(dimension, "kgf/cm2"), "kg/cm2 for a pressure was read as kgf/cm2"};
    }
  }
  if (dimension != Dimension::force) return {};
  const Unit* mass = find_unit(Dimension::mass, written);
  if (mass == nullptr || mass->name == std::string_view("g")) return {};
  const std::string force = std::string(mass->name) + "f";
  return {find_unit(Dimension::force, force),
          fmt::format("{} for a force was read as {}", mass->name, force)};
}

std::optional<std::string> size_problem(double number) {
  if (!std::isfinite(number) || std::abs(number) > largest_number) {
    return fmt::format("nothing here is larger than {:.0f}", largest_number);
  }
  return std::nullopt;
}

Parsed<double> with_unit(double number, std::string_view written, Dimension dimension) {
  if (auto problem = size_problem(number)) {
    return refused<double>(what_is_allowed(dimension), std::move(*problem));
  }
  const UnitFound found = unit_for(written, dimension);
  if (found.unit == nullptr) {
    return refused<double>(what_is_allowed(dimension), wrong_unit_words(written, dimension));
  }
  return {from_unit(number, *found.unit), {}, {}, found.note};
}

constexpr std::array plus_minus{std::string_view("\xC2\xB1"), std::string_view("+/-"),
                                std::string_view("+-")};

struct Halves {
  std::string_view left;
  std::string_view right;
};

std::optional<Halves> around(std::string_view text, std::size_t at, std::size_t length) {
  return Halves{trimmed(text.substr(0, at)), trimmed(text.substr(at + length))};
}

std::optional<Halves> split_at_tolerance(std::string_view text) {
  for (const std::string_view sign : plus_minus) {
    const std::size_t at = text.find(sign);
    if (at != std::string_view::npos) return around(text, at, sign.size());
  }
  return std::nullopt;
}

// Dashes of every width, "to" and ".." between two values. A minus sign belongs to its number, so
// the search begins behind the first number, and an exponent's sign is inside it.
std::optional<Halves> split_at_span(std::string_view text) {
  static constexpr std::array between{
      std::string_view("\xE2\x80\x93"), std::string_view("\xE2\x80\x94"),
      std::string_view("\xE2\x88\x92"), std::string_view(".."),
      std::string_view(" to "),         std::string_view("-")};
  const auto first = front_number(text);
  if (!first) return std::nullopt;
  // In "30..40" the first point would be taken for a decimal one.
  const std::size_t behind = std::min(first->length, text.find(".."));
  for (const std::string_view sign : between) {
    const std::size_t at = text.find(sign, behind);
    if (at == std::string_view::npos) continue;
    const auto halves = around(text, at, sign.size());
    if (front_number(halves->right)) return halves;
  }
  return std::nullopt;
}

std::string_view unit_part(std::string_view text) {
  const auto number = front_number(text);
  return number ? trimmed(text.substr(number->length)) : std::string_view{};
}

std::string joined(std::string_view number, std::string_view unit) {
  return std::string(number) + ' ' + std::string(unit);
}

std::string merged_note(const std::string& first, const std::string& second) {
  return first.empty() ? second : first;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  bool again = true;
  while (again) {
    const std::size_t before = text.size();
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
    if (text.starts_with(no_break_space)) text.remove_prefix(no_break_space.size());
    if (text.ends_with(no_break_space)) text.remove_suffix(no_break_space.size());
    again = text.size() != before;
  }
  return text;
}

bool is_blank(std::string_view text) {
  const std::string_view inner = trimmed(text);
  return inner.empty() || inner == "?";
}

std::optional<double> read_number(std::string_view text) {
  const auto number = front_decimal(text);
  if (!number || number->length != text.size() || !std::isfinite(number->value)) {
    return std::nullopt;
  }
  return number->value;
}

Parsed<double> read_bare(double number, Dimension dimension) {
  if (auto problem = size_problem(number)) {
    return refused<double>(what_is_allowed(dimension), std::move(*problem));
  }
  const Unit* unit = bare_unit(dimension);
  if (unit == nullptr) {
    return refused<double>(what_is_allowed(dimension),
                           fmt::format("a {} needs its {}", name_of(dimension),
                                       dimension == Dimension::charge ? "%" : "unit"));
  }
  return {from_unit(number, *unit), {}, {}, {}};
}

Parsed<double> read_quantity(std::string_view text, Dimension dimension) {
  const std::string_view inner = trimmed(text);
  const auto number = front_number(inner);
  if (!number) {
    return refused<double>(what_is_allowed(dimension), "leave the value out if it is not known");
  }
  const std::string_view unit = trimmed(inner.substr(number->length));
  if (unit.empty()) return read_bare(number->value, dimension);
  return with_unit(number->value, unit, dimension);
}

Parsed<Span> read_span(std::string_view text, Dimension dimension) {
  const std::string_view inner = trimmed(text);
  const auto halves = split_at_span(inner);
  if (!halves) {
    const auto single = read_quantity(inner, dimension);
    if (!single.ok()) return refused<Span>(single.allowed, single.mend);
    return {Span{*single.value, *single.value}, {}, {}, single.note};
  }
  // The unit is usually written once, at the end.
  const bool once = unit_part(halves->left).empty();
  const std::string left =
      once ? joined(halves->left, unit_part(halves->right)) : std::string(halves->left);
  const auto low = read_quantity(left, dimension);
  if (!low.ok()) return refused<Span>(low.allowed, low.mend);
  const auto high = read_quantity(halves->right, dimension);
  if (!high.ok()) return refused<Span>(high.allowed, high.mend);
  if (*low.value > *high.value) {
    // The unit stands once, at the end; where each has its own, the lower keeps it.
    const std::string_view unit = unit_part(halves->right);
    const std::string_view lower =
        once ? trimmed(halves->right.substr(0, halves->right.size() - unit.size())) : halves->right;
    return refused<Span>("the lower value first, then the higher",
                         fmt::format("the span is upside down: did you mean {} to {}?", lower,
                                     trimmed(once ? left : halves->left)));
  }
  return {Span{*low.value, *high.value}, {}, {}, merged_note(low.note, high.note)};
}

Parsed<Toleranced> read_toleranced(std::string_view text, Dimension dimension) {
  const std::string_view inner = trimmed(text);
  const auto halves = split_at_tolerance(inner);
  if (!halves) {
    const auto single = read_quantity(inner, dimension);
    if (!single.ok()) return refused<Toleranced>(single.allowed, single.mend);
    return {Toleranced{*single.value, std::nullopt}, {}, {}, single.note};
  }
  const std::string_view left_unit = unit_part(halves->left);
  const std::string_view right_unit = unit_part(halves->right);
  const bool relative = right_unit == "%" && !left_unit.empty();
  const std::string left =
      left_unit.empty() ? joined(halves->left, right_unit) : std::string(halves->left);
  const auto value = read_quantity(left, dimension);
  if (!value.ok()) return refused<Toleranced>(value.allowed, value.mend);
  const std::string right =
      right_unit.empty() ? joined(halves->right, left_unit) : std::string(halves->right);
  const auto tolerance = read_quantity(right, relative ? Dimension::percent : dimension);
  if (!tolerance.ok()) return refused<Toleranced>(tolerance.allowed, tolerance.mend);
  if (*tolerance.value < 0) {
    return refused<Toleranced>(what_is_allowed(dimension), "a tolerance is not negative");
  }
  const double part = relative ? *tolerance.value * std::abs(*value.value) : *tolerance.value;
  return {Toleranced{*value.value, part}, {}, {}, merged_note(value.note, tolerance.note)};
}

}  // namespace stackfit::cli
