// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/box_check.hpp"

#include <algorithm>
#include <memory>
#include <utility>

#include "solver/cells_out.hpp"
#include "solver/plan_result.hpp"
#include "solver/remedy.hpp"

namespace stackfit {
namespace {

/// What lies in the box is on hand too, whatever the kit says.
Build with_placed_on_hand(Build build) {
  for (KitShim& shim : build.kit) {
    int used = 0;
    for (const PlacedSheets& placed : build.placed) {
      for (const auto& [name, count] : placed.sheets) {
        used += name == shim.sheet.name ? count : 0;
      }
    }
    shim.count = std::max(shim.count, used);
  }
  return build;
}

/// The sheets that lie there keep the band. How the row was put together is behind it.
bool keeps(const Study& study, const ShimPlan& placed, const PlanResult& described) {
  const ShimLoad load = study.load_of(placed.used);
  const bool rods_hold = !described.frame || (described.frame->highest.proof_share <= 1 &&
                                              described.frame->as_built.proof_share <= 1);
  return study.model().judge(load, RowModel::By::full_solution).passes &&
         described.bare_metal.empty() && rods_hold;
}

void find_watched(const Study& study, RowCheck& out) {
  const std::vector<CellResult> cells = describe_cells(study);
  for (std::size_t place = 0; place < cells.size(); ++place) {
    if (cells[place].beyond_watch && !cells[place].refused) {
      out.watched.push_back(cells[place].id);
      out.watched_places.push_back(place);
    }
  }
}

/// A plan's pressures with the assumed squeeze law at one end of its span.
Bracket bracket_at(const Study& study, const ShimPlan& plan, double a_mpa) {
  const Study other(study.build(), study.assumptions().with(Assumed::squeeze_a, a_mpa),
                    study.store(), study.place());
  const PlanPressures p = other.model().evaluate(other.load_of(plan.used));
  return {a_mpa, p.lowest.face_pressure_mpa, p.highest.face_pressure_mpa,
          std::all_of(p.states.begin(), p.states.end(),
                      [](const StateResult& s) { return s.standing == Standing::inside; })};
}

void add_brackets(const Study& study, const ShimPlan& plan, RowCheck& out) {
  if (study.row().law_assumed) {
    const Assumption& a = assumption(Assumed::squeeze_a);
    out.soft = bracket_at(study, plan, a.low);
    out.stiff = bracket_at(study, plan, a.high);
  }
}

/// Sheets that keep the band if an end wall may go on last, whatever was said of it.
ShimPlan by_an_open_end(const Study& study) {
  Build build = study.build();
  build.box.opens = Opens::one_end_wall;
  build.build.method = BuildMethod::end_wall_last;
  return Study(build, study.assumptions(), study.store(), study.place()).choose();
}

InsertionResult closed_with(const Study& study, const ShimPlan& plan) {
  return assess_insertion(with_plan(study.insertion(), study.row(), plan.counts), study.model(),
                          study.load_of(plan.used));
}

void explain(const Study& study, RowCheck& out) {
  ShimPlan nearest = study.choose();
  if (nearest.used.empty()) {
    nearest.used.assign(study.row().kit.size(), 0);
  }
  out.failure = explain_failure(study, nearest);
  out.outcome = BoxOutcome::does_not_fit;
  if (out.failure.rule == FailedRule::swollen_pressed_flat) {
    out.outcome = BoxOutcome::only_by_flattening;
  }
  if (out.failure.rule == FailedRule::build_method) {
    const ShimPlan open_end = by_an_open_end(study);
    out.outcome = BoxOutcome::cannot_be_put_together;
    out.insertion = closed_with(study, open_end.passes ? open_end : nearest);
  }
}

/// Whether something new has to be got into the row.
enum class Closing : std::uint8_t { stays_closed, closed_anew };

RowCheck check_row(const Study& study, Closing closing, const MergedGaps& merged = {}) {
  RowCheck out;
  out.placed = !study.build().placed.empty();
  out.something_goes_in = closing == Closing::closed_anew;
  find_watched(study, out);
  const ShimPlan placed = study.as_placed();
  if (out.placed || study.build().kit.empty()) {
    out.as_placed = describe_plan(study, placed);
    const bool keeps_band = keeps(study, placed, *out.as_placed);
    if (keeps_band && out.something_goes_in) {
      const InsertionResult insertion = closed_with(study, placed);
      out.insertion = insertion.works ? std::nullopt : std::optional(insertion);
    }
    if (keeps_band && !out.insertion) {
      out.outcome = BoxOutcome::fits_as_it_is;
      add_brackets(study, placed, out);
      return out;
    }
  }
  out.changes = change_sheets(study, placed, merged);
  if (out.changes) {
    out.changed = describe_plan(study, out.changes->plan);
    out.outcome = BoxOutcome::fits_with_sheets_changed;
    add_brackets(study, out.changes->plan, out);
    return out;
  }
  if (out.insertion) {
    out.failure = explain_failure(study, placed);
    out.failure.rule = FailedRule::build_method;
    out.outcome = BoxOutcome::cannot_be_put_together;
  } else {
    explain(study, out);
  }
  return out;
}

std::vector<CellOut> cells_out(const Study& study, const std::vector<std::string>& set_aside) {
  std::vector<CellOut> out;
  int place = 0;
  for (const CellResult& cell : describe_cells(study)) {
    ++place;
    const bool handed_in =
        std::find(set_aside.begin(), set_aside.end(), cell.id) != set_aside.end();
    if (handed_in || cell.refused) {
      out.push_back({cell.id, place, handed_in});
    }
  }
  return out;
}

OrderQuestion order_question(const Study& study, const PlanResult& plan) {
  OrderQuestion question;
  const std::vector<CellResult> cells = describe_cells(study);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const RowCell& cell = study.row().cells[i];
    const double swelling = cell.dome_mm < 0 ? cell.dome_mm : cells[i].swelling_mm;
    question.cells.push_back({cells[i].id, cells[i].free_mm, swelling});
  }
  for (const GapResult& gap : plan.gaps) {
    question.gap_mm.push_back(gap.total_mm);
  }
  const auto& terminals = study.build().cell.terminals;
  question.wanted_spacing_mm = terminals ? terminals->spacing_mm : std::nullopt;
  question.parallel = parallel_of(study.build());
  return question;
}

void note_assumed(const Study& study, BoxCheck& out) {
  out.assumed = study.findings().assumed;
  const auto noted = [&](Assumed id) {
    return std::find(out.assumed.begin(), out.assumed.end(), id) != out.assumed.end();
  };
  out.figures_assumed = study.row().band.assumed || study.row().law_assumed ||
                        study.row().box.assumed || noted(Assumed::swing_net) ||
                        noted(Assumed::swing_hump) || noted(Assumed::shipped_charge);
  out.growth_assumed = noted(Assumed::growth) || noted(Assumed::growth_under_load);
}

/// Whether the row is in its box, and which sheets are in with it is known. A kit beside the box,
/// of which nothing was placed, is a row not yet built, whatever else is to lie in it.
bool stands(const Build& build) {
  for (const PlacedSheets& gap : build.placed) {
    for (const auto& [name, count] : gap.sheets) {
      if (count > 0) {
        return true;
      }
    }
  }
  const bool all_said = build.kit.empty() || !build.placed.empty();
  return all_said && !(build.fixed_sheets.empty() && build.pads.empty());
}

class Checker {
 public:
  Checker(const Build& build, const Assumptions& assumptions)
      : build_(with_placed_on_hand(build)), assumptions_(assumptions) {}

  [[nodiscard]] BoxCheck check(const std::vector<std::string>& set_aside) {
    const Study study(build_, assumptions_, store_);
    BoxCheck out;
    out.clamp_frame = build_.frame.has_value();
    out.cells = static_cast<int>(build_.cells.size());
    out.band = study.row().band;
    note_assumed(study, out);
    out.out = cells_out(study, set_aside);
    if (out.out.empty()) {
      out.row = check_row(study, Closing::stays_closed);
      out.outcome = out.row.outcome;
      find_order(study, out.row, out);
    } else {
      out.outcome = BoxOutcome::cells_come_out;
    }
    replace(study, places_to_fill(out), out);
    take_apart(out);
    return out;
  }

 private:
  /// Of cells that come out, or that would have to so that the others can stay.
  [[nodiscard]] CellPlaces places_to_fill(const BoxCheck& out) const {
    CellPlaces places;
    for (const CellOut& cell : out.out) {
      places.push_back(static_cast<std::size_t>(cell.place - 1));
    }
    if (out.outcome == BoxOutcome::only_by_flattening) {
      places = out.row.watched_places;
    }
    return places;
  }

  void replace(const Study& study, const CellPlaces& places, BoxCheck& out) {
    if (places.empty() || places.size() == build_.cells.size()) {
      return;
    }
    const Study like(with_like_cells(build_, study.row(), places), assumptions_, store_);
    out.replacements.push_back({Replacement::like_cell, like.row().cells[places.front()].edge_mm,
                                check_row(like, Closing::closed_anew)});
    find_order(like, out.replacements.back().row, out);

    const WithBlocks blocks = with_blocks(build_, study.row(), places);
    const Study shorter(blocks.build, assumptions_, store_);
    out.replacements.push_back(
        {Replacement::block, blocks.block_mm,
         check_row(shorter, Closing::closed_anew, {blocks.gaps_merged, blocks.block_mm})});
    rename(blocks.gap_names, out.replacements.back().row);
  }

  /// Gaps by the numbers that stand on the bench.
  static void rename(const std::vector<std::string>& names, RowCheck& row) {
    if (row.changes) {
      for (GapChange& change : row.changes->gaps) {
        for (std::size_t gap = 0; gap < names.size(); ++gap) {
          if (row.changed->gaps[gap].name == change.gap) {
            change.gap = names[gap];
            break;
          }
        }
      }
    }
    for (std::optional<PlanResult>* plan : {&row.as_placed, &row.changed}) {
      for (std::size_t gap = 0; *plan && gap < names.size(); ++gap) {
        (*plan)->gaps[gap].name = names[gap];
      }
    }
  }

  static void find_order(const Study& study, const RowCheck& row, BoxCheck& out) {
    const PlanResult* plan = row.plan();
    if (plan == nullptr || study.row().cells.size() < 2) {
      return;
    }
    const OrderQuestion question = order_question(study, *plan);
    out.order = order_cells(question);
    for (const OrderCell& cell : question.cells) {
      out.order_ids.push_back(cell.id);
    }
  }

  void take_apart(BoxCheck& out) const {
    if (!stands(build_)) {
      return;
    }
    const Study today(as_it_stands(build_), assumptions_, store_);
    out.taking_out =
        assess_taking_out(today, today.load_of(today.as_placed().used), !out.out.empty());
  }

  Build build_;
  Assumptions assumptions_;
  std::shared_ptr<WallStore> store_ = std::make_shared<WallStore>();
};

}  // namespace

const RowCheck* BoxCheck::fitting() const {
  if (row.fits() && out.empty()) {
    return &row;
  }
  const auto found = std::find_if(replacements.begin(), replacements.end(),
                                  [](const ReplacementCheck& r) { return r.row.fits(); });
  return found == replacements.end() ? nullptr : &found->row;
}

BoxCheck check_in_box(const Build& build, const std::vector<std::string>& set_aside,
                      const Assumptions& assumptions) {
  if (build.rows.value_or(1) > 1) {
    BoxCheck out;
    out.outcome = BoxOutcome::several_rows;
    out.clamp_frame = build.frame.has_value();
    out.cells = static_cast<int>(build.cells.size());
    return out;
  }
  return Checker(build, assumptions).check(set_aside);
}

}  // namespace stackfit
