// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_sort.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/check_words.hpp"
#include "cli/figures.hpp"
#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent hanging{.first = 0, .next = 6};
constexpr double um_per_mm = 1000;
constexpr double mah_per_ah = 1000;
constexpr std::size_t named_at_most = 12;
constexpr std::size_t packs_in_full = 6;
constexpr std::size_t packs_in_short = 20;
constexpr std::size_t reasons_at_most = 5;
constexpr std::size_t longest_id = 10;

std::string short_id(const std::string& id) {
  return shortened(printable(id), longest_id);
}

std::string ah_text(std::int64_t mah) {
  return fmt::format("{:g} Ah", static_cast<double>(mah) / mah_per_ah);
}

class SortPage {
 public:
  SortPage(const SortAnswer& answer, const TextStyle& style)
      : answer_(answer), figures_(style.units), all_(style.all), lines_(style.colour) {}

  std::string text() {
    stop();
    title();
    verdict();
    aside();
    aims();
    packs();
    left_over();
    mind();
    lines_.wrapped(cautions::overruled, {});
    return lines_.text();
  }

  std::string assumed() {
    stop();
    lines_.wrapped("ASSUMED, not the maker's: limits and figures behind the packs, and why.", {});
    lines_.blank();
    for (const Assumed id : answer_.assumed) {
      const Assumption& entry = assumption(id);
      lines_.wrapped(fmt::format("* {}: {:g} {}", entry.plain, entry.value,
                                 entry.unit == "1" ? "" : entry.unit),
                     {.first = 0, .next = 4}, Emphasis::heading);
      lines_.wrapped(fmt::format("{}. From: {}.", entry.why, entry.source), beneath);
    }
    for (const AssumedWord& word : answer_.assumed_words) {
      lines_.wrapped(fmt::format("* {}: {}", printable(word.what), printable(word.taken)),
                     {.first = 0, .next = 4}, Emphasis::heading);
      lines_.wrapped(printable(word.why) + ".", beneath);
    }
    if (nominal_is_assumed()) {
      lines_.wrapped(fmt::format("* nominal thickness: {}, the median of the pile (--thickness)",
                                 figures_.thickness(answer_.nominal_mm)),
                     {.first = 0, .next = 4}, Emphasis::heading);
    }
    lines_.blank();
    lines_.wrapped(cautions::overruled, {});
    return lines_.text();
  }

 private:
  static constexpr TextLines::Indent beneath{.first = 4, .next = 4};

  [[nodiscard]] bool nominal_is_assumed() const {
    return answer_.nominal_from != NominalFrom::data_sheet;
  }

  void stop() {
    if (!answer_.any_sign()) {
      lines_.line(std::string("STOP: ") + cautions::never_pressed, Emphasis::bad);
      return;
    }
    std::string named;
    for (const CellCondition& cell : answer_.aside) {
      if (cell.shows_sign) named += (named.empty() ? "" : ", ") + short_id(cell.id);
    }
    lines_.wrapped(fmt::format("STOP: signs on {}: outdoors now, away from anything that burns. "
                               "Never charge, press or build with it. And always: {}",
                               named, cautions::never_pressed),
                   hanging, Emphasis::bad);
  }

  void title() {
    const std::string right =
        fmt::format("{}, {} of {}", counted(static_cast<int>(answer_.pile), "cell"),
                    counted(answer_.packs_asked, "pack"), answer_.cells_each);
    const std::string command = "stackfit sort  ";
    const std::size_t room = line_width - command.size() - right.size() - 2;
    std::string line = command + shortened(printable(answer_.title), room);
    line += std::string(line_width - right.size() - display_width(line), ' ');
    lines_.line(line + right);
    lines_.blank();
  }

  [[nodiscard]] std::string first_words() const {
    if (!answer_.has_box) return "SORTED";
    if (answer_.all_pass()) return "SORTED, EVERY PACK CAN BE SHIMMED";
    return fmt::format("NOT EVERY PACK CAN BE SHIMMED: {} of {}", answer_.passing(),
                       answer_.packs_asked);
  }

  void verdict() {
    const std::string proven =
        answer_.best ? "No sorting does better: proven."
                     : "Not proven to be the best: each figure stands beside what none can beat.";
    const std::string star = answer_.assumed.empty() ? "" : " (* is assumed: --assumed)";
    lines_.wrapped(fmt::format("{}. {}{}", first_words(),
                               answer_.shims == SortShims::all ? proven : no_way(), star),
                   hanging, answer_.all_pass() ? Emphasis::good : Emphasis::bad);
    lines_.blank();
  }

  [[nodiscard]] std::string no_way() const {
    return answer_.shims == SortShims::none_exists
               ? "No sorting gives every row a length that the kit serves."
               : "No sorting was found whose rows all have a length that the kit serves.";
  }

  void aside() {
    if (answer_.aside.empty()) return;
    lines_.wrapped(fmt::format("SET ASIDE {}, in no pack", answer_.aside.size()), {},
                   Emphasis::heading);
    std::size_t named = 0;
    for (const CellCondition& cell : answer_.aside) {
      if (!all_ && named == named_at_most) {
        lines_.line(fmt::format("  and {} more: --all", answer_.aside.size() - named));
        break;
      }
      ++named;
      std::string why;
      for (const RuleSpoken& spoken : cell.spoken) {
        if (spoken.rule == CellRule::swelling_not_measured) continue;
        why += (why.empty() ? "" : "; ") + printable(reason(spoken));
      }
      lines_.wrapped(fmt::format("{}: {}", short_id(cell.id), why), item_indent);
    }
    lines_.blank();
  }

  void aim(const std::string& what, const std::string& reached) {
    constexpr std::size_t wide = 34;
    const std::string head = "  " + what;
    const std::string start = head + std::string(head.size() < wide ? wide - head.size() : 1, ' ');
    TextLines flowed(false);
    flowed.wrapped(reached, {.first = wide, .next = wide});
    std::string text = flowed.text();
    text.replace(0, wide, start);
    std::string_view left = text;
    while (!left.empty()) {
      const std::size_t end = std::min(left.find('\n'), left.size());
      lines_.line(left.substr(0, end));
      left.remove_prefix(std::min(end + 1, left.size()));
    }
  }

  void aims() {
    lines_.wrapped("WHAT IS BEST, each before the next", {}, Emphasis::heading);
    aim("1 every pack can be shimmed", shimmed());
    aim("2 least spread of capacity", capacity());
    aim("3 least difference of rows", lengths());
    aim("4 of equals", "by capacity, then thickness, then id");
    lines_.blank();
  }

  [[nodiscard]] std::string shimmed() const {
    if (!answer_.has_box) return "not looked at: --build names box and kit";
    if (answer_.is_frame) {
      return fmt::format("a frame takes any length; plans of {} pass", passing_of());
    }
    if (answer_.served_mm.empty()) return "no length of row is served by this box and kit";
    std::string text = "rows of ";
    const std::size_t shown = std::min<std::size_t>(answer_.served_mm.size(), 2);
    for (std::size_t i = 0; i < shown; ++i) {
      const Span& span = answer_.served_mm[i];
      text += fmt::format("{}{} to {}", i > 0 ? ", " : "", figures_.thickness_number(span.low),
                          figures_.thickness(span.high));
    }
    if (answer_.served_mm.size() > shown) text += " and more";
    return fmt::format("{} are served; plans of {} pass", text, passing_of());
  }

  [[nodiscard]] std::string passing_of() const {
    return answer_.all_pass() ? "all"
                              : fmt::format("{} of {}", answer_.passing(), answer_.packs_asked);
  }

  [[nodiscard]] std::string capacity() const {
    if (!answer_.by_capacity) {
      return "left out: no capacities in the table";
    }
    const SortFigure& figure = answer_.spread_mah;
    return figure.proven()
               ? fmt::format("{} in a pack at most; none has less", ah_text(figure.found))
               : fmt::format("{} in a pack at most; none has less than {}", ah_text(figure.found),
                             ah_text(figure.bound));
  }

  [[nodiscard]] std::string lengths() const {
    const SortFigure& figure = answer_.difference_um;
    const std::string with = answer_.by_capacity ? " with that spread" : "";
    const std::string found = micro(figure.found);
    if (figure.proven()) return fmt::format("{}; none has less{}", found, with);
    return figure.bound == 0
               ? fmt::format("{}; how little is possible{} is not known", found, with)
               : fmt::format("{}; none has less than {}{}", found, micro(figure.bound), with);
  }

  /// Thicknesses are whole micrometres here: what rounds to nothing is not nothing.
  [[nodiscard]] static std::string micro(std::int64_t um) {
    return fmt::format("{:g} mm", static_cast<double>(um) / um_per_mm);
  }

  void packs() {
    lines_.wrapped(
        fmt::format("THE PACKS, rows without sheets at {} charge", charge_text(answer_.at_charge)),
        {}, Emphasis::heading);
    const bool in_full = all_ || answer_.packs.size() <= packs_in_full;
    const std::size_t shown =
        all_ ? answer_.packs.size() : std::min(answer_.packs.size(), packs_in_short);
    for (std::size_t i = 0; i < shown; ++i) {
      pack(answer_.packs[i], i + 1, in_full);
    }
    if (shown < answer_.packs.size()) {
      lines_.line(fmt::format("  and {} packs more, and every pack's cells: --all, --json",
                              answer_.packs.size() - shown));
    } else if (!in_full) {
      lines_.line("  every pack's cells: --all");
    }
    if (same_shims()) {
      lines_.line("  the same shims serve every pack");
    }
    lines_.blank();
  }

  [[nodiscard]] bool same_shims() const {
    if (!answer_.has_box || !answer_.all_pass() || answer_.packs.size() < 2) return false;
    const std::vector<int>& first = answer_.packs.front().plan->used;
    return std::ranges::all_of(answer_.packs, [&](const SortedPack& pack) {
      return pack.plan && pack.plan->used == first;
    });
  }

  void pack(const SortedPack& pack, std::size_t number, bool in_full) {
    std::string head = fmt::format(
        "{}: row {}", number, figures_.thickness(static_cast<double>(pack.row_um) / um_per_mm));
    if (pack.capacity_ah) {
      head += fmt::format(", {:g} to {:g} Ah", pack.capacity_ah->low, pack.capacity_ah->high);
    }
    const bool passes = !pack.plan || pack.plan->passes;
    if (in_full) {
      lines_.wrapped("pack " + head, item_indent, passes ? Emphasis::none : Emphasis::bad);
      lines_.wrapped(ids(pack.cells, true), beneath);
      if (pack.plan) lines_.wrapped(shims(*pack.plan, pack.length_serves), beneath);
    } else {
      lines_.wrapped(head + (pack.plan ? "; " + shims(*pack.plan, pack.length_serves) : ""),
                     item_indent, passes ? Emphasis::none : Emphasis::bad);
    }
  }

  [[nodiscard]] std::string shims(const PackPlan& plan, bool length_serves) const {
    if (!plan.found) {
      return "NO PLAN: the kit has too few sheets that insulate, or no place for them";
    }
    std::string used;
    for (std::size_t kind = 0; kind < plan.used.size(); ++kind) {
      if (plan.used[kind] > 0) {
        used += fmt::format("{}{} of {}", used.empty() ? "" : ", ", plan.used[kind],
                            printable(answer_.kit[kind]));
      }
    }
    const std::string pressures =
        fmt::format("{} to {}", figures_.pressure_number(plan.lowest.face_pressure_mpa),
                    figures_.pressure(plan.highest.face_pressure_mpa));
    if (!plan.passes) {
      return fmt::format("DOES NOT PASS{}: at best {}, {}",
                         length_serves ? "" : ", its row has no length that the kit serves",
                         used.empty() ? "no shims" : used, pressures);
    }
    return fmt::format("{}: {}; {}", used.empty() ? "no shims" : "shims " + used,
                       figures_.thickness(plan.shims_mm), pressures);
  }

  [[nodiscard]] std::string ids(const std::vector<std::size_t>& cells, bool every) const {
    std::string text;
    std::size_t named = 0;
    for (const std::size_t cell : cells) {
      if (!every && named == named_at_most) {
        return text + fmt::format(" and {} more", cells.size() - named);
      }
      text += (named++ == 0 ? "" : " ") + short_id(answer_.ids[cell]);
    }
    return text;
  }

  void left_over() {
    if (answer_.left_over.empty()) return;
    lines_.wrapped(
        fmt::format("LEFT OVER {}: {}", answer_.left_over.size(), ids(answer_.left_over, all_)),
        hanging);
    lines_.blank();
  }

  void mind() {
    std::vector<std::string> words;
    if (answer_.signs_not_said > 0) {
      words.push_back(fmt::format(
          "signs not said of {}: look for smell, leak, heat, dents, bulges before any goes in",
          counted(static_cast<int>(answer_.signs_not_said), "cell")));
    }
    if (!answer_.watched.empty()) words.push_back(watch());
    if (!answer_.has_box) {
      words.emplace_back(
          "lengths alone were evened: --build box.json chooses each pack's shims too");
    } else if (!answer_.all_pass()) {
      words.emplace_back(
          "what would mend a pack: keep it with --save and run stackfit pick on it; other shims "
          "or a box of another length (stackfit size)");
    } else {
      words.emplace_back("which shim goes where: --save PREFIX, then stackfit pick PREFIX_1.json");
    }
    if (answer_.kept_clear_mm > 0) {
      words.push_back(
          fmt::format("rows keep {} clear of the ends of those lengths, where plans "
                      "failed in full",
                      figures_.thickness(answer_.kept_clear_mm)));
    }
    lines_.wrapped("MIND", {}, Emphasis::heading);
    for (const std::string& word : words) lines_.wrapped("- " + word, item_indent);
    lines_.blank();
  }

  [[nodiscard]] std::string watch() const {
    std::string text = "on watch, but not set aside: ";
    std::size_t named = 0;
    for (const CellCondition& cell : answer_.watched) {
      if (!all_ && named == reasons_at_most) {
        return text + fmt::format(" and {} more (--all)", answer_.watched.size() - named);
      }
      const auto spoken = std::ranges::find_if(cell.spoken, [](const RuleSpoken& rule) {
        return rule.rule != CellRule::signs_not_said;
      });
      text += fmt::format("{}{} ({})", named++ == 0 ? "" : ", ", short_id(cell.id),
                          printable(reason(*spoken)));
    }
    return text;
  }

  const SortAnswer& answer_;
  Figures figures_;
  bool all_;
  TextLines lines_;
};

}  // namespace

std::string sort_text(const SortAnswer& answer, const TextStyle& style) {
  return SortPage(answer, style).text();
}

std::string sort_assumed_text(const SortAnswer& answer, const TextStyle& style) {
  return SortPage(answer, style).assumed();
}

}  // namespace stackfit::cli
