// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_gauge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "cli/view_json_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent listed{.first = 2, .next = 4};
constexpr double disagrees_from = 1.96;

std::string_view name_of(GaugeKind kind) {
  switch (kind) {
    case GaugeKind::bow:
      return "bow";
    case GaugeKind::gap:
      return "gap";
    case GaugeKind::spring_length:
      return "spring_length";
    case GaugeKind::torque:
      return "torque";
  }
  return "";
}

std::string_view name_of(SuspectInput input) {
  switch (input) {
    case SuspectInput::softness:
      return "softness";
    case SuspectInput::box_length:
      return "box_length";
    case SuspectInput::cells_thickness:
      return "cells_thickness";
    case SuspectInput::charge:
      return "charge_when_measured";
    case SuspectInput::growth:
      return "capacity_lost";
    case SuspectInput::wall_joint:
      return "wall_joint";
  }
  return "";
}

struct Printer {
  const GaugeAnswer& answer;
  const GaugeStyle& style;
  Figures figures;
  TextLines lines;

  Printer(const GaugeAnswer& a, const GaugeStyle& s)
      : answer(a), style(s), figures(s.units), lines(s.colour) {}

  [[nodiscard]] std::string hundredths(double mm) const { return figures.thickness(mm); }

  [[nodiscard]] std::string span_text() const {
    return fmt::format("{} to {}", figures.pressure_number(answer.pressure_span_mpa.low),
                       figures.pressure(answer.pressure_span_mpa.high));
  }

  [[nodiscard]] std::string first_words() const {
    if (answer.may_be_above()) {
      return answer.standing == Standing::above_limit ? "MAY BE ABOVE THE MAKER'S LIMIT"
                                                      : "MAY BE ABOVE YOUR BAND";
    }
    return answer.standing == Standing::inside ? "INSIDE" : "OUTSIDE";
  }

  /// Both figures, where a bow is among the readings.
  [[nodiscard]] std::string both_figures() const {
    if (!answer.shear_factor) {
      return figures.pressure(answer.face_pressure_mpa) + " now";
    }
    return fmt::format("{} now as computed, {} with the cells' shear *",
                       figures.pressure(answer.face_pressure_mpa),
                       figures.pressure(answer.face_pressure_with_shear_mpa));
  }

  void verdict() {
    const bool inside = answer.standing == Standing::inside;
    lines.wrapped(
        fmt::format("{}: {}; {} by the readings' errors{}; {}-{} is your band{}.", first_words(),
                    both_figures(), span_text(), style.error_assumed ? " *" : "",
                    figures.pressure_number(answer.band.low_mpa),
                    figures.pressure(answer.band.high_mpa), answer.band.assumed ? " *" : ""),
        {.first = 0, .next = 6}, inside ? Emphasis::good : Emphasis::bad);
    if (answer.may_be_above()) {
      may_be_above();
    } else if (!inside) {
      lines.wrapped(std::string(plain(answer.standing)) + also_above_limit() + what_then(),
                    {.first = 6, .next = 6});
    }
    const double highest = answer.pressure_span_mpa.high *
                           std::max(answer.shear_factor.value_or(1), 1 + answer.band.model_margin);
    const bool edge =
        answer.pressure_span_mpa.low < answer.band.low_mpa || highest > answer.band.high_mpa;
    if (inside && edge) {
      lines.wrapped("The span reaches outside the band: read again, to half the error.",
                    {.first = 6, .next = 6});
    }
  }

  void may_be_above() {
    const bool limit = answer.standing == Standing::above_limit;
    const double top = limit ? *answer.band.limit_mpa : answer.band.high_mpa;
    const double over = answer.face_pressure_with_shear_mpa - top;
    lines.wrapped(
        fmt::format("By {}, {} of it, if its cells shear against each other as most do *; by the "
                    "bare figure it is {}. Charge it no further and take it as above: measure the "
                    "cells, and stackfit pick says how many sheets come out. It is opened by its "
                    "end wall with clamps on first, a screw a turn each.",
                    figures.pressure(over), percent(std::round(100 * over / top) / 100),
                    plain(answer.as_computed)),
        {.first = 6, .next = 6}, Emphasis::bad);
  }

  /// Above the band by the bare figure, and by the other above the limit as well.
  [[nodiscard]] std::string also_above_limit() const {
    return answer.standing == Standing::above_limit && answer.as_computed == Standing::above
               ? " with the cells' shear *; without it above your band"
               : "";
  }

  [[nodiscard]] std::string what_then() const {
    switch (answer.standing) {
      case Standing::above:
      case Standing::above_limit:
        return ". Charge it no further. It is opened by its end wall (a frame by its nuts) with "
               "clamps on first, a screw a turn each; then sheets come out: stackfit pick on what "
               "is measured then says how many.";
      case Standing::below:
      case Standing::loose:
        return answer.shear_factor && answer.face_pressure_with_shear_mpa >= answer.band.low_mpa
                   ? " by the bare figure, inside with the cells' shear *. Read it again when "
                     "full, "
                     "before anything is added."
                   : ". Read it again when full; then stackfit pick says what to add.";
      case Standing::inside:
        return "";
    }
    return "";
  }

  void reading(const Gauged& gauged) {
    const GaugeReading& r = gauged.reading;
    std::string text;
    switch (r.kind) {
      case GaugeKind::bow:
      case GaugeKind::gap:
        text =
            fmt::format("{} {} less {} when empty = {}", r.kind == GaugeKind::bow ? "bow" : "gap",
                        hundredths(r.now), hundredths(r.empty), hundredths(gauged.net));
        text +=
            r.x_mm == 0 && r.y_mm == 0
                ? ", middle of the "
                : fmt::format(", {:g} mm right and {:g} up of the middle of the ", r.x_mm, r.y_mm);
        text += r.kind == GaugeKind::gap ? "walls" : r.last_wall ? "last wall" : "first wall";
        break;
      case GaugeKind::spring_length:
        text = fmt::format("springs {} long", hundredths(r.now));
        break;
      case GaugeKind::torque:
        text = "nuts turn on at the torque given: a poor gauge of so small a force";
        break;
    }
    text += fmt::format(": {} on the face, {} to {}", figures.force(gauged.force_n),
                        figures.force_number(gauged.force_span_n.low),
                        figures.force(gauged.force_span_n.high));
    if (gauged.loose) {
      text += "; it does not press outwards: the row is loose, or the empty reading is wrong";
    }
    if (gauged.beyond) {
      text += "; further than the walls were followed: the force is more than that";
    }
    lines.wrapped("- " + text, listed);
  }

  void pressures() {
    lines.line("WHAT IT SAYS", Emphasis::heading);
    for (const Gauged& gauged : answer.gauges) {
      reading(gauged);
    }
    if (!answer.readings_agree) {
      lines.wrapped("- the readings do not agree with each other: take each once more", listed,
                    Emphasis::bad);
    }
    lines.wrapped(fmt::format("- in all {} ({} {}), {} on the face{}",
                              figures.pressure(answer.face_pressure_mpa),
                              figures.companion_number(answer.face_pressure_mpa),
                              figures.companion_unit(), figures.force(answer.force_n),
                              answer.highest_local_mpa > 0
                                  ? fmt::format("; up to {} where it presses most",
                                                figures.pressure(answer.highest_local_mpa))
                                  : ""),
                  listed);
    lines.wrapped(
        "- the walls' or springs' own doubt is not in that span: a wall's bow goes with the cube "
        "of its thickness, so 0.1 mm in 3 is a tenth of the force",
        listed);
    shear();
    joint();
  }

  void shear() {
    if (answer.shear_factor) {
      const Assumption& factor = assumption(Assumed::gauge_shear);
      lines.wrapped(
          fmt::format("- cells shear against each other, which bows a wall less and is left out: "
                      "with it about {:g} times that *, {}, {} on the face (solid models: {:g} to "
                      "{:g} times). Above is judged by it, below without",
                      *answer.shear_factor, figures.pressure(answer.face_pressure_with_shear_mpa),
                      figures.force(answer.force_with_shear_n), factor.low, factor.high),
          listed);
    } else if (answer.top_mpa > 0) {
      lines.wrapped(
          "- it may be MORE: real cells shear against each other, which the model leaves out, and "
          "bow the walls less. Near the top, take it as above",
          listed, Emphasis::bad);
    }
  }

  [[nodiscard]] std::string other_force() const {
    return (answer.other_joint->at_least ? "more than " : "") +
           figures.force(answer.other_joint->force_n);
  }

  void joint() {
    if (answer.other_joint && !answer.other_joint->said) {
      lines.wrapped(fmt::format("- how the end walls' edges are joined was not said, screwed *: "
                                "welded or folded, the same reading means {}. Look, and say "
                                "box.end_walls.joint",
                                other_force()),
                    listed, Emphasis::bad);
    }
  }

  [[nodiscard]] std::string in_words(const Suspect& suspect) const {
    switch (suspect.input) {
      case SuspectInput::softness:
        return suspect.by > 1
                   ? fmt::format("cells {:.2g} times as stiff as taken; press-test one", suspect.by)
                   : fmt::format("cells {:.2g} times softer than taken; press-test one",
                                 1 / suspect.by);
      case SuspectInput::box_length:
        return fmt::format("a box {} {} than written; measure it in five places",
                           hundredths(std::abs(suspect.by)), suspect.by < 0 ? "shorter" : "longer");
      case SuspectInput::cells_thickness:
        return fmt::format("every cell {} {} than measured; zero the calipers",
                           hundredths(std::abs(suspect.by)),
                           suspect.by > 0 ? "thicker" : "thinner");
      case SuspectInput::charge:
        return fmt::format("cells measured {:.0f} points {} than said; count Ah from full",
                           100 * std::abs(suspect.by), suspect.by > 0 ? "fuller" : "emptier");
      case SuspectInput::growth:
        return fmt::format("cells that have lost {} of capacity and grown; measure it",
                           percent(suspect.by));
      case SuspectInput::wall_joint:
        return fmt::format(
            "end walls joined as if {}: the reading then means {}; look at their "
            "edges, say box.end_walls.joint",
            answer.other_joint->screwed ? "screwed, not welded or folded"
                                        : "welded or folded, not screwed",
            other_force());
    }
    return {};
  }

  void prediction() {
    if (!answer.predicted) {
      lines.wrapped(
          "No sheet of the kit is placed in this build, so there is nothing to hold the reading "
          "against: stackfit pick --save keeps them.",
          {.first = 0, .next = 2});
      return;
    }
    const GaugeAnswer::Prediction& p = *answer.predicted;
    const bool agrees = std::abs(p.deviation) <= disagrees_from;
    lines.line("HELD AGAINST THE BUILD", Emphasis::heading);
    lines.wrapped(fmt::format("- as written it should press with {} (give or take {}): {}",
                              figures.force(p.force_n), figures.force(disagrees_from * p.error_n),
                              agrees ? "they agree"
                                     : fmt::format("it is {:.1f} times what chance explains",
                                                   std::abs(p.deviation) / disagrees_from)),
                  listed, agrees ? Emphasis::none : Emphasis::bad);
    constexpr std::size_t shown_at_most = 3;
    for (std::size_t i = 0; i < p.suspects.size() && i < shown_at_most; ++i) {
      lines.wrapped(fmt::format("{} {}", i == 0 ? "- likeliest:" : "- or", in_words(p.suspects[i])),
                    listed);
    }
  }

  void learned() {
    if (!answer.learned) {
      return;
    }
    const GaugeAnswer::Learned& l = *answer.learned;
    lines.wrapped(
        fmt::format(
            "- learned: A {:.3g} MPa ({:.3g} to {:.3g}) for {:.3g}, B {:g} kept: right only "
            "if everything else is",
            l.a_mpa, l.a_span_mpa.low, l.a_span_mpa.high, l.was_a_mpa, l.b),
        listed);
  }
};

}  // namespace

std::string gauge_text(const GaugeAnswer& answer, const std::string& title,
                       const GaugeStyle& style) {
  Printer printer(answer, style);
  printer.lines.line(std::string("STOP: ") + cautions::never_pressed, Emphasis::bad);
  printer.lines.line(fmt::format("stackfit gauge  {}, at {} charge",
                                 title.empty() ? "(no title)" : shortened(printable(title), 40),
                                 charge_text(answer.state.charge)));
  printer.lines.blank();
  printer.verdict();
  printer.lines.blank();
  printer.pressures();
  printer.lines.blank();
  printer.prediction();
  printer.learned();
  printer.lines.blank();
  printer.lines.wrapped(cautions::overruled, {});
  return printer.lines.text();
}

nlohmann::ordered_json gauge_json(const GaugeAnswer& answer) {
  Json gauges = Json::array();
  for (const Gauged& g : answer.gauges) {
    gauges.push_back({{"kind", name_of(g.reading.kind)},
                      {"net", g.net},
                      {"force_n", g.force_n},
                      {"force_span_n", json_of(g.force_span_n)},
                      {"loose", g.loose},
                      {"beyond", g.beyond}});
  }
  Json predicted = nullptr;
  if (answer.predicted) {
    Json suspects = Json::array();
    for (const Suspect& s : answer.predicted->suspects) {
      suspects.push_back(
          {{"input", name_of(s.input)}, {"by", s.by}, {"in_its_errors", s.in_its_errors}});
    }
    predicted = {{"force_n", answer.predicted->force_n},
                 {"error_n", answer.predicted->error_n},
                 {"deviation", answer.predicted->deviation},
                 {"suspects", suspects}};
  }
  Json learned = nullptr;
  if (answer.learned) {
    learned = {{"squeeze_a_mpa", answer.learned->a_mpa},
               {"squeeze_a_span_mpa", json_of(answer.learned->a_span_mpa)},
               {"squeeze_b", answer.learned->b}};
  }
  Json other_joint = nullptr;
  if (answer.other_joint) {
    other_joint = {{"taken_was_said", answer.other_joint->said},
                   {"other", answer.other_joint->screwed ? "screwed" : "welded_or_folded"},
                   {"force_n", answer.other_joint->force_n},
                   {"at_least", answer.other_joint->at_least}};
  }
  return {{"stackfit_answer", 1},
          {"question", "gauge"},
          {"inside", answer.standing == Standing::inside},
          {"standing", code(answer.standing)},
          {"standing_as_computed", code(answer.as_computed)},
          {"may_be_above", answer.may_be_above()},
          {"charge", answer.state.charge},
          {"temperature_c", answer.state.temperature_c},
          {"force_n", answer.force_n},
          {"force_span_n", json_of(answer.force_span_n)},
          {"face_pressure_mpa", answer.face_pressure_mpa},
          {"face_pressure_span_mpa", json_of(answer.pressure_span_mpa)},
          {"shear_factor", or_null(answer.shear_factor)},
          {"force_with_shear_n", answer.force_with_shear_n},
          {"face_pressure_with_shear_mpa", answer.face_pressure_with_shear_mpa},
          {"highest_local_mpa", answer.highest_local_mpa},
          {"readings_agree", answer.readings_agree},
          {"gauges", gauges},
          {"predicted", predicted},
          {"other_joint", other_joint},
          {"learned", learned}};
}

}  // namespace stackfit::cli
