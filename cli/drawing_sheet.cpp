// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/drawing_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string_view>

#include "cli/cautions.hpp"
#include "cli/drawing_looks.hpp"

namespace stackfit::cli {
namespace {

// ISO 5457 (from memory): 20 mm to the left for filing, 10 mm elsewhere.
constexpr double left_edge_mm = 20;
constexpr double other_edge_mm = 10;
constexpr double block_width_mm = 120;
constexpr double block_height_mm = 33;
constexpr double line_step_mm = 3.6;
constexpr double notes_inset_mm = 2;
constexpr double ruler_mm = 50;
constexpr double ruler_height_mm = 6;

SvgBox drawing_space(const SheetSize& sheet) {
  return {left_edge_mm, other_edge_mm, sheet.width_mm - left_edge_mm - other_edge_mm,
          sheet.height_mm - 2 * other_edge_mm};
}

struct NoteLine {
  std::string text;
  bool bold = false;
};

// Words flowed into a width; a word too long for it is cut.
std::vector<std::string> wrapped(std::string_view text, double width_mm) {
  std::vector<std::string> lines;
  std::string line;
  while (!text.empty()) {
    const std::size_t space = text.find(' ');
    const std::string_view word = text.substr(0, space);
    text.remove_prefix(space == std::string_view::npos ? text.size() : space + 1);
    const std::string longer = line.empty() ? std::string(word) : line + ' ' + std::string(word);
    if (line.empty() || text_width_mm(longer, least_text_mm) <= width_mm) {
      line = text_to_fit(longer, least_text_mm, width_mm);
      continue;
    }
    lines.push_back(line);
    line = text_to_fit(word, least_text_mm, width_mm);
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

std::vector<NoteLine> note_lines(const std::vector<DrawingNote>& notes, double width_mm) {
  std::vector<NoteLine> lines;
  for (const DrawingNote& note : notes) {
    for (std::string& text : wrapped(note.text, width_mm)) {
      lines.push_back({std::move(text), note.bold});
    }
  }
  return lines;
}

double notes_width(const SheetSize& sheet) {
  return drawing_space(sheet).width - block_width_mm - 2 * notes_inset_mm;
}

std::vector<NoteLine> caution_lines(const SheetSize& sheet) {
  const std::vector<DrawingNote> said{{std::string("STOP: ") + cautions::never_pressed, true},
                                      {cautions::overruled, false}};
  return note_lines(said, drawing_space(sheet).width - 2 * notes_inset_mm);
}

double lines_height(std::size_t lines) {
  return static_cast<double>(lines) * line_step_mm;
}

double strip_height(const SheetSize& sheet, const std::vector<DrawingNote>& notes) {
  const double cautions = lines_height(caution_lines(sheet).size());
  const double noted = lines_height(note_lines(notes, notes_width(sheet)).size());
  return 2 * notes_inset_mm + cautions + std::max(block_height_mm + ruler_height_mm, noted);
}

// Gives the y under the lines.
double draw_lines(SvgWriter& svg, SvgPoint corner, const std::vector<NoteLine>& lines) {
  double y = corner.y;
  for (const NoteLine& line : lines) {
    svg.text({corner.x, y + least_text_mm}, line.text, {.bold = line.bold});
    y += line_step_mm;
  }
  return y;
}

// A line of known length: a printer that shrinks the sheet is found out by it.
void draw_ruler(SvgWriter& svg, SvgPoint at) {
  const SvgPoint end{at.x + ruler_mm, at.y};
  svg.line(at, end, SvgLine::wide);
  for (const SvgPoint& tick : {at, end}) {
    svg.line({tick.x, tick.y - 1.2}, {tick.x, tick.y + 1.2}, SvgLine::wide);
  }
  svg.text({end.x + 3, at.y + 0.9}, "50 mm: else the print is not to scale", {});
}

void draw_notes(SvgWriter& svg, const SvgBox& strip, const SheetSize& sheet,
                const std::vector<DrawingNote>& notes) {
  const double left = strip.x + notes_inset_mm;
  const double under =
      draw_lines(svg, {left, strip.y + notes_inset_mm}, caution_lines(sheet)) + 0.4;
  draw_lines(svg, {left, under}, note_lines(notes, notes_width(sheet)));
  draw_ruler(svg, {strip.right() - block_width_mm + 1,
                   strip.bottom() - block_height_mm - ruler_height_mm / 2});
}

struct BlockField {
  std::string label;
  std::string value;
  double width_mm = 0;
};

void draw_row(SvgWriter& svg, SvgPoint corner, double height_mm,
              const std::vector<BlockField>& fields) {
  double x = corner.x;
  for (const BlockField& field : fields) {
    svg.rect({x, corner.y, field.width_mm, height_mm}, {SvgLine::thin, SvgFill::none});
    const double room = field.width_mm - 2;
    svg.text({x + 1, corner.y + 3}, text_to_fit(field.label, least_text_mm, room), {});
    svg.text({x + 1, corner.y + height_mm - 1.3}, text_to_fit(field.value, 3, room),
             {.size_mm = 3});
    x += field.width_mm;
  }
}

// The sign of first-angle projection (ISO 5456-2, from memory): the cone from the side with its
// small end to the left, and right of it what is seen from the left.
void draw_first_angle(SvgWriter& svg, SvgPoint middle) {
  const double x = middle.x;
  const double y = middle.y;
  svg.polygon({{x - 5.5, y - 1.1}, {x - 0.5, y - 2.2}, {x - 0.5, y + 2.2}, {x - 5.5, y + 1.1}},
              {SvgLine::thin, SvgFill::none});
  svg.circle({x + 4, y}, 2.2, {SvgLine::thin, SvgFill::none});
  svg.circle({x + 4, y}, 1.1, {SvgLine::thin, SvgFill::none});
  svg.line({x - 6.5, y}, {x + 7.2, y}, SvgLine::centre);
}

void draw_block(SvgWriter& svg, const SvgBox& box, const SheetChoice& choice,
                const TitleBlock& block) {
  constexpr double row = 8;
  constexpr double first_row = block_height_mm - 3 * row;
  const DrawingHead& head = block.head;
  svg.open_group({"title-block", "Title block"});
  svg.rect({box.x, box.y, block_width_mm, first_row}, {SvgLine::thin, SvgFill::none});
  svg.text({box.x + 1, box.y + first_row - 2.5}, text_to_fit(head.title, 4, block_width_mm - 2),
           {.size_mm = 4, .bold = true});
  double y = box.y + first_row;
  draw_row(svg, {box.x, y}, row, {{"drawn", block.subject, 62}, {"build file", head.file, 58}});
  y += row;
  draw_row(svg, {box.x, y}, row,
           {{"scale", scale_text(choice.denominator), 17},
            {"sheet", choice.sheet.name, 13},
            {"date", head.date, 25},
            {"unit", "mm", 11},
            {block.sizes_label, block.sizes_word, 54}});
  y += row;
  draw_row(svg, {box.x, y}, row,
           {{"general tolerance",
             head.general_tolerance.empty() ? "not said" : head.general_tolerance, 62},
            {"projection", "first-angle", 58}});
  draw_first_angle(svg, {box.x + 62 + 40, y + row / 2});
  svg.close_group();
}

bool fits(const SheetSize& sheet, int denominator, const NeedAt& need,
          const std::vector<DrawingNote>& notes) {
  const PaperNeed wanted = need(denominator);
  const SvgBox area = view_area(sheet, notes);
  return wanted.width_mm <= area.width && wanted.height_mm <= area.height;
}

}  // namespace

std::span<const SheetSize> sheet_sizes() {
  static constexpr std::array<SheetSize, 5> sizes{
      {{"A4", 297, 210}, {"A3", 420, 297}, {"A2", 594, 420}, {"A1", 841, 594}, {"A0", 1189, 841}}};
  return sizes;
}

std::span<const int> drawing_scales() {
  static constexpr std::array<int, 7> scales{1, 2, 5, 10, 20, 50, 100};
  return scales;
}

std::string scale_text(int denominator) {
  return fmt::format("1:{}", denominator);
}

void add_kit_notes(std::vector<DrawingNote>& notes, const std::vector<std::string>& kit) {
  const std::size_t shown = std::min(kit.size(), most_kit_lines);
  for (std::size_t i = 0; i < shown; ++i) notes.push_back({kit[i], false});
  if (shown < kit.size()) {
    notes.push_back({fmt::format("And {} lines more.", kit.size() - shown), false});
  }
}

SheetChoice choose_sheet(const NeedAt& need, const std::vector<DrawingNote>& notes) {
  for (const SheetSize& sheet : sheet_sizes()) {
    for (const int denominator : drawing_scales()) {
      if (denominator > least_scale_on_a_small_sheet) break;
      if (fits(sheet, denominator, need, notes)) return {sheet, denominator};
    }
  }
  const SheetSize largest = sheet_sizes().back();
  for (const int denominator : drawing_scales()) {
    if (fits(largest, denominator, need, notes)) return {largest, denominator};
  }
  throw std::invalid_argument("choose_sheet: too large for any sheet");
}

SvgBox view_area(const SheetSize& sheet, const std::vector<DrawingNote>& notes) {
  SvgBox area = drawing_space(sheet);
  area.height -= strip_height(sheet, notes);
  return area;
}

void draw_sheet(SvgWriter& svg, const SheetChoice& choice, const TitleBlock& block,
                const std::vector<DrawingNote>& notes) {
  const SvgBox space = drawing_space(choice.sheet);
  const double height = strip_height(choice.sheet, notes);
  const SvgBox strip{space.x, space.bottom() - height, space.width, height};
  svg.rect(space, {SvgLine::wide, SvgFill::none}, {"drawing-space", ""});
  svg.line({strip.x, strip.y}, {strip.right(), strip.y}, SvgLine::thin);
  svg.open_group({"notes", "Notes"});
  draw_notes(svg, strip, choice.sheet, notes);
  svg.close_group();
  draw_block(svg,
             {space.right() - block_width_mm, space.bottom() - block_height_mm, block_width_mm,
              block_height_mm},
             choice, block);
}

}  // namespace stackfit::cli
