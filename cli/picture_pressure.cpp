// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_pressure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/figures.hpp"
#include "cli/picture_curves.hpp"
#include "cli/picture_parts.hpp"
#include "cli/picture_scale.hpp"

namespace stackfit::cli {
namespace {

constexpr double plot_left = 40;    // x of charge 0
constexpr double plot_right = 282;  // x of charge 1
/// Labels stand between the curves' end and the second axis.
constexpr double label_x = 290;
constexpr double second_axis = 372;
constexpr double plot_top = 24;
constexpr double plot_bottom = 224;

struct Chart {
  const Answer& answer;
  std::vector<PressureCurve> curves;
  PressureAxis axis;

  [[nodiscard]] double x(double charge) const {
    return plot_left + (plot_right - plot_left) * charge;
  }
  [[nodiscard]] double y(double mpa) const { return axis.at(mpa); }
};

/// What is known of a place in the chart: a sign in it, and a line under it.
struct Mark {
  enum class Sign : std::uint8_t { built, state, above, below } sign = Sign::built;
  CurvePoint at;
  std::string words;
};

double greatest_mpa(const Answer& answer, const std::vector<PressureCurve>& curves) {
  constexpr double air = 1.05;
  double greatest = std::max({answer.band.high_mpa, answer.plan.highest.face_pressure_mpa,
                              answer.plan.as_built.face_pressure_mpa});
  for (const PressureCurve& curve : curves) {
    for (const CurvePoint& point : curve_between(curve, answer.use_charge)) {
      greatest = std::max(greatest, point.pressure_mpa);
    }
  }
  // A limit far away would press everything else to the floor.
  constexpr double near_enough = 1.8;
  const double limit = answer.band.limit_mpa.value_or(0);
  return air * (limit < near_enough * greatest ? std::max(limit, greatest) : greatest);
}

// --- Axes and band ------------------------------------------------------------------------

void draw_band(SvgWriter& svg, const Chart& chart) {
  const BandResult& band = chart.answer.band;
  const double high = chart.y(band.high_mpa);
  svg.rect({plot_left, high, second_axis - plot_left, chart.y(band.low_mpa) - high},
           {SvgLine::none, SvgFill::band}, {"", "Your band"});
  if (band.model_margin > 0) {
    const double judged = chart.y(band.most_for(band.high_mpa));
    svg.line({plot_left, judged}, {plot_right, judged}, SvgLine::hidden);
  }
  if (band.limit_mpa && *band.limit_mpa <= chart.axis.top_mpa) {
    svg.line({plot_left, chart.y(*band.limit_mpa)}, {plot_right, chart.y(*band.limit_mpa)},
             SvgLine::wide);
  }
}

void draw_axes(SvgWriter& svg, const Chart& chart) {
  write(svg, {plot_left - 4, plot_top - 10}, "kPa", {.anchor = SvgAnchor::end});
  write(svg, {second_axis + 4, plot_top - 10}, "psi");
  for (const double x : {plot_left, second_axis})
    svg.line({x, plot_top}, {x, plot_bottom}, SvgLine::thin);
  svg.line({plot_left, plot_bottom}, {second_axis, plot_bottom}, SvgLine::thin);
  for (const PressureTick& tick : pressure_ticks(chart.axis.top_mpa, TickUnit::kpa)) {
    svg.line({plot_left - 3, chart.y(tick.mpa)}, {plot_left, chart.y(tick.mpa)}, SvgLine::thin);
    write(svg, {plot_left - 5, chart.y(tick.mpa) + half_letter}, tick.text,
          {.anchor = SvgAnchor::end});
  }
  for (const PressureTick& tick : pressure_ticks(chart.axis.top_mpa, TickUnit::psi)) {
    svg.line({second_axis, chart.y(tick.mpa)}, {second_axis + 3, chart.y(tick.mpa)}, SvgLine::thin);
    write(svg, {second_axis + 5, chart.y(tick.mpa) + half_letter}, tick.text, {.quiet = true});
  }
  for (const double charge : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    const double x = chart.x(charge);
    svg.line({x, plot_bottom}, {x, plot_bottom + 3}, SvgLine::thin);
    write(svg, {x, plot_bottom + 15}, fmt::format("{:g}", charge * 100),
          {.anchor = SvgAnchor::middle});
  }
  write(svg, {label_x + 8, plot_bottom + 15}, "% charge");
}

// The charges in use, as a bar under the axis.
void draw_window(SvgWriter& svg, const Chart& chart) {
  const Span& use = chart.answer.use_charge;
  const double y = plot_bottom + 25;
  svg.line({chart.x(use.low), y}, {chart.x(use.high), y}, SvgLine::wide);
  for (const double charge : {use.low, use.high}) {
    svg.line({chart.x(charge), y - 4}, {chart.x(charge), y + 4}, SvgLine::wide);
  }
  write(svg, {label_x + 8, y + half_letter}, "in use");
}

// --- Curves -------------------------------------------------------------------------------

// What leaves the chart above is cut off at its top.
std::string path_of(const SvgWriter& svg, const Chart& chart,
                    const std::vector<CurvePoint>& points) {
  std::string path;
  for (const CurvePoint& point : points) {
    path += fmt::format("{}{} {}", path.empty() ? "M" : "L", svg.number(chart.x(point.charge)),
                        svg.number(chart.y(point.pressure_mpa)));
  }
  return path;
}

void draw_curve(SvgWriter& svg, const Chart& chart, const PressureCurve& curve, SvgLine inside) {
  const Span& use = chart.answer.use_charge;
  for (const Span& outside : {Span{0, use.low}, Span{use.high, 1}}) {
    if (outside.high - outside.low < 1e-6) continue;
    svg.path(path_of(svg, chart, curve_between(curve, outside)), {SvgLine::hidden, SvgFill::none});
  }
  svg.path(path_of(svg, chart, curve_between(curve, use)), {inside, SvgFill::none},
           {"", curve.name});
}

struct EndLabel {
  double y = 0;
  std::string text;
  bool bold = false;
};

std::vector<EndLabel> end_labels(const Chart& chart) {
  const BandResult& band = chart.answer.band;
  std::vector<EndLabel> labels;
  for (const PressureCurve& curve : chart.curves) {
    labels.push_back({chart.y(pressure_on(curve, 1)), curve.name, labels.empty()});
  }
  labels.push_back({chart.y(band.high_mpa), "band, high", false});
  labels.push_back({chart.y(band.low_mpa), "band, low", false});
  if (band.model_margin > 0) {
    labels.push_back({chart.y(band.most_for(band.high_mpa)),
                      fmt::format("less {}", percent(band.model_margin)), false});
  }
  if (band.limit_mpa && *band.limit_mpa <= chart.axis.top_mpa) {
    labels.push_back({chart.y(*band.limit_mpa), "limit", true});
  }
  return labels;
}

// At the ends of their lines, kept apart, each with a leader.
void write_end_labels(SvgWriter& svg, const Chart& chart) {
  const std::vector<EndLabel> labels = end_labels(chart);
  std::vector<double> wanted;
  for (const EndLabel& label : labels) wanted.push_back(label.y);
  const std::vector<double> ys =
      kept_apart(wanted, picture_text + 1.5, plot_top + 2, plot_bottom - 6);
  constexpr double letters = second_axis - label_x - 2;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    svg.line({plot_right, labels[i].y}, {label_x - 2, ys[i]}, SvgLine::thin);
    write(svg, {label_x, ys[i] + half_letter}, text_to_fit(labels[i].text, picture_text, letters),
          {.bold = labels[i].bold});
  }
}

// --- Marks --------------------------------------------------------------------------------

std::string state_words(const char* word, const StateResult& state) {
  std::string text =
      fmt::format("{} {} at {}, {} \u00b0C", word, both_pressures(state.face_pressure_mpa),
                  charge_text(state.charge), Figures().temperature_number(state.temperature_c));
  if (state.capacity_loss > 0) text += ", aged";
  return text;
}

std::vector<Mark> marks_of(const Chart& chart) {
  const PlanResult& plan = chart.answer.plan;
  std::vector<Mark> marks;
  const auto state = [&](const char* word, const StateResult& result, Mark::Sign sign) {
    marks.push_back({sign, {result.charge, result.face_pressure_mpa}, state_words(word, result)});
  };
  state("built:", plan.as_built, Mark::Sign::built);
  state("highest", plan.highest, Mark::Sign::state);
  state("lowest", plan.lowest, Mark::Sign::state);
  for (const PressureCurve& curve : chart.curves) {
    for (const BandCrossing& crossing : crossings(curve, chart.answer.band)) {
      marks.push_back(
          {crossing.upper ? Mark::Sign::above : Mark::Sign::below, crossing.at,
           fmt::format("{}: {} the band {} {} charge", curve.name,
                       crossing.upper ? "above" : "below", crossing.leaves ? "from" : "up to",
                       charge_text(crossing.at.charge))});
    }
  }
  return marks;
}

void draw_sign(SvgWriter& svg, SvgPoint at, Mark::Sign sign) {
  switch (sign) {
    case Mark::Sign::built:
      svg.circle(at, 4.5, {SvgLine::wide, SvgFill::white});
      return;
    case Mark::Sign::state:
      svg.polygon({{at.x, at.y - 5}, {at.x + 5, at.y}, {at.x, at.y + 5}, {at.x - 5, at.y}},
                  {SvgLine::thin, SvgFill::accent});
      return;
    case Mark::Sign::above:
      draw_tip(svg, {at.x, at.y - 5}, Pointing::up, SvgFill::bad, 10);
      return;
    case Mark::Sign::below:
      draw_tip(svg, {at.x, at.y + 5}, Pointing::down, SvgFill::bad, 10);
      return;
  }
}

// In the chart, and again in front of its words.
void draw_marks(SvgWriter& svg, const Chart& chart, const std::vector<Mark>& marks, double y) {
  // Of like signs that would lie on each other the first stands for all; the words tell them apart.
  constexpr double beside = 11;
  const auto covered = [&](std::size_t index) {
    return std::any_of(
        marks.begin(), marks.begin() + static_cast<std::ptrdiff_t>(index), [&](const Mark& other) {
          return other.sign == marks[index].sign &&
                 std::abs(chart.x(other.at.charge) - chart.x(marks[index].at.charge)) < beside;
        });
  };
  for (std::size_t i = marks.size(); i-- > 0;) {
    if (!covered(i)) {
      draw_sign(svg, {chart.x(marks[i].at.charge), chart.y(marks[i].at.pressure_mpa)},
                marks[i].sign);
    }
  }
  for (const Mark& mark : marks) {
    draw_sign(svg, {10, y}, mark.sign);
    write(svg, {20, y + half_letter}, text_to_fit(mark.words, picture_text, picture_width - 20));
    y += text_line;
  }
}

// Where pads can stand in several ways, whose pressure a curve is.
std::vector<std::string> remarks_of(const Chart& chart) {
  if (!chart.answer.picture || chart.answer.picture->play.kinds.size() < 2) return {};
  return {"New: pads fresh, at the soft edge of their grade.",
          "Aged and warm: as the pads press most.", "Cold: as they press least."};
}

std::string in_words(const Chart& chart, const std::vector<Mark>& marks) {
  const BandResult& band = chart.answer.band;
  std::string text = fmt::format("The band is {} to {}.", both_pressures(band.low_mpa),
                                 both_pressures(band.high_mpa));
  if (band.model_margin > 0) {
    text += fmt::format(" Pressures are judged with {} more.", percent(band.model_margin));
  }
  if (band.limit_mpa) text += fmt::format(" Never above {}.", both_pressures(*band.limit_mpa));
  for (const PressureCurve& curve : chart.curves) {
    const Span& use = chart.answer.use_charge;
    text += fmt::format(" {}: {} at {}, {} at {} charge.", curve.name,
                        both_pressures(pressure_on(curve, use.low)), charge_text(use.low),
                        both_pressures(pressure_on(curve, use.high)), charge_text(use.high));
  }
  for (const Mark& mark : marks) text += fmt::format(" {}.", mark.words);
  for (const std::string& remark : remarks_of(chart)) text += " " + remark;
  return text;
}

SvgHook hook_of(const Chart& chart) {
  return {"",
          {{"x0", svg_number(plot_left)},
           {"x1", svg_number(plot_right)},
           {"y0", svg_number(plot_bottom)},
           {"y1", svg_number(plot_top)},
           {"top-mpa", exact(chart.axis.top_mpa)}}};
}

// Empty until the page's script moves them.
void draw_play(SvgWriter& svg) {
  svg.path("", {SvgLine::wide, SvgFill::none}, {"", "", {"play-line", {}}});
  svg.path("", {SvgLine::thin, SvgFill::none}, {"", "", {"play-line play-line-soft", {}}});
  svg.circle({plot_left, plot_bottom}, 0, {SvgLine::wide, SvgFill::accent},
             {"", "", {"play-dot", {}}});
}

}  // namespace

std::string pressure_over_charge(const Answer& answer, const std::string& id) {
  Chart chart{answer, pressure_curves(answer), {}};
  chart.axis = {round_top_mpa(greatest_mpa(answer, chart.curves)), plot_bottom, plot_top};
  const std::vector<Mark> marks = marks_of(chart);
  constexpr double marks_at = plot_bottom + 48;
  const std::vector<std::string> remarks = remarks_of(chart);
  const double height = marks_at + text_line * static_cast<double>(marks.size() + remarks.size());
  SvgWriter svg({picture_width, height, "Face pressure against charge", in_words(chart, marks), id,
                 hook_of(chart)});
  draw_band(svg, chart);
  draw_axes(svg, chart);
  draw_window(svg, chart);
  for (std::size_t i = chart.curves.size(); i-- > 0;) {
    draw_curve(svg, chart, chart.curves[i], i == 0 ? SvgLine::wide : SvgLine::thin);
  }
  draw_play(svg);
  write_end_labels(svg, chart);
  draw_marks(svg, chart, marks, marks_at);
  double y = marks_at + text_line * static_cast<double>(marks.size());
  for (const std::string& remark : remarks) {
    write(svg, {4, y + half_letter}, remark, {.quiet = true});
    y += text_line;
  }
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
