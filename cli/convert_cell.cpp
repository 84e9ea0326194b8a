// SPDX-License-Identifier: GPL-3.0-or-later
//
// The kind of cell: the data sheet's lines.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/convert_parts.hpp"
#include "cli/data_lines.hpp"

namespace stackfit::cli {
namespace {

FaceSize convert_face(const Node& face) {
  FaceSize out;
  out.width_mm = face.quantity("width", Dimension::length).value_or(0);
  out.height_mm = face.quantity("height", Dimension::length).value_or(0);
  out.corner_radius_mm = face.quantity("corner_radius", Dimension::length, Sign::not_negative);
  out.width_tolerance_mm = face.quantity("width_tolerance", Dimension::length, Sign::not_negative);
  out.height_tolerance_mm =
      face.quantity("height_tolerance", Dimension::length, Sign::not_negative);
  const double shorter = std::min(out.width_mm, out.height_mm);
  if (out.corner_radius_mm && shorter > 0 && *out.corner_radius_mm > shorter / 2) {
    face.child("corner_radius")
        ->problem(fmt::format("a radius up to half the shorter side, {:g} mm", shorter / 2));
  }
  return out;
}

void check_line(const Node& node, const ThicknessLine& line) {
  if (line.nominal_mm <= 0) {
    node.problem("a thickness above zero");
  } else if (!node.fits(line.nominal_mm, Dimension::length)) {
    return;
  } else if (line.tolerance_mm && *line.tolerance_mm >= line.nominal_mm) {
    node.problem("a tolerance smaller than the thickness");
  }
  const auto within = [](double charge) { return charge >= 0 && charge <= 1; };
  if (line.at_charge && !(within(line.at_charge->low) && within(line.at_charge->high))) {
    node.problem(what_is_allowed(Dimension::charge));
  }
  if (line.under_force_n && *line.under_force_n <= 0) node.problem("a force above zero");
}

ThicknessLine convert_thickness(const Node& node) {
  ThicknessLine line;
  if (const auto text = node.text()) {
    const auto read = node.accept(read_thickness_line(*text));
    if (!read) return line;
    line = *read;
    check_line(node, line);
  } else if (node.json().is_number()) {
    line.nominal_mm = node.quantity(Dimension::length, Sign::positive).value_or(0);
  } else {
    line.nominal_mm = node.quantity("nominal", Dimension::length).value_or(0);
    line.tolerance_mm = node.quantity("tolerance", Dimension::length, Sign::not_negative);
    line.at_charge = node.span("at_charge", Dimension::charge);
    line.under_force_n = node.quantity("under_force", Dimension::force);
    if (line.nominal_mm > 0) check_line(node, line);
  }
  return line;
}

std::optional<MakersForce> convert_force(const Node& node) {
  const Node value = node.child("value").value_or(node);
  const auto text = value.text();
  if (!text) return std::nullopt;
  const auto read = value.accept(read_toleranced(*text, Dimension::force));
  if (!read) return std::nullopt;
  if (read->value <= 0) {
    value.problem("a force above zero");
  } else if (read->tolerance && *read->tolerance >= read->value) {
    value.problem("a tolerance smaller than the force itself");
  }
  return MakersForce{read->value, read->tolerance,
                     node.word("when", force_when_words()).value_or(ForceWhen::not_said)};
}

std::optional<PressureRange> convert_range(const Node& node) {
  std::optional<double> low;
  std::optional<double> high;
  if (node.json().is_string()) {
    const auto span = node.span(Dimension::pressure);
    if (!span) return std::nullopt;
    low = span->low;
    high = span->high;
    if (*low < 0) node.problem("pressures not below zero");
  } else {
    low = node.quantity("low", Dimension::pressure, Sign::not_negative);
    high = node.quantity("high", Dimension::pressure);
  }
  if (!low || !high) return std::nullopt;
  if (*low >= *high) {
    node.problem_found(fmt::format("a range from {:g} to {:g} kPa", *low * 1000, *high * 1000),
                       "a low below the high", "the range is upside down or has no width");
  }
  return PressureRange{*low, *high,
                       node.word("applies_to", applies_to_words()).value_or(RangeAppliesTo::use)};
}

GrowthInput convert_growth(const Node& node) {
  return {node.quantity("per_capacity_lost", Dimension::ratio, Sign::not_negative),
          node.quantity("under_load", Dimension::ratio, Sign::not_negative)};
}

std::optional<Can> convert_can(const Node& node) {
  const auto wall = node.quantity("wall", Dimension::length);
  const auto height = node.child("rim_height");
  const auto rim = height ? height->quantity(Dimension::length, Sign::any) : std::nullopt;
  // What stands out further than this is a terminal or a weld, or another unit was meant.
  constexpr double farthest_mm = 5;
  if (wall && *wall > farthest_mm) {
    node.child("wall")->problem(fmt::format("a can's wall up to {:g} mm", farthest_mm));
  }
  if (rim && std::abs(*rim) > farthest_mm) {
    height->problem(
        fmt::format("a height from -{:g} to {:g} mm, beside the edge", farthest_mm, farthest_mm));
  }
  return wall && rim ? std::optional<Can>(Can{*wall, *rim}) : std::nullopt;
}

Terminals convert_terminals(const Node& node) {
  Terminals out;
  out.spacing_mm = node.quantity("spacing", Dimension::length);
  out.height_mm = node.quantity("height", Dimension::length, Sign::not_negative);
  out.screw_mm = node.quantity("screw", Dimension::length);
  out.hole_mm = node.quantity("hole", Dimension::length);
  out.slot_mm = node.quantity("slot", Dimension::length);
  out.flexible = node.flag("flexible");
  if (out.hole_mm && out.screw_mm && *out.hole_mm < *out.screw_mm) {
    node.child("hole")->problem(
        fmt::format("a hole that the screw of {:g} mm goes through", *out.screw_mm));
  }
  if (out.slot_mm && out.hole_mm && *out.slot_mm < *out.hole_mm) {
    node.child("slot")->problem(
        fmt::format("a slot at least as long as it is wide, {:g} mm", *out.hole_mm));
  }
  return out;
}

// How hard the cells may be pressed: what the maker says, and whether it hangs together.
void convert_pressures(const Node& cell, CellType& out) {
  if (const auto force = cell.child("makers_force")) out.makers_force = convert_force(*force);
  if (const auto range = cell.child("range")) out.range = convert_range(*range);
  out.limit_mpa = cell.quantity("limit", Dimension::pressure);
  if (out.limit_mpa && out.range && *out.limit_mpa < out.range->high_mpa) {
    cell.child("limit")->problem(fmt::format("a limit not below the top of the range, {:g} kPa",
                                             out.range->high_mpa * 1000));
  }
  // Without a face there is no pressure to ask for.
  if (cell.has("face") && !cell.has("makers_force") && !cell.has("range")) {
    cell.note(
        "neither makers_force nor range is given: ask the maker for the force on the face, and "
        "whether it applies at assembly, always, or is never to be passed");
  }
}

}  // namespace

CellType convert_cell_type(const Node& cell) {
  CellType out;
  const auto chemistry = cell.word("chemistry", chemistry_words());
  out.chemistry_said = chemistry.has_value();
  out.chemistry = chemistry.value_or(out.chemistry);
  if (const auto face = cell.child("face")) out.face = convert_face(*face);
  if (const auto line = cell.child("thickness")) out.thickness = convert_thickness(*line);
  convert_pressures(cell, out);
  if (const auto swing = cell.child("swing")) out.swing = convert_swing(*swing);
  if (const auto softness = cell.child("softness")) out.softness = convert_softness(*softness);
  if (const auto growth = cell.child("growth")) out.growth = convert_growth(*growth);
  out.expansion_per_k = cell.quantity("expansion", Dimension::expansion, Sign::not_negative);
  if (const auto can = cell.child("can")) out.can = convert_can(*can);
  out.surface = cell.word("surface", surface_words()).value_or(CellSurface::not_said);
  out.mass_kg = cell.quantity("mass", Dimension::mass);
  out.minimum_charge = cell.quantity("minimum_charge", Dimension::charge, Sign::not_negative);
  out.terminal_torque_nmm = cell.quantity("terminal_torque", Dimension::torque);
  if (const auto terminals = cell.child("terminals")) {
    out.terminals = convert_terminals(*terminals);
  }
  return out;
}

}  // namespace stackfit::cli
