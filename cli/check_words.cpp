// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/check_words.hpp"

#include <fmt/format.h>

#include "cli/answer_words.hpp"
#include "cli/days.hpp"
#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

constexpr std::size_t longest_sign = 40;

std::string part(double fraction) {
  return fmt::format("{:.1f} %", 100 * fraction);
}
std::string limit_part(double fraction) {
  return fmt::format("{:g} %", 100 * fraction);
}
// A tenth of a per cent a month is the limit: two figures more.
std::string monthly(double fraction) {
  return fmt::format("{:.2f} %", 100 * fraction);
}

std::string sign(const RuleSpoken& spoken) {
  return shortened(printable(spoken.words), longest_sign);
}

std::string since(const RuleSpoken& spoken) {
  return spoken.since ? day_text(*spoken.since) : std::string();
}

// A spread is the scaled MAD of the others: shop words for it.
std::string among(const RuleSpoken& spoken, std::string_view unit, std::string_view way) {
  return fmt::format("{:g} {}, others {:g}: {:.0f} x their scatter {} (limit {:g} *)", spoken.value,
                     unit, spoken.usual, spoken.figure, way, spoken.limit);
}

}  // namespace

std::string_view code(CellVerdict value) {
  switch (value) {
    case CellVerdict::no_fault_found:
      return "no_fault_found";
    case CellVerdict::watch:
      return "watch";
    case CellVerdict::set_aside:
      return "set_aside";
  }
  return no_such_word;
}

std::string_view code(CellRule value) {
  switch (value) {
    case CellRule::sign_seen:
      return "sign_seen";
    case CellRule::sign_in_log:
      return "sign_in_log";
    case CellRule::swelling:
      return "swelling";
    case CellRule::thick_at_highest:
      return "thick_at_highest";
    case CellRule::edge_above_own_reading:
      return "edge_above_own_reading";
    case CellRule::edge_above_data_sheet:
      return "edge_above_data_sheet";
    case CellRule::deep_discharge:
      return "deep_discharge";
    case CellRule::growth:
      return "growth";
    case CellRule::low_voltage:
      return "low_voltage";
    case CellRule::low_capacity:
      return "low_capacity";
    case CellRule::high_resistance:
      return "high_resistance";
    case CellRule::signs_not_said:
      return "signs_not_said";
    case CellRule::swelling_not_measured:
      return "swelling_not_measured";
    case CellRule::thickness_not_measured:
      return "thickness_not_measured";
  }
  return no_such_word;
}

std::string_view code(Followed value) {
  switch (value) {
    case Followed::edge:
      return "edge";
    case Followed::middle:
      return "middle";
    case Followed::boards:
      return "boards";
    case Followed::dome:
      return "dome";
  }
  return no_such_word;
}

std::string_view code(NominalFrom value) {
  switch (value) {
    case NominalFrom::data_sheet:
      return "data_sheet";
    case NominalFrom::median_edge:
      return "median_edge";
    case NominalFrom::median_highest:
      return "median_highest";
    case NominalFrom::nothing:
      return "nothing";
  }
  return no_such_word;
}

std::string_view plain(CellVerdict value) {
  switch (value) {
    case CellVerdict::no_fault_found:
      return "no fault found";
    case CellVerdict::watch:
      return "watch";
    case CellVerdict::set_aside:
      return "SET ASIDE";
  }
  return no_such_word;
}

std::string reason(const RuleSpoken& spoken) {
  switch (spoken.rule) {
    case CellRule::sign_seen:
      return "sign: " + sign(spoken);
    case CellRule::sign_in_log:
      return fmt::format("sign on {}: {}", since(spoken), sign(spoken));
    case CellRule::swelling:
      return fmt::format("swollen {} (limit {} *)", part(spoken.figure), limit_part(spoken.limit));
    case CellRule::thick_at_highest:
      return fmt::format("{} thicker than a sound cell (limit {} *)", part(spoken.figure),
                         limit_part(spoken.limit));
    case CellRule::edge_above_own_reading:
      return fmt::format("can deformed: edge up {} since {} (limit {} *)", part(spoken.figure),
                         since(spoken), limit_part(spoken.limit));
    case CellRule::edge_above_data_sheet:
      return fmt::format("can deformed: edge {} over nominal + tolerance (limit {} *)",
                         part(spoken.figure), limit_part(spoken.limit));
    case CellRule::deep_discharge:
      return fmt::format("deeply discharged: {:g} V (limit {:g} V *)", spoken.figure, spoken.limit);
    case CellRule::growth:
      return fmt::format("grows {} a month (limit {} *)", monthly(spoken.figure),
                         limit_part(spoken.limit));
    case CellRule::low_voltage:
      return among(spoken, "V", "low");
    case CellRule::low_capacity:
      return among(spoken, "Ah", "low");
    case CellRule::high_resistance:
      return among(spoken, "mohm", "high");
    case CellRule::signs_not_said:
      return "signs not said";
    case CellRule::swelling_not_measured:
      return "swelling not measured";
    case CellRule::thickness_not_measured:
      return "not measured";
  }
  return {};
}

}  // namespace stackfit::cli
