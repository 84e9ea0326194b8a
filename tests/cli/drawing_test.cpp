// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawings of boxes and frames, read back: true to scale, whole, and nothing written over another.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <random>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "cli/cautions.hpp"
#include "cli/drawing_row.hpp"
#include "cli/drawing_sheet.hpp"
#include "cli/drawing_svg.hpp"
#include "tests/catch.hpp"
#include "tests/cli/svg_reader.hpp"

namespace {

using namespace stackfit;
using namespace stackfit::cli;
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using svg_reader::by_id;
using svg_reader::Element;
using svg_reader::named;
using svg_reader::read_svg;
using svg_reader::text_boxes;
using svg_reader::TextBox;

using Elements = std::vector<Element>;

DrawnRow sample_row(int cells) {
  constexpr double thicknesses[] = {71.8, 72.1, 71.65, 72.3};
  constexpr double sheets[] = {1.5, 0.8, 1.0, 0};
  DrawnRow row;
  for (int i = 0; i < cells; ++i) row.cells.push_back({"", thicknesses[i % 4], i % 2 == 0});
  for (int i = 0; i <= cells; ++i) row.gaps.push_back({sheets[i % 4], false});
  row.gaps[static_cast<std::size_t>(cells) / 2] = {3.25, true};
  return row;
}

double free_length(const DrawnRow& row) {
  double sum = 0;
  for (const DrawnCell& cell : row.cells) sum += cell.thickness_mm;
  for (const DrawnGap& gap : row.gaps) sum += gap.sheets_mm;
  return sum;
}

BoxDrawing sample_box(int cells) {
  BoxDrawing box;
  box.head = {"Shed bank", "shed.json", "2026-11-28", "ISO 2768-m"};
  box.paint_mm = 0.1;
  box.rows = {sample_row(cells)};
  box.inner_length_mm = free_length(box.rows.front()) - 0.5;
  box.inner_width_mm = 177;
  box.inner_height_mm = 217;
  box.length_tolerance = box.width_tolerance = box.height_tolerance = DrawnTolerance{1, 0};
  box.end_wall_mm = 10;
  box.side_wall_mm = 2;
  box.floor_mm = 2.5;
  box.lid_mm = 1.5;
  box.comes_off = WallOff::last;
  box.face_width_mm = 173.8;
  box.face_height_mm = 204;
  box.face_corner_radius_mm = 4;
  box.terminal_height_mm = 4;
  box.side_sheet_mm = box.floor_sheet_mm = box.lid_sheet_mm = 0.5;
  box.raise_mm = 1.5;
  box.kit = {"12 sheets of 0.5 and 8 of 0.8", "1 pad of 3.25", "2 side sheets of 0.5"};
  return box;
}

FrameDrawing sample_frame(int cells) {
  FrameDrawing frame;
  frame.head = sample_box(1).head;
  frame.plate_width_mm = 220;
  frame.plate_height_mm = 240;
  frame.plate_mm = 12;
  for (const double x : {-98.0, 98.0}) {
    for (const double y : {-105.0, 20.0, 105.0}) frame.holes.push_back({x, y, 9});
  }
  frame.rod_diameter_mm = 8;
  frame.nut_height_mm = 6.8;
  frame.washer_mm = 1.6;
  frame.springs_built_mm = 22.4;
  frame.springs_outer_mm = 20;
  frame.row = sample_row(cells);
  frame.row_mm = free_length(frame.row) - 0.5;
  frame.rod_length_mm = frame.row_mm + 100;
  frame.face_width_mm = 173.8;
  frame.face_height_mm = 204;
  frame.terminal_height_mm = 4;
  frame.kit = {"6 rods M8", "12 lock nuts M8"};
  return frame;
}

// The figure 1:n of the title block.
int denominator_of(const Elements& elements) {
  for (const Element* text : named(elements, "text")) {
    if (text->text.rfind("1:", 0) == 0) return std::stoi(text->text.substr(2));
  }
  return 0;
}

bool has_text(const Elements& elements, const std::string& wanted) {
  for (const Element* text : named(elements, "text")) {
    if (text->text == wanted) return true;
  }
  return false;
}

// Nothing over another, nothing outside the sheet's frame, nothing too small to read.
void check_texts(const Elements& elements) {
  const Element& space = by_id(elements, "drawing-space");
  const double left = space.number("x");
  const double top = space.number("y");
  const std::vector<TextBox> boxes = text_boxes(elements);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    INFO(boxes[i].text);
    CHECK(boxes[i].left >= left);
    CHECK(boxes[i].top >= top);
    CHECK(boxes[i].right <= left + space.number("width"));
    CHECK(boxes[i].bottom <= top + space.number("height"));
    for (std::size_t j = 0; j < i; ++j) {
      INFO(boxes[j].text);
      CHECK_FALSE(boxes[i].overlaps(boxes[j]));
    }
  }
  for (const Element* text : named(elements, "text")) {
    CHECK(text->number("font-size") >= 2.5);
  }
}

// Sheet of the list, in mm, and a scale of ISO 5455 that lets all rectangles lie on it.
void check_sheet(const Elements& elements) {
  const Element& root = elements.front();
  REQUIRE(root.name == "svg");
  bool known = false;
  for (const SheetSize& sheet : sheet_sizes()) {
    known |= root.said("width") == fmt::format("{}mm", sheet.width_mm) &&
             root.said("height") == fmt::format("{}mm", sheet.height_mm) &&
             root.said("viewBox") == fmt::format("0 0 {} {}", sheet.width_mm, sheet.height_mm) &&
             has_text(elements, sheet.name);
  }
  CHECK(known);
  const int denominator = denominator_of(elements);
  const auto scales = drawing_scales();
  CHECK(std::find(scales.begin(), scales.end(), denominator) != scales.end());
  const double width = std::stod(root.said("width"));
  const double height = std::stod(root.said("height"));
  for (const Element* rect : named(elements, "rect")) {
    CHECK(rect->number("x") >= 0);
    CHECK(rect->number("y") >= 0);
    CHECK(rect->number("x") + rect->number("width") <= width + 1e-3);
    CHECK(rect->number("y") + rect->number("height") <= height + 1e-3);
  }
}

TEST_CASE("a drawn box is well-formed, on an ISO sheet, with no text over another") {
  const int cells = GENERATE(1, 2, 4, 5, 8, 12, 16, 24, 32);
  const BoxJoin join =
      GENERATE(BoxJoin::sides_over_ends, BoxJoin::sides_between_ends, BoxJoin::folded);
  const WallOff off = GENERATE(WallOff::none, WallOff::first, WallOff::last);
  CAPTURE(cells, static_cast<int>(join), static_cast<int>(off));
  BoxDrawing box = sample_box(cells);
  box.join = join;
  box.comes_off = off;
  box.bend_radius_mm = join == BoxJoin::folded ? 4 : 0;
  const Elements elements = read_svg(box_drawing(box));
  check_sheet(elements);
  check_texts(elements);
  CHECK(has_text(elements, "comes off") == (off != WallOff::none));
}

TEST_CASE("a drawn frame is well-formed, on an ISO sheet, with no text over another") {
  const int cells = GENERATE(1, 4, 8, 16, 32);
  const bool both = GENERATE(false, true);
  const double springs = GENERATE(0.0, 6.5, 22.4);
  CAPTURE(cells, both, springs);
  FrameDrawing frame = sample_frame(cells);
  frame.springs_at_both = both;
  frame.springs_built_mm = springs;
  const Elements elements = read_svg(frame_drawing(frame));
  check_sheet(elements);
  check_texts(elements);
}

TEST_CASE("boxes of any size have no text over another") {
  std::mt19937 dice(20261128);
  const auto between = [&](double least, double most) {
    return std::round(10 * std::uniform_real_distribution<double>(least, most)(dice)) / 10;
  };
  for (int trial = 0; trial < 150; ++trial) {
    CAPTURE(trial);
    BoxDrawing box = sample_box(1 + static_cast<int>(dice() % 40));
    const double thickness = between(12, 80);
    for (DrawnCell& cell : box.rows[0].cells) cell.thickness_mm = thickness + between(-0.5, 0.5);
    box.inner_length_mm = std::round(10 * free_length(box.rows[0])) / 10;
    box.face_width_mm = between(60, 300);
    box.face_height_mm = between(80, 300);
    box.inner_width_mm = box.face_width_mm + between(1, 12);
    box.inner_height_mm = box.face_height_mm + between(3, 30);
    box.end_wall_mm = between(2, 30);
    box.side_wall_mm = between(1, 12);
    box.floor_mm = between(1, 18);
    box.join = static_cast<BoxJoin>(dice() % 3);
    box.bend_radius_mm = between(1, 5);
    box.comes_off = static_cast<WallOff>(dice() % 3);
    if (dice() % 3 == 0) box.lid_mm.reset();
    if (dice() % 3 == 0) box.length_tolerance.reset();
    const Elements elements = read_svg(box_drawing(box));
    check_sheet(elements);
    check_texts(elements);
  }
}

TEST_CASE("frames of any size have no text over another") {
  std::mt19937 dice(20261129);
  const auto between = [&](double least, double most) {
    return std::round(10 * std::uniform_real_distribution<double>(least, most)(dice)) / 10;
  };
  for (int trial = 0; trial < 100; ++trial) {
    CAPTURE(trial);
    FrameDrawing frame = sample_frame(1 + static_cast<int>(dice() % 40));
    frame.face_width_mm = between(60, 300);
    frame.face_height_mm = between(80, 300);
    const double x = frame.face_width_mm / 2 + between(5, 20);
    const double y = frame.face_height_mm / 2 + between(-40, 20);
    frame.plate_width_mm = 2 * x + between(12, 60);
    frame.plate_height_mm = 2 * std::max(y, frame.face_height_mm / 2) + between(12, 60);
    frame.plate_mm = between(3, 30);
    frame.holes = {{-x, -y, 9}, {x, -y, 9}, {-x, y, 9}, {x, y, 9}};
    if (dice() % 2 == 0) frame.holes.push_back({0, y, 9});
    frame.springs_built_mm = dice() % 3 == 0 ? 0 : between(2, 80);
    frame.springs_at_both = dice() % 2 == 0;
    frame.rod_length_mm = frame.row_mm + 2 * frame.plate_mm + 2 * frame.springs_built_mm + 40;
    const Elements elements = read_svg(frame_drawing(frame));
    check_sheet(elements);
    check_texts(elements);
  }
}

TEST_CASE("the inside of a drawn box is true to scale, and its figures are those given") {
  const int cells = GENERATE(1, 8, 16, 32);
  CAPTURE(cells);
  const BoxDrawing box = sample_box(cells);
  const Elements elements = read_svg(box_drawing(box));
  const int n = denominator_of(elements);
  // Four decimals of paper.
  const double step = 1e-4 * n;
  const Element& along = by_id(elements, "along-inside");
  CHECK(along.number("width") * n == Approx(box.inner_length_mm).margin(step));
  CHECK(along.number("height") * n == Approx(box.inner_height_mm).margin(step));
  const Element& above = by_id(elements, "above-inside");
  CHECK(above.number("width") * n == Approx(box.inner_length_mm).margin(step));
  CHECK(above.number("height") * n == Approx(box.inner_width_mm).margin(step));
  CHECK(above.number("x") == along.number("x"));
  const Element& across = by_id(elements, "across-inside");
  CHECK(across.number("width") * n == Approx(box.inner_width_mm).margin(step));
  CHECK(across.number("y") == along.number("y"));
  for (const std::string& figure :
       {size_text(box.inner_length_mm), size_text(box.inner_length_mm + 20), std::string("177"),
        std::string("181"), std::string("217"), std::string("221"), std::string("10"),
        std::string("2"), std::string("2.5"), std::string("1.5"), std::string("+1"),
        std::string("-0"), std::string("173.8"), std::string("204")}) {
    INFO(figure);
    CHECK(has_text(elements, figure));
  }
}

TEST_CASE("cells and gaps follow each other and fill the inner length") {
  const int cells = GENERATE(1, 8, 32);
  const std::string view = GENERATE("along", "above");
  CAPTURE(cells, view);
  const BoxDrawing box = sample_box(cells);
  const Elements elements = read_svg(box_drawing(box));
  const int n = denominator_of(elements);
  const Element& inside = by_id(elements, view + "-inside");
  double at = inside.number("x");
  const auto follow = [&](const std::string& id) {
    const Element& part = by_id(elements, fmt::format("{}-1-{}", view, id));
    CHECK(part.number("x") == Approx(at).margin(2e-4));
    at = part.number("x") + part.number("width");
    return part.number("width") * n;
  };
  for (std::size_t i = 0; i < box.rows[0].gaps.size(); ++i) {
    CHECK(follow(fmt::format("gap-{}", i)) ==
          Approx(box.rows[0].gaps[i].sheets_mm).margin(1e-4 * n));
    if (i == box.rows[0].cells.size()) break;
    // Pressed by half a millimetre altogether.
    const double width = follow(fmt::format("cell-{}", i + 1));
    CHECK(width < box.rows[0].cells[i].thickness_mm);
    CHECK(width > box.rows[0].cells[i].thickness_mm - 0.51);
  }
  CHECK(at == Approx(inside.number("x") + inside.number("width")).margin(2e-4));
}

TEST_CASE("a loose row leaves the rest at the last wall, one far too long is refused") {
  const DrawnRow row = sample_row(4);
  const double length = free_length(row);
  const RowSpots loose = row_spots(row, length + 3);
  CHECK(loose.gaps.back().to_mm == Approx(length));
  CHECK(loose.cells[1].to_mm - loose.cells[1].from_mm == Approx(72.1));
  const RowSpots pressed = row_spots(row, length - 3);
  CHECK(pressed.gaps.back().to_mm == Approx(length - 3));
  CHECK_THROWS_AS(row_spots(row, 0.8 * length), std::invalid_argument);
  DrawnRow short_of_gaps = row;
  short_of_gaps.gaps.pop_back();
  CHECK_THROWS_AS(row_spots(short_of_gaps, length), std::invalid_argument);
}

TEST_CASE("whatever a file's texts hold, the drawing stays well-formed") {
  BoxDrawing box = sample_box(4);
  const std::string nasty = "A <&> \"title\" 'of' it";
  box.head.title = nasty;
  box.head.file = "</text><script>x</script>.json";
  box.head.general_tolerance = "\x01\x1b[31m \xff\xc0\xaf \xed\xa0\x80 \xef\xbf\xbe";
  box.kit = {"&amp; stays as it was written", "]]> <!-- -->"};
  box.rows[0].cells[0].id = "<1>";
  const std::string drawing = box_drawing(box);
  const Elements elements = read_svg(drawing);
  CHECK(has_text(elements, nasty));
  CHECK(by_id(elements, "sheet-title").text == nasty);
  CHECK(has_text(elements, "&amp; stays as it was written"));
  CHECK(has_text(elements, "<1>"));
  CHECK(named(elements, "script").empty());
  CHECK(xml_escaped("a<b&\"c'>") == "a&lt;b&amp;&quot;c&#39;&gt;");
  CHECK(xml_escaped("\xed\xa0\x80 \xef\xbf\xbf \xe0\x80\xaf") == "??? ??? ???");
  CHECK(xml_escaped("\xc3\x98 \xe2\x80\xa6 \xf0\x9f\x94\x8b") ==
        "\xc3\x98 \xe2\x80\xa6 \xf0\x9f\x94\x8b");
}

TEST_CASE("long texts and many lines are cut to the sheet, and said so") {
  BoxDrawing box = sample_box(8);
  box.head = {std::string(300, 'W'), std::string(200, 'f'), "2026-11-28", std::string(99, 't')};
  box.kit.assign(40, std::string(200, 'k') + " and more words that go on for a while");
  for (DrawnCell& cell : box.rows[0].cells) cell.id = "a very long id of a cell";
  const Elements elements = read_svg(box_drawing(box));
  check_sheet(elements);
  check_texts(elements);
  CHECK(has_text(elements, "And 30 lines more."));
  // Ids that do not fit give way to numbers, and are found in the cells' titles.
  CHECK(has_text(elements, "8"));
  bool titled = false;
  for (const Element* title : named(elements, "title")) {
    titled |= title->text.find("Cell 8 (a very long id of a cell)") == 0;
  }
  CHECK(titled);
}

TEST_CASE("nothing is loaded from elsewhere, and a screen reader has words") {
  const std::string drawing = box_drawing(sample_box(8));
  for (const char* word : {"href", "url(", "@import", "<image", "<script", "<style"}) {
    CHECK(drawing.find(word) == std::string::npos);
  }
  const Elements elements = read_svg(drawing);
  CHECK(elements.front().said("font-family") == "sans-serif");
  CHECK(elements.front().said("role") == "img");
  CHECK(by_id(elements, "sheet-title").name == "title");
  CHECK_THAT(by_id(elements, "sheet-description").text, ContainsSubstring("8 cells"));
  CHECK(has_text(elements, std::string("STOP: ") + cautions::never_pressed));
  CHECK(has_text(elements, cautions::overruled));
}

TEST_CASE("a drawing may stand in a page: classes in place of colours, and ids of its own") {
  BoxDrawing box = sample_box(8);
  FrameDrawing frame = sample_frame(6);
  const std::string printed = box_drawing(box);
  box.head.inline_id = frame.head.inline_id = "order";
  const std::string prolog = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
  CHECK(printed.starts_with(prolog));
  for (const std::string& drawing : {box_drawing(box), frame_drawing(frame)}) {
    CHECK(drawing.starts_with("<svg class=\"drawing wide\" viewBox=\"0 0 297 210\""));
    for (const char* word : {"fill=", "stroke", "style=", "font-weight", "xmlns", "width=\"297"}) {
      CAPTURE(word);
      CHECK(drawing.find(word) == std::string::npos);
    }
    const Elements elements = read_svg(prolog + drawing);
    CHECK(by_id(elements, "order-t").text == box.head.title);
    for (const Element& element : elements) {
      const auto id = element.attributes.find("id");
      if (id != element.attributes.end()) CHECK(id->second.starts_with("order-"));
    }
  }
  // As many shapes and texts as on paper, but for the sheet's white ground.
  CHECK(read_svg(prolog + box_drawing(box)).size() + 1 == read_svg(printed).size());
}

TEST_CASE("common boxes stand on A4, and long ones on a larger sheet rather than below 1:10") {
  const Elements eight = read_svg(box_drawing(sample_box(8)));
  CHECK(has_text(eight, "A4"));
  CHECK(denominator_of(eight) == 5);
  const Elements long_one = read_svg(box_drawing(sample_box(32)));
  CHECK(has_text(long_one, "A3"));
  CHECK(denominator_of(long_one) == 10);
  // The largest sheet is the last; only then the scale falls.
  const NeedAt huge = [](int n) { return PaperNeed{15000.0 / n, 500.0 / n}; };
  const SheetChoice choice = choose_sheet(huge, {});
  CHECK(std::string(choice.sheet.name) == "A0");
  CHECK(choice.denominator == 20);
  const NeedAt endless = [](int) { return PaperNeed{5000, 5000}; };
  CHECK_THROWS_AS(choose_sheet(endless, {}), std::invalid_argument);
}

TEST_CASE("cells are numbered where a number fits, else every second, fifth or tenth") {
  const Elements all = read_svg(box_drawing(sample_box(32)));
  for (int number = 1; number <= 32; ++number) CHECK(has_text(all, std::to_string(number)));
  DrawnRow thin = sample_row(8);
  const SheetChoice tenth{{}, 10};
  CHECK(number_step(thin, tenth) == 1);
  CHECK(gap_figures_fit(thin, tenth));
  for (const auto& [thickness, step] :
       {std::pair{30.0, 2}, std::pair{12.0, 5}, std::pair{6.0, 10}}) {
    thin.cells[3].thickness_mm = thickness;
    CHECK(number_step(thin, tenth) == step);
    CHECK_FALSE(gap_figures_fit(thin, tenth));
  }
  BoxDrawing box = sample_box(64);
  for (DrawnCell& cell : box.rows[0].cells) cell.thickness_mm = 22;
  box.inner_length_mm = free_length(box.rows[0]);
  const Elements second = read_svg(box_drawing(box));
  check_texts(second);
  const int step = number_step(box.rows[0], {{}, denominator_of(second)});
  REQUIRE(step == 2);
  CHECK(has_text(second, "62"));
  CHECK_FALSE(has_text(second, "63"));
}

// The upright stroke of a plus sign in the middle of a cell, and on which half it lies.
int plus_side(const Elements& elements, const std::string& id) {
  const Element& cell = by_id(elements, id);
  const double x = cell.number("x") + cell.number("width") / 2;
  const double middle = cell.number("y") + cell.number("height") / 2;
  for (const Element* line : named(elements, "line")) {
    const double y = (line->number("y1") + line->number("y2")) / 2;
    const bool inside = std::abs(y - middle) < cell.number("height") / 2;
    const bool sign = line->said("stroke-width") == "0.35";
    if (sign && inside && std::abs(line->number("x1") - x) < 1e-3 &&
        std::abs(line->number("x2") - x) < 1e-3) {
      return y > middle ? 1 : -1;
    }
  }
  return 0;
}

TEST_CASE("plus stands on the side on which the cell has it, the near side is below") {
  const Elements elements = read_svg(box_drawing(sample_box(8)));
  CHECK(plus_side(elements, "above-1-cell-1") == 1);
  CHECK(plus_side(elements, "above-1-cell-2") == -1);
  CHECK(plus_side(elements, "above-1-cell-7") == 1);
  CHECK(plus_side(elements, "above-1-cell-8") == -1);
}

TEST_CASE("sheets are written over their gaps, pads marked") {
  const Elements elements = read_svg(box_drawing(sample_box(8)));
  CHECK(has_text(elements, "3.25 P"));
  CHECK(has_text(elements, "0.8"));
  CHECK(has_text(elements, "-"));
}

TEST_CASE("the wall that comes off is marked beside it") {
  for (const WallOff off : {WallOff::first, WallOff::last}) {
    BoxDrawing box = sample_box(8);
    box.comes_off = off;
    const Elements elements = read_svg(box_drawing(box));
    const Element& inside = by_id(elements, "above-inside");
    for (const TextBox& text : text_boxes(elements)) {
      if (text.text != "comes off") continue;
      CHECK((text.left > inside.number("x") + inside.number("width")) == (off == WallOff::last));
      CHECK((text.right < inside.number("x")) == (off == WallOff::first));
      CHECK(text.top > inside.number("y"));
    }
  }
}

TEST_CASE("a folded box shows its bends, another the size of its end walls") {
  BoxDrawing box = sample_box(8);
  CHECK(has_text(read_svg(box_drawing(box)), "177 x 217 x 10"));
  box.join = BoxJoin::sides_between_ends;
  CHECK(has_text(read_svg(box_drawing(box)), "181 x 217 x 10"));
  box.join = BoxJoin::folded;
  box.end_wall_mm = box.side_wall_mm = box.floor_mm = 3;
  box.bend_radius_mm = 4;
  const Elements folded = read_svg(box_drawing(box));
  CHECK(has_text(folded, "R 4 inside"));
  // 1:5: outside 7 mm, inside 4 mm.
  REQUIRE(denominator_of(folded) == 5);
  const auto paths = named(folded, "path");
  REQUIRE(paths.size() == 2);
  for (const Element* path : paths) {
    CHECK_THAT(path->said("d"), ContainsSubstring("a 1.4 1.4 0 0 0"));
    CHECK_THAT(path->said("d"), ContainsSubstring("a 0.8 0.8 0 0 1"));
  }
}

TEST_CASE("rows side by side are numbered on, the near one below") {
  BoxDrawing box = sample_box(8);
  box.rows.push_back(box.rows.front());
  box.between_rows_mm = 2;
  CHECK_THROWS_AS(box_drawing(box), std::invalid_argument);
  box.inner_width_mm = 353;
  const Elements elements = read_svg(box_drawing(box));
  check_sheet(elements);
  check_texts(elements);
  CHECK(has_text(elements, "16"));
  CHECK(by_id(elements, "above-1-cell-1").number("y") >
        by_id(elements, "above-2-cell-1").number("y"));
}

TEST_CASE("what the sizes are taken on is said") {
  BoxDrawing box = sample_box(8);
  CHECK(has_text(read_svg(box_drawing(box)), "after paint (0.1 a face)"));
  box.after_paint = false;
  CHECK(has_text(read_svg(box_drawing(box)), "of bare metal, before paint"));
  CHECK(has_text(read_svg(box_drawing(box)), "ISO 2768-m"));
  box.head.general_tolerance.clear();
  CHECK(has_text(read_svg(box_drawing(box)), "not said"));
  CHECK(has_text(read_svg(box_drawing(box)), "first-angle"));
}

TEST_CASE("a box that cannot be is not drawn") {
  const auto refused = [](void (*change)(BoxDrawing&)) {
    BoxDrawing box = sample_box(4);
    change(box);
    CHECK_THROWS_AS(box_drawing(box), std::invalid_argument);
  };
  refused([](BoxDrawing& box) { box.inner_length_mm = 0; });
  refused([](BoxDrawing& box) { box.inner_width_mm = 170; });
  refused([](BoxDrawing& box) { box.inner_height_mm = 205; });
  refused([](BoxDrawing& box) { box.end_wall_mm = -1; });
  refused([](BoxDrawing& box) { box.lid_mm = 0; });
  refused([](BoxDrawing& box) { box.side_sheet_mm = -0.5; });
  refused([](BoxDrawing& box) { box.rows.clear(); });
  refused([](BoxDrawing& box) { box.face_corner_radius_mm = 100; });
  refused([](BoxDrawing& box) { box.rows[0].cells[1].thickness_mm = 0; });
  refused([](BoxDrawing& box) { box.inner_length_mm = std::numeric_limits<double>::infinity(); });
  refused([](BoxDrawing& box) { box.floor_mm = std::numeric_limits<double>::quiet_NaN(); });
}

TEST_CASE("a frame's plate, holes, row and rods are true to scale") {
  const FrameDrawing frame = sample_frame(8);
  const Elements elements = read_svg(frame_drawing(frame));
  const int n = denominator_of(elements);
  const double step = 2e-4 * n;
  CHECK(by_id(elements, "along-inside").number("width") * n == Approx(frame.row_mm).margin(step));
  const Element& plate = by_id(elements, "plate-outline");
  CHECK(plate.number("width") * n == Approx(220).margin(step));
  CHECK(plate.number("height") * n == Approx(240).margin(step));
  for (const CutHole& hole : frame.holes) {
    const double x = plate.number("x") + plate.number("width") / 2 + hole.x_mm / n;
    const double y = plate.number("y") + plate.number("height") / 2 - hole.y_mm / n;
    bool found = false;
    for (const Element* circle : named(elements, "circle")) {
      found |= std::abs(circle->number("cx") - x) < 2e-4 &&
               std::abs(circle->number("cy") - y) < 2e-4 &&
               std::abs(circle->number("r") * n - 4.5) < step;
    }
    CHECK(found);
  }
  for (const std::string& figure :
       {size_text(frame.row_mm), size_text(frame.rod_length_mm), std::string("22.4"),
        std::string("12"), std::string("220"), std::string("240"), std::string("196"),
        std::string("85"), std::string("125"), std::string("15"), std::string("6 x \u00d8 9")}) {
    INFO(figure);
    CHECK(has_text(elements, figure));
  }
}

TEST_CASE("a frame that cannot be is not drawn") {
  FrameDrawing frame = sample_frame(4);
  frame.rod_length_mm = frame.row_mm + 30;
  CHECK_THROWS_AS(frame_drawing(frame), std::invalid_argument);
  frame = sample_frame(4);
  frame.holes[0].x_mm = -108;
  CHECK_THROWS_AS(frame_drawing(frame), std::invalid_argument);
  frame = sample_frame(4);
  frame.holes.clear();
  CHECK_THROWS_AS(frame_drawing(frame), std::invalid_argument);
}

}  // namespace
