// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/convert_build.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/convert_parts.hpp"

namespace stackfit::cli {
namespace {

// The row between boards is one reading of all cells: far from their sum is a slip.
constexpr double largest_row_error = 0.1;

void check_side(const Node& document, double face, std::optional<double> inside,
                std::string_view side) {
  if (!inside || face <= *inside) return;
  const Node inner = *document.child("box")->child("inner");
  inner.child(side)->problem_found(
      fmt::format("{:g} mm inside, and a cell's face of {:g} mm", *inside, face),
      fmt::format("a box whose {} inside is at least the face's", side),
      "check which side of the face stands upright");
}

void check_row(const Node& document, const Build& build) {
  if (!build.row_mm || build.cells.empty() || build.cell.thickness.nominal_mm <= 0) return;
  const double nominal = build.cell.thickness.nominal_mm * static_cast<double>(build.cells.size());
  if (std::abs(*build.row_mm - nominal) <= largest_row_error * nominal) return;
  document.child("row")->problem(fmt::format("about {:g} mm for {} cells of {:g} mm", nominal,
                                             build.cells.size(), build.cell.thickness.nominal_mm),
                                 "this is all bare cells between two boards, without shims");
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

void convert_row(const Node& document, Build& build) {
  build.series = document.whole("series");
  build.parallel = document.whole("parallel");
  build.cells = convert_cells(document, build.cell.thickness);
  if (const auto charge = document.child("measured_charge")) {
    build.measured_charge = convert_measured_charge(*charge);
  }
  build.row_mm = document.quantity("row", Dimension::length);
  check_row(document, build);
}

void convert_gaps(const Node& document, Build& build) {
  const std::size_t cells = build.cells.size();
  build.fixed_sheets = convert_fixed_sheets(document, cells);
  build.kit = convert_kit(document, cells);
  build.pads = convert_pads(document, cells);
  build.placed = convert_placed(document, cells, build.kit);
}

}  // namespace

Converted convert_build(const nlohmann::ordered_json& document, const Places& places) {
  Gathering gathering{places, {}, {}};
  const Node root(document, "", gathering);
  Converted out;
  Build& build = out.build;
  build.title = root.text("title").value_or("");
  if (const auto cell = root.child("cell")) build.cell = convert_cell_type(*cell);
  convert_row(root, build);
  if (const auto box = root.child("box")) build.box = convert_box(*box);
  check_side(root, build.cell.face.width_mm, build.box.inner_width_mm, "width");
  check_side(root, build.cell.face.height_mm, build.box.inner_height_mm, "height");
  convert_gaps(root, build);
  if (const auto use = root.child("use")) build.use = convert_use(*use);
  if (const auto step = root.child("build")) build.build = convert_step(*step);
  out.problems = std::move(gathering.problems);
  out.notes = std::move(gathering.notes);
  return out;
}

}  // namespace stackfit::cli
