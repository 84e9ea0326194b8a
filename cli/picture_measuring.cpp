// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_measuring.hpp"

#include <fmt/format.h>

#include <array>
#include <utility>
#include <vector>

#include "cli/picture_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr SvgLook part{SvgLine::thin, SvgFill::cell};
constexpr SvgLook tool{SvgLine::wide, SvgFill::metal};
constexpr PictureText centred{.anchor = SvgAnchor::middle};

void draw_cross(SvgWriter& svg, SvgPoint at) {
  constexpr double half = 5;
  svg.line({at.x - half, at.y}, {at.x + half, at.y}, SvgLine::wide);
  svg.line({at.x, at.y - half}, {at.x, at.y + half}, SvgLine::wide);
}

// Two terminals on the top of a cell, each under its cap.
void draw_capped(SvgWriter& svg, const SvgBox& cell) {
  for (const double share : {0.2, 0.8}) {
    const double x = cell.x + share * cell.width;
    svg.rect({x - 9, cell.y - 9, 18, 9}, {SvgLine::thin, SvgFill::metal});
    svg.rect({x - 12, cell.y - 15, 24, 12}, {SvgLine::wide, SvgFill::accent}, {"", "Cap"}, 3);
  }
}

// A cell on edge seen along its face, both faces a little domed.
void draw_domed(SvgWriter& svg, const SvgBox& box, double dome) {
  const double middle = box.y + box.height / 2;
  svg.path(fmt::format("M{0} {1}Q{2} {3} {0} {4}H{5}Q{6} {3} {5} {1}Z", svg.number(box.x),
                       svg.number(box.y), svg.number(box.x - 2 * dome), svg.number(middle),
                       svg.number(box.bottom()), svg.number(box.right()),
                       svg.number(box.right() + 2 * dome)),
           part);
}

// Jaws from above that close on `left` and `right`, as deep as `reach`.
struct Jaws {
  double left = 0;
  double right = 0;
  double beam = 0;   ///< y of the bar
  double reach = 0;  ///< y of the tips
};
void draw_jaws(SvgWriter& svg, const Jaws& jaws) {
  constexpr double wide = 8;
  constexpr double high = 10;
  svg.rect({jaws.left - wide - 6, jaws.beam, jaws.right - jaws.left + 2 * wide + 46, high}, tool,
           {"", "Calipers"});
  svg.rect({jaws.left - wide, jaws.beam + high, wide, jaws.reach - jaws.beam - high}, tool);
  svg.rect({jaws.right, jaws.beam + high, wide, jaws.reach - jaws.beam - high}, tool);
}

// --- Calipers -----------------------------------------------------------------------------

void draw_face_places(SvgWriter& svg) {
  const SvgBox face{20, 44, 150, 176};
  draw_capped(svg, face);
  svg.rect(face, part, {}, 5);
  constexpr double inset = 22;
  const std::array<SvgPoint, 4> edges{{{face.x + face.width / 2, face.y + inset},
                                       {face.right() - inset, face.y + face.height / 2},
                                       {face.x + face.width / 2, face.bottom() - inset},
                                       {face.x + inset, face.y + face.height / 2}}};
  for (std::size_t i = 0; i < edges.size(); ++i) {
    draw_cross(svg, edges[i]);
    const bool at_right = i == 1;
    write(svg, {edges[i].x + (at_right ? -8 : 8), edges[i].y - 5}, fmt::format("e{}", i + 1),
          {.anchor = at_right ? SvgAnchor::end : SvgAnchor::start, .bold = true});
  }
  draw_cross(svg, {face.x + face.width / 2, face.y + face.height / 2});
  write(svg, {face.x + face.width / 2 + 8, face.y + face.height / 2 - 5}, "m", {.bold = true});
  // How far in from the rim.
  const double y = face.y + face.height / 2 + 22;
  svg.line({face.x, y}, {face.x + inset, y}, SvgLine::thin);
  draw_tip(svg, {face.x, y}, Pointing::left, SvgFill::black, 5);
  draw_tip(svg, {face.x + inset, y}, Pointing::right, SvgFill::black, 5);
  write(svg, {face.x + 4, y + 16}, "10 mm");
  write(svg, {face.x + face.width / 2, 16}, "caps on", centred);
  write(svg, {face.x + face.width / 2, face.bottom() + 17}, "the large face", centred);
}

void draw_jaws_closed(SvgWriter& svg) {
  const SvgBox cell{270, 78, 52, 142};
  draw_domed(svg, cell, 7);
  draw_jaws(svg, {cell.x - 1, cell.right() + 1, 40, cell.y + 20});
  draw_arrow(svg, {cell.x - 40, cell.y + 12}, {cell.x - 11, cell.y + 12});
  draw_arrow(svg, {cell.right() + 40, cell.y + 12}, {cell.right() + 11, cell.y + 12});
  write(svg, {cell.x + 26, cell.y + 15}, "e", {.anchor = SvgAnchor::middle, .bold = true});
  const double middle = cell.y + cell.height / 2;
  draw_arrow(svg, {cell.x - 40, middle}, {cell.x - 8, middle});
  draw_arrow(svg, {cell.right() + 40, middle}, {cell.right() + 8, middle});
  write(svg, {cell.x + 26, middle + half_letter}, "m", {.anchor = SvgAnchor::middle, .bold = true});
  write(svg, {cell.right() + 16, middle + 18}, "deep jaw");
  write(svg, {cell.x + 26, 16}, "jaws square, light hand", centred);
  write(svg, {cell.x + 26, cell.bottom() + 17}, "the cell from its side", centred);
}

// --- Boards -------------------------------------------------------------------------------

void draw_boards(SvgWriter& svg, double from, double to, const SvgBox& span) {
  constexpr double board = 16;
  for (const double x : {from - board, to}) {
    svg.rect({x, span.y, board, span.height}, {SvgLine::wide, SvgFill::pad}, {"", "Flat board"});
    svg.rect({x, span.y, board, span.height}, {SvgLine::none, SvgFill::hatch});
  }
}

void draw_reading(SvgWriter& svg, double from, double to, double y, std::string_view text) {
  svg.line({from, y}, {to, y}, SvgLine::thin);
  draw_tip(svg, {from, y}, Pointing::left);
  draw_tip(svg, {to, y}, Pointing::right);
  write(svg, {(from + to) / 2, y + 16}, text, centred);
}

}  // namespace

std::string caliper_places(const std::string& id) {
  SvgWriter svg(
      {picture_width,
       260,
       "Where the calipers go",
       "Caps are on both terminals. Four edge places, e1 to e4, lie in the middle of each "
       "side of the large face, 10 mm in from the rim, clear of welds and vent: their "
       "mean is the edge. m is the middle of the face and needs a deep jaw, or boards. "
       "The jaws stand square to the faces and close with a light hand, one cell at a "
       "time.",
       id,
       {}});
  draw_face_places(svg);
  draw_jaws_closed(svg);
  write(svg, {4, 256}, "Clear of welds and vent. One cell at a time.", {.quiet = true});
  return std::move(svg).finish();
}

std::string board_places(const std::string& id) {
  SvgWriter svg({picture_width,
                 212,
                 "Between two flat boards",
                 "On the left one cell between two flat boards, on the right a whole row: pushed "
                 "together with a light hand, the boards touch the highest point of both outer "
                 "faces. Read from board to board, at the four corners, and write down the mean.",
                 id,
                 {}});
  svg.define_hatch(5);
  const SvgBox span{0, 26, 0, 130};
  const SvgBox cell{66, 40, 36, 116};
  constexpr double dome = 6;
  draw_domed(svg, cell, dome);
  draw_boards(svg, cell.x - dome, cell.right() + dome, span);
  draw_arrow(svg, {10, 98}, {cell.x - dome - 18, 98});
  draw_arrow(svg, {158, 98}, {cell.right() + dome + 18, 98});
  draw_reading(svg, cell.x - dome, cell.right() + dome, 172, "one cell");
  constexpr int cells = 4;
  constexpr double first = 218;
  constexpr double pitch = 32;
  for (int i = 0; i < cells; ++i) {
    draw_domed(svg, {first + i * pitch + 2, cell.y, pitch - 4, cell.height}, 2);
  }
  const double end = first + cells * pitch;
  draw_boards(svg, first, end, span);
  draw_arrow(svg, {first - 44, 98}, {first - 18, 98});
  draw_arrow(svg, {end + 44, 98}, {end + 18, 98});
  draw_reading(svg, first, end, 172, "the whole row, bare cells");
  write(svg, {4, 16}, "Light hand. The mean of all four corners counts.");
  write(svg, {4, 208}, "Never press a swollen cell.", {.bold = true});
  return std::move(svg).finish();
}

namespace {

// The face lying, a straightedge on it on edge, a feeler gauge where there is light.
void draw_straightedge(SvgWriter& svg, double y, bool hollow) {
  constexpr double from = 24;
  constexpr double to = 224;
  const double rise = hollow ? 9 : -9;
  const double face = y + (hollow ? 0 : 9);
  svg.path(fmt::format("M{0} {1}Q{2} {3} {4} {1}V{5}H{0}Z", from, svg.number(face),
                       svg.number((from + to) / 2), svg.number(face + 2 * rise), to,
                       svg.number(face + 34)),
           part);
  svg.rect({from - 14, y - 14, to - from + 28, 14}, tool, {"", "Straightedge"});
}

void draw_feeler(SvgWriter& svg, SvgPoint tip, double away) {
  svg.polygon(
      {tip, {tip.x + away * 46, tip.y - 2}, {tip.x + away * 46, tip.y + 6}, {tip.x, tip.y + 3}},
      {SvgLine::thin, SvgFill::accent}, {"", "Feeler gauge"});
}

void draw_ways_across(SvgWriter& svg, const SvgBox& face) {
  svg.rect(face, part, {}, 5);
  svg.line({face.x, face.y}, {face.right(), face.bottom()}, SvgLine::centre);
  svg.line({face.x, face.bottom()}, {face.right(), face.y}, SvgLine::centre);
  const double middle = face.y + face.height / 2;
  svg.rect({face.x - 8, middle - 5, face.width + 16, 10}, tool);
  write(svg, {face.x + face.width / 2, face.bottom() + 17}, "across, and both", centred);
  write(svg, {face.x + face.width / 2, face.bottom() + 33}, "diagonals", centred);
}

}  // namespace

std::string straightedge_places(const std::string& id) {
  SvgWriter svg({picture_width,
                 204,
                 "Straightedge and feeler gauge",
                 "A straightedge of wood or plastic stands on edge across the middle of the face, "
                 "then along both diagonals. Where it rocks on the middle the face is domed: hold "
                 "it level, read the feeler gap at both ends and write down the mean. Where it "
                 "rests on the ends the face is hollow: read the gap in the middle and write it "
                 "with a minus.",
                 id,
                 {}});
  write(svg, {10, 18}, "domed: gap at both ends, mean", {.bold = true});
  draw_straightedge(svg, 46, false);
  draw_feeler(svg, {218, 47}, 1);
  write(svg, {10, 116}, "hollow: gap in the middle, minus", {.bold = true});
  draw_straightedge(svg, 144, true);
  draw_feeler(svg, {128, 146}, 1);
  draw_ways_across(svg, {294, 34, 88, 112});
  write(svg, {4, 200}, "Of wood or plastic: steel bridges cans.", {.quiet = true});
  return std::move(svg).finish();
}

std::string box_places(const std::string& id) {
  SvgWriter svg({picture_width,
                 214,
                 "Where the inside length is read",
                 "Looking into the box from its open top, and at an end wall. Read the inside "
                 "length along the row at five places: 1 and 2 at the bottom left and right, 3 and "
                 "4 at the top left and right, 5 in the middle, after painting.",
                 id,
                 {}});
  // Along the row: three of the five lines are seen, the others lie behind them.
  const SvgBox inside{24, 34, 200, 130};
  svg.path(fmt::format("M{} {}V{}H{}V{}h-8V{}H{}V{}Z", 16, 34, 172, 232, 34, 164, 24, 34),
           {SvgLine::wide, SvgFill::metal}, {"", "The box, cut along the row"});
  const std::array<std::pair<double, const char*>, 3> heights{
      {{inside.y + 22, "3, 4"}, {inside.y + 65, "5"}, {inside.bottom() - 14, "1, 2"}}};
  for (const auto& [y, name] : heights) {
    svg.line({inside.x, y}, {inside.right(), y}, SvgLine::thin);
    draw_tip(svg, {inside.x, y}, Pointing::left);
    draw_tip(svg, {inside.right(), y}, Pointing::right);
    write(svg, {inside.x + inside.width / 2, y - 4}, name,
          {.anchor = SvgAnchor::middle, .bold = true});
  }
  write(svg, {inside.x + inside.width / 2, 22}, "along the row", centred);
  const SvgBox wall{272, 34, 104, 130};
  svg.rect(wall, {SvgLine::wide, SvgFill::metal}, {"", "An end wall from inside"});
  const std::array<SvgPoint, 5> places{{{wall.x + 16, wall.bottom() - 14},
                                        {wall.right() - 16, wall.bottom() - 14},
                                        {wall.x + 16, wall.y + 22},
                                        {wall.right() - 16, wall.y + 22},
                                        {wall.x + wall.width / 2, wall.y + 65}}};
  for (std::size_t i = 0; i < places.size(); ++i) {
    svg.circle(places[i], 9, {SvgLine::thin, SvgFill::white});
    write(svg, {places[i].x, places[i].y + half_letter}, fmt::format("{}", i + 1),
          {.anchor = SvgAnchor::middle, .bold = true});
  }
  write(svg, {wall.x + wall.width / 2, 22}, "end wall, inside", centred);
  write(svg, {4, 192}, "Rule or inside calipers, after paint, to 0.2 mm.");
  write(svg, {4, 208}, "Write down all five: the program takes the mean.", {.quiet = true});
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
