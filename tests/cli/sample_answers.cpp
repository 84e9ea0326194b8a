// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/cli/sample_answers.hpp"

#include <algorithm>

namespace stackfit::cli::samples {
namespace {

StateResult state(double charge, double celsius, double mpa) {
  constexpr double face_mm2 = 28500;
  StateResult result;
  result.charge = charge;
  result.temperature_c = celsius;
  result.face_pressure_mpa = mpa;
  result.force_n = mpa * face_mm2;
  result.highest_local_mpa = mpa;
  return result;
}

std::string gap_name(int gap, int cells) {
  if (gap == 0) {
    return "wall-1";
  }
  if (gap == cells) {
    return std::to_string(cells) + "-wall";
  }
  return std::to_string(gap) + "-" + std::to_string(gap + 1);
}

PlanResult plan(int cells) {
  PlanResult result;
  for (int gap = 0; gap <= cells; ++gap) {
    GapResult filled;
    filled.name = gap_name(gap, cells);
    filled.sheets = {{"0.80", 0.8, 1, SheetOrigin::kit, true, false},
                     {"0.50", 0.5, gap % 3 == 0 ? 2 : 1, SheetOrigin::kit, true, false}};
    filled.total_mm = gap % 3 == 0 ? 1.8 : 1.3;
    filled.insulation_due = filled.insulated = true;
    result.gaps.push_back(filled);
  }
  for (int i = 0; i + 1 < cells; ++i) {
    result.terminal_spacing_mm.push_back(64.9 + 0.05 * i);
  }
  result.kit = {{"0.80", 0.8, cells + 1, 14}, {"0.50", 0.5, cells + 4, 40}};
  result.shim_total_mm = 13.2;
  result.margin = 0.21;
  result.passes = result.proven_best = true;
  result.interference_mm = result.interference_edge_mm = 3.6;
  result.interference_middle_mm = 4.1;
  result.cells_give_mm = 2.5;
  result.walls_give_mm = 1.1;
  result.as_built = state(0.38, 20, 0.081);
  result.lowest = state(0.6, 5, 0.050);
  result.highest = state(0.9, 40, 0.094);
  result.states = {result.lowest, result.highest, state(0.6, 40, 0.061), state(0.9, 5, 0.083)};
  result.life_mean = 0.018;
  result.life_span = Span{0.013, 0.026};
  return result;
}

void add_cells(Answer& answer, int count) {
  answer.cell_count = answer.series = count;
  for (int i = 0; i < count; ++i) {
    CellResult cell;
    cell.id = "c" + std::to_string(i + 1);
    cell.free_mm = 63.5 + 0.1 * (i % 4);
    cell.edge_mm = cell.free_mm - 0.1;
    cell.dome_mm = 0.4;
    cell.slack_mm = 0.3;
    cell.swelling_mm = 0.1;
    cell.plus_near_side = i % 2 == 0;
    cell.signs = "none";
    answer.cells.push_back(cell);
    answer.sense_lead_v.push_back(3.29 * (i + 1));
  }
}

void add_band(Answer& answer) {
  answer.band.low_mpa = 0.021;
  answer.band.high_mpa = 0.124;
  answer.band.assumed = true;
  answer.band.from_force = ForceWhen::assembly;
  answer.band.model_margin = 0.1;
  answer.band.face_area_mm2 = 28500;
}

void add_insertion(Answer& answer) {
  answer.insertion.method = BuildMethod::end_wall_last;
  answer.insertion.works = true;
  answer.insertion.push_n = 1383;
  answer.insertion.draw_out_n = 1436;
  answer.insertion.push_limit_n = 150;
  answer.insertion.friction = answer.insertion.friction_other = 0.3;
  answer.insertion.wall_force_n = 2314;
  answer.insertion.last_cell = 4;
  answer.insertion.ways_out = {{WayOut::end_wall_last, true, 2314, 0, 0, 0, true},
                               {WayOut::walls_spread, true, 2314, 0, 3.7, 0, true},
                               {WayOut::lower_charge, false, 900, 0.1, 0, 0, true},
                               {WayOut::clamp, true, 3100, 0, 0, 0.11, true},
                               {WayOut::slip_film, false, 553, 0, 0, 0, true}};
}

}  // namespace

Answer fitting(int cells) {
  Answer answer;
  answer.title = "Shed bank, 24 V";
  answer.verdict = Verdict::fits_on_assumed_figures;
  answer.build_charge = 0.38;
  answer.use_charge = {0.1, 0.9};
  answer.use_temperature_c = {5, 40};
  answer.last_wall_opens = true;
  add_cells(answer, cells);
  add_band(answer);
  answer.has_plan = true;
  answer.plan = plan(cells);
  answer.looser = answer.plan;
  answer.looser->gaps.front().sheets.pop_back();
  answer.looser->shim_total_mm -= 1.0;
  answer.soft = Bracket{0.03, 0.031, 0.062, true};
  answer.stiff = Bracket{0.12, 0.071, 0.136, false};
  answer.moves = {{MoveCode::full_charge, 1, 0.018, 0.112, Standing::inside},
                  {MoveCode::box_shorter, 0.5, 0.015, 0.109, Standing::inside},
                  {MoveCode::cells_stiffer, 2, 0.042, 0.136, Standing::above},
                  {MoveCode::charge_misread, 0.1, 0.022, 0.116, Standing::inside},
                  {MoveCode::hotter, 20, 0.004, 0.098, Standing::inside},
                  {MoveCode::capacity_loss, 0.02, 0.03, 0.124, Standing::above},
                  {MoveCode::rigid_walls, 0, 0.05, 0.144, Standing::above}};
  add_insertion(answer);
  answer.voltage_assumed = true;
  answer.warnings = {{WarningCode::walls_assumed, "", -1, 0.05, 0, 0},
                     {WarningCode::floor_not_said, "", -1, 0, 0, 0}};
  answer.assumed = {{Assumed::squeeze_a, 0.06, -0.032, 0.042},
                    {Assumed::friction, 0.3, 0, 0},
                    {Assumed::growth, 0.15, -0.01, 0.02}};
  answer.assumed_words = {{"end wall material", "aluminium", "not said; most boxes are"}};
  answer.curve_charge = {0.1, 0.29, 0.6, 0.9};
  answer.curve_pressure_mpa = {0.060, 0.086, 0.055, 0.090};
  return answer;
}

Answer with_chance() {
  Answer answer = fitting();
  Chance chance;
  chance.plan = {0.8812, 0.0021, 20000, {}};
  chance.looser = ChanceOf{0.8954, 0.002, 20000, {}};
  chance.by_chance = ChanceRival{{9, 12}, 13.2, 0.21, chance.plan};
  chance.by_margin = ChanceRival{{9, 10}, 12.2, 0.24, {0.84, 0.003, 20000, {}}};
  chance.rivals = {*chance.by_margin};
  chance.assumed_inputs = true;
  chance.below = 0.031;
  chance.above = 0.088;
  chance.lowest = {0.031, 0.050, 0.068};
  chance.as_built = {0.061, 0.081, 0.102};
  chance.highest = {0.070, 0.094, 0.131};
  chance.inputs = {
      {ChanceInput::squeeze_a, "", true, 0.61, 0.70, 0.32, 0.68},
      {ChanceInput::shim_thickness, "glass epoxy offcut, blue", false, 0.02, 0.03, 0.0, 0.04}};
  for (int i = 0; i <= static_cast<int>(ChanceInput::model_margin); ++i) {
    chance.inputs.push_back({static_cast<ChanceInput>(i), "", i % 2 == 0, 0.01, 0.02, 0, 0.01});
  }
  for (int i = 0; i <= static_cast<int>(Measuring::wall_bow); ++i) {
    chance.worth.push_back({static_cast<Measuring>(i), 0.97 - 0.02 * i, 0.003});
  }
  answer.chance = chance;
  return answer;
}

Answer long_names(int cells) {
  Answer answer = fitting(cells);
  answer.title = std::string(300, 'T') + "\033[31m\xE7\x94\xB5\xE6\xB1\xA0";
  for (CellResult& cell : answer.cells) {
    cell.id = "cell-from-the-second-crate-" + cell.id;
    cell.signs = std::string(90, 's');
  }
  for (GapResult& gap : answer.plan.gaps) {
    for (GapSheet& sheet : gap.sheets) {
      sheet.name = "glass epoxy offcut, blue " + sheet.name;
    }
    gap.slippery_towards_cell = 1;
  }
  for (KitUse& use : answer.plan.kit) {
    use.name = std::string(120, 'k');
  }
  for (Warning& warning : answer.warnings) {
    warning.where = std::string(120, 'w');
  }
  answer.plan.bare_metal = {"wall-1", "1-2", "2-3"};
  return answer;
}

Answer not_fitting() {
  Answer answer = fitting();
  answer.title = "Boat bank";
  answer.verdict = Verdict::does_not_fit;
  answer.plan.passes = false;
  answer.plan.worst = Standing::above;
  answer.failure.rule = FailedRule::pressure_out_of_reach;
  answer.failure.swing_mm = 3.3;
  answer.failure.band_takes_mm = 2.2;
  const auto remedy = [](RemedyCode code) {
    Remedy made;
    made.code = code;
    made.name = "0.50";
    made.thickness_mm = 1;
    made.count = 9;
    made.value = code == RemedyCode::build_charge ? 0.15 : 517.5;
    made.window = {0.15, 0.8};
    made.grade = 2;
    made.method = BuildMethod::end_wall_last;
    made.wall.thickness_mm = made.thickness_mm;
    made.effort = 3;
    made.lowest_mpa = 0.036;
    made.highest_mpa = 0.083;
    made.passes = true;
    return made;
  };
  for (int code = 0; code <= static_cast<int>(RemedyCode::cell_order); ++code) {
    answer.remedies.push_back(remedy(static_cast<RemedyCode>(code)));
  }
  return answer;
}

Answer stopped() {
  Answer answer = fitting();
  answer.verdict = Verdict::stop;
  answer.failure.rule = FailedRule::signs;
  answer.cells[2].beyond_watch = true;
  answer.cells[2].refused = true;
  answer.cells[2].swelling_mm = 1.3;
  answer.cells[5].shows_sign = true;
  answer.cells[5].signs = "smell";
  return answer;
}

Answer every_warning() {
  Answer answer = fitting();
  answer.warnings.clear();
  for (int code = 0; code <= static_cast<int>(WarningCode::search_not_exhaustive); ++code) {
    answer.warnings.push_back({static_cast<WarningCode>(code), "c3", 0.6, 0.14, 0.124, 0.3});
  }
  return answer;
}

Answer bare() {
  Answer answer;
  answer.question = Question::pressure;
  answer.verdict = Verdict::fits;
  answer.use_charge = {0, 1};
  answer.use_temperature_c = {5, 40};
  answer.use_capacity_loss = {0, 0.02};
  add_cells(answer, 1);
  add_band(answer);
  answer.band.assumed = false;
  answer.band.limit_mpa = 0.3;
  answer.has_plan = true;
  answer.plan = plan(1);
  answer.plan.kit.clear();
  answer.plan.gaps[0].sheets.clear();
  answer.plan.interference_mm = -0.4;
  answer.plan.life_span.reset();
  answer.sense_lead_v.clear();
  return answer;
}

}  // namespace stackfit::cli::samples
