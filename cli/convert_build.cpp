// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/convert_build.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/convert_parts.hpp"

namespace stackfit::cli {
namespace {

// The row between boards is one reading of all cells: far from their sum is a slip.
constexpr double largest_row_error = 0.1;
// As the schema says.
constexpr int most_rows = 8;

// What all rows and the room between them cover of a wall.
CoveredFace covered(const Build& build) {
  const FaceSize& face = build.cell.face;
  const double rows = build.rows.value_or(1);
  return {rows * face.width_mm + (rows - 1) * build.between_rows_mm.value_or(0), face.height_mm,
          face.corner_radius_mm.value_or(0)};
}

void check_width(const Node& document, const Build& build) {
  const double cells = covered(build).width_mm;
  const auto inside = build.box.inner_width_mm;
  if (!inside || cells <= *inside) return;
  const Node width = *document.child("box")->child("inner")->child("width");
  if (build.rows.value_or(1) == 1) {
    width.problem_found(fmt::format("{:g} mm inside, and a cell's face of {:g} mm", *inside, cells),
                        "a box whose width inside is at least the face's",
                        "check which side of the face stands upright");
    return;
  }
  width.problem_found(
      fmt::format("{:g} mm inside, and {} rows of {:g} mm with {:g} mm between: {:g} mm", *inside,
                  *build.rows, build.cell.face.width_mm, build.between_rows_mm.value_or(0), cells),
      "a box whose width inside is at least that of all rows", "the rows stand side by side");
}

void check_height(const Node& document, const Build& build) {
  const double face = build.cell.face.height_mm;
  const auto inside = build.box.inner_height_mm;
  if (!inside || face <= *inside) return;
  document.child("box")->child("inner")->child("height")->problem_found(
      fmt::format("{:g} mm inside, and a cell's face of {:g} mm", *inside, face),
      "a box whose height inside is at least the face's",
      "check which side of the face stands upright");
}

void check_row(const Node& document, const Build& build) {
  if (!build.row_mm || build.cells.empty() || build.cell.thickness.nominal_mm <= 0) return;
  if (build.rows.value_or(1) > 1) {
    document.child("row")->problem_found(fmt::format("one length beside {} rows", *build.rows),
                                         "\"row\" only where there is one row",
                                         "leave it out, and measure the cells");
    return;
  }
  const double nominal = build.cell.thickness.nominal_mm * static_cast<double>(build.cells.size());
  if (std::abs(*build.row_mm - nominal) <= largest_row_error * nominal) return;
  document.child("row")->problem(fmt::format("about {:g} mm for {} cells of {:g} mm", nominal,
                                             build.cells.size(), build.cell.thickness.nominal_mm),
                                 "this is all bare cells between two boards, without shims");
}

// A count alone, or count and between in { }.
void convert_rows(const Node& document, Build& build) {
  build.rows = document.whole("rows");
  const auto rows = document.child("rows");
  if (rows && rows->json().is_object()) {
    build.rows = rows->whole("count");
    build.between_rows_mm = rows->quantity("between", Dimension::length, Sign::not_negative);
  }
  // Beyond these the schema has complained, and one row is as good as any for what follows.
  if (build.rows && (*build.rows < 1 || *build.rows > most_rows)) build.rows.reset();
}

bool rows_are_whole(const Build& build) {
  return build.cells.size() % static_cast<std::size_t>(build.rows.value_or(1)) == 0;
}

void check_rows(const Node& document, const Build& build) {
  if (rows_are_whole(build)) return;
  document.child("rows")->problem_found(
      fmt::format("{} rows for {} cells", *build.rows, build.cells.size()),
      "equally long rows: a number of cells that the rows divide",
      "cells are listed row after row");
}

UseInput convert_use(const Node& use) {
  UseInput out;
  out.charge = use.span("charge", Dimension::charge);
  if (out.charge && out.charge->low >= out.charge->high) {
    use.child("charge")->problem("a span from empty to full, such as 10-90 %");
  }
  out.temperature_c = use.span("temperature", Dimension::temperature);
  out.capacity_loss = use.span("capacity_loss", Dimension::percent);
  if (out.capacity_loss && (out.capacity_loss->low < 0 || out.capacity_loss->high > 1)) {
    use.child("capacity_loss")->problem("a span within 0 and 100 %, such as 0-2 %");
  }
  return out;
}

BuildStep convert_step(const Node& step) {
  BuildStep out;
  out.charge = step.quantity("charge", Dimension::charge, Sign::not_negative);
  out.temperature_c = step.quantity("temperature", Dimension::temperature, Sign::any);
  out.method = step.word("method", method_words());
  out.push_limit_n = step.quantity("push_limit", Dimension::force);
  out.slip_film = step.flag("slip_film").value_or(false);
  return out;
}

void convert_row(const Node& document, Build& build, BuildNeeds needs) {
  build.series = document.whole("series");
  build.parallel = document.whole("parallel");
  convert_rows(document, build);
  build.cells =
      convert_cells(document, build.cell, static_cast<std::size_t>(build.rows.value_or(1)), needs);
  check_rows(document, build);
  if (const auto charge = document.child("measured_charge")) {
    build.measured_charge = convert_measured_charge(*charge);
  }
  build.row_mm = document.quantity("row", Dimension::length);
  check_row(document, build);
}

void convert_gaps(const Node& document, Build& build) {
  CellRows rows{build.cells.size(), static_cast<std::size_t>(build.rows.value_or(1))};
  if (!rows_are_whole(build)) rows.cells = 0;
  build.fixed_sheets = convert_fixed_sheets(document, rows);
  build.kit = convert_kit(document, rows);
  build.pads = convert_pads(document, rows);
  build.placed = convert_placed(document, rows, build.kit);
}

}  // namespace

Converted convert_build(const nlohmann::ordered_json& document, const Places& places,
                        BuildNeeds needs) {
  Gathering gathering{places, {}, {}};
  const Node root(document, "", gathering);
  Converted out;
  Build& build = out.build;
  build.title = root.text("title").value_or("");
  if (const auto cell = root.child("cell")) build.cell = convert_cell_type(*cell);
  convert_row(root, build, needs);
  if (const auto box = root.child("box")) build.box = convert_box(*box);
  check_width(root, build);
  check_height(root, build);
  if (const auto frame = root.child("frame")) {
    build.frame = convert_frame(*frame);
    check_rods(*frame, *build.frame, covered(build));
  }
  convert_gaps(root, build);
  if (const auto use = root.child("use")) build.use = convert_use(*use);
  if (const auto step = root.child("build")) build.build = convert_step(*step);
  if (const auto order = root.child("order")) build.order = convert_order(*order);
  if (const auto said = root.child("uncertainty")) build.uncertainty = convert_uncertainty(*said);
  build.cells_may_move = root.flag("cells_may_move").value_or(false);
  out.problems = std::move(gathering.problems);
  out.notes = std::move(gathering.notes);
  return out;
}

}  // namespace stackfit::cli
