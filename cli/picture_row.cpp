// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_row.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "cli/picture_parts.hpp"
#include "cli/picture_row_layout.hpp"
#include "cli/picture_row_walls.hpp"
#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

constexpr double hairline = 0.7;
constexpr double label_gap = 5;
constexpr double terminal_height = 6;

bool has_gap(const RowStrip& strip, std::size_t gap) {
  return gap <= strip.last && (gap > strip.first || (gap == 0 && strip.first == 0));
}

/// The greatest room that the upright words of a strip's gaps take.
template <class WordsOf>
double tallest_label(const RowLayout& layout, const RowStrip& strip, const WordsOf& words_of) {
  double tallest = 0;
  for (std::size_t i = 0; i < layout.answer->plan.gaps.size(); ++i) {
    if (has_gap(strip, i)) {
      tallest = std::max(tallest, text_width_mm(words_of(i), picture_text));
    }
  }
  return tallest;
}

// --- Cells --------------------------------------------------------------------------------

// Lying where there is room, else upright; cut to fit.
void write_on_cell(SvgWriter& svg, SvgPoint middle, std::string_view text, double width,
                   double height, bool bold) {
  if (text_width_mm(text, picture_text) <= width) {
    write(svg, {middle.x, middle.y + half_letter}, text,
          {.anchor = SvgAnchor::middle, .bold = bold});
    return;
  }
  if (height > width) {
    write_upright(svg, middle, text_to_fit(text, picture_text, height),
                  {.anchor = SvgAnchor::middle, .bold = bold});
    return;
  }
  write(svg, {middle.x, middle.y + half_letter}, text_to_fit(text, picture_text, width),
        {.anchor = SvgAnchor::middle, .bold = bold});
}

std::string id_of(const Answer& answer, std::size_t index) {
  const std::string& id = answer.cells[index].id;
  return id.empty() ? std::to_string(answer.first_cell + static_cast<int>(index)) : printable(id);
}

// Its id and its thickness: one over the other where both lie, else side by side.
void write_cell(SvgWriter& svg, const StripPlace& place, std::size_t index, const SvgBox& room) {
  const Answer& answer = *place.layout.answer;
  const std::string id = id_of(answer, index);
  const std::string thickness = mm_text(answer.cells[index].edge_mm);
  const SvgPoint middle{room.x + room.width / 2, room.y + room.height / 2};
  const bool lie = text_width_mm(thickness, picture_text) <= room.width;
  const bool short_id = text_width_mm(id, picture_text) <= room.width;
  if (lie && (short_id || room.height < 4 * text_line)) {
    const double step = text_line / 2;
    write_on_cell(svg, {middle.x, middle.y - step}, id, room.width, text_line, true);
    write_on_cell(svg, {middle.x, middle.y + step}, thickness, room.width, text_line, false);
  } else if (lie) {
    write_on_cell(svg, {middle.x, room.bottom() - text_line / 2}, thickness, room.width, 0, false);
    write_upright(svg, {middle.x, middle.y - text_line / 2},
                  text_to_fit(id, picture_text, room.height - text_line - 4),
                  {.anchor = SvgAnchor::middle, .bold = true});
  } else if (room.width >= 2 * picture_text) {
    const double step = picture_text / 2;
    write_on_cell(svg, {middle.x - step, middle.y}, id, 0, room.height, true);
    write_on_cell(svg, {middle.x + step, middle.y}, thickness, 0, room.height, false);
  } else {
    write_on_cell(svg, middle, id + "  " + thickness, 0, room.height, false);
  }
}

// Both faces' domes as they stand free, over the row they are pressed into.
void draw_dome(SvgWriter& svg, const StripPlace& place, std::size_t index, const SvgBox& box) {
  const CellResult& cell = place.layout.answer->cells[index];
  if (!cell.beyond_watch || place.layout.dome_times == 0) return;
  const double out = place.layout.units(cell.dome_mm / 2) * place.layout.dome_times;
  // The middle of a quadratic curve lies half as far out as its handle.
  const auto bulge = [&](double x, double away) {
    svg.path(fmt::format("M{} {}Q{} {} {} {}", svg.number(x), svg.number(box.y),
                         svg.number(x + 2 * away), svg.number(box.y + box.height / 2),
                         svg.number(x), svg.number(box.bottom())),
             {SvgLine::hidden, SvgFill::none});
  };
  bulge(box.x, -out);
  bulge(box.right(), out);
}

void draw_signs(SvgWriter& svg, const StripPlace& place, std::size_t index, const SvgBox& box) {
  const CellResult& cell = place.layout.answer->cells[index];
  const double size = std::min(9.0, 0.6 * box.width);
  const double x = box.x + box.width / 2;
  constexpr double inset = 11;
  if (place.seen == Seen::from_side) {
    const double wide = 0.4 * box.width;
    svg.rect({x - wide / 2, box.y - terminal_height, wide, terminal_height},
             {SvgLine::thin, SvgFill::metal});
    draw_polarity(svg, {x, box.y + inset}, cell.plus_near_side, size);
    return;
  }
  draw_polarity(svg, {x, box.y + inset}, !cell.plus_near_side, size);
  draw_polarity(svg, {x, box.bottom() - inset}, cell.plus_near_side, size);
}

bool is_marked(const CellResult& cell) {
  return cell.refused || cell.beyond_watch;
}

// Names for a mouse to find; a long row has them in its table alone, for the page's weight.
bool names_parts(const StripPlace& place) {
  constexpr std::size_t most = 16;
  return place.layout.answer->cells.size() <= most;
}

void draw_cell(SvgWriter& svg, const StripPlace& place, std::size_t index) {
  const SvgBox box = place.box(place.layout.spots.cells[index]);
  const CellResult& cell = place.layout.answer->cells[index];
  const std::string name =
      names_parts(place)
          ? fmt::format("Cell {}: {} mm", name_in_sentence(id_of(*place.layout.answer, index)),
                        mm_text(cell.edge_mm))
          : "";
  svg.rect(box, {SvgLine::thin, SvgFill::light}, {"", name});
  draw_signs(svg, place, index, box);
  constexpr double beside = 0.5;
  constexpr double over = 20;
  const double under = place.seen == Seen::from_side ? 6 : over;
  SvgBox room{box.x + beside, box.y + over, box.width - 2 * beside, box.height - over - under};
  if (is_marked(cell)) {
    constexpr double radius = 6;
    draw_octagon(svg, {box.x + box.width / 2, room.bottom() - radius}, radius);
    room.height -= 2 * radius + 2;
  }
  write_cell(svg, place, index, room);
}

// --- Gaps ---------------------------------------------------------------------------------

// A dashed edge on the side of the cell that slides along it.
void draw_slippery(SvgWriter& svg, const StripPlace& place, std::size_t index, const SvgBox& box) {
  const GapResult& gap = place.layout.answer->plan.gaps[index];
  if (gap.slippery_towards_cell == 0) return;
  const int before = place.layout.answer->first_cell + static_cast<int>(index) - 1;
  constexpr double wide = 2.4;
  constexpr double dash = 5;
  const double x = gap.slippery_towards_cell == before ? box.x - wide : box.right();
  std::string path;
  for (double y = box.y; y + dash <= box.bottom(); y += 2 * dash) {
    path += fmt::format("M{} {}h{}v{}h-{}z", svg.number(x), svg.number(y), wide, dash, wide);
  }
  svg.path(path, {SvgLine::none, SvgFill::slip},
           {"", fmt::format("Slippery face towards cell {}", gap.slippery_towards_cell)});
}

void draw_pad(SvgWriter& svg, const SvgBox& box) {
  svg.rect(box, {SvgLine::thin, SvgFill::pad});
  svg.rect(box, {SvgLine::none, SvgFill::hatch});
}

void draw_gap(SvgWriter& svg, const StripPlace& place, std::size_t index) {
  const GapResult& gap = place.layout.answer->plan.gaps[index];
  const SvgBox whole = place.box(place.layout.spots.gaps[index]);
  const std::string text = sheets_text(gap);
  if (text.empty()) return;
  double x = whole.x;
  std::string sheets;  // all of a gap in one path
  for (const GapSheet& sheet : gap.sheets) {
    const double width = place.layout.units(sheet.thickness_mm * sheet.count);
    const double drawn = std::max(hairline, width);
    const double from = drawn > width ? x - (drawn - width) / 2 : x;
    if (sheet.origin == SheetOrigin::pad) {
      draw_pad(svg, {from, whole.y, drawn, whole.height});
    } else {
      sheets += fmt::format("M{} {}h{}v{}h-{}z", svg.number(from), svg.number(whole.y),
                            svg.number(drawn), svg.number(whole.height), svg.number(drawn));
    }
    x += width;
  }
  if (!sheets.empty()) {
    svg.path(sheets, {SvgLine::none, SvgFill::sheet},
             {"", names_parts(place) ? fmt::format("Gap {}: {} mm", gap.name, text) : ""});
  }
  draw_slippery(svg, place, index, whole);
}

void write_gaps(SvgWriter& svg, const StripPlace& place, double over, double under) {
  const std::vector<GapResult>& gaps = place.layout.answer->plan.gaps;
  for (std::size_t i = 0; i < gaps.size(); ++i) {
    if (!has_gap(place.strip, i)) continue;
    const double x = place.x(place.layout.spots.gaps[i].middle_mm());
    const std::string& label = place.layout.gap_labels[i];
    if (!label.empty()) {
      svg.line({x, over}, {x, place.top - 1}, SvgLine::thin);
      write_upright(svg, {x, over - 2}, label);
    }
    write_upright(svg, {x, under + 2}, gaps[i].name, {.anchor = SvgAnchor::end, .quiet = true});
  }
}

// --- The strip ----------------------------------------------------------------------------

// Zigzag: the row goes on in the next strip.
void draw_break(SvgWriter& svg, double x, double top, double bottom) {
  const double middle = (top + bottom) / 2;
  svg.path(fmt::format("M{0} {1}V{2}l-5 4 10 6 -5 4V{3}", svg.number(x), svg.number(top - 8),
                       svg.number(middle - 7), svg.number(bottom + 8)),
           {SvgLine::thin, SvgFill::none});
}

void draw_strip(SvgWriter& svg, const StripPlace& place, double over, double under) {
  draw_between_ends(svg, place);
  for (std::size_t i = place.strip.first; i < place.strip.last; ++i) draw_cell(svg, place, i);
  for (std::size_t i = 0; i < place.layout.spots.gaps.size(); ++i) {
    if (has_gap(place.strip, i)) draw_gap(svg, place, i);
  }
  for (std::size_t i = place.strip.first; i < place.strip.last; ++i) {
    draw_dome(svg, place, i, place.box(place.layout.spots.cells[i]));
  }
  if (place.is_first()) draw_wall(svg, place, false);
  if (place.is_last()) draw_wall(svg, place, true);
  if (!place.is_first()) draw_break(svg, place.x(place.strip.from_mm) - 6, place.top, place.bottom);
  if (!place.is_last()) draw_break(svg, place.x(place.strip.to_mm) + 6, place.top, place.bottom);
  write_gaps(svg, place, over, under);
}

// --- The whole ----------------------------------------------------------------------------

std::vector<std::string> remarks_of(const RowLayout& layout, Seen seen) {
  std::vector<std::string> remarks = layout.gap_key;
  if (seen == Seen::from_side) {
    remarks.emplace_back("+ and -: the terminal at the side nearest you.");
  } else {
    remarks.emplace_back("The side nearest you is below.");
  }
  if (layout.greatest_bow_mm > 0 && layout.bow_times > 1) {
    remarks.push_back(fmt::format("Bow as built, up to {} mm: drawn {} times.",
                                  mm_text(layout.greatest_bow_mm), layout.bow_times));
  }
  const std::vector<CellResult>& cells = layout.answer->cells;
  if (std::any_of(cells.begin(), cells.end(), is_marked)) {
    remarks.emplace_back("Octagon: swollen, or never to be pressed.");
  }
  if (layout.dome_times > 0) {
    remarks.push_back(
        fmt::format("Dashed: a swollen cell's dome, drawn {} times.", layout.dome_times));
  }
  const std::vector<GapResult>& gaps = layout.answer->plan.gaps;
  if (std::any_of(gaps.begin(), gaps.end(),
                  [](const GapResult& gap) { return gap.slippery_towards_cell > 0; })) {
    remarks.emplace_back("Dashes: slippery face, towards that cell.");
  }
  if (std::any_of(gaps.begin(), gaps.end(), holds_pad)) {
    remarks.emplace_back("Hatched: a pad, drawn as thick as it is free.");
  }
  return remarks;
}

double scale_bar_mm(const RowLayout& layout) {
  double length = 10;
  for (const double more : {20.0, 50.0, 100.0, 200.0}) {
    if (layout.units(more) <= 0.3 * picture_width) length = more;
  }
  return length;
}

void draw_foot(SvgWriter& svg, const RowLayout& layout, const std::vector<std::string>& remarks,
               double y) {
  constexpr double left = 4;
  const double length = scale_bar_mm(layout);
  const double end = left + layout.units(length);
  svg.line({left, y}, {end, y}, SvgLine::wide);
  for (const double x : {left, end}) svg.line({x, y - 4}, {x, y + 4}, SvgLine::wide);
  write(svg, {end + 6, y + half_letter}, fmt::format("{:g} mm. Thicknesses in mm.", length));
  for (const std::string& remark : remarks) {
    y += text_line;
    write(svg, {left, y + half_letter}, remark, {.quiet = true});
  }
}

struct StripHeights {
  double labels = 0;  ///< over the cells
  double cells = 0;
  double names = 0;     ///< under them
  double beyond = 0;    ///< walls reach so far over, and of frames and from above under, the cells
  double between = 14;  ///< strips
};

StripHeights heights_of(const RowLayout& layout, const RowStrip& strip, Seen seen) {
  StripHeights heights;
  const bool side = seen == Seen::from_side;
  heights.cells = layout.units(side ? layout.face_height_mm : layout.face_width_mm);
  const double wall = layout.units(side ? layout.wall_height_mm : layout.wall_width_mm);
  const bool middle = !side || layout.answer->clamp_frame;
  heights.beyond = std::max(side ? terminal_height : 0.0,
                            middle ? (wall - heights.cells) / 2 : wall - heights.cells);
  heights.labels =
      tallest_label(layout, strip, [&](std::size_t gap) { return layout.gap_labels[gap]; });
  heights.names = tallest_label(
      layout, strip, [&](std::size_t gap) { return layout.answer->plan.gaps[gap].name; });
  return heights;
}

double under_walls(const RowLayout& layout, Seen seen, const StripHeights& heights) {
  return seen == Seen::from_side && !layout.answer->clamp_frame ? 0 : heights.beyond;
}

double strip_height(const RowLayout& layout, Seen seen, const StripHeights& heights) {
  return heights.labels + heights.beyond + heights.cells + under_walls(layout, seen, heights) +
         heights.names + 4 * label_gap;
}

std::string draw_row(const Answer& answer, const std::string& id, Seen seen) {
  const RowLayout layout = row_layout(answer);
  const std::vector<std::string> remarks = remarks_of(layout, seen);
  double height = 0;
  for (const RowStrip& strip : layout.strips) {
    const StripHeights heights = heights_of(layout, strip, seen);
    height += strip_height(layout, seen, heights) + heights.between;
  }
  const double foot = text_line * (static_cast<double>(remarks.size()) + 1) + 4;
  const std::string from = seen == Seen::from_side ? "from the side" : "from above";
  SvgWriter svg({picture_width,
                 height + foot,
                 "The row to scale, " + from,
                 seen == Seen::from_side ? row_in_words(layout) : polarity_in_words(layout),
                 id,
                 {.classes = layout.strips.size() > 1 ? "tall" : "", .data = {}}});
  if (std::any_of(answer.plan.gaps.begin(), answer.plan.gaps.end(), holds_pad)) {
    svg.define_hatch(4);
  }
  double y = 0;
  for (const RowStrip& strip : layout.strips) {
    const StripHeights heights = heights_of(layout, strip, seen);
    const double over = y + heights.labels + label_gap;
    const double top = over + heights.beyond + label_gap;
    const double bottom = top + heights.cells;
    const double under = bottom + under_walls(layout, seen, heights) + label_gap;
    draw_strip(svg, {layout, strip, seen, top, bottom}, over, under);
    y += strip_height(layout, seen, heights) + heights.between;
  }
  draw_foot(svg, layout, remarks, y + text_line / 2);
  return std::move(svg).finish();
}

}  // namespace

std::string row_from_side(const Answer& answer, const std::string& id) {
  return draw_row(answer, id, Seen::from_side);
}

std::string row_from_above(const Answer& answer, const std::string& id) {
  return draw_row(answer, id, Seen::from_above);
}

}  // namespace stackfit::cli
