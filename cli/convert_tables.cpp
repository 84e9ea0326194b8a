// SPDX-License-Identifier: GPL-3.0-or-later
//
// Tables of two columns: swing against charge, pressure against squeeze.
#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "cli/convert_parts.hpp"

namespace stackfit::cli {
namespace {

// Place of the first value that does not rise above the one before it.
std::optional<std::size_t> first_fall(const std::vector<double>& values) {
  const auto at = std::ranges::adjacent_find(values, std::greater_equal<>{});
  if (at == values.end()) return std::nullopt;
  return static_cast<std::size_t>(at - values.begin()) + 1;
}

void check_rising(const Node& node, std::string_view key, const std::vector<double>& values) {
  const auto list = node.child(key);
  const auto fall = first_fall(values);
  if (!list || !fall || *fall >= list->json().size()) return;
  list->items()[*fall].problem("a value above the one before it",
                               fmt::format("\"{}\" rises from one value to the next", key));
}

}  // namespace

void check_table(const Node& node, const TableShape& shape, const std::vector<double>& across,
                 const std::vector<double>& up) {
  const auto first = node.child(shape.across);
  const auto second = node.child(shape.up);
  if (!first || !second) {
    node.problem_found(
        fmt::format("\"{}\" alone", first ? shape.across : shape.up),
        fmt::format(R"("{}" and "{}" together, value by value)", shape.across, shape.up));
    return;
  }
  if (first->json().size() != second->json().size()) {
    second->problem(
        fmt::format("as many values as \"{}\" has: {}", shape.across, first->json().size()));
  }
  // A value that could not be read has been complained of; the rest would be out of step.
  if (across.size() != first->json().size() || up.size() != second->json().size()) return;
  check_rising(node, shape.across, across);
  if (shape.up_rises) check_rising(node, shape.up, up);
  if (!shape.from_zero || across.empty() || up.empty()) return;
  if (across.front() != 0) first->items().front().problem("0: the table starts at rest");
  if (up.front() != 0) second->items().front().problem("0: the table starts at rest");
}

SwingInput convert_swing(const Node& swing) {
  const bool percent_charge = swing.has("charge_percent");
  const std::string_view charge_key = percent_charge ? "charge_percent" : "charge";
  const bool table = swing.has("charge") || percent_charge || swing.has("percent");
  const bool figures = swing.has("net") || swing.has("hump");
  if (table && figures) {
    swing.problem("either net and hump, or a table of charge and percent", "keep one of the two");
  }
  if (swing.has("charge") && percent_charge) {
    swing.problem("charge or charge_percent", "keep one of the two");
  }
  if (!table) {
    return SwingFigures{swing.quantity("net", Dimension::percent, Sign::any),
                        swing.quantity("hump", Dimension::percent, Sign::not_negative)};
  }
  SwingTable out;
  out.charge =
      swing.quantities(charge_key, percent_charge ? Dimension::percent : Dimension::charge);
  out.fraction = swing.quantities("percent", Dimension::percent);
  check_table(swing, {charge_key, "percent"}, out.charge, out.fraction);
  if (!out.charge.empty() && (out.charge.front() < 0 || out.charge.back() > 1)) {
    swing.problem_found("a charge outside the cell", "charges within 0 and 100 %");
  }
  return out;
}

SoftnessInput convert_softness(const Node& softness) {
  const bool table = softness.has("squeeze") || softness.has("pressure");
  const bool law = softness.has("a") || softness.has("b");
  if (table == law || (law && !(softness.has("a") && softness.has("b")))) {
    softness.problem("either a and b, or squeeze and pressure");
  }
  if (!table) {
    SoftnessLaw out;
    out.a_mpa = softness.quantity("a", Dimension::pressure).value_or(0);
    out.b = softness.quantity("b", Dimension::ratio).value_or(0);
    return out;
  }
  SoftnessTable out;
  out.squeeze_fraction = softness.quantities("squeeze", Dimension::ratio);
  out.pressure_mpa = softness.quantities("pressure", Dimension::pressure);
  check_table(softness, {"squeeze", "pressure", true, true}, out.squeeze_fraction,
              out.pressure_mpa);
  if (!out.squeeze_fraction.empty() && out.squeeze_fraction.back() >= 1) {
    softness.problem_found("a squeeze of the whole thickness or more",
                           "squeezes as fractions below 1, such as 0.005 or 0.5 %");
  }
  return out;
}

}  // namespace stackfit::cli
