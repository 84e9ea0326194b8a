// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_size.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/answer_words.hpp"
#include "cli/cautions.hpp"
#include "cli/view_assumed.hpp"
#include "cli/view_size_parts.hpp"
#include "cli/words_warning.hpp"

namespace stackfit::cli {
namespace {

constexpr TextLines::Indent under_verdict{.first = 0, .next = 6};
constexpr TextLines::Indent warning_line{.first = 2, .next = 4};

std::string served_words(const SizeAnswer& answer) {
  switch (answer.offers.front().offered_for) {
    case OfferFor::these_cells:
      return "these cells as measured, by up to " +
             fmt::format("{:.1f} mm that readings and charge may be off *",
                         answer.offers.front().length.spread_mm);
    case OfferFor::any_batch:
      return fmt::format("any batch within the data sheet's ±{:g} mm a cell{}", answer.tolerance_mm,
                         answer.tolerance_assumed ? " *" : "");
    case OfferFor::likely_lot:
      return fmt::format("a lot that has {:.0f} % of the data sheet's ±{:g} mm in common *",
                         100 * answer.lot_share, answer.tolerance_mm);
    case OfferFor::once_measured:
      return "these cells, once they are measured";
  }
  return "";
}

std::string too_much_swing(const SizeAnswer& answer, const Figures& figures) {
  return fmt::format(
      "the cells breathe {} between {} charge{}, and between these walls your band takes {}",
      figures.length(answer.swing_mm), percent(answer.use_charge),
      size_star(answer, Assumed::swing_net), figures.length(answer.band_takes_mm));
}

std::string why_nothing(const SizeAnswer& answer, const Figures& figures) {
  if (answer.hand_refuses) {
    return "no length that keeps the band lets a hand push the last cell in; with an end wall that "
           "goes on last one does (build.method, box.opens)";
  }
  if (answer.short_mm <= 0) {
    return fmt::format(
        "the band forgives {} of length, and no kit of these sheets steps finely and "
        "far enough through what cells and box may differ by",
        figures.length(-answer.short_mm));
  }
  if (answer.swing_mm > answer.band_takes_mm) {
    return fmt::format("{}; with heat and cold it is short by {}", too_much_swing(answer, figures),
                       figures.length(answer.short_mm));
  }
  return fmt::format(
      "the cells breathe {} and the band takes {}, but with heat and cold, the limit "
      "and what is already in the row it is short by {}",
      figures.length(answer.swing_mm), figures.length(answer.band_takes_mm),
      figures.length(answer.short_mm));
}

std::string frame_words(const SizeAnswer& answer, const Figures& figures) {
  const FrameOrder& frame = *answer.frame;
  const std::string head(plain(answer.verdict));
  switch (frame.problem) {
    case FrameProblem::none:
      return fmt::format("{}: a clamp frame brought to {}, {} of M{:g}, two plates of {:g} mm{}.{}",
                         head, figures.force(frame.force_n), counted(frame.rods.count, "rod"),
                         frame.rods.thread_mm, frame.plates->chosen.thickness_mm,
                         frame.springs ? ", disc springs on every rod" : "",
                         answer.verdict == SizeVerdict::serves
                             ? ""
                             : " A * marks what is assumed, not the maker's: --assumed");
    case FrameProblem::rods_too_thin:
      return head + ": no rod that stands clear of the cells holds the top of your band.";
    case FrameProblem::plates_too_thin:
      return head + ": no plate of your stock stands the top of your band.";
    case FrameProblem::rods_alone_fail:
    case FrameProblem::no_springs:
      return fmt::format(
          "{}: the cells breathe {}, and no springs in the table keep every state "
          "in your band.",
          head, figures.length(frame.breathing_mm));
  }
  return head;
}

std::string first_words(const SizeAnswer& answer, const Figures& figures) {
  const std::string head(plain(answer.verdict));
  if (answer.frame && answer.verdict != SizeVerdict::stop) {
    return frame_words(answer, figures);
  }
  switch (answer.verdict) {
    case SizeVerdict::serves:
    case SizeVerdict::serves_on_assumed_figures:
      return fmt::format("{}: {} inside, +{:g} / -0. By shims alone it then takes {}.{}", head,
                         ordered(answer.offers.front().length.nominal_mm),
                         answer.offers.front().length.tolerance_mm, served_words(answer),
                         answer.verdict == SizeVerdict::serves
                             ? ""
                             : " A * marks what is assumed, not the maker's: --assumed");
    case SizeVerdict::serves_with_pad:
      return fmt::format("{}: {} inside, +{:g} / -0, for {}. Hard shims alone cannot: {}.", head,
                         ordered(answer.offers.front().length.nominal_mm),
                         answer.offers.front().length.tolerance_mm, served_words(answer),
                         too_much_swing(answer, figures));
    case SizeVerdict::not_as_said:
      return fmt::format(
          "{}: the length can be had, but the cells do not go in: see WIDTH AND "
          "HEIGHT.",
          head);
    case SizeVerdict::walls_too_weak:
      return fmt::format("{}: {} the top of your band: see WHAT TO ORDER.", head,
                         answer.walls.from_stock ? "no plate of your stock stands"
                                                 : "the plate you said does not stand");
    case SizeVerdict::only_once_measured:
      return fmt::format(
          "{}: no kit of the sheets that are sold spans the data sheet's "
          "tolerance; the length below is for cells as thick as it prints, and is "
          "to be worked out again from readings.",
          head);
    case SizeVerdict::only_with_thin_wall:
    case SizeVerdict::nothing_serves:
      return fmt::format("{}: {}.", head, why_nothing(answer, figures));
    case SizeVerdict::stop: {
      std::string cells;
      for (const std::string& id : answer.refused) {
        cells += (cells.empty() ? "" : ", ") + shortened(printable(id), 20);
      }
      return fmt::format(
          "STOP: cell {} shows a sign or is too swollen to be pressed at all. No "
          "box is given. Never press it flat, charge it or build with it: stackfit "
          "check tells more.",
          cells);
    }
  }
  return head;
}

void write_head(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  page.lines.line(std::string("STOP: ") + cautions::never_pressed, Emphasis::bad);
  const std::string right = fmt::format("{} of {:g}±{:g} mm", counted(answer.cell_count, "cell"),
                                        answer.nominal_mm, answer.tolerance_mm);
  const std::string command = "stackfit size  ";
  const std::size_t room = line_width - command.size() - display_width(right) - 2;
  const std::string title =
      shortened(answer.title.empty() ? "(no title)" : printable(answer.title), room);
  const std::size_t gap = line_width - command.size() - display_width(title) - display_width(right);
  page.lines.line(command + title + std::string(gap, ' ') + right);
  page.lines.blank();
}

void write_warnings(SizePage& page) {
  constexpr std::size_t shown_at_most = 3;
  const std::vector<Warning>& warnings = page.answer.warnings;
  if (warnings.empty()) {
    return;
  }
  page.lines.blank();
  page.lines.line("WARNINGS", Emphasis::heading);
  const std::size_t shown = page.all ? warnings.size() : std::min(shown_at_most, warnings.size());
  for (std::size_t i = 0; i < shown; ++i) {
    page.lines.wrapped(sentence(warnings[i], page.figures), warning_line);
  }
  if (shown < warnings.size()) {
    page.lines.line(fmt::format("  and {} more: --all", warnings.size() - shown));
  }
}

void write_close(SizePage& page) {
  page.lines.blank();
  page.lines.wrapped(
      "Left out: rubbing of the cells on floor and sides, creep of walls and sheets, what a shop's "
      "own tolerance adds beyond the one above. Measure the box when it comes: length at five "
      "places, to 0.2 mm; then stackfit pick.",
      {});
}

}  // namespace

std::string_view plain(SizeVerdict verdict) {
  switch (verdict) {
    case SizeVerdict::serves:
      return "ORDER";
    case SizeVerdict::serves_on_assumed_figures:
      return "ORDER, ON ASSUMED FIGURES";
    case SizeVerdict::not_as_said:
      return "NOT LIKE THIS";
    case SizeVerdict::walls_too_weak:
      return "THE WALLS ARE TOO WEAK";
    case SizeVerdict::only_once_measured:
      return "WAIT AND MEASURE";
    case SizeVerdict::serves_with_pad:
      return "ORDER, WITH A PAD";
    case SizeVerdict::only_with_thin_wall:
      return "HARD SHIMS CANNOT";
    case SizeVerdict::nothing_serves:
      return "NOTHING THAT IS SOLD SERVES";
    case SizeVerdict::stop:
      return "STOP";
  }
  return "";
}

std::string_view size_star(const SizeAnswer& answer, Assumed id) {
  return std::ranges::any_of(answer.assumed, [&](const AssumedUse& use) { return use.id == id; })
             ? " *"
             : "";
}

void write_item(SizePage& page, std::string_view what, const std::string& text) {
  constexpr std::size_t first_column = 2;
  constexpr std::size_t second_column = 13;
  page.lines.beside(
      fmt::format("{:{}}{:<{}}", "", first_column, what, second_column - first_column), text);
}

std::string ordered(double mm) {
  return fmt::format("{:.4g} mm", mm);
}

std::string kit_words(const LengthOffer& length, const Figures& figures) {
  std::string words;
  for (const KitToBuy& kind : length.kit) {
    words += fmt::format("{}{} of {}", words.empty() ? "" : ", ", kind.count,
                         figures.thickness(kind.thickness_mm));
  }
  return words.empty() ? "no sheet at all" : words;
}

void write_size(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  page.lines.wrapped(first_words(answer, page.figures), under_verdict,
                     answer.serves() ? Emphasis::good : Emphasis::bad);
  if (answer.frame && answer.verdict != SizeVerdict::stop) {
    write_frame_order(page);
  }
  if (!answer.offers.empty()) {
    write_order(page);
    write_size_pressure(page);
  } else if (answer.verdict == SizeVerdict::walls_too_weak && !answer.frame) {
    write_order(page);
  }
  if (answer.verdict != SizeVerdict::stop) {
    if (!answer.frame && answer.verdict != SizeVerdict::walls_too_weak) {
      write_instead(page);
    }
    write_inside(page);
    write_cut_list(page);
  }
  write_warnings(page);
  write_close(page);
}

std::string size_text(const SizeAnswer& answer, const TextStyle& style) {
  SizePage page{answer, Figures(style.units), style.all, TextLines(style.colour)};
  write_head(page);
  write_size(page);
  page.lines.wrapped(cautions::overruled, {});
  return page.lines.text();
}

std::string size_assumed_text(const SizeAnswer& answer, const TextStyle& style) {
  Answer assumed;
  assumed.verdict = Verdict::fits_on_assumed_figures;
  assumed.assumed = answer.assumed;
  assumed.assumed_words = answer.assumed_words;
  return assumed_text(assumed, style);
}

}  // namespace stackfit::cli
