// SPDX-License-Identifier: GPL-3.0-or-later
//
// A build made in code, solved, and printed as JSON: the same build as build.json, so that the
// figures can be held against the program's. Outlines and lengths come from the geometry.
#include <cstdio>
#include <exception>
#include <stdexcept>
#include <string>
#include <utility>

#include "geometry/outline.hpp"
#include "geometry/stack.hpp"
#include "solver/answer.hpp"

namespace {

stackfit::CellReading cell(std::string id, double edge_mm, double middle_mm) {
  stackfit::CellReading reading;
  reading.id = std::move(id);
  reading.edge_mm = edge_mm;
  reading.middle_mm = middle_mm;
  reading.signs = "none";
  return reading;
}

stackfit::KitShim shim(std::string name, double thickness_mm, int count) {
  stackfit::KitShim kind;
  kind.sheet.name = std::move(name);
  kind.sheet.thickness_mm = thickness_mm;
  kind.sheet.material = stackfit::SheetMaterial::polypropylene;
  kind.count = count;
  return kind;
}

stackfit::CellType cell_type() {
  stackfit::CellType type;
  type.chemistry = stackfit::Chemistry::lfp_graphite;
  type.chemistry_said = true;
  type.face.width_mm = 140;
  type.face.height_mm = 180;
  type.face.corner_radius_mm = 3;
  type.thickness.nominal_mm = 58;
  type.thickness.tolerance_mm = 0.5;
  type.range = stackfit::PressureRange{.low_mpa = 0.030, .high_mpa = 0.140};
  return type;
}

stackfit::Box box() {
  stackfit::PlateWall wall;
  wall.thickness_mm = 4;
  wall.material = stackfit::WallMaterial::aluminium;
  wall.joint = stackfit::WallJoint::welded;
  stackfit::Box made;
  made.inner_length_mm = {237.5};
  made.inner_width_mm = 150;
  made.inner_height_mm = 200;
  made.end_walls = wall;
  made.opens = stackfit::Opens::one_end_wall;
  made.floor = stackfit::Floor::insulated;
  return made;
}

stackfit::Build build() {
  stackfit::Build made;
  made.title = "Four cells on a shelf";
  made.series = 4;
  made.cell = cell_type();
  made.cells = {cell("A", 58.1, 58.3), cell("B", 58.2, 58.4), cell("C", 58.0, 58.1),
                cell("D", 58.3, 58.5)};
  made.measured_charge = stackfit::MeasuredCharge{.charge = 0.40, .between = {}};
  made.box = box();
  made.kit = {shim("half", 0.5, 12), shim("thin", 0.2, 10)};
  made.use.charge = stackfit::Span{0.10, 0.90};
  made.use.temperature_c = stackfit::Span{5, 40};
  made.build.method = stackfit::BuildMethod::end_wall_last;
  made.build.temperature_c = 20;
  return made;
}

// The same row, laid out by the geometry from what the answer says of cells and gaps.
stackfit::geometry::StackLayout layout(const stackfit::Answer& answer, double inner_length_mm) {
  stackfit::geometry::StackLengths lengths;
  for (const stackfit::CellResult& one : answer.cells) {
    lengths.cell_mm.push_back(one.free_mm);
  }
  for (const stackfit::GapResult& gap : answer.plan.gaps) {
    lengths.sheet_mm.push_back(gap.total_mm);
  }
  lengths.inner_length_mm = inner_length_mm;
  return stackfit::geometry::lay_out(lengths);
}

void print(const stackfit::Answer& answer, const stackfit::geometry::StackLayout& row) {
  const auto& plan = answer.plan;
  std::printf("{\"inside\": %s,\n", answer.inside() ? "true" : "false");
  std::printf(" \"shim_total_mm\": %.17g,\n", plan.shim_total_mm);
  std::printf(" \"lowest_mpa\": %.17g,\n", plan.lowest.face_pressure_mpa);
  std::printf(" \"as_built_mpa\": %.17g,\n", plan.as_built.face_pressure_mpa);
  std::printf(" \"highest_mpa\": %.17g,\n", plan.highest.face_pressure_mpa);
  std::printf(" \"first_spacing_mm\": %.17g,\n", row.terminal_spacing_mm.front());
  std::printf(" \"face_area_mm2\": %.17g}\n",
              stackfit::geometry::area_mm2(stackfit::geometry::rounded_rectangle({140, 180, 3})));
}

// What a build without cells gives: the error that the header promises.
bool refuses_no_cells() {
  stackfit::Build empty = build();
  empty.cells.clear();
  try {
    (void)stackfit::answer_pick(empty);
  } catch (const std::invalid_argument&) {
    return true;
  }
  return false;
}

}  // namespace

int main() {
  try {
    const stackfit::Build made = build();
    const stackfit::Answer answer = stackfit::answer_pick(made);
    if (!answer.has_plan || answer.rows.size() > 1 || !refuses_no_cells()) {
      std::fputs("no plan was found, or a build without cells was taken\n", stderr);
      return 1;
    }
    print(answer, layout(answer, made.box.inner_length_mm.front()));
  } catch (const std::exception& failure) {
    std::fprintf(stderr, "%s\n", failure.what());
    return 1;
  }
  return 0;
}
