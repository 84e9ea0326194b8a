// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/answer.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "solver/answer_chance.hpp"
#include "solver/answer_order.hpp"
#include "solver/answer_rows.hpp"
#include "solver/picture_of.hpp"
#include "solver/plan_result.hpp"
#include "solver/remedy.hpp"
#include "solver/rests_on_assumed.hpp"
#include "solver/study.hpp"
#include "solver/warnings.hpp"
#include "solver/what_if.hpp"

namespace stackfit {
namespace {

/// A looser plan has at least this much less of shims.
constexpr double looser_by_mm = 0.2;

void describe_build(const Study& study, Answer& answer) {
  const Build& build = study.build();
  const Row& row = study.row();
  answer.title = build.title;
  answer.cell_count = static_cast<int>(row.cells.size());
  answer.first_cell = row.face * answer.cell_count + 1;
  answer.parallel = parallel_of(build);
  answer.series = build.series.value_or(answer.cell_count / answer.parallel);
  answer.build_charge = row.build_charge;
  answer.build_temperature_c = row.build_temperature_c;
  answer.use_charge = row.use_charge;
  answer.use_temperature_c = row.use_temperature_c;
  answer.use_capacity_loss = row.use_capacity_loss;
  answer.last_wall_opens = study.insertion().wall_opens;
  answer.first_wall_opens = build.box.opens == Opens::both_end_walls;
  answer.walls_are_metal = row.box.metal;
  answer.floor = build.box.floor;
  answer.terminal_torque_nmm = build.cell.terminal_torque_nmm;
  answer.clamp_frame = build.frame.has_value();
  answer.band = row.band;
  answer.cells = describe_cells(study);
  answer.curve_charge = row.swing.knots(row.use_charge);
}

/// Volts from the first cell's - to the + of each group in series, bus bar by bus bar.
void describe_voltages(const Study& study, Answer& answer) {
  const Build& build = study.build();
  const bool measured =
      std::all_of(build.cells.begin(), build.cells.end(),
                  [](const CellReading& cell) { return cell.voltage_v.has_value(); });
  if (!measured && build.cell.chemistry != Chemistry::lfp_graphite) {
    return;
  }
  answer.voltage_assumed = !measured;
  double sum = 0;
  for (int group = 0; group < answer.series; ++group) {
    const auto first = static_cast<std::size_t>(group) * static_cast<std::size_t>(answer.parallel);
    if (first >= build.cells.size()) {
      break;
    }
    sum += measured ? *build.cells[first].voltage_v : study.assumptions()[Assumed::rested_voltage];
    answer.sense_lead_v.push_back(sum);
  }
}

void describe_curve(const Study& study, const ShimPlan& plan, Answer& answer) {
  const ShimLoad load = study.load_of(plan.used);
  for (const double charge : answer.curve_charge) {
    const RowState state{charge, study.row().reference_temperature_c, 0, false, false};
    answer.curve_pressure_mpa.push_back(study.model().solve(state, load).face_pressure_mpa);
  }
}

/// A box far shorter than the bare cells is a slip of the pen, not a tight fit.
void require_room(const Row& row) {
  if (row.box.rods) {
    return;  // a clamp frame is as long as its row
  }
  constexpr double tightest = 0.97;  // a row squeezed by 3 % is far beyond any cell's law
  double cells = 0;
  for (const RowCell& cell : row.cells) {
    cells += cell.edge_mm;
  }
  if (row.box.inner_length_mm < tightest * cells) {
    throw UnusableBuild("the cells alone are " + std::to_string(std::lround(cells)) +
                        " mm long, the box is " +
                        std::to_string(std::lround(row.box.inner_length_mm)) +
                        " mm inside; check both readings and their units");
  }
}

/// Cells that no plan may press; true where there are any.
bool refuse_cells(Answer& answer) {
  const bool signs = std::any_of(answer.cells.begin(), answer.cells.end(),
                                 [](const CellResult& c) { return c.shows_sign; });
  const bool refused = std::any_of(answer.cells.begin(), answer.cells.end(),
                                   [](const CellResult& c) { return c.refused; });
  if (!refused) {
    return false;
  }
  answer.verdict = Verdict::stop;
  answer.failure.rule = signs ? FailedRule::signs : FailedRule::swollen_cell;
  return true;
}

void describe_chosen(const Study& study, const ShimPlan& plan, Answer& answer) {
  answer.has_plan = true;
  answer.plan = describe_plan(study, plan);
  answer.insertion = assess_insertion(with_plan(study.insertion(), study.row(), plan.counts),
                                      study.model(), study.load_of(plan.used));
  describe_curve(study, plan, answer);
  add_what_ifs(study, plan, answer);
  const bool works = answer.plan.passes && answer.insertion.works && answer.floor != Floor::bare;
  if (works) {
    answer.verdict = rests_on_assumed(study) ? Verdict::fits_on_assumed_figures : Verdict::fits;
  }
}

std::optional<ShimPlan> add_looser(const Study& study, const AnswerChance& chance, Answer& answer) {
  const std::int64_t most = to_nm(answer.plan.shim_total_mm) - to_nm(looser_by_mm);
  if (most < 0) {
    return std::nullopt;
  }
  ShimPlan looser = study.choose(most, chance.score());
  if (!looser.found) {
    return std::nullopt;
  }
  answer.looser = describe_plan(study, looser);
  return looser;
}

/// What is said of one row whose plan is chosen, or is to be, its cells in the order they have.
Answer answer_study(Question question, const Study& study, const ShimPlan* given,
                    const std::optional<ChanceOptions>& options, Pictures pictures,
                    std::optional<OrderResult> order = {}) {
  const Build& build = study.build();
  const Assumptions& assumptions = study.assumptions();
  require_room(study.row());
  Answer answer;
  answer.question = question;
  answer.order = std::move(order);
  describe_build(study, answer);
  describe_voltages(study, answer);
  if (answer.voltage_assumed) {
    answer.assumed.push_back({Assumed::rested_voltage, assumptions[Assumed::rested_voltage], 0, 0});
  }
  const bool choose = given == nullptr && question == Question::pick && build.placed.empty();
  ShimPlan plan;
  if (!refuse_cells(answer)) {
    plan = given != nullptr ? *given : choose ? study.choose() : study.as_placed();
    AnswerChance chance(study, plan, options);
    if (choose) {
      plan = chance.choose(plan);
    }
    chance.begin(plan);
    std::optional<ShimPlan> looser;
    if (plan.found) {
      describe_chosen(study, plan, answer);
    }
    if (choose && plan.found && !answer.plan.spares_swollen) {
      // What presses a swollen cell flat is not even shown as the nearest.
      answer.has_plan = false;
      answer.plan = {};
    }
    if (choose && answer.has_plan) {
      looser = add_looser(study, chance, answer);
    }
    chance.describe(plan, looser, answer);
    if (choose && answer.inside()) {
      if (std::optional<Remedy> turned = order_remedy(study, answer.plan)) {
        answer.remedies.push_back(std::move(*turned));
      }
      if (chance.poor(answer)) {
        answer.remedies = chance.remedies();
        answer.remedies_sought = true;
      }
    }
    if (!answer.inside()) {
      if (plan.used.empty()) {
        plan.used.assign(study.row().kit.size(), 0);
      }
      answer.failure = explain_failure(study, plan);
      if (answer.plan.frame && std::max(answer.plan.frame->highest.proof_share,
                                        answer.plan.frame->as_built.proof_share) > 1) {
        answer.failure.rule = FailedRule::rods_overloaded;
      }
      if (choose && answer.floor != Floor::bare) {  // no other change mends a bare floor
        answer.remedies = find_remedies(study);
        answer.remedies_sought = true;
      }
    }
  }
  if (pictures == Pictures::drawn && answer.has_plan) {
    answer.picture = picture_of(study, plan, answer.plan);
  }
  answer.warnings = gather_warnings(study, answer);
  if (answer.plan.terminals) {
    answer.assumed.push_back(
        {Assumed::rigid_bar_movement, assumptions[Assumed::rigid_bar_movement], 0, 0});
  }
  if (plan.used.empty()) {
    plan.used.assign(study.row().kit.size(), 0);
  }
  const std::vector<AssumedUse> worth =
      worth_of_assumptions(study, plan, options ? options->threads : 0);
  answer.assumed.insert(answer.assumed.begin(), worth.begin(), worth.end());
  answer.assumed_words = study.findings().words;
  return answer;
}

}  // namespace

namespace {

/// Chooses the order first: what it moves is then the build that everything else is said of.
/// Order and sheets go together by their margin, whatever the options say.
Answer pick_in_best_order(const Build& build, const Assumptions& assumptions,
                          std::optional<ChanceOptions> options, Pictures pictures) {
  const Study study(build, assumptions);
  require_room(study.row());
  const auto order = best_order(study);
  if (!order) {
    return answer_study(Question::pick, study, nullptr, options, pictures);
  }
  if (options) {
    options->by = PickBy::margin;
  }
  return answer_study(Question::pick,
                      {in_order(build, order->places), assumptions, study.store(), study.place()},
                      nullptr, options, pictures, order);
}

}  // namespace

Answer answer_one_row(Question question, const Study& study, const ShimPlan* given,
                      const std::optional<ChanceOptions>& chance, Pictures pictures) {
  return answer_study(question, study, given, chance, pictures);
}

Answer answer_pick(const Build& build, const Assumptions& assumptions,
                   const std::optional<ChanceOptions>& chance, Pictures pictures) {
  return build.rows.value_or(1) > 1
             ? answer_rows(Question::pick, build, assumptions, chance, pictures)
             : pick_in_best_order(build, assumptions, chance, pictures);
}

Answer answer_pressure(const Build& build, const Assumptions& assumptions,
                       const std::optional<ChanceOptions>& chance, Pictures pictures) {
  return build.rows.value_or(1) > 1
             ? answer_rows(Question::pressure, build, assumptions, chance, pictures)
             : answer_study(Question::pressure, {build, assumptions}, nullptr, chance, pictures);
}

}  // namespace stackfit
