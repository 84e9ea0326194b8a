// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_softness.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/figures.hpp"
#include "cli/text_lines.hpp"
#include "cli/words_softness.hpp"

namespace stackfit::cli {
namespace {

constexpr double hundredths = 100;
constexpr double ten_kpa_mpa = 0.01;

// `+0.8`; what rounds to nothing has no sign.
std::string signed_tenths(double value) {
  constexpr double nothing = 0.05;
  return std::abs(value) < nothing ? "0.0" : fmt::format("{:+.1f}", value);
}

std::string_view star(bool assumed) {
  return assumed ? " *" : "";
}

// `38 to 71`, with words for an end that the readings do not set.
std::string span_words(const std::string& low, const std::string& high, const PressSpan& span) {
  if (span.open_low && span.open_high) return "not set by these readings";
  if (span.open_low) return "up to " + high;
  if (span.open_high) return low + " or more";
  return low + " to " + high;
}

// Residuals on a line: o the mean reading, - its 95 % span, | the law.
class ResidualScale {
 public:
  explicit ResidualScale(const std::vector<PressLoadResult>& loads) {
    double widest = 0;
    for (const PressLoadResult& load : loads) {
      widest = std::max(widest, std::abs(load.residual_mm) * hundredths);
    }
    constexpr std::array steps{2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0};
    const auto* const step = std::ranges::lower_bound(steps, widest);
    most_ = step == steps.end() ? std::ceil(widest) : *step;
  }

  [[nodiscard]] std::string head() const {
    const std::string end = fmt::format("{:g}", most_);
    return fmt::format("{:<{}}0{:>{}}", "-" + end, half, "+" + end, half);
  }

  [[nodiscard]] std::string line(const PressLoadResult& load) const {
    std::string text(2 * half + 1, ' ');
    text.front() = text.back() = '.';
    const double away = load.residual_mm * hundredths;
    const double error = load.error_mm * hundredths;
    for (std::size_t i = at(away - error); i <= at(away + error); ++i) text[i] = '-';
    text[half] = '|';
    text[at(away)] = 'o';
    return text;
  }

 private:
  static constexpr std::size_t half = 16;

  [[nodiscard]] std::size_t at(double away) const {
    const double cell = std::round(away / most_ * half) + half;
    return static_cast<std::size_t>(std::clamp(cell, 0.0, 2.0 * half));
  }

  double most_ = 0;
};

class SoftnessPage {
 public:
  SoftnessPage(const SoftnessAnswer& answer, const SoftnessStyle& style)
      : answer_(answer), result_(answer.result), figures_(style.units), lines_(style.colour) {}

  std::string text() {
    lines_.line(std::string("STOP: ") + cautions::never_pressed, Emphasis::bad);
    lines_.wrapped("PRESS TEST OF A CELL, " + printable(answer_.table), item_head);
    lines_.blank();
    verdict();
    law();
    lines_.blank();
    meaning();
    lines_.blank();
    residuals();
    warnings();
    lines_.blank();
    paste();
    lines_.blank();
    close();
    return lines_.text();
  }

 private:
  static constexpr TextLines::Indent item_head{0, 2};

  void verdict() {
    const std::string first =
        result_.clean() ? "FITTED"
                        : fmt::format("FITTED, BUT {}", short_words(result_.warnings.front()));
    lines_.wrapped(fmt::format("{}: {}, {}, {} to {}; law good up to {} *.", first,
                               counted(result_.readings, "reading"),
                               counted(static_cast<int>(result_.loads.size()), "load"),
                               figures_.pressure_number(result_.loads.front().pressure_mpa),
                               figures_.pressure(result_.loads.back().pressure_mpa),
                               figures_.pressure(result_.reach_mpa)),
                   item_head, result_.clean() ? Emphasis::good : Emphasis::bad);
  }

  void law() {
    const std::string_view prior = star(result_.prior_used);
    lines_.line(fmt::format("  p = A (exp(B x squeeze / {}) - 1)          95 % span",
                            figures_.thickness(result_.nominal_mm)));
    const auto line = [&](std::string_view name, const std::string& value,
                          const std::string& span) {
      lines_.line(fmt::format("  {:<16}{:<28}{}", name, value, span));
    };
    line("A", figures_.pressure(result_.law.a_mpa) + std::string(prior),
         span_words(figures_.pressure_number(result_.a_mpa.span.low),
                    figures_.pressure_number(result_.a_mpa.span.high), result_.a_mpa));
    line("B", fmt::format("{:.0f}{}", result_.law.b, prior),
         span_words(fmt::format("{:.0f}", result_.b.span.low),
                    fmt::format("{:.0f}", result_.b.span.high), result_.b));
    line("free thickness", figures_.thickness(result_.law.free_mm),
         span_words(figures_.thickness_number(result_.free_mm.span.low),
                    figures_.thickness_number(result_.free_mm.span.high), result_.free_mm));
    line("reading error",
         fmt::format("{:.3f} mm{}", result_.reading_error_mm,
                     star(result_.error_source == ErrorSource::assumed)),
         error_words());
    lines_.wrapped(
        "A and B lean on each other: keep them as a pair. Joint region and spans are "
        "those of the likelihood ratio.",
        {2, 2});
  }

  [[nodiscard]] std::string error_words() const {
    switch (result_.error_source) {
      case ErrorSource::assumed:
        return "too few readings to tell";
      case ErrorSource::said:
        return "as said";
      case ErrorSource::residuals:
        return "from the residuals";
    }
    return {};
  }

  void meaning() {
    const std::string_view band = result_.band_from_loads ? "the loads tried" : "your band";
    lines_.line(fmt::format("WHAT IT MEANS over {}{}", band, star(result_.band.assumed)),
                Emphasis::heading);
    lines_.line(fmt::format("{:<20}{:<15}{:<24}{}",
                            fmt::format("  at {}", figures_.pressure_unit()), "one cell gives",
                            "95 % span then", "assumed law there *"));
    point("low end", result_.low, result_.band.mpa.low);
    point(result_.middle.pressure_mpa < middle_of_band() ? "top load" : "middle", result_.middle,
          result_.middle.pressure_mpa);
    point("high end", result_.high, result_.band.mpa.high);
    lines_.wrapped(
        fmt::format("Stiffness at {}: {:.1f} MPa ({:.1f} to {:.1f}); one cell gives {} mm for each "
                    "10 kPa more.",
                    figures_.pressure(result_.middle.pressure_mpa), result_.tangent_mpa,
                    result_.tangent_span_mpa.low, result_.tangent_span_mpa.high,
                    fmt::format("{:.3f}", result_.give_mm_per_mpa * ten_kpa_mpa)),
        {2, 2});
    lines_.wrapped(beside_assumed(), {2, 2});
  }

  [[nodiscard]] double middle_of_band() const {
    return (result_.band.mpa.low + result_.band.mpa.high) / 2;
  }

  void point(std::string_view name, const std::optional<PressPoint>& point, double mpa) {
    const std::string first = fmt::format("  {:<9}{:>7}", name, figures_.pressure_number(mpa));
    if (!point) {
      lines_.line(fmt::format("{:<20}not given: too far above the highest load", first));
      return;
    }
    lines_.line(
        fmt::format("{:<20}{:<15}{:<24}{}", first, figures_.thickness(point->squeeze_mm),
                    figures_.pressure_number(point->span_mpa.low) + " to " +
                        figures_.pressure_number(point->span_mpa.high) +
                        (point->above_test ? " (untried)" : ""),
                    fmt::format("{} ({} to {})", figures_.pressure_number(point->assumed_mpa),
                                figures_.pressure_number(point->assumed_span_mpa.low),
                                figures_.pressure_number(point->assumed_span_mpa.high))));
  }

  [[nodiscard]] std::string beside_assumed() const {
    const bool stiffer = result_.stiffer >= 1;
    const double times = stiffer ? result_.stiffer : 1 / result_.stiffer;
    const Span span = stiffer ? result_.stiffer_span
                              : Span{1 / result_.stiffer_span.high, 1 / result_.stiffer_span.low};
    const Assumption& a = assumption(Assumed::squeeze_a);
    return fmt::format(
        "{:.2f} times {} than the assumed law ({:.2f} to {:.2f}), whose own doubt is {:.1f} times "
        "either way *; the test leaves {:.2f} times.",
        times, stiffer ? "stiffer" : "softer", span.low, span.high, a.high / a.value,
        result_.middle.span_mpa.high / result_.middle.pressure_mpa);
  }

  void residuals() {
    const ResidualScale scale(result_.loads);
    lines_.line("READING LESS LAW, 1/100 mm: o mean, --- its standard error", Emphasis::heading);
    lines_.line(fmt::format("  {:<23}{:>2}  {}", "load", "n", scale.head()));
    for (std::size_t i = 0; i < result_.loads.size(); ++i) {
      const PressLoadResult& load = result_.loads[i];
      const bool off = result_.outlier && result_.outlier->load == i;
      lines_.line(fmt::format("  {:<23}{:>2}  {} {:>5} ±{:.1f}{}",
                              load_words(load.pressure_mpa, answer_, figures_), load.readings,
                              scale.line(load), signed_tenths(load.residual_mm * hundredths),
                              load.error_mm * hundredths, off ? " OFF" : ""));
    }
    way_back();
  }

  void way_back() {
    if (!result_.way_back) return;
    const PressReturn& back = *result_.way_back;
    const std::string readings = counted(back.readings, "reading");
    lines_.wrapped(
        back.shows
            ? fmt::format("On the way back ({}) the cell is {:.2f} mm {} at the same load: the law "
                          "is that of the way up; the pack gets the other one when its pressure "
                          "falls.",
                          readings, std::abs(back.thinner_mm),
                          back.thinner_mm > 0 ? "thinner" : "thicker")
            : fmt::format("On the way back ({}): as on the way up, within the reading error.",
                          readings),
        {2, 2});
  }

  void warnings() {
    if (result_.warnings.empty()) return;
    lines_.blank();
    for (const PressWarning warning : result_.warnings) {
      lines_.wrapped("! " + sentence(warning, answer_, figures_) + '.', {0, 2});
    }
  }

  void paste() {
    lines_.line("INTO THE BUILD FILE, within \"cell\"; or on a command line", Emphasis::heading);
    lines_.verbatim("  " + softness_lines(result_.law));
    lines_.verbatim("  " + softness_sets(result_.law));
  }

  void close() {
    lines_.wrapped("* assumed: " + assumed_words() + ".", item_head);
    lines_.wrapped(
        "One sound cell at one charge and temperature: swing and age are not in it. "
        "A swollen cell has no such law.",
        item_head);
    lines_.wrapped(cautions::overruled, item_head);
  }

  [[nodiscard]] std::string assumed_words() const {
    std::string text;
    for (const Assumed id : result_.assumed) {
      const Assumption& line = assumption(id);
      text += fmt::format("{}{} = {}{}", text.empty() ? "" : "; ", line.plain, exact(line.value),
                          line.unit == "1" ? "" : fmt::format(" {}", line.unit));
    }
    return text;
  }

  const SoftnessAnswer& answer_;
  const PressResult& result_;
  Figures figures_;
  TextLines lines_;
};

// Four figures: the law is then the fitted one to a thousandth.
std::string a_text(const PressLaw& law) {
  return fmt::format("{:.4g} MPa", law.a_mpa);
}
std::string b_text(const PressLaw& law) {
  return fmt::format("{:.4g}", law.b);
}

}  // namespace

std::string softness_text(const SoftnessAnswer& answer, const SoftnessStyle& style) {
  return SoftnessPage(answer, style).text();
}

std::string softness_lines(const PressLaw& law) {
  return fmt::format(R"("softness": {{ "a": "{}", "b": {} }})", a_text(law), b_text(law));
}

std::string softness_sets(const PressLaw& law) {
  return fmt::format(R"(--set cell.softness.a="{}" --set cell.softness.b={})", a_text(law),
                     b_text(law));
}

}  // namespace stackfit::cli
