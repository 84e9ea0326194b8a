// SPDX-License-Identifier: GPL-3.0-or-later
//
// One cell after another: no fault found, watch, or set aside, with every rule that spoke.
//
// For: cells that have been used, perhaps swollen. Needs no box. Contract, each tested: 1 a sign
// sets aside whatever the figures; 2 signs not said never end in `no_fault_found`; 3 every rule
// that speaks is listed with its figure and limit; 4 a rule speaks beyond its limit, not at it.
// Not for: whether a cell may stand in a certain box, or pressures (row.hpp and what follows).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/build.hpp"
#include "solver/cell_log.hpp"
#include "solver/findings.hpp"

namespace stackfit {

/// Worst last.
enum class CellVerdict : std::uint8_t { no_fault_found, watch, set_aside };

/// In the order in which they are told. What figure and limit are stands beside each; parts are
/// of the nominal thickness.
enum class CellRule : std::uint8_t {
  sign_seen,               ///< `words` has it
  sign_in_log,             ///< seen earlier: `words`, `since`
  swelling,                ///< dome less slack, part
  thick_at_highest,        ///< only boards or middle read: above the data sheet, less slack, part
  edge_above_own_reading,  ///< gain since `since`, part
  edge_above_data_sheet,   ///< above nominal and tolerance, part
  deep_discharge,          ///< rested voltage, V
  growth,                  ///< part per month
  low_voltage,             ///< scaled MADs below the others
  low_capacity,            ///< scaled MADs below the others
  high_resistance,         ///< scaled MADs above the others
  signs_not_said,
  swelling_not_measured,  ///< a thickness, but not edge and middle (or boards) both
  thickness_not_measured
};

struct RuleSpoken {
  CellRule rule = CellRule::sign_seen;
  CellVerdict verdict = CellVerdict::watch;
  double figure = 0;
  double limit = 0;
  std::optional<Day> since = {};
  std::string words = {};
  double value = 0;  ///< of comparisons: this cell's, V, Ah or mohm
  double usual = 0;  ///< of comparisons: the others' median
};

struct CellCondition {
  std::string id;
  CellVerdict verdict = CellVerdict::set_aside;
  std::vector<RuleSpoken> spoken;
  bool shows_sign = false;
  std::optional<double> edge_mm;
  std::optional<double> highest_mm;   ///< boards, or else middle
  std::optional<double> dome_mm;      ///< where both were read
  std::optional<double> swelling_mm;  ///< dome less slack
  std::optional<double> swelling;     ///< part of the nominal thickness
  std::optional<Growth> growth;
  std::optional<ReachedOn> reaches;  ///< the first limit it comes to, where a date is promised
  int unlike = 0;                    ///< lines of the log that could not be compared
};

/// What the cells are held against.
struct ConditionBasis {
  double nominal_mm = 0;
  std::optional<double> tolerance_mm;     ///< of the data sheet
  std::optional<Span> nominal_at_charge;  ///< of the data sheet, fractions
  Day today;
  const CellLog& log;
  const Assumptions& assumptions;
};

/// Each cell's condition, in the build's order. Assumed figures are noted in `findings`.
/// `cells` carry the charge they were measured at where one was said for all.
[[nodiscard]] std::vector<CellCondition> conditions(const std::vector<CellReading>& cells,
                                                    const ConditionBasis& basis,
                                                    Findings& findings);

/// How many cells have each figure, for what could not be compared.
struct Compared {
  int voltages = 0;
  int capacities = 0;
  int resistances = 0;
};
[[nodiscard]] Compared compared(const std::vector<CellReading>& cells);

}  // namespace stackfit
