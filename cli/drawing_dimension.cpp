// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/drawing_dimension.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace stackfit::cli {
namespace {

// Shapes of ISO 129-1 on paper (proportions from memory: closed arrows of about 15 degrees).
constexpr double arrow_length_mm = 2.5;
constexpr double arrow_half_width_mm = 0.33;
constexpr double witness_gap_mm = 0.8;
constexpr double witness_over_mm = 1.2;
constexpr double text_above_mm = 0.8;
constexpr double bold_wider = 1.1;  ///< as common sans-serif fonts are
constexpr double limits_apart_mm = 1;
constexpr double stub_mm = 4;  ///< of the line that arrows from outside stand on

// Turns a place along and off the dimension line into one on the sheet.
struct Frame {
  Along along;
  [[nodiscard]] SvgPoint at(double along_mm, double off_mm) const {
    return along == Along::across ? SvgPoint{along_mm, off_mm} : SvgPoint{off_mm, along_mm};
  }
};

// `towards` is +1 where the arrow points to greater places, else -1.
void draw_arrow(SvgWriter& svg, const Frame& frame, double tip_mm, double off_mm, double towards) {
  const double back = tip_mm - towards * arrow_length_mm;
  svg.polygon({frame.at(tip_mm, off_mm), frame.at(back, off_mm - arrow_half_width_mm),
               frame.at(back, off_mm + arrow_half_width_mm)},
              {SvgLine::none, SvgFill::black});
}

void draw_witness(SvgWriter& svg, const Frame& frame, double along_mm,
                  const DimensionLine& dimension) {
  const double towards = dimension.line_mm >= dimension.witness_mm ? 1 : -1;
  svg.line(frame.at(along_mm, dimension.witness_mm + towards * witness_gap_mm),
           frame.at(along_mm, dimension.line_mm + towards * witness_over_mm));
}

struct LimitTexts {
  std::string above;
  std::string below;
  [[nodiscard]] double width() const {
    return std::max(text_width_mm(above, least_text_mm), text_width_mm(below, least_text_mm));
  }
};

LimitTexts limits_of(const DrawnTolerance& tolerance) {
  return {"+" + size_text(tolerance.plus_mm), "-" + size_text(tolerance.minus_mm)};
}

// Where the text begins along the line. An upright one begins below, where y is greater.
double text_begin(const DimensionLine& dimension) {
  const bool across = dimension.along == Along::across;
  const double width = dimension.text_width();
  if (!dimension.text_outside()) {
    const double middle = (dimension.from_mm + dimension.to_mm) / 2;
    return across ? middle - width / 2 : middle + width / 2;
  }
  if (dimension.beyond == TextBeyond::first) {
    const double end = dimension.from_mm - stub_mm;
    return across ? end - width : end;
  }
  const double end = dimension.to_mm + stub_mm;
  return across ? end : end + width;
}

void draw_figure(SvgWriter& svg, const Frame& frame, const DimensionLine& dimension) {
  const bool upright = dimension.along == Along::upright;
  const double size = dimension.text_size_mm;
  const double begin = text_begin(dimension);
  const double off = dimension.line_mm - text_above_mm;
  svg.text(frame.at(begin, off), dimension.text, {size, SvgAnchor::start, upright, dimension.bold});
  if (!dimension.tolerance) return;
  const LimitTexts limits = limits_of(*dimension.tolerance);
  const double wide = dimension.figure_width() + limits_apart_mm;
  const double at = upright ? begin - wide : begin + wide;
  const SvgText look{least_text_mm, SvgAnchor::start, upright, dimension.bold};
  svg.text(frame.at(at, off), limits.below, look);
  svg.text(frame.at(at, off - least_text_mm - 0.1), limits.above, look);
}

}  // namespace

std::string size_text(double mm) {
  const double rounded = std::round(mm * 100) / 100;
  return fmt::format("{}", rounded == 0 ? 0.0 : rounded);
}

double DimensionLine::figure_width() const {
  return text_width_mm(text, text_size_mm) * (bold ? bold_wider : 1);
}

double DimensionLine::text_width() const {
  const double figure = figure_width();
  return tolerance ? figure + limits_apart_mm + limits_of(*tolerance).width() : figure;
}

bool DimensionLine::text_outside() const {
  return to_mm - from_mm < text_width() + 1;
}

double DimensionLine::overhang_mm() const {
  return text_outside() ? stub_mm + text_width() : 0;
}

void draw_dimension(SvgWriter& svg, const DimensionLine& dimension) {
  const double length = dimension.to_mm - dimension.from_mm;
  if (!(length > 0)) throw std::invalid_argument("draw_dimension: ends are not in order");
  const Frame frame{dimension.along};
  const double line = dimension.line_mm;
  const bool arrows_outside = length < 2 * arrow_length_mm + 1;
  draw_witness(svg, frame, dimension.from_mm, dimension);
  draw_witness(svg, frame, dimension.to_mm, dimension);
  const double turn = arrows_outside ? -1 : 1;
  draw_arrow(svg, frame, dimension.from_mm, line, -turn);
  draw_arrow(svg, frame, dimension.to_mm, line, turn);

  const double stub = arrows_outside ? stub_mm : 0;
  const double text = dimension.overhang_mm();
  const bool before = dimension.beyond == TextBeyond::first;
  svg.line(frame.at(dimension.from_mm - std::max(stub, before ? text : 0), line),
           frame.at(dimension.to_mm + std::max(stub, before ? 0 : text), line));
  draw_figure(svg, frame, dimension);
}

void draw_leader(SvgWriter& svg, const Leader& leader) {
  constexpr double size = least_text_mm;
  const double width = text_width_mm(leader.text, size);
  const double end =
      leader.anchor == SvgAnchor::end ? leader.knee.x - width : leader.knee.x + width;
  svg.line(leader.at, leader.knee);
  svg.line(leader.knee, {end, leader.knee.y});
  svg.circle(leader.at, 0.4, {SvgLine::none, SvgFill::black});
  svg.text({leader.knee.x, leader.knee.y - text_above_mm}, leader.text, {size, leader.anchor});
}

}  // namespace stackfit::cli
