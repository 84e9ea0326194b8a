// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/view_text_parts.hpp"
#include "cli/view_text_walls.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent hanging{.first = 2, .next = 6};
constexpr std::size_t longest_kit_name = 20;

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) {
    text += (text.empty() ? "" : ", ") + printable(word);
  }
  return text;
}

std::string kit_use(const PlanResult& plan, const Figures& figures, bool all) {
  std::string text;
  for (const KitUse& use : plan.kit) {
    if (use.used == 0 && !all) {
      continue;
    }
    const std::string name = use.name.empty() ? figures.thickness_number(use.thickness_mm)
                                              : shortened(printable(use.name), longest_kit_name);
    text += fmt::format("{}{}: {} of {}", text.empty() ? "you use " : ", ", name, use.used,
                        use.on_hand);
  }
  return text;
}

std::string_view floor_words(Floor floor) {
  switch (floor) {
    case Floor::not_said:
      return "not said";
    case Floor::insulated:
      return "insulated";
    case Floor::bare:
      return "BARE, insulate it";
  }
  return "";
}

std::string insulation(const Answer& answer) {
  const std::string bare =
      answer.plan.bare_metal.empty() ? "none" : "AT " + joined(answer.plan.bare_metal);
  if (answer.clamp_frame) {
    return fmt::format("metal left bare: {}; insulate what the frame stands on", bare);
  }
  return fmt::format("metal left bare: {}; floor and sides: {}", bare, floor_words(answer.floor));
}

// Who gives way, largest parts named in a fixed order; what gives nothing is not named.
std::string who_gives(const PlanResult& plan, const Figures& figures) {
  struct Part {
    std::string_view words;
    double give_mm;
  };
  const Part parts[] = {{"cells give", plan.cells_give_mm},
                        {"pads", plan.pads_give_mm},
                        {"walls bow", plan.walls_give_mm},
                        {"sheets", plan.sheets_give_mm}};
  constexpr double worth_naming_mm = 0.005;
  std::string text;
  for (const Part& part : parts) {
    if (part.give_mm < worth_naming_mm) {
      continue;
    }
    text += fmt::format("{}{} {}", text.empty() ? ": " : ", ", part.words,
                        figures.length_number(part.give_mm));
  }
  return text;
}

// Only what is well; bars that do not go on, or must give, are warnings.
std::string bars_words(const PlanResult& plan) {
  if (!plan.terminals || !plan.terminals->go_on || !*plan.terminals->go_on) {
    return {};
  }
  return *plan.terminals->go_on_always ? ", each bar goes on, as built and in every state"
                                       : ", each bar goes on as built, not in every state";
}

std::string spacing_words(const PlanResult& plan, const Figures& figures) {
  if (plan.terminal_spacing_mm.empty()) {
    return {};
  }
  const auto [least, most] = std::ranges::minmax(plan.terminal_spacing_mm);
  const std::string low = figures.length_number(least);
  const std::string high = figures.length_number(most);
  const Figures printed = figures.unmarked();
  const bool alike = printed.length_number(least) == printed.length_number(most);
  return (alike ? fmt::format("; terminals {} apart", low)
                : fmt::format("; terminals {}-{} apart", low, high)) +
         bars_words(plan);
}

std::string too_long(const PlanResult& plan, const Figures& figures) {
  if (plan.interference_mm < 0) {
    return fmt::format("{} of room left: nothing is pressed",
                       figures.length(-plan.interference_mm));
  }
  return fmt::format("{} too long{}", figures.length(plan.interference_mm),
                     who_gives(plan, figures));
}

// Gap i stands between cells i and i + 1: its slippery face looks to one of them.
std::vector<std::string> gaps_looking(const PlanResult& plan, bool to_higher) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < plan.gaps.size(); ++i) {
    const int cell = plan.gaps[i].slippery_towards_cell;
    if (cell != 0 && (cell > static_cast<int>(i)) == to_higher) {
      names.push_back(plan.gaps[i].name);
    }
  }
  return names;
}

std::string slippery_faces(const PlanResult& plan) {
  std::string text;
  for (const bool to_higher : {true, false}) {
    const std::vector<std::string> names = gaps_looking(plan, to_higher);
    if (names.empty()) {
      continue;
    }
    text += fmt::format("{}towards the {} cell number in {}",
                        text.empty() ? "slippery faces: " : "; ", to_higher ? "higher" : "lower",
                        names.size() == plan.gaps.size() ? "every gap" : joined(names));
  }
  return text;
}

std::string heading(const Answer& answer) {
  if (answer.question == Question::pressure) {
    return "AS PLACED";
  }
  return answer.inside() ? "WHERE THE SHIMS GO" : "THE NEAREST TO IT (not to be built)";
}

}  // namespace

void write_plan(TextPage& page) {
  const Answer& answer = page.answer;
  page.lines.line(fmt::format("{:<36}+ - : the terminal on the side nearest you", heading(answer)),
                  Emphasis::heading);
  write_row(page);
  write_plan_words(page);
  page.lines.blank();
}

void write_plan_words(TextPage& page) {
  const Answer& answer = page.answer;
  const PlanResult& plan = answer.plan;
  write_order(page);
  const std::string use = kit_use(plan, page.figures, page.all);
  if (!use.empty()) {
    page.lines.wrapped(
        fmt::format("{}; shims {} in all", use, page.figures.thickness(plan.shim_total_mm)),
        hanging);
  }
  const std::string slippery = slippery_faces(plan);
  if (!slippery.empty()) {
    page.lines.wrapped(slippery, hanging);
  }
  page.lines.wrapped(insulation(answer), hanging);
  const std::string lengths =
      plan.frame ? frame_length(*plan.frame, page.figures) : too_long(plan, page.figures);
  page.lines.wrapped(lengths + spacing_words(plan, page.figures), hanging);
  const std::string walls = wall_words(plan, page.figures);
  if (!walls.empty()) {
    page.lines.wrapped(walls, hanging);
  }
  if (plan.rim_share) {
    page.lines.wrapped(
        fmt::format("where the force is highest the cans' rims carry {:.0f} % of it *",
                    100 * *plan.rim_share),
        hanging);
  }
  if (plan.frame) {
    write_frame(page, *plan.frame);
  }
  if (page.all) {
    page.lines.wrapped(fmt::format("at the edge {}, in the middle {} too long",
                                   page.figures.length_number(plan.interference_edge_mm),
                                   page.figures.length_number(plan.interference_middle_mm)),
                       hanging);
  }
}

}  // namespace stackfit::cli
