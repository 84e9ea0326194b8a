// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <optional>
#include <string>
#include <vector>

#include "cli/cautions.hpp"
#include "cli/gap_recipes.hpp"
#include "cli/view_text_parts.hpp"
#include "cli/words_chance.hpp"

namespace stackfit::cli {
namespace {

// Neighbouring gaps that change alike.
struct Change {
  std::string first;
  std::string last;
  std::string now;
};

std::vector<Change> changes(const PlanResult& plan, const PlanResult& looser,
                            const Figures& figures) {
  std::vector<Change> found;
  bool next_to_last = false;
  for (std::size_t i = 0; i < plan.gaps.size() && i < looser.gaps.size(); ++i) {
    const std::string now = shims_in_words(looser.gaps[i], figures);
    const bool changed = now != shims_in_words(plan.gaps[i], figures);
    if (changed && next_to_last && found.back().now == now) {
      found.back().last = plan.gaps[i].name;
    } else if (changed) {
      found.push_back({plan.gaps[i].name, plan.gaps[i].name, now});
    }
    next_to_last = changed;
  }
  return found;
}

// Gaps that differ from the plan, each as it is in the looser one; empty where too many do.
std::string changed_gaps(const PlanResult& plan, const PlanResult& looser, const Figures& figures) {
  constexpr std::size_t named_at_most = 4;
  const std::vector<Change> found = changes(plan, looser, figures);
  if (found.size() > named_at_most) {
    return {};
  }
  std::string text;
  for (const Change& change : found) {
    const std::string where = change.first == change.last
                                  ? change.first
                                  : fmt::format("{} to {}", change.first, change.last);
    text += fmt::format("{}in {} {}", text.empty() ? "" : "; ", where, change.now);
  }
  return text;
}

std::string total_less(const PlanResult& plan, const PlanResult& looser, const Figures& figures) {
  const double less_mm = plan.shim_total_mm - looser.shim_total_mm;
  const std::string gaps = changed_gaps(plan, looser, figures);
  std::string text = fmt::format("{} of shims less", figures.thickness(less_mm));
  if (!gaps.empty()) {
    return fmt::format("{}: {}", text, gaps);
  }
  return text + " (gap by gap: --json, `looser`)";
}

std::string life(const PlanResult& plan) {
  if (!plan.passes) {
    return ", NOT inside your band";
  }
  if (!plan.life_span) {
    return {};
  }
  return fmt::format(", inside until {} of capacity is lost *", life_text(*plan.life_span));
}

std::string chance_of_looser(const std::optional<Chance>& chance) {
  return chance && chance->looser ? ", " + chance_text(*chance->looser) : "";
}

}  // namespace

void write_looser(TextPage& page) {
  if (!page.answer.looser) {
    return;
  }
  const PlanResult& looser = *page.answer.looser;
  const Figures& figures = page.figures;
  page.lines.wrapped(fmt::format("OR, LOOSER: {}. {} to {}{}{}. The pressure only rises with age.",
                                 total_less(page.answer.plan, looser, figures),
                                 figures.pressure_number(looser.lowest.face_pressure_mpa),
                                 figures.pressure(looser.highest.face_pressure_mpa),
                                 chance_of_looser(page.answer.chance), life(looser)),
                     {.first = 0, .next = 2});
}

void write_cautions(TextPage& page) {
  const bool worth_keeping = page.answer.question == Question::pick && page.answer.inside();
  page.lines.wrapped(
      fmt::format("{}{}", cautions::overruled, worth_keeping ? " Keep it: --save built.json" : ""),
      {});
}

}  // namespace stackfit::cli
