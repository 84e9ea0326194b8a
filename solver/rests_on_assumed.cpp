// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/rests_on_assumed.hpp"

#include <algorithm>
#include <array>

namespace stackfit {

bool rests_on_assumed(const Study& study) {
  constexpr std::array harmless{
      Assumed::model_margin,          Assumed::corner_radius,       Assumed::dome_exponent,
      Assumed::reference_temperature, Assumed::nut_factor,          Assumed::push_limit,
      Assumed::rested_voltage,        Assumed::use_charge_low,      Assumed::use_charge_high,
      Assumed::use_temperature_low,   Assumed::use_temperature_high};
  const bool by_hand = study.insertion().method == BuildMethod::hand;
  const bool aged = study.row().use_capacity_loss.high > 0;
  const auto weakens = [&](Assumed id) {
    if (id == Assumed::friction || id == Assumed::friction_slip_film) {
      return by_hand;
    }
    if (id == Assumed::growth || id == Assumed::growth_under_load) {
      return aged;
    }
    return std::find(harmless.begin(), harmless.end(), id) == harmless.end();
  };
  const Findings& findings = study.findings();
  return std::any_of(findings.assumed.begin(), findings.assumed.end(), weakens) ||
         std::any_of(findings.words.begin(), findings.words.end(),
                     [](const AssumedWord& word) { return !word.published; });
}

}  // namespace stackfit
