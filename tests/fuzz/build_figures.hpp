// SPDX-License-Identifier: GPL-3.0-or-later
//
// Every figure of a build that was accepted, with what may be relied on.
//
// For: fuzz targets: holds what a solver takes for granted, and writes the figures down, so that
// two builds can be told apart. A new member of Build is added here.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <variant>
#include <vector>

#include "solver/build.hpp"
#include "tests/fuzz/hold.hpp"

namespace stackfit::fuzz {

/// What a figure must be, besides finite.
enum class Must : std::uint8_t { be_any, not_be_negative, be_positive, be_a_length, be_a_fraction };

class BuildFigures {
 public:
  explicit BuildFigures(const Build& build, bool whole_row) : whole_row_(whole_row) {
    text("title", build.title);
    cell_type(build.cell);
    for (const CellReading& cell : build.cells) reading(cell);
    charge(build.measured_charge);
    maybe("row", build.row_mm, Must::be_a_length);
    maybe("between rows", build.between_rows_mm, Must::not_be_negative);
    box(build.box);
    if (build.frame) frame(*build.frame);
    for (const SheetInput& sheet : build.fixed_sheets) this->sheet(sheet);
    for (const KitShim& shim : build.kit) {
      sheet(shim.sheet);
      figure("count", shim.count, Must::not_be_negative);
      hold(shim.count <= most_of_a_pile, "a pile is not endless", shim.sheet.name);
    }
    for (const PadInput& pad : build.pads) this->pad(pad);
    placed(build);
    use(build);
    order(build.order);
    uncertainty(build.uncertainty);
  }

  /// All of it, line by line, to the last digit.
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  static constexpr int most_of_a_pile = 10000;  ///< as build.schema.json says

  void text(std::string_view name, std::string_view value) {
    text_ += fmt::format("{}: {}\n", name, value);
  }

  void figure(std::string_view name, double value, Must must) {
    constexpr double longest_mm = 1e5;
    text_ += fmt::format("{}: {:.17g}\n", name, value);
    const auto said = [&] { return fmt::format("{}: {}", name, value); };
    hold(std::isfinite(value), "a figure of a build is finite", said());
    switch (must) {
      case Must::be_any:
        return;
      case Must::not_be_negative:
        return hold(value >= 0, "a figure is not negative", said());
      case Must::be_positive:
        return hold(value > 0, "a figure is above zero", said());
      case Must::be_a_length:
        return hold(value > 0 && value <= longest_mm, "a length has a size", said());
      case Must::be_a_fraction:
        return hold(value >= 0 && value <= 1, "a figure is from 0 to 1", said());
    }
  }

  void maybe(std::string_view name, const std::optional<double>& value, Must must) {
    if (value) figure(name, *value, must);
  }

  void all(std::string_view name, const std::vector<double>& values, Must must) {
    for (const double value : values) figure(name, value, must);
  }

  void span(std::string_view name, const std::optional<Span>& value, Must must) {
    if (!value) return;
    figure(name, value->low, must);
    figure(name, value->high, must);
    hold(value->low <= value->high, "a span is the right way up", name);
  }

  // Two columns of a table: as long as each other, the first rising.
  void table(std::string_view name, const std::vector<double>& across,
             const std::vector<double>& up) {
    all(name, across, Must::not_be_negative);
    all(name, up, Must::be_any);
    hold(across.size() == up.size(), "the columns of a table are equally long", name);
    hold(across.size() >= 2, "a table has two lines at least", name);
    for (std::size_t i = 1; i < across.size(); ++i) {
      hold(across[i - 1] < across[i], "the first column of a table rises", name);
    }
  }

  void cell_type(const CellType& cell) {
    const Must size = whole_row_ ? Must::be_a_length : Must::not_be_negative;
    figure("face width", cell.face.width_mm, size);
    figure("face height", cell.face.height_mm, size);
    maybe("corner radius", cell.face.corner_radius_mm, Must::not_be_negative);
    maybe("width tolerance", cell.face.width_tolerance_mm, Must::not_be_negative);
    maybe("height tolerance", cell.face.height_tolerance_mm, Must::not_be_negative);
    figure("nominal thickness", cell.thickness.nominal_mm, size);
    maybe("thickness tolerance", cell.thickness.tolerance_mm, Must::not_be_negative);
    span("thickness at charge", cell.thickness.at_charge, Must::be_a_fraction);
    maybe("thickness under force", cell.thickness.under_force_n, Must::be_positive);
    pressures(cell);
    if (cell.swing) swing(*cell.swing);
    if (cell.softness) softness(*cell.softness);
    maybe("growth", cell.growth.per_capacity_lost, Must::not_be_negative);
    maybe("growth under load", cell.growth.under_load, Must::not_be_negative);
    maybe("expansion", cell.expansion_per_k, Must::not_be_negative);
    if (cell.can) {
      figure("can", cell.can->wall_mm, Must::be_a_length);
      figure("rim", cell.can->rim_height_mm, Must::be_any);
    }
    maybe("mass", cell.mass_kg, Must::be_positive);
    maybe("least charge", cell.minimum_charge, Must::be_a_fraction);
    if (cell.terminals) terminals(*cell.terminals);
    maybe("terminal torque", cell.terminal_torque_nmm, Must::be_positive);
  }

  void pressures(const CellType& cell) {
    if (cell.makers_force) {
      figure("force", cell.makers_force->force_n, Must::be_positive);
      maybe("force tolerance", cell.makers_force->tolerance_n, Must::not_be_negative);
    }
    if (cell.range)
      span("range", Span{cell.range->low_mpa, cell.range->high_mpa}, Must::not_be_negative);
    maybe("limit", cell.limit_mpa, Must::be_positive);
  }

  void swing(const SwingInput& swing) {
    if (const auto* figures = std::get_if<SwingFigures>(&swing)) {
      maybe("net", figures->net_fraction, Must::be_any);
      maybe("hump", figures->hump_fraction, Must::not_be_negative);
    } else {
      const auto& columns = std::get<SwingTable>(swing);
      table("swing", columns.charge, columns.fraction);
    }
  }

  void softness(const SoftnessInput& softness) {
    if (const auto* law = std::get_if<SoftnessLaw>(&softness)) {
      figure("a", law->a_mpa, Must::be_positive);
      figure("b", law->b, Must::be_positive);
    } else {
      const auto& columns = std::get<SoftnessTable>(softness);
      table("softness", columns.squeeze_fraction, columns.pressure_mpa);
      hold(columns.pressure_mpa.front() == 0, "a law of softness starts at rest");
    }
  }

  void terminals(const Terminals& terminals) {
    maybe("spacing", terminals.spacing_mm, Must::be_a_length);
    maybe("terminal height", terminals.height_mm, Must::not_be_negative);
    maybe("screw", terminals.screw_mm, Must::be_a_length);
    maybe("hole", terminals.hole_mm, Must::be_a_length);
    maybe("slot", terminals.slot_mm, Must::be_a_length);
  }

  void points(std::string_view name, const std::vector<FacePoint>& points) {
    for (const FacePoint& point : points) {
      figure(name, point.x_mm, Must::be_any);
      figure(name, point.y_mm, Must::be_any);
      figure(name, point.z_mm, Must::be_any);
    }
  }

  void charge(const std::optional<MeasuredCharge>& said) {
    if (!said) return;
    figure("measured charge", said->charge, Must::be_a_fraction);
    span("measured charge", said->between, Must::be_a_fraction);
  }

  void box(const Box& box) {
    all("inner length", box.inner_length_mm, Must::be_a_length);
    maybe("inner width", box.inner_width_mm, Must::be_a_length);
    maybe("inner height", box.inner_height_mm, Must::be_a_length);
    if (box.end_walls) end_wall(*box.end_walls);
    if (box.last_end_wall) end_wall(*box.last_end_wall);
    maybe("side wall", box.side_walls.thickness_mm, Must::be_a_length);
  }

  void end_wall(const EndWallInput& wall) {
    if (const auto* bow = std::get_if<WallBow>(&wall)) {
      figure("bow", bow->bow_mm, Must::be_a_length);
      figure("force at the bow", bow->force_n, Must::be_positive);
    } else if (const auto* plate = std::get_if<PlateWall>(&wall)) {
      plate_wall(*plate);
    }
  }

  void plate_wall(const PlateWall& plate) {
    maybe("end wall", plate.thickness_mm, Must::be_a_length);
    for (const RibInput& rib : plate.ribs) {
      maybe("rib at", rib.at_mm, Must::not_be_negative);
      figure("rib thickness", rib.thickness_mm, Must::be_a_length);
      figure("rib height", rib.height_mm, Must::be_a_length);
    }
    if (plate.second_plate) {
      figure("second plate", plate.second_plate->thickness_mm, Must::be_a_length);
    }
    if (!plate.edges) return;
    for (const auto* edge :
         {&plate.edges->left, &plate.edges->right, &plate.edges->bottom, &plate.edges->top}) {
      for (const EdgeJoint& joint : *edge) span("edge", joint.part_mm, Must::not_be_negative);
    }
  }

  void frame(const Frame& frame) {
    maybe("frame plate", frame.plates.thickness_mm, Must::be_a_length);
    const Must size = whole_row_ ? Must::be_a_length : Must::not_be_negative;
    figure("plate width", frame.plates.width_mm, size);
    figure("plate height", frame.plates.height_mm, size);
    text("thread", frame.rods.size);
    for (const RodPosition& rod : frame.rods.at) {
      figure("rod x", rod.x_mm, Must::be_any);
      figure("rod y", rod.y_mm, Must::be_any);
    }
    maybe("rod length", frame.rods.length_mm, Must::be_a_length);
    maybe("prevailing torque", frame.rods.prevailing_torque_nmm, Must::not_be_negative);
    if (frame.springs) springs(*frame.springs);
    maybe("frame force", frame.force_n, Must::be_positive);
  }

  void springs(const RodSprings& springs) {
    if (const auto* discs = std::get_if<DiscSprings>(&springs)) {
      figure("disc outer", discs->outer_mm, Must::be_a_length);
      figure("disc inner", discs->inner_mm, Must::be_a_length);
      figure("disc thickness", discs->thickness_mm, Must::be_a_length);
      figure("cone", discs->cone_height_mm, Must::be_positive);
      figure("parallel", discs->parallel, Must::be_positive);
      figure("series", discs->series, Must::be_positive);
      hold(discs->inner_mm < discs->outer_mm, "a disc is wider than its hole");
    } else {
      const auto& helical = std::get<HelicalSprings>(springs);
      figure("wire", helical.wire_mm, Must::be_a_length);
      figure("mean diameter", helical.mean_diameter_mm, Must::be_a_length);
      figure("turns", helical.active_turns, Must::be_positive);
      maybe("free length", helical.free_length_mm, Must::be_a_length);
      maybe("solid length", helical.solid_length_mm, Must::be_a_length);
      maybe("modulus", helical.modulus_mpa, Must::be_positive);
    }
  }

  void outline(const std::optional<SheetOutline>& outline) {
    if (!outline) return;
    figure("sheet width", outline->width_mm, Must::not_be_negative);
    figure("sheet height", outline->height_mm, Must::not_be_negative);
    figure("sheet radius", outline->corner_radius_mm, Must::not_be_negative);
    hold(outline->points.empty() ? outline->width_mm > 0 && outline->height_mm > 0
                                 : outline->points.size() >= 3,
         "a sheet has an outline");
    polygon(outline->points);
    for (const auto& hole : outline->holes) {
      hold(hole.size() >= 3, "a hole has three corners");
      polygon(hole);
    }
  }

  void polygon(const std::vector<OutlinePoint>& points) {
    for (const OutlinePoint& point : points) {
      figure("outline x", point.x_mm, Must::be_any);
      figure("outline y", point.y_mm, Must::be_any);
    }
  }

  void place(const Place& where) {
    hold((where.word == PlaceWord::named_gaps) == !where.gaps.empty(),
         "gaps are named where a place is named gaps");
    for (const std::string& gap : where.gaps) text("gap", gap);
  }

  void sheet(const SheetInput& sheet) {
    text("sheet", sheet.name);
    figure("sheet thickness", sheet.thickness_mm, Must::be_a_length);
    maybe("sheet modulus", sheet.modulus_mpa, Must::be_positive);
    outline(sheet.outline);
    place(sheet.where);
  }

  void pad(const PadInput& pad) {
    text("pad", pad.name);
    figure("pad thickness", pad.thickness_mm, Must::be_a_length);
    if (const auto* foam = std::get_if<FoamTable>(&pad.law)) {
      table("foam", foam->strain, foam->stress_mpa);
    } else if (const auto* grade = std::get_if<FoamGrade>(&pad.law)) {
      figure("grade", grade->d1056_grade, Must::not_be_negative);
    } else {
      const auto& rubber = std::get<RubberInput>(pad.law);
      figure("e0", rubber.e0_mpa, Must::be_positive);
      figure("k", rubber.k, Must::be_positive);
      figure("bulk", rubber.bulk_mpa, Must::be_positive);
    }
    outline(pad.outline);
    place(pad.where);
  }

  void placed(const Build& build) {
    for (const PlacedSheets& sheets : build.placed) {
      text("placed", sheets.gap);
      for (const auto& [name, count] : sheets.sheets) {
        text("placed", name);
        figure("placed", count, Must::not_be_negative);
      }
    }
  }

  void use(const Build& build) {
    span("use charge", build.use.charge, Must::be_a_fraction);
    span("use temperature", build.use.temperature_c, Must::be_any);
    span("capacity loss", build.use.capacity_loss, Must::be_a_fraction);
    maybe("build charge", build.build.charge, Must::be_a_fraction);
    maybe("build temperature", build.build.temperature_c, Must::be_any);
    maybe("push limit", build.build.push_limit_n, Must::be_positive);
  }

  void order(const Order& order) {
    all("wall stock", order.wall_stock_mm, Must::be_a_length);
    all("sheet stock", order.sheet_stock_mm, Must::be_a_length);
    all("filler stock", order.filler_stock_mm, Must::be_a_length);
    all("pad stock", order.pad_stock_mm, Must::be_a_length);
    if (order.foam) table("order foam", order.foam->strain, order.foam->stress_mpa);
    maybe("length step", order.length_step_mm, Must::be_a_length);
    maybe("length tolerance", order.length_tolerance_mm, Must::not_be_negative);
    maybe("paint", order.paint_mm, Must::not_be_negative);
    maybe("stress safety", order.stress_safety, Must::be_positive);
    maybe("most bow", order.most_bow_mm, Must::be_positive);
    maybe("yield", order.yield_mpa, Must::be_positive);
    for (const auto& room :
         {order.side_sheet_mm, order.floor_sheet_mm, order.lid_sheet_mm, order.slide_mm,
          order.over_terminals_mm, order.corner_radius_mm, order.floor_bend_mm, order.weld_bead_mm,
          order.screw_head_mm, order.acceleration_g}) {
      maybe("room", room, Must::not_be_negative);
    }
  }

  void uncertainty(const Uncertainty& said) {
    for (const auto& figure :
         {said.calipers_mm, said.calipers_each_mm, said.charge, said.box_length_mm, said.row_mm,
          said.shims, said.softness, said.swing, said.growth, said.expansion, said.friction,
          said.frame_force}) {
      maybe("uncertainty", figure, Must::not_be_negative);
    }
  }

 public:
  /// A reading alone, as a line of a log has it.
  BuildFigures() = default;

  void reading(const CellReading& cell) {
    text("id", cell.id);
    maybe("edge", cell.edge_mm, Must::be_a_length);
    maybe("middle", cell.middle_mm, Must::be_a_length);
    maybe("boards", cell.boards_mm, Must::be_a_length);
    if (cell.pressed) {
      figure("pressed", cell.pressed->thickness_mm, Must::be_a_length);
      figure("pressed force", cell.pressed->force_n, Must::be_positive);
    }
    points("front", cell.points.front);
    points("back", cell.points.back);
    maybe("straightedge", cell.straightedge.front_mm, Must::be_any);
    maybe("straightedge", cell.straightedge.back_mm, Must::be_any);
    maybe("charge", cell.charge, Must::be_a_fraction);
    maybe("temperature", cell.temperature_c, Must::be_any);
    maybe("voltage", cell.voltage_v, Must::not_be_negative);
    maybe("capacity", cell.capacity_ah, Must::not_be_negative);
    maybe("resistance", cell.resistance_mohm, Must::not_be_negative);
    if (cell.signs) text("signs", *cell.signs);
  }

 private:
  bool whole_row_ = false;
  std::string text_;
};

}  // namespace stackfit::fuzz
