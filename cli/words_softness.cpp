// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/words_softness.hpp"

#include <fmt/format.h>

#include "cli/answer_words.hpp"
namespace stackfit::cli {
namespace {

std::string beyond_reach(const SoftnessAnswer& answer, const Figures& figures) {
  const PressResult& result = answer.result;
  const double highest = result.loads.back().pressure_mpa;
  const double top = result.band.mpa.high;
  const double share = top / highest;
  const double needed = highest * top / result.reach_mpa;
  return fmt::format(
      "The band's top, {}, is {:.1f} times the highest load, {}:{} the law is not given above "
      "{} *. Press to {} or more where the maker allows it, else keep the pack below {}",
      figures.pressure(top), share, load_words(highest, answer, figures),
      result.low ? "" : " its low end lies too far up as well;", figures.pressure(result.reach_mpa),
      load_words(needed, answer, figures), figures.pressure(result.reach_mpa));
}

std::string few_loads(const SoftnessAnswer& answer) {
  return fmt::format(
      "{} loads cannot tell A, B and the free thickness apart: the assumed law fills in *. Press "
      "at {} or more, eight are better",
      answer.result.loads.size(), loads_that_stand_alone);
}

std::string outlier(const SoftnessAnswer& answer, const Figures& figures) {
  const PressOutlier& off = *answer.result.outlier;
  return fmt::format("Load {} of {}, {}, is off by {} beside the others: weigh it and read again",
                     off.load + 1, answer.result.loads.size(),
                     load_words(answer.result.loads[off.load].pressure_mpa, answer, figures),
                     signed_mm(off.off_mm));
}

std::string scatters(const SoftnessAnswer& answer) {
  return fmt::format(
      "The readings scatter by {:.3f} mm about the law, more than their error was taken to be; "
      "the spans count with that. Clean the boards, wait alike at each load, read all four "
      "corners",
      answer.result.reading_error_mm);
}

std::string steep(const SoftnessAnswer& answer, const Figures& figures) {
  constexpr double lower = 4;
  return fmt::format(
      "Most of the bend lies below the first load, {}: A is not told apart from the free "
      "thickness. Add two loads down to {}",
      load_words(answer.result.loads.front().pressure_mpa, answer, figures),
      figures.pressure(answer.result.loads.front().pressure_mpa / lower));
}

}  // namespace

std::string_view code(PressWarning value) {
  switch (value) {
    case PressWarning::beyond_reach:
      return "beyond_reach";
    case PressWarning::few_loads:
      return "few_loads";
    case PressWarning::outlier:
      return "outlier";
    case PressWarning::scatters:
      return "scatters";
    case PressWarning::straight:
      return "straight";
    case PressWarning::steep:
      return "steep";
    case PressWarning::not_converged:
      return "not_converged";
  }
  return no_such_word;
}

std::string_view code(ErrorSource value) {
  switch (value) {
    case ErrorSource::assumed:
      return "assumed";
    case ErrorSource::said:
      return "said";
    case ErrorSource::residuals:
      return "residuals";
  }
  return no_such_word;
}

std::string_view code(PressFitEnd value) {
  switch (value) {
    case PressFitEnd::converged:
      return "converged";
    case PressFitEnd::straight:
      return "straight";
    case PressFitEnd::steep:
      return "steep";
    case PressFitEnd::cap_reached:
      return "cap_reached";
  }
  return no_such_word;
}

std::string_view short_words(PressWarning value) {
  switch (value) {
    case PressWarning::beyond_reach:
      return "NOT FOR ALL OF YOUR BAND";
    case PressWarning::few_loads:
      return "WITH THE ASSUMED LAW'S HELP";
    case PressWarning::outlier:
      return "A LOAD IS OFF";
    case PressWarning::scatters:
      return "THE READINGS SCATTER";
    case PressWarning::straight:
      return "A AND B ARE NOT TOLD APART";
    case PressWarning::steep:
      return "A IS NOT KNOWN";
    case PressWarning::not_converged:
      return "THE FIT DID NOT SETTLE";
  }
  return no_such_word;
}

std::string sentence(PressWarning value, const SoftnessAnswer& answer, const Figures& figures) {
  switch (value) {
    case PressWarning::beyond_reach:
      return beyond_reach(answer, figures);
    case PressWarning::few_loads:
      return few_loads(answer);
    case PressWarning::outlier:
      return outlier(answer, figures);
    case PressWarning::scatters:
      return scatters(answer);
    case PressWarning::straight:
      return "The readings bend too little to tell A from B: as a pair they hold up to the "
             "highest load. Repeat the test once, with loads from low to high";
    case PressWarning::steep:
      return steep(answer, figures);
    case PressWarning::not_converged:
      return "The search for the best law ran out of turns: look at the readings below and "
             "repeat the test";
  }
  return std::string(no_such_word);
}

std::string load_words(double pressure_mpa, const SoftnessAnswer& answer, const Figures& figures) {
  if (!answer.face_area_mm2) {
    return figures.pressure(pressure_mpa);
  }
  return fmt::format("{} ({})", figures.pressure(pressure_mpa),
                     figures.force(pressure_mpa * *answer.face_area_mm2));
}

std::string signed_mm(double mm) {
  return fmt::format("{:+.2f} mm", mm);
}

}  // namespace stackfit::cli
