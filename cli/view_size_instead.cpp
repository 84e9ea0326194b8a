// SPDX-License-Identifier: GPL-3.0-or-later
//
// What else would do, and what it would save or cost.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/answer_words.hpp"
#include "cli/text_lines.hpp"
#include "cli/view_size_parts.hpp"

namespace stackfit::cli {
namespace {

void write_waiting(SizePage& page, const SizeOffer& offer) {
  const SizeOffer& first = page.answer.offers.front();
  const int fewer = first.length.sheets() - offer.length.sheets();
  const double shorter = first.length.nominal_mm - offer.length.nominal_mm;
  std::string text = fmt::format(
      "Wait and measure: with the cells read at their edges at a known charge, to ±{:.1f} mm in "
      "all *, {} would do",
      offer.length.spread_mm, kit_words(offer.length, page.figures));
  if (fewer > 0 && shorter > 0) {
    text += fmt::format(": {} fewer, in a box {:g} mm shorter", counted(fewer, "sheet"), shorter);
  } else if (fewer > 0) {
    text += fmt::format(": {} fewer", counted(fewer, "sheet"));
  }
  page.lines.wrapped(text + ".", item_indent);
}

void write_lot(SizePage& page, const SizeOffer& offer) {
  page.lines.wrapped(
      fmt::format("A likely lot, {:.0f} % of the tolerance in common *, differs by ±{:.1f} mm in "
                  "all in place of ±{:.1f}: {} inside with {}.",
                  100 * page.answer.lot_share, offer.length.spread_mm,
                  page.answer.offers.front().length.spread_mm, ordered(offer.length.nominal_mm),
                  kit_words(offer.length, page.figures)),
      item_indent);
}

void write_any_batch(SizePage& page, const SizeOffer& offer) {
  page.lines.wrapped(
      fmt::format("For any batch within ±{:g} mm a cell, should they be changed one day: {} inside "
                  "with {}.",
                  page.answer.tolerance_mm, ordered(offer.length.nominal_mm),
                  kit_words(offer.length, page.figures)),
      item_indent);
}

void write_softness(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  if (!answer.soft || !answer.stiff) {
    return;
  }
  const auto end = [&](const SizeBracket& bracket) {
    return bracket.window_mm > 0
               ? fmt::format("forgives {:.1f} mm, {}", bracket.window_mm,
                             bracket.serves ? "and the box serves" : "but the box does not serve")
               : fmt::format("is passed over by {:.1f} mm: hard shims cannot hold it",
                             -bracket.window_mm);
  };
  page.lines.wrapped(
      fmt::format("Were the cells half as stiff *, the band {}; were they twice as stiff, it {}. "
                  "Test one before you order: stackfit softness.",
                  end(*answer.soft), end(*answer.stiff)),
      item_indent);
}

void write_softer(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  if (answer.finer) {
    page.lines.wrapped(
        fmt::format("With {} it would do: {} inside.", kit_words(*answer.finer, page.figures),
                    ordered(answer.finer->nominal_mm)),
        item_indent);
    return;
  }
  if (answer.hand_refuses) {
    return;
  }
  if (answer.wider_high_mpa > 0) {
    page.lines.wrapped(
        fmt::format(
            "Hard shims would hold a band up to {}: ask the maker whether that is too much.",
            page.figures.pressure(answer.wider_high_mpa)),
        item_indent);
  }
  if (answer.offers.empty()) {
    page.lines.wrapped(
        answer.foam_said
            ? "No pad of your foam takes it up either: another foam, softer or harder, a wider "
              "range "
              "from the maker, or a clamp frame with springs."
            : "No foam of a generic grade takes it up: a grade is a wide band, and both of its "
              "edges "
              "must do. The curve of one foam may (order.foam); so may a clamp frame with springs.",
        item_indent);
  }
  if (answer.less_charge) {
    page.lines.wrapped(
        fmt::format("Or over less charge: from {} hard shims hold, {} inside with {}.",
                    percent(answer.less_charge->charge),
                    ordered(answer.less_charge->length.nominal_mm),
                    kit_words(answer.less_charge->length, page.figures)),
        item_indent);
  }
  if (answer.thin_wall) {
    const ThinWallOffer& thin = *answer.thin_wall;
    page.lines.wrapped(
        fmt::format("Or let the wall be the spring: {:g} mm bows {:.1f} mm at the band's top under "
                    "{:.0f} of {:.0f} MPa; {} inside with {} serves.",
                    thin.wall.thickness_mm, thin.wall.bow_mm, thin.wall.stress_mpa,
                    thin.wall.allowed_mpa, ordered(thin.length.nominal_mm),
                    kit_words(thin.length, page.figures)),
        item_indent);
  }
}

void write_kit_on_hand(SizePage& page) {
  const std::vector<Span>& spans = page.answer.kit_intervals;
  if (spans.empty()) {
    return;
  }
  std::string text;
  constexpr std::size_t named_at_most = 3;
  for (std::size_t i = 0; i < std::min(named_at_most, spans.size()); ++i) {
    text += fmt::format("{}{:.1f} to {:.1f} mm", i == 0 ? "" : ", ", spans[i].low, spans[i].high);
  }
  page.lines.wrapped(
      fmt::format("The shims on hand serve the cells of the build in a box of {}{}.", text,
                  spans.size() > named_at_most
                      ? fmt::format(" and {} more", spans.size() - named_at_most)
                      : ""),
      item_indent);
}

void write_in_hand(SizePage& page) {
  if (!page.answer.in_hand) {
    return;
  }
  const BoxInHand& box = *page.answer.in_hand;
  const std::string length = fmt::format("The box of {:.1f} mm that you named", box.length_mm);
  if (box.serves) {
    page.lines.wrapped(length + " serves with the sheets above.", item_indent);
  } else if (box.filler_mm) {
    page.lines.wrapped(fmt::format("{} serves with a filler plate of {:g} mm and the "
                                   "sheets above.",
                                   length, *box.filler_mm),
                       item_indent);
  } else {
    page.lines.wrapped(length + " serves with no plate that is sold: see the lengths above.",
                       item_indent);
  }
}

bool anything(const SizeAnswer& answer) {
  return answer.offers.size() != 1 || answer.soft || answer.thin_wall || answer.in_hand ||
         !answer.kit_intervals.empty();
}

}  // namespace

void write_instead(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  if (!anything(answer)) {
    return;
  }
  page.lines.blank();
  page.lines.line("OR", Emphasis::heading);
  write_softer(page);
  for (std::size_t i = 1; i < answer.offers.size(); ++i) {
    const SizeOffer& offer = answer.offers[i];
    if (offer.offered_for == OfferFor::once_measured) {
      write_waiting(page, offer);
    } else if (offer.offered_for == OfferFor::any_batch) {
      write_any_batch(page, offer);
    } else if (!answer.measured || page.all) {
      write_lot(page, offer);
    }
  }
  write_in_hand(page);
  write_kit_on_hand(page);
  write_softness(page);
}

}  // namespace stackfit::cli
