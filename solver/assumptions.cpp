// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/assumptions.hpp"

namespace stackfit {
namespace {

constexpr std::string_view own = "own judgement; a press test or the maker's word is better";
constexpr std::string_view practice = "common practice";

using A = Assumed;
using enum Spread;
constexpr Share common = Share::common;
constexpr Share each = Share::independent;

constexpr std::array<Assumption, assumption_count> table{{
    {A::squeeze_a, "squeeze_a_mpa", "softness of the cells, A", 0.06, "MPa", 0.03, 0.12, lognormal,
     common, "p = A (exp(B eps) - 1); pressed cells stiffen; a factor of two either way",
     "order of published through-thickness moduli of wound and stacked cells, from memory"},
    {A::squeeze_b, "squeeze_b", "softness of the cells, B", 180, "1", 180, 180, fixed, common,
     "how fast a cell stiffens; its doubt is carried by A", own},
    {A::squeeze_tangent_above, "squeeze_tangent_above_mpa", "law goes on straight above", 1.0,
     "MPa", 1, 1, fixed, common, "no cell is meant to see more; beyond it nothing is known", own},
    {A::swing_net, "swing_net_percent", "thicker from empty to full by", 0.6, "%", 0.3, 1.0,
     lognormal, common, "a small difference of large numbers: the graphite grows, LFP shrinks",
     "layer law on published lattice figures; spread from own judgement"},
    {A::swing_hump, "swing_hump_percent", "drop after the hump near 30 % charge", 0.3, "%", 0.1,
     0.5, lognormal, common, "LFP cells are thick twice: near 30 % and again when full",
     "layer law on published lattice figures; spread from own judgement"},
    {A::growth, "growth_per_capacity_lost", "free growth per unit of capacity lost", 0.15, "1",
     0.05, 0.4, lognormal, common, "films and gas; depends on the maker", own},
    {A::growth_under_load, "growth_under_load", "share of it that is left under load", 0.5, "1",
     0.2, 1, lognormal, common, "a pressed cell grows less than a free one", own},
    {A::expansion, "expansion_per_k", "thermal expansion of a cell's thickness", 40e-6, "1/K",
     20e-6, 100e-6, lognormal, common, "polymer and electrolyte raise it above the metals'", own},
    {A::dome_slack, "dome_slack_percent", "dome that closes at no force, at most", 0.5, "%", 0.2,
     0.8, uniform, each, "the can's skin stands off; about 1 kPa flattens 0.7 mm of aluminium",
     own},
    {A::dome_exponent, "dome_exponent", "shape of a dome, exponent q", 2, "1", 1, 2, uniform,
     common, "a plate held at its edges", "plate theory; 1 to 2 is uncertain"},
    {A::dome_when_not_measured, "dome_when_not_measured_percent",
     "edge thinner than the boards read, if domed", 0.5, "%", 0, 1, uniform, each,
     "boards meet only the highest points", practice},
    {A::dome_watch, "dome_watch_percent", "swelling dome from which a cell is watched", 1, "%", 1,
     1, fixed, common, "a swollen cell is never pressed flat", practice},
    {A::dome_set_aside, "dome_set_aside_percent", "swelling dome from which a cell is set aside",
     2.5, "%", 2.5, 2.5, fixed, common, "the can has yielded; what is inside is not known",
     practice},
    {A::swollen_contact, "swollen_contact", "part of a watched cell's face that may touch", 0.95,
     "1", 0.95, 0.95, fixed, common, "all of the face touching is pressed flat", practice},
    {A::edge_up_set_aside, "edge_up_set_aside_percent",
     "gain of the edge's thickness from which a cell is set aside", 0.5, "%", 0.5, 0.5, fixed,
     common, "a thicker edge is a deformed can", practice},
    {A::growth_watch, "growth_watch_percent_per_month", "growth from which a cell is watched", 0.1,
     "%/month", 0.1, 0.1, fixed, common, "sound cells gain a few hundredths of a per cent a month",
     practice},
    {A::mad_watch, "mad_watch", "scaled MADs from the others from which a cell is watched", 3, "1",
     3, 3, fixed, common, "one cell unlike the others has a reason", practice},
    {A::like_charge, "like_charge", "charge apart at which readings are still alike", 0.15, "1",
     0.15, 0.15, fixed, common, "beyond it the swing with charge looks like growth", practice},
    {A::thickness_tolerance, "thickness_tolerance_percent",
     "tolerance of a cell's thickness where none is said", 0.5, "%", 0.5, 0.5, fixed, common,
     "data sheets of large cells print 0.5 to 1 %", practice},
    {A::calipers_scatter, "calipers_scatter_mm", "scatter of one caliper reading, at least", 0.02,
     "mm", 0.02, 0.02, fixed, common, "the same hand on the same spot", practice},
    {A::deep_discharge_watch, "deep_discharge_watch_v",
     "rested voltage below which a cell is watched", 2.5, "V", 2.5, 2.5, fixed, common,
     "below the lowest voltage of most data sheets", practice},
    {A::deep_discharge_set_aside, "deep_discharge_set_aside_v",
     "rested voltage below which a cell is set aside", 2.0, "V", 2.0, 2.0, fixed, common,
     "copper may have gone into solution and plate out as a short when charged", practice},
    {A::lfp_nominal_voltage, "lfp_nominal_voltage_v", "nominal voltage of an LFP cell", 3.2, "V",
     3.2, 3.2, fixed, common, "as data sheets print it", practice},
    {A::lfp_charge_voltage, "lfp_charge_voltage_v", "highest charge voltage of an LFP cell", 3.65,
     "V", 3.65, 3.65, fixed, common, "as data sheets print it", practice},
    {A::nmc_nominal_voltage, "nmc_nominal_voltage_v", "nominal voltage of an NMC cell", 3.6, "V",
     3.6, 3.6, fixed, common, "as data sheets print it", practice},
    {A::nmc_charge_voltage, "nmc_charge_voltage_v", "highest charge voltage of an NMC cell", 4.2,
     "V", 4.2, 4.2, fixed, common, "as data sheets print it", practice},
    {A::check_interval, "check_interval_months", "months to the next check", 3, "months", 3, 3,
     fixed, common, "swelling shows within a season", practice},
    {A::watch_interval, "watch_interval_months", "months to the next check of a watched cell", 1,
     "months", 1, 1, fixed, common, "long enough for calipers to see a change", practice},
    {A::model_margin, "model_margin", "more force than bare columns say", 0.10, "1", 0, 0.20,
     uniform, common, "columns do not shear against each other",
     "solid finite elements against columns: 10 % more force"},
    {A::gauge_shear, "gauge_shear_factor", "force at a wall's bow, over what columns say", 1.4, "1",
     1.1, 2.0, uniform, common, "a row that shears bows a wall less for the same force",
     "solid finite elements against columns at the same bow: three rows, shear stiffness two "
     "fifths "
     "of that in thickness"},
    {A::reference_temperature, "reference_temperature_c", "temperature where none is said", 20, "C",
     15, 25, uniform, common, "an indoor bench", practice},
    {A::shipped_charge, "shipped_charge", "charge of cells as shipped", 0.35, "1", 0.25, 0.45,
     normal, common, "makers ship at 30 to 40 %", practice},
    {A::charge_doubt, "charge_doubt", "doubt of the charge when measured", 0.10, "1", 0.10, 0.10,
     fixed, common, "an LFP cell's resting voltage says nothing between 20 and 90 %", practice},
    {A::use_charge_low, "use_charge_low", "emptied to", 0.10, "1", 0.10, 0.10, fixed, common,
     "not said how empty it is run", practice},
    {A::use_charge_high, "use_charge_high", "charged to", 0.90, "1", 0.90, 0.90, fixed, common,
     "not said how full it is run", practice},
    {A::use_temperature_low, "use_temperature_low_c", "coldest in use", 5, "C", 5, 5, fixed, common,
     "an LFP cell is not charged below freezing", practice},
    {A::use_temperature_high, "use_temperature_high_c", "warmest in use", 40, "C", 40, 40, fixed,
     common, "a warm room and the cells' own heat", practice},
    {A::lowest_charge, "lowest_build_charge", "lowest charge to build at", 0.10, "1", 0.10, 0.10,
     fixed, common, "below it the maker's minimum voltage is near", practice},
    {A::even_share, "even_share", "smallest share of the face that sheets may press", 0.7, "1", 0.7,
     0.7, fixed, common, "below it the pressure under the sheet says little of the rest", own},
    {A::wall_thickness, "wall_thickness_mm", "end and side walls' thickness", 2.0, "mm", 1.5, 3.0,
     uniform, common, "sheet boxes are made of 1.5 to 3 mm", practice},
    {A::corner_radius, "corner_radius_mm", "corner radius of a cell's face", 0, "mm", 0, 6, uniform,
     common, "changes the face area by less than a quarter per cent", practice},
    {A::nut_factor, "nut_factor", "nut factor K in torque = K x thread x force", 0.2, "1", 0.14,
     0.26, normal, common, "as delivered, unlubricated", "Shigley (from memory)"},
    {A::nut_factor_scatter, "nut_factor_scatter_percent", "scatter of the nut factor", 30, "%", 30,
     30, fixed, common, "a torque sets a small force poorly", practice},
    {A::friction, "friction", "static friction, cell on sheet", 0.30, "1", 0.15, 0.50, lognormal,
     common, "plastic on plastic or bare metal, dry",
     "handbook values for dry polymers, from memory"},
    {A::friction_slip_film, "friction_slip_film", "static friction of a slip film", 0.12, "1", 0.06,
     0.20, lognormal, common, "PTFE or polyethylene film", "handbook values, from memory"},
    {A::push_limit, "push_limit_n", "push of a hand on one cell", 150, "N", 150, 150, fixed, common,
     "steady, both hands, standing; more and something slips", practice},
    {A::slide_clearance, "slide_clearance_mm", "room to let a cell down without touching", 0.5,
     "mm", 0.2, 1.0, uniform, common, "a sheet's edge must not catch", practice},
    {A::makers_pressure, "makers_pressure_mpa", "face pressure at assembly where nothing is known",
     0.08, "MPa", 0.05, 0.12, lognormal, common,
     "neither range nor force was given; ask the maker before building",
     "order of the assembly forces that large LFP cells' data sheets print, from memory"},
    {A::plausible_pressure, "plausible_pressure_mpa", "face pressure above which a band is doubted",
     0.5, "MPa", 0.5, 0.5, fixed, common, "several times what cells are pressed with", own},
    {A::band_low_factor, "band_low_factor", "band's low end over the maker's force", 0.25, "1",
     0.25, 0.25, fixed, common, "a single force is no range; ask the maker", own},
    {A::band_high_factor, "band_high_factor", "band's high end over an assembly force", 1.5, "1",
     1.5, 1.5, fixed, common, "a force at assembly rises in use", own},
    {A::band_high_factor_never_above, "band_high_factor_never_above",
     "band's high end over a `never above` force", 0.8, "1", 0.8, 0.8, fixed, common,
     "keeps clear of the maker's limit", own},
    {A::build_target_never_above, "build_target_never_above",
     "build target over a `never above` force", 0.4, "1", 0.4, 0.4, fixed, common,
     "room for the swing on both sides", own},
    {A::foam_relaxation, "foam_relaxation", "stress a settled foam keeps", 0.6, "1", 0.4, 0.8,
     uniform, common, "polymer foams relax under a steady squeeze", own},
    {A::foam_set, "foam_set", "part of its squeeze a settled foam does not regain", 0.1, "1", 0,
     0.25, uniform, common, "compression set", own},
    {A::rested_voltage, "rested_voltage_v", "rested voltage of an LFP cell", 3.30, "V", 3.28, 3.34,
     normal, common, "flat between 20 and 90 % charge", practice},
    {A::rim_band, "rim_band_mm", "width of the face's edge that the can's narrow walls hold", 2,
     "mm", 1, 4, uniform, common, "the wall's thickness and the bend beside it", own},
    {A::rim_buckling, "rim_buckling_n", "force at which a can's narrow walls buckle", 3000, "N",
     1000, 6000, uniform, common, "a few kN; beyond it the rim carries no more",
     "order of thin box columns' loads, from memory; own judgement"},
    {A::press_reading, "press_reading_mm", "standard uncertainty of a reading in a press test",
     0.02, "mm", 0.02, 0.02, fixed, each, "calipers between boards, mean of four corners",
     practice},
    {A::press_b, "press_b", "B where a press test has too few loads", 180, "1", 120, 270, lognormal,
     common, "how fast a cell stiffens; a test of few loads hardly shows it", own},
    {A::press_reach, "press_reach", "a press test's law holds up to, over its highest load", 1.5,
     "1", 1.5, 1.5, fixed, common, "cells stiffen; further up nothing was seen", own},
    {A::length_tolerance, "order_length_tolerance_mm", "a box may come longer than ordered by", 1.0,
     "mm", 1.0, 1.0, fixed, common,
     "sheet work and sawn plate; one-sided, so that it never comes shorter", practice},
    {A::length_step, "order_length_step_mm", "step in which an inner length is ordered", 1.0, "mm",
     1.0, 1.0, fixed, common, "a rule shows it", practice},
    {A::paint, "paint_mm", "paint on each face inside", 0.1, "mm", 0.1, 0.1, fixed, common,
     "powder coat of 60 to 120 micrometres", practice},
    {A::lot_share, "lot_share", "share of the thickness tolerance that a lot has in common", 0.8,
     "1", 0.8, 0.8, fixed, common, "a data sheet's tolerance is a lot, not dice", own},
    {A::stress_safety, "stress_safety", "yield over the stress in walls, at least", 1.5, "1", 1.5,
     1.5, fixed, common, "static load, ductile metal", practice},
    {A::most_bow_share, "most_bow_share", "bow of an end wall over its shorter side, at most", 0.01,
     "1", 0.01, 0.01, fixed, common, "beyond it lids and bus bars no longer meet", practice},
    {A::face_tolerance, "face_tolerance_mm", "tolerance of a cell's width and height", 0.5, "mm",
     0.5, 0.5, fixed, common, "data sheets of large cells print 0.3 to 1 mm", practice},
    {A::side_sheet, "side_sheet_mm", "insulating sheet at walls, floor and lid", 1.0, "mm", 1.0,
     1.0, fixed, common, "a film tears where a can's corner rubs", practice},
    {A::slide_room, "slide_room_mm", "room in the width to slide the cells, both sides", 1.0, "mm",
     1.0, 1.0, fixed, common, "a cell is set down, not driven in", practice},
    {A::over_terminals, "over_terminals_mm", "room between the highest part and the lid", 10.0,
     "mm", 10.0, 10.0, fixed, common,
     "a lid that bows or is stepped on must not reach a terminal; vents need room", practice},
    {A::terminal_height, "terminal_height_mm", "highest part above a cell's face", 15.0, "mm", 15.0,
     15.0, fixed, common, "terminal, bus bar, washer and nut", practice},
    {A::rigid_bar_movement, "rigid_bar_movement_mm", "movement of terminals that a rigid bar bears",
     0.1, "mm", 0.1, 0.1, fixed, common,
     "held tight by its nuts it slides no more; beyond it the terminals are pulled", practice},
    {A::acceleration, "acceleration_g", "acceleration that a row in a vehicle must hold", 0.8, "g",
     0.8, 0.8, fixed, common, "hard braking",
     "EN 12195-1, forward direction on the road, from memory"},
    {A::friction_low, "friction_low", "friction that is safe to count on, cell on sheet", 0.15, "1",
     0.15, 0.15, fixed, common, "low end of the static friction's span",
     "handbook values for dry polymers, from memory"},
    {A::lift_one, "lift_one_kg", "mass that one person may lift", 23.0, "kg", 23.0, 23.0, fixed,
     common, "close to the body, upright, seldom",
     "NIOSH lifting equation's load constant, from memory"},
    {A::lift_two, "lift_two_kg", "mass that two persons may lift", 40.0, "kg", 40.0, 40.0, fixed,
     common, "less than twice one person's: they do not lift alike", practice},
    {A::cell_density, "cell_density_kg_l", "mass of a cell over the volume of its body", 2.1,
     "kg/l", 2.1, 2.1, fixed, common, "mass not said", practice},
    {A::calipers_common, "calipers_common_mm", "what a pair of calipers reads wrong on every cell",
     0.03, "mm", 0.03, 0.03, fixed, common, "their own error, and the hand's", practice},
    {A::rib_flange, "rib_flange", "width of end wall that bends with a welded rib, of its span",
     0.25, "1", 0.1, 0.36, uniform, common,
     "farther off the sheet lags behind; half of it where the rib's ends are fixed",
     "below 0.36 for a sine moment in a wide sheet (von Karman 1924), from memory"},
    {A::box_reading, "box_reading_mm", "inner length of the box as read, give or take", 0.4, "mm",
     0.4, 0.4, fixed, common, "a rule held inside a box; 95 in 100 lie within", practice},
    {A::shim_thickness, "shim_thickness_percent", "thickness of a kind of shims, give or take", 4.0,
     "%", 4.0, 4.0, fixed, common, "pieces of one sheet are alike; 95 in 100 lie within", practice},
    {A::edge_fixity, "edge_fixity", "how far an end wall's joint is from what it was said to be",
     0.0, "1", 0.0, 0.5, uniform, common,
     "a screwed edge holds a little, a welded one gives a little: half way to the other at most",
     own},
    {A::said_softness, "said_softness_factor", "said softness of the cells, times or over", 1.25,
     "1", 1.25, 1.25, fixed, common, "a press test of one cell, and the others are not quite it",
     own},
    {A::said_swing, "said_swing_percent", "said swing with charge, give or take", 15.0, "%", 15.0,
     15.0, fixed, common, "a small difference of two readings", own},
    {A::said_figure, "said_figure_percent", "other said figures of the cells, give or take", 20.0,
     "%", 20.0, 20.0, fixed, common, "data sheets round", own},
    {A::frame_force, "frame_force_percent", "force of a frame's rods set by length, give or take",
     10.0, "%", 10.0, 10.0, fixed, common, "springs read with calipers; a torque is far worse",
     own},
}};

constexpr bool in_order() {
  for (std::size_t i = 0; i < table.size(); ++i) {
    if (table[i].id != static_cast<Assumed>(i)) {
      return false;
    }
  }
  return true;
}
static_assert(in_order(), "the table stands in the order of Assumed");

}  // namespace

std::span<const Assumption, assumption_count> assumption_table() {
  return table;
}

const Assumption& assumption(Assumed id) {
  return table[static_cast<std::size_t>(id)];
}

Assumptions::Assumptions() {
  for (std::size_t i = 0; i < table.size(); ++i) {
    value_[i] = table[i].value;
  }
}

Assumptions Assumptions::with(Assumed id, double value) const {
  Assumptions copy = *this;
  copy.value_[static_cast<std::size_t>(id)] = value;
  return copy;
}

}  // namespace stackfit
