// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/condition.hpp"

#include <algorithm>
#include <cmath>

#include "solver/robust.hpp"
#include "solver/signs.hpp"

namespace stackfit {
namespace {

// Figures that are equal but for the last bits of decimals in binary do not pass each other.
bool beyond(double figure, double limit) {
  constexpr double rounding = 1e-9;
  return figure > limit + rounding * std::abs(limit);
}

using Reading = std::optional<double> CellReading::*;

struct Comparison {
  CellRule rule;
  Reading reading;
  double bad_way;  ///< +1 where more is bad, -1 where less is
};
// More volts, more ampere hours or fewer milliohms than the others' are no fault of a cell.
constexpr Comparison comparisons[] = {
    {CellRule::low_voltage, &CellReading::voltage_v, -1},
    {CellRule::low_capacity, &CellReading::capacity_ah, -1},
    {CellRule::high_resistance, &CellReading::resistance_mohm, +1},
};

class OneCell {
 public:
  OneCell(const std::vector<CellReading>& cells, std::size_t index, const ConditionBasis& basis,
          Findings& findings)
      : cells_(cells),
        cell_(cells[index]),
        index_(index),
        basis_(basis),
        findings_(findings),
        history_(
            like_series(cell_, basis.today, basis.log, basis.assumptions[Assumed::like_charge])) {}

  CellCondition judge() {
    out_.id = cell_.id;
    out_.verdict = CellVerdict::no_fault_found;
    out_.unlike = history_.unlike;
    judge_signs();
    judge_dome();
    judge_edge();
    judge_deep_discharge();
    judge_growth();
    for (const Comparison& comparison : comparisons) {
      judge_among_others(comparison);
    }
    judge_what_was_not_said();
    promise_a_date();
    return std::move(out_);
  }

 private:
  [[nodiscard]] double limit(Assumed id) const {
    findings_.note(id);
    return basis_.assumptions[id];
  }
  [[nodiscard]] double limit_part(Assumed id) const { return limit(id) / 100; }

  void speak(RuleSpoken spoken) {
    out_.verdict = std::max(out_.verdict, spoken.verdict);
    out_.spoken.push_back(std::move(spoken));
  }

  void judge_signs() {
    if (signs_in(cell_.signs.value_or("")) == Signs::seen) {
      out_.shows_sign = true;
      speak({CellRule::sign_seen, CellVerdict::set_aside, 0, 0, {}, *cell_.signs});
    }
    // A leak or a dent does not go away because it is not looked for again.
    const auto earlier = std::find_if(basis_.log.begin(), basis_.log.end(), [&](const auto& line) {
      return line.reading.id == cell_.id && line.day <= basis_.today &&
             signs_in(line.reading.signs.value_or("")) == Signs::seen;
    });
    if (earlier != basis_.log.end()) {
      out_.shows_sign = true;
      speak({CellRule::sign_in_log, CellVerdict::set_aside, 0, 0, earlier->day,
             *earlier->reading.signs});
    }
  }

  [[nodiscard]] double slack_mm(double dome_mm) const {
    return std::clamp(dome_mm, 0.0, limit_part(Assumed::dome_slack) * basis_.nominal_mm);
  }

  // Watch or set aside by the limits of a swelling dome.
  void judge_swelling(CellRule rule, double part) {
    const double watch = limit_part(Assumed::dome_watch);
    const double set_aside = limit_part(Assumed::dome_set_aside);
    if (beyond(part, set_aside)) {
      speak({rule, CellVerdict::set_aside, part, set_aside});
    } else if (beyond(part, watch)) {
      speak({rule, CellVerdict::watch, part, watch});
    }
  }

  void judge_dome() {
    out_.edge_mm = cell_.edge_mm;
    out_.highest_mm = cell_.boards_mm ? cell_.boards_mm : cell_.middle_mm;
    if (!out_.highest_mm) {
      return;
    }
    if (!cell_.edge_mm) {
      const double excess = *out_.highest_mm - thickest_sound_mm();
      judge_swelling(CellRule::thick_at_highest, (excess - slack_mm(excess)) / basis_.nominal_mm);
      return;
    }
    out_.dome_mm = *out_.highest_mm - *cell_.edge_mm;
    out_.swelling_mm = std::max(0.0, *out_.dome_mm - slack_mm(*out_.dome_mm));
    out_.swelling = *out_.swelling_mm / basis_.nominal_mm;
    judge_swelling(CellRule::swelling, *out_.swelling);
  }

  // The data sheet's nominal and tolerance; where the charge is another, the swing may be in it.
  [[nodiscard]] double thickest_sound_mm() const {
    double thickest = basis_.nominal_mm;
    if (basis_.tolerance_mm) {
      thickest += *basis_.tolerance_mm;
    } else {
      thickest += limit_part(Assumed::thickness_tolerance) * basis_.nominal_mm;
    }
    if (basis_.nominal_at_charge && cell_.charge) {
      const Span& at = *basis_.nominal_at_charge;
      const double apart = std::max(at.low - *cell_.charge, *cell_.charge - at.high);
      if (beyond(apart, limit(Assumed::like_charge))) {
        thickest += limit_part(Assumed::swing_net) * basis_.nominal_mm;
      }
    }
    return thickest;
  }

  void judge_edge() {
    if (!cell_.edge_mm) {
      return;
    }
    const double most = limit_part(Assumed::edge_up_set_aside);
    if (const LikeReadings* own = followed(Followed::edge)) {
      const double gain = (own->points.back().y - own->points.front().y) / basis_.nominal_mm;
      if (beyond(gain, most)) {
        speak({CellRule::edge_above_own_reading, CellVerdict::set_aside, gain, most, own->first});
      }
    }
    const double above = (*cell_.edge_mm - thickest_sound_mm()) / basis_.nominal_mm;
    if (beyond(above, most)) {
      speak({CellRule::edge_above_data_sheet, CellVerdict::set_aside, above, most});
    }
  }

  void judge_deep_discharge() {
    if (!cell_.voltage_v) {
      return;
    }
    const double watch = limit(Assumed::deep_discharge_watch);
    const double set_aside = limit(Assumed::deep_discharge_set_aside);
    if (beyond(set_aside, *cell_.voltage_v)) {
      speak({CellRule::deep_discharge, CellVerdict::set_aside, *cell_.voltage_v, set_aside});
    } else if (beyond(watch, *cell_.voltage_v)) {
      speak({CellRule::deep_discharge, CellVerdict::watch, *cell_.voltage_v, watch});
    }
  }

  void judge_growth() {
    out_.growth = fastest_growth(history_.series, basis_.nominal_mm);
    if (!out_.growth) {
      return;
    }
    const double watch = limit_part(Assumed::growth_watch);
    if (beyond(out_.growth->per_month, watch)) {
      speak({CellRule::growth, CellVerdict::watch, out_.growth->per_month, watch,
             out_.growth->first});
    }
  }

  // Rested voltages tell cells apart only at one charge.
  [[nodiscard]] bool is_comparable(const CellReading& other, CellRule rule) const {
    return rule != CellRule::low_voltage || !cell_.charge || !other.charge ||
           !beyond(std::abs(*cell_.charge - *other.charge), limit(Assumed::like_charge));
  }

  void judge_among_others(const Comparison& comparison) {
    const auto& own = cell_.*comparison.reading;
    if (!own) {
      return;
    }
    std::vector<double> others;
    for (std::size_t i = 0; i < cells_.size(); ++i) {
      const auto& other = cells_[i].*comparison.reading;
      if (i != index_ && other && is_comparable(cells_[i], comparison.rule)) {
        others.push_back(*other);
      }
    }
    const auto stands = among_others(*own, others);
    if (!stands) {
      return;
    }
    const double most = limit(Assumed::mad_watch);
    const double bad = comparison.bad_way * stands->spreads;
    if (beyond(bad, most)) {
      speak({comparison.rule, CellVerdict::watch, bad, most, {}, {}, *own, stands->median});
    }
  }

  void judge_what_was_not_said() {
    if (signs_in(cell_.signs.value_or("")) == Signs::not_said) {
      speak({CellRule::signs_not_said, CellVerdict::watch});
    }
    if (!out_.edge_mm && !out_.highest_mm && !cell_.pressed) {
      speak({CellRule::thickness_not_measured, CellVerdict::watch});
    } else if (!out_.dome_mm) {
      speak({CellRule::swelling_not_measured, CellVerdict::watch});
    }
  }

  [[nodiscard]] const LikeReadings* followed(Followed what) const {
    const auto found =
        std::find_if(history_.series.begin(), history_.series.end(),
                     [what](const LikeReadings& one) { return one.followed == what; });
    return found == history_.series.end() ? nullptr : &*found;
  }

  // The next limit of the dome, and that of the edge: whichever comes first.
  void promise_a_date() {
    const double least_scatter = basis_.assumptions[Assumed::calipers_scatter];
    const double nominal = basis_.nominal_mm;
    std::optional<ReachedOn> first;
    const auto take = [&](const LikeReadings& series, double level_mm) {
      const auto reached = reached_on(series, level_mm, least_scatter);
      if (reached && (!first || reached->on < first->on)) {
        first = reached;
      }
    };
    if (const LikeReadings* edge = followed(Followed::edge)) {
      take(*edge, edge->points.front().y + limit_part(Assumed::edge_up_set_aside) * nominal);
    }
    if (const LikeReadings* dome = followed(Followed::dome)) {
      const double slack = limit_part(Assumed::dome_slack) * nominal;
      take(*dome, slack + limit_part(Assumed::dome_watch) * nominal);
      take(*dome, slack + limit_part(Assumed::dome_set_aside) * nominal);
    }
    if (first) {
      findings_.note(Assumed::calipers_scatter);
    }
    out_.reaches = first;
  }

  const std::vector<CellReading>& cells_;
  const CellReading& cell_;
  std::size_t index_;
  const ConditionBasis& basis_;
  Findings& findings_;
  SeriesOfCell history_;
  CellCondition out_;
};

int count_of(const std::vector<CellReading>& cells, Reading reading) {
  return static_cast<int>(
      std::count_if(cells.begin(), cells.end(),
                    [reading](const CellReading& cell) { return (cell.*reading).has_value(); }));
}

}  // namespace

std::vector<CellCondition> conditions(const std::vector<CellReading>& cells,
                                      const ConditionBasis& basis, Findings& findings) {
  std::vector<CellCondition> out;
  out.reserve(cells.size());
  for (std::size_t i = 0; i < cells.size(); ++i) {
    out.push_back(OneCell(cells, i, basis, findings).judge());
  }
  return out;
}

Compared compared(const std::vector<CellReading>& cells) {
  return {count_of(cells, &CellReading::voltage_v), count_of(cells, &CellReading::capacity_ah),
          count_of(cells, &CellReading::resistance_mohm)};
}

}  // namespace stackfit
