// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/drawing_row.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace stackfit::cli {
namespace {

constexpr double largest_sign_mm = 2.4;
constexpr double sign_share_of_cell = 0.6;
/// A terminal from the side, over its cell's thickness: a sign, no size.
constexpr double terminal_share_of_cell = 0.4;
/// Room along the row that a turned line of text needs.
constexpr double turned_text_room_mm = least_text_mm + 0.4;
constexpr double longest_label_mm = 15;

void check(const DrawnRow& row, double length_mm) {
  const auto bad_size = [](double mm) { return !std::isfinite(mm) || mm <= 0; };
  if (row.cells.empty() || row.gaps.size() != row.cells.size() + 1) {
    throw std::invalid_argument("row_spots: needs cells, and one gap more than cells");
  }
  const auto bad_cell = [&](const DrawnCell& cell) { return bad_size(cell.thickness_mm); };
  const auto bad_gap = [](const DrawnGap& gap) {
    return !std::isfinite(gap.sheets_mm) || gap.sheets_mm < 0;
  };
  if (bad_size(length_mm) || std::any_of(row.cells.begin(), row.cells.end(), bad_cell) ||
      std::any_of(row.gaps.begin(), row.gaps.end(), bad_gap)) {
    throw std::invalid_argument("row_spots: a length or thickness that cannot be");
  }
}

// The share of their free thickness that cells keep.
double pressed_share(const DrawnRow& row, double length_mm) {
  const double cells =
      std::accumulate(row.cells.begin(), row.cells.end(), 0.0,
                      [](double sum, const DrawnCell& cell) { return sum + cell.thickness_mm; });
  const double sheets =
      std::accumulate(row.gaps.begin(), row.gaps.end(), 0.0,
                      [](double sum, const DrawnGap& gap) { return sum + gap.sheets_mm; });
  const double share = std::min(1.0, (length_mm - sheets) / cells);
  if (share < least_pressed_share) {
    throw std::invalid_argument("row_spots: cells and sheets do not go in");
  }
  return share;
}

std::string gap_text(const DrawnGap& gap) {
  const std::string sheets = gap.sheets_mm > 0 ? size_text(gap.sheets_mm) : "-";
  return gap.pad ? sheets + " P" : sheets;
}

int cell_number(const RowOnPaper& row, std::size_t index) {
  return row.first_number + static_cast<int>(index);
}

std::string cell_title(const RowOnPaper& row, std::size_t index) {
  const DrawnCell& cell = row.row->cells[index];
  return fmt::format("Cell {}{}: {} mm, plus {}", cell_number(row, index),
                     cell.id.empty() ? "" : " (" + cell.id + ")", size_text(cell.thickness_mm),
                     cell.plus_near ? "on the near side" : "on the far side");
}

void draw_gap(SvgWriter& svg, const RowOnPaper& row, std::size_t index, const SvgBox& box) {
  const DrawnGap& gap = row.row->gaps[index];
  svg.rect(box, {SvgLine::none, gap.pad ? SvgFill::grey : SvgFill::black},
           {fmt::format("{}-gap-{}", row.prefix, index),
            fmt::format("{} mm of sheets{}", size_text(gap.sheets_mm),
                        gap.pad ? ", a pad among them" : "")});
}

void draw_sign(SvgWriter& svg, SvgPoint at, double size_mm, bool plus) {
  const double half = size_mm / 2;
  svg.line({at.x - half, at.y}, {at.x + half, at.y}, SvgLine::wide);
  if (plus) svg.line({at.x, at.y - half}, {at.x, at.y + half}, SvgLine::wide);
}

double sign_size(double cell_width_mm) {
  return std::min(largest_sign_mm, sign_share_of_cell * cell_width_mm);
}

double thinnest_on_paper(const DrawnRow& row, const SheetChoice& choice) {
  double thinnest = row.cells.front().thickness_mm;
  for (const DrawnCell& cell : row.cells) thinnest = std::min(thinnest, cell.thickness_mm);
  return choice.paper(least_pressed_share * thinnest);
}

// The first is always numbered where the next number is far enough.
bool has_number(int number, int step) {
  return number % step == 0 || (number == 1 && step > 2);
}

// What is written on cells: their ids where all fit the room between terminals, else numbers.
struct Labels {
  std::vector<std::string> texts;
  bool lie = true;  ///< all have room across their cell; else they stand upright
};

Labels labels_of(const RowOnPaper& row, double room_mm) {
  const std::vector<DrawnCell>& cells = row.row->cells;
  const bool ids = std::all_of(cells.begin(), cells.end(), [&](const DrawnCell& cell) {
    return text_width_mm(cell.id, least_text_mm) <= room_mm;
  });
  const double across = thinnest_on_paper(*row.row, row.choice);
  Labels labels;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool by_id = ids && !cells[i].id.empty();
    labels.texts.push_back(by_id ? cells[i].id : std::to_string(cell_number(row, i)));
    if (text_width_mm(labels.texts.back(), least_text_mm) + 1 > across) labels.lie = false;
  }
  return labels;
}

void draw_label(SvgWriter& svg, SvgPoint middle, const std::string& text, bool lies) {
  constexpr double half_letter = 0.36 * least_text_mm;
  const SvgPoint at = lies ? SvgPoint{middle.x, middle.y + half_letter}
                           : SvgPoint{middle.x + half_letter, middle.y};
  svg.text(at, text, {.anchor = SvgAnchor::middle, .turned = !lies});
}

}  // namespace

RowSpots row_spots(const DrawnRow& row, double length_mm) {
  check(row, length_mm);
  const double share = pressed_share(row, length_mm);
  RowSpots spots;
  double at = 0;
  for (std::size_t i = 0; i < row.gaps.size(); ++i) {
    spots.gaps.push_back({at, at + row.gaps[i].sheets_mm});
    at = spots.gaps.back().to_mm;
    if (i == row.cells.size()) break;
    spots.cells.push_back({at, at + share * row.cells[i].thickness_mm});
    at = spots.cells.back().to_mm;
  }
  return spots;
}

int number_step(const DrawnRow& row, const SheetChoice& choice) {
  const double width = thinnest_on_paper(row, choice);
  for (const int step : {1, 2, 5}) {
    if (step * width >= turned_text_room_mm) return step;
  }
  return 10;
}

void draw_row_from_side(SvgWriter& svg, const RowOnPaper& row, const RowHeights& heights) {
  const double face = row.choice.paper(heights.face_mm);
  const double terminal = row.choice.paper(heights.terminal_mm);
  const double top = heights.base_mm - face;
  for (std::size_t i = 0; i < row.spots.cells.size(); ++i) {
    const RowSpot& spot = row.spots.cells[i];
    const double width = row.x(spot.to_mm) - row.x(spot.from_mm);
    svg.rect({row.x(spot.from_mm), top, width, face}, {SvgLine::thin, SvgFill::light},
             {fmt::format("{}-cell-{}", row.prefix, i + 1), cell_title(row, i)});
    if (terminal > 0) {
      const double wide = terminal_share_of_cell * width;
      svg.rect({row.x(spot.middle_mm()) - wide / 2, top - terminal, wide, terminal},
               {SvgLine::thin, SvgFill::white});
    }
    const double sign = sign_size(width);
    draw_sign(svg, {row.x(spot.middle_mm()), top + sign / 2 + 1}, sign,
              row.row->cells[i].plus_near);
  }
  for (std::size_t i = 0; i < row.spots.gaps.size(); ++i) {
    const RowSpot& spot = row.spots.gaps[i];
    draw_gap(svg, row, i,
             {row.x(spot.from_mm), top, row.x(spot.to_mm) - row.x(spot.from_mm), face});
  }
}

void draw_row_from_above(SvgWriter& svg, const RowOnPaper& row, const RowAcross& across) {
  const double deep = across.near_mm - across.far_mm;
  const double middle = (across.near_mm + across.far_mm) / 2;
  const double room = std::min(longest_label_mm, across.terminals_mm - largest_sign_mm - 1.5);
  const int step = number_step(*row.row, row.choice);
  const Labels labels = labels_of(row, room);
  for (std::size_t i = 0; i < row.spots.cells.size(); ++i) {
    const RowSpot& spot = row.spots.cells[i];
    const double width = row.x(spot.to_mm) - row.x(spot.from_mm);
    const DrawnCell& cell = row.row->cells[i];
    svg.rect({row.x(spot.from_mm), across.far_mm, width, deep}, {SvgLine::thin, SvgFill::light},
             {fmt::format("{}-cell-{}", row.prefix, i + 1), cell_title(row, i)});
    const double x = row.x(spot.middle_mm());
    draw_sign(svg, {x, middle + across.terminals_mm / 2}, sign_size(width), cell.plus_near);
    draw_sign(svg, {x, middle - across.terminals_mm / 2}, sign_size(width), !cell.plus_near);
    if (has_number(cell_number(row, i), step)) {
      draw_label(svg, {x, middle}, labels.texts[i], labels.lie);
    }
  }
  for (std::size_t i = 0; i < row.spots.gaps.size(); ++i) {
    const RowSpot& spot = row.spots.gaps[i];
    draw_gap(svg, row, i,
             {row.x(spot.from_mm), across.far_mm, row.x(spot.to_mm) - row.x(spot.from_mm), deep});
  }
}

bool gap_figures_fit(const DrawnRow& row, const SheetChoice& choice) {
  return thinnest_on_paper(row, choice) >= turned_text_room_mm;
}

double gap_figures_height(const DrawnRow& row) {
  double height = 0;
  for (const DrawnGap& gap : row.gaps) {
    height = std::max(height, text_width_mm(gap_text(gap), least_text_mm));
  }
  return height;
}

void draw_gap_figures(SvgWriter& svg, const RowOnPaper& row, double bottom_mm) {
  for (std::size_t i = 0; i < row.spots.gaps.size(); ++i) {
    const double x = row.x(row.spots.gaps[i].middle_mm());
    svg.text({x + 0.36 * least_text_mm, bottom_mm}, gap_text(row.row->gaps[i]), {.turned = true});
  }
}

}  // namespace stackfit::cli
