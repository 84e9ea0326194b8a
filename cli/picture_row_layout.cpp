// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_row_layout.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/gap_recipes.hpp"
#include "cli/picture_parts.hpp"
#include "cli/view_text_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr std::size_t least_in_a_strip = 8;
constexpr double row_width = picture_width - 2 * row_margin;
/// Of the walls: a row of one or two cells is not to fill a page, and thin cells are to be wide
/// enough for two upright lines of text, within reason.
constexpr double usual_height = 150;
constexpr double tallest = 300;
constexpr double least_cell = 28;
/// A wall known by its bow alone has no thickness.
constexpr double usual_wall_mm = 3;

DrawnRow drawn_row(const Answer& answer) {
  DrawnRow row;
  for (const CellResult& cell : answer.cells) {
    row.cells.push_back({cell.id, cell.free_mm, cell.plus_near_side});
  }
  for (const GapResult& gap : answer.plan.gaps) {
    row.gaps.push_back({gap.total_mm, holds_pad(gap)});
  }
  return row;
}

// Between the walls; without a picture, the row less what gives in it.
double length_of(const Answer& answer, const DrawnRow& row) {
  double cells = 0;
  double sheets = 0;
  for (const DrawnCell& cell : row.cells) cells += cell.thickness_mm;
  for (const DrawnGap& gap : row.gaps) sheets += gap.sheets_mm;
  const double inside = answer.picture && answer.picture->inner_length_mm > 0
                            ? answer.picture->inner_length_mm
                            : cells + sheets - std::max(0.0, answer.plan.cells_give_mm);
  // Drawn even where so much is placed that no row could be pressed in.
  constexpr double on_the_safe_side = 1.001;
  return std::max(inside, sheets + on_the_safe_side * least_pressed_share * cells);
}

double thinnest_cell_mm(const DrawnRow& row) {
  return std::min_element(
             row.cells.begin(), row.cells.end(),
             [](const DrawnCell& a, const DrawnCell& b) { return a.thickness_mm < b.thickness_mm; })
      ->thickness_mm;
}

// More of thin cells, which at the largest scale would not fill a strip.
std::size_t cells_in_a_strip(std::size_t cells, double length_mm, double tallest_scale) {
  const double pitch = tallest_scale * length_mm / static_cast<double>(cells);
  return std::max(least_in_a_strip, static_cast<std::size_t>(row_width / pitch));
}

std::vector<RowStrip> strips_of(const RowSpots& spots, double length_mm, double tallest_scale) {
  const std::size_t cells = spots.cells.size();
  const std::size_t most = cells_in_a_strip(cells, length_mm, tallest_scale);
  const std::size_t count = (cells + most - 1) / most;
  std::vector<RowStrip> strips;
  for (std::size_t i = 0; i < count; ++i) {
    RowStrip strip{i * cells / count, (i + 1) * cells / count, 0, 0};
    strip.from_mm = i == 0 ? 0 : spots.cells[strip.first].from_mm;
    strip.to_mm = i + 1 == count ? length_mm : spots.gaps[strip.last].to_mm;
    strips.push_back(strip);
  }
  return strips;
}

DrawnWall wall_of(const Answer& answer, bool last) {
  DrawnWall wall;
  wall.name = std::string(last ? last_wall_name(answer) : first_wall_name(answer));
  wall.comes_off = !answer.clamp_frame && wall.name == "loose wall";
  wall.thickness_mm = usual_wall_mm;
  for (const WallResult& result : answer.plan.walls) {
    if ((result.both || result.last == last) && result.thickness_mm > 0) {
      wall.thickness_mm = result.thickness_mm;
    }
  }
  if (answer.picture) {
    const WallLines& lines = last ? answer.picture->last_wall : answer.picture->first_wall;
    if (lines.up_mm.size() > 1) wall.up_mm = lines.up_mm;
    if (lines.across_mm.size() > 1) wall.across_mm = lines.across_mm;
  }
  return wall;
}

// The roundest factor that keeps what is `units` long within `room`.
int times_for(double units, double room) {
  int times = 1;
  for (const int more : {2, 5, 10, 20, 50, 100, 200}) {
    if (units * more <= room) times = more;
  }
  return times;
}

double greatest_bow(const RowLayout& layout) {
  double greatest = 0;
  for (const DrawnWall* wall : {&layout.first_wall, &layout.last_wall}) {
    for (const auto* line : {&wall->up_mm, &wall->across_mm}) {
      for (const double mm : *line) greatest = std::max(greatest, std::abs(mm));
    }
  }
  return greatest;
}

void exaggerate(RowLayout& layout) {
  constexpr double bow_room = 9;
  constexpr double dome_room = 7;
  constexpr double nothing_mm = 1e-4;
  layout.greatest_bow_mm = greatest_bow(layout);
  if (layout.greatest_bow_mm > nothing_mm) {
    layout.bow_times = times_for(layout.units(layout.greatest_bow_mm), bow_room);
  }
  double dome_mm = 0;
  for (const CellResult& cell : layout.answer->cells) {
    if (cell.beyond_watch) dome_mm = std::max(dome_mm, cell.dome_mm);
  }
  if (dome_mm > 0) layout.dome_times = times_for(layout.units(dome_mm / 2), dome_room);
}

void measure_face(RowLayout& layout, const Answer& answer) {
  const double side = answer.band.face_area_mm2 > 0 ? std::sqrt(answer.band.face_area_mm2) : 150;
  layout.face_width_mm = layout.face_height_mm = side;
  if (answer.picture && answer.picture->worst_face.width_mm > 0) {
    layout.face_width_mm = answer.picture->worst_face.width_mm;
    layout.face_height_mm = answer.picture->worst_face.height_mm;
  }
  layout.wall_width_mm = layout.face_width_mm;
  layout.wall_height_mm = layout.face_height_mm;
  if (answer.picture) {
    layout.wall_width_mm = std::max(layout.face_width_mm, answer.picture->wall_width_mm);
    layout.wall_height_mm = std::max(layout.face_height_mm, answer.picture->wall_height_mm);
  }
}

std::string gap_in_words(const GapResult& gap) {
  const std::string sheets = sheets_text(gap);
  std::string text = fmt::format("gap {}: {}", gap.name, sheets.empty() ? "nothing" : sheets);
  if (gap.sheets.size() > 1 || (gap.sheets.size() == 1 && gap.sheets.front().count > 1)) {
    text += fmt::format(", together {}", mm_text(gap.total_mm));
  }
  if (!sheets.empty()) text += " mm";
  if (gap.slippery_towards_cell > 0) {
    text += fmt::format(", slippery face towards cell {}", gap.slippery_towards_cell);
  }
  return text;
}

std::string cell_in_words(const CellResult& cell, int number) {
  std::string text = fmt::format("cell {}", number);
  if (!cell.id.empty() && cell.id != std::to_string(number)) {
    text += fmt::format(" ({})", name_in_sentence(cell.id));
  }
  text += fmt::format(", {} mm at its edge, {} nearest you", mm_text(cell.edge_mm),
                      cell.plus_near_side ? "plus" : "minus");
  if (cell.beyond_watch) text += fmt::format(", swollen, its dome {} mm", mm_text(cell.dome_mm));
  if (cell.refused) text += ", never to be pressed";
  return text;
}

}  // namespace

double RowLayout::x(const RowStrip& strip, double along_mm) const {
  return left + units(along_mm - strip.from_mm);
}

namespace {

void label_gaps(const PlanResult& plan, RowLayout& layout) {
  constexpr double longest_label = 70;
  for (const GapResult& gap : plan.gaps) {
    layout.gap_labels.push_back(sheets_text(gap));
  }
  const bool fit = std::ranges::all_of(layout.gap_labels, [](const std::string& label) {
    return text_width_mm(label, picture_text) <= longest_label;
  });
  if (fit) {
    return;
  }
  const GapRecipes recipes = recipes_of(plan, Figures());
  for (std::size_t i = 0; i < plan.gaps.size(); ++i) {
    layout.gap_labels[i] =
        fmt::format("{}  {}", recipes.letter_of_gap[i], mm_text(plan.gaps[i].total_mm));
  }
  for (const GapRecipe& recipe : recipes.recipes) {
    // In how many gaps is seen.
    const std::string words = recipe.words.substr(0, recipe.words.rfind(", in "));
    layout.gap_key.push_back(text_to_fit(fmt::format("{}: {}", recipe.letter, words), picture_text,
                                         picture_width - picture_text));
  }
}

}  // namespace

RowLayout row_layout(const Answer& answer) {
  RowLayout layout;
  label_gaps(answer.plan, layout);
  layout.answer = &answer;
  const DrawnRow row = drawn_row(answer);
  layout.length_mm = length_of(answer, row);
  layout.spots = row_spots(row, layout.length_mm);
  layout.first_wall = wall_of(answer, false);
  layout.last_wall = wall_of(answer, true);
  measure_face(layout, answer);
  const double across_mm = std::max(layout.wall_height_mm, layout.wall_width_mm);
  layout.strips = strips_of(layout.spots, layout.length_mm, tallest / across_mm);
  layout.scale =
      std::clamp(least_cell / thinnest_cell_mm(row), usual_height / across_mm, tallest / across_mm);
  double longest_mm = 0;
  for (const RowStrip& strip : layout.strips) {
    longest_mm = std::max(longest_mm, strip.to_mm - strip.from_mm);
  }
  layout.scale = std::min(layout.scale, row_width / longest_mm);
  layout.left = (picture_width - layout.units(longest_mm)) / 2;
  exaggerate(layout);
  return layout;
}

bool holds_pad(const GapResult& gap) {
  return std::any_of(gap.sheets.begin(), gap.sheets.end(),
                     [](const GapSheet& sheet) { return sheet.origin == SheetOrigin::pad; });
}

std::vector<std::string> sheet_texts(const GapResult& gap) {
  std::vector<std::string> texts;
  for (const GapSheet& sheet : gap.sheets) {
    if (sheet.count <= 0) continue;
    std::string text = sheet.origin == SheetOrigin::pad ? "pad " : "";
    if (sheet.count > 1) text += fmt::format("{} \u00d7 ", sheet.count);
    texts.push_back(text + mm_text(sheet.thickness_mm));
  }
  return texts;
}

std::string sheets_text(const GapResult& gap) {
  std::string all;
  for (const std::string& text : sheet_texts(gap)) all += (all.empty() ? "" : " + ") + text;
  return all;
}

std::string row_in_words(const RowLayout& layout) {
  const Answer& answer = *layout.answer;
  std::string text = fmt::format("From left to right: {}", layout.first_wall.name);
  for (std::size_t i = 0; i < answer.plan.gaps.size(); ++i) {
    text += "; " + gap_in_words(answer.plan.gaps[i]);
    if (i < answer.cells.size()) {
      text += "; " + cell_in_words(answer.cells[i], answer.first_cell + static_cast<int>(i));
    }
  }
  text +=
      fmt::format("; {}. {} mm between them.", layout.last_wall.name, mm_text(layout.length_mm));
  if (layout.greatest_bow_mm > 0) {
    text += fmt::format(" As built the ends bow outwards by up to {} mm, drawn {} times.",
                        mm_text(layout.greatest_bow_mm), layout.bow_times);
  }
  return text;
}

std::string polarity_in_words(const RowLayout& layout) {
  const Answer& answer = *layout.answer;
  std::string plus;
  std::string minus;
  for (std::size_t i = 0; i < answer.cells.size(); ++i) {
    std::string& list = answer.cells[i].plus_near_side ? plus : minus;
    list += fmt::format("{}{}", list.empty() ? "" : ", ", answer.first_cell + static_cast<int>(i));
  }
  return fmt::format(
      "The same row from above, {} to the left and {} to the right; the side nearest you is below. "
      "Plus nearest you: {}. Minus nearest you: {}.",
      layout.first_wall.name, layout.last_wall.name, plus.empty() ? "no cell" : "cells " + plus,
      minus.empty() ? "no cell" : "cells " + minus);
}

}  // namespace stackfit::cli
