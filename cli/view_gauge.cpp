// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_gauge.hpp"

#include <fmt/format.h>

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

  void verdict() {
    const bool inside = answer.standing == Standing::inside;
    lines.wrapped(
        fmt::format("{}: {} now, {} by the readings' errors{}; {}-{} is your band{}.",
                    inside ? "INSIDE" : "OUTSIDE", figures.pressure(answer.face_pressure_mpa),
                    span_text(), style.error_assumed ? " *" : "",
                    figures.pressure_number(answer.band.low_mpa),
                    figures.pressure(answer.band.high_mpa), answer.band.assumed ? " *" : ""),
        {.first = 0, .next = 6}, inside ? Emphasis::good : Emphasis::bad);
    if (!inside) {
      lines.wrapped(std::string(plain(answer.standing)) + what_then(), {.first = 6, .next = 6});
    }
    const bool edge = answer.pressure_span_mpa.low < answer.band.low_mpa ||
                      answer.band.judged(answer.pressure_span_mpa.high) > answer.band.high_mpa;
    if (inside && edge) {
      lines.wrapped("The span reaches outside the band: read again, to half the error.",
                    {.first = 6, .next = 6});
    }
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
        return ". Read it again when full; then stackfit pick says what to add.";
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
    if (answer.top_mpa > 0) {
      lines.wrapped(
          "- it may be MORE: real cells shear against each other, which the model leaves out; "
          "solid "
          "models press up to 1.9 times as hard at the same bow. Near the top, take it as above",
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
  return {{"stackfit_answer", 1},
          {"question", "gauge"},
          {"inside", answer.standing == Standing::inside},
          {"standing", code(answer.standing)},
          {"charge", answer.state.charge},
          {"temperature_c", answer.state.temperature_c},
          {"force_n", answer.force_n},
          {"force_span_n", json_of(answer.force_span_n)},
          {"face_pressure_mpa", answer.face_pressure_mpa},
          {"face_pressure_span_mpa", json_of(answer.pressure_span_mpa)},
          {"highest_local_mpa", answer.highest_local_mpa},
          {"readings_agree", answer.readings_agree},
          {"gauges", gauges},
          {"predicted", predicted},
          {"learned", learned}};
}

}  // namespace stackfit::cli
