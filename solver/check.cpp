// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/check.hpp"

#include <algorithm>
#include <cmath>

#include "solver/dome_reading.hpp"
#include "solver/robust.hpp"

namespace stackfit {
namespace {

// A day of the month that the month has.
Day months_later(Day day, int months) {
  using std::chrono::year_month_day;
  const year_month_day from{day};
  const auto moved = from.year() / from.month() + std::chrono::months(months);
  const year_month_day there = moved / from.day();
  return there.ok() ? Day{there} : Day{moved / std::chrono::last};
}

Day next_check(const CheckAnswer& answer, const Assumptions& assumptions, Findings& findings) {
  const auto after = [&](Assumed interval) {
    return months_later(answer.today, static_cast<int>(std::lround(assumptions[interval])));
  };
  // A limit that may be reached meanwhile is as good a reason as a cell on watch.
  const Day usual = after(Assumed::check_interval);
  const bool soon =
      std::any_of(answer.cells.begin(), answer.cells.end(), [usual](const CellCondition& cell) {
        return cell.verdict == CellVerdict::watch ||
               (cell.verdict == CellVerdict::no_fault_found && cell.reaches &&
                cell.reaches->earliest < usual);
      });
  findings.note(soon ? Assumed::watch_interval : Assumed::check_interval);
  return soon ? std::min(usual, after(Assumed::watch_interval)) : usual;
}

// The place of a cell is as thick as the cells that stay.
double filler_mm(const CheckAnswer& answer) {
  std::vector<double> edges;
  for (const CellCondition& cell : answer.cells) {
    if (cell.edge_mm && cell.verdict != CellVerdict::set_aside) {
      edges.push_back(*cell.edge_mm);
    }
  }
  return edges.empty() ? answer.nominal_mm : median(edges);
}

int lines_of(const CellLog& log, const std::vector<CellReading>& cells) {
  return static_cast<int>(std::count_if(log.begin(), log.end(), [&](const DatedReading& line) {
    return std::any_of(cells.begin(), cells.end(),
                       [&](const CellReading& cell) { return cell.id == line.reading.id; });
  }));
}

std::vector<bool> set_aside(const std::vector<CellCondition>& cells) {
  std::vector<bool> leave;
  for (const CellCondition& cell : cells) {
    leave.push_back(cell.verdict == CellVerdict::set_aside);
  }
  return leave;
}

/// A dome measured by points or a straightedge counts as one that two calipers' readings tell.
void take_measured_domes(const Build& build, const Assumptions& assumptions, Findings& findings,
                         std::vector<CellReading>& cells) {
  for (CellReading& cell : cells) {
    const auto measured = measured_dome({build, assumptions, findings}, cell.id, cell);
    if (!measured) {
      continue;
    }
    if (!cell.edge_mm && cell.boards_mm) {
      cell.edge_mm = *cell.boards_mm - dome_beyond_edge_mm(measured->dome);
    } else if (!cell.edge_mm && cell.middle_mm) {
      cell.edge_mm = *cell.middle_mm - measured->height_mm;
    } else if (!cell.edge_mm) {
      cell.edge_mm = measured->edge_mm;
    }
    if (cell.edge_mm) {
      cell.middle_mm = *cell.edge_mm + measured->height_mm;
      cell.boards_mm.reset();
    }
  }
}

/// The row in its box, where enough was said of both.
void judge_box(const Build& build, const Assumptions& assumptions, CheckAnswer& answer) {
  const bool said = answer.has_box && build.cell.face.width_mm > 0 &&
                    build.cell.face.height_mm > 0 && build.cell.thickness.nominal_mm > 0 &&
                    !build.cells.empty();
  if (!said) {
    return;
  }
  std::vector<std::string> out;
  for (const CellCondition& cell : answer.cells) {
    if (cell.verdict == CellVerdict::set_aside) {
      out.push_back(cell.id);
    }
  }
  try {
    answer.box = check_in_box(build, out, assumptions);
  } catch (const UnusableBuild& reason) {
    answer.box_unusable = reason.what();
  }
}

}  // namespace

int CheckAnswer::count(CellVerdict of) const {
  return static_cast<int>(std::count_if(
      cells.begin(), cells.end(), [of](const CellCondition& cell) { return cell.verdict == of; }));
}

bool CheckAnswer::any_sign() const {
  return std::any_of(cells.begin(), cells.end(),
                     [](const CellCondition& cell) { return cell.shows_sign; });
}

Nominal nominal_of(const Build& build) {
  if (build.cell.thickness.nominal_mm > 0) {
    return {build.cell.thickness.nominal_mm, NominalFrom::data_sheet};
  }
  std::vector<double> edges;
  std::vector<double> highest;
  for (const CellReading& cell : build.cells) {
    if (cell.edge_mm) {
      edges.push_back(*cell.edge_mm);
    }
    if (cell.boards_mm || cell.middle_mm) {
      highest.push_back(cell.boards_mm ? *cell.boards_mm : *cell.middle_mm);
    }
  }
  if (!edges.empty()) {
    return {median(edges), NominalFrom::median_edge};
  }
  return highest.empty() ? Nominal{} : Nominal{median(highest), NominalFrom::median_highest};
}

std::vector<CellReading> cells_with_charges(const Build& build) {
  std::vector<CellReading> cells = build.cells;
  if (!build.measured_charge) {
    return cells;
  }
  const MeasuredCharge& said = *build.measured_charge;
  const double charge = said.between ? 0.5 * (said.between->low + said.between->high) : said.charge;
  for (CellReading& cell : cells) {
    cell.charge = cell.charge.value_or(charge);
  }
  return cells;
}

CheckAnswer answer_check(const Build& build, const CheckAsked& asked,
                         const Assumptions& assumptions) {
  Findings findings;
  CheckAnswer answer;
  const Nominal nominal = nominal_of(build);
  std::vector<CellReading> cells = cells_with_charges(build);
  take_measured_domes(build, assumptions, findings, cells);
  answer.title = build.title;
  answer.today = asked.today;
  answer.nominal_mm = nominal.mm;
  answer.nominal_from = nominal.from;
  answer.tolerance_mm = build.cell.thickness.tolerance_mm;
  answer.chemistry = build.cell.chemistry;
  answer.chemistry_said = build.cell.chemistry_said;
  answer.has_box = build.frame || !build.box.inner_length_mm.empty();
  answer.compared = compared(cells);
  answer.log_given = asked.log_given;
  answer.log_lines = lines_of(asked.log, cells);
  answer.cells = conditions(cells,
                            {nominal.mm, answer.tolerance_mm, build.cell.thickness.at_charge,
                             asked.today, asked.log, assumptions},
                            findings);
  answer.verdict = CellVerdict::no_fault_found;
  for (const CellCondition& cell : answer.cells) {
    answer.verdict = std::max(answer.verdict, cell.verdict);
  }
  answer.left_out = leave_out(set_aside(answer.cells),
                              {build.series, build.parallel, answer.chemistry, asked.charger_v},
                              assumptions, findings);
  answer.filler_mm = filler_mm(answer);
  answer.next_check = next_check(answer, assumptions, findings);
  judge_box(build, assumptions, answer);
  answer.assumed = findings.assumed;
  return answer;
}

}  // namespace stackfit
