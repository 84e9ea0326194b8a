// SPDX-License-Identifier: GPL-3.0-or-later
//
// What to order, and the pressures that the cells then see.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/answer_words.hpp"
#include "cli/view_size_parts.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

std::string joined(const std::vector<Span>& spans) {
  constexpr std::size_t named_at_most = 4;
  std::string text;
  for (std::size_t i = 0; i < spans.size() && i < named_at_most; ++i) {
    // Inwards: what is printed serves.
    text += fmt::format("{}{:.1f} to {:.1f}", i == 0 ? "" : ", ", std::ceil(10 * spans[i].low) / 10,
                        std::floor(10 * spans[i].high) / 10);
  }
  if (spans.size() > named_at_most) {
    text += fmt::format(" and {} more", spans.size() - named_at_most);
  }
  return text + " mm";
}

void write_length(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  const LengthOffer& length = answer.offers.front().length;
  std::string text = fmt::format("{} inside after paint, +{:g} / -0{}", ordered(length.nominal_mm),
                                 length.tolerance_mm, size_star(answer, Assumed::length_tolerance));
  if (answer.paint_mm > 0) {
    text += fmt::format("; of bare metal {} ({:g} mm of paint a face{})",
                        ordered(length.nominal_mm + 2 * answer.paint_mm), answer.paint_mm,
                        size_star(answer, Assumed::paint));
  }
  write_item(page, "length", text);
  write_item(
      page, "",
      fmt::format("any nominal from {:.1f} to {:.1f} mm keeps the promise; a finished box of {} "
                  "serves cells exactly as the build has them",
                  length.nominal_between.low, length.nominal_between.high,
                  joined(answer.intervals)));
}

void write_size_of(SizePage& page, std::string_view what, const InnerSize& size) {
  const std::string ordered_size = size.said_mm
                                       ? fmt::format("{} as you said", ordered(*size.said_mm))
                                       : fmt::format("{}, +{:g} / -0, of bare metal",
                                                     ordered(size.nominal_mm), size.tolerance_mm);
  write_item(page, what,
             fmt::format("{}{}", ordered_size,
                         size.said_mm ? fmt::format(": {:.1f} mm {}", std::abs(size.left_mm),
                                                    size.left_mm >= 0 ? "to spare" : "short")
                                      : ""));
}

std::string at_top(const WallTried& wall, const Figures& figures) {
  std::string text = fmt::format("bows {} of {}", figures.length_number(wall.bow_mm),
                                 figures.length(wall.most_bow_mm));
  if (wall.allowed_mpa > 0) {
    text += fmt::format(", stress {:.0f} of {:.0f} MPa", wall.stress_mpa, wall.allowed_mpa);
  }
  return text;
}

std::string why_it_fails(const WallTried& wall) {
  std::string why;
  if (!wall.bow_holds) {
    why = fmt::format("bows {:.1f} mm", wall.bow_mm);
  }
  if (!wall.stress_holds) {
    why += fmt::format("{}{:.0f} MPa", why.empty() ? "" : " and ", wall.stress_mpa);
  }
  return why;
}

void write_walls(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  const WallOrder& walls = answer.walls;
  if (!walls.bends) {
    write_item(page, "end walls", "as said: rigid, or known by a measured bow");
    return;
  }
  const std::string safety = fmt::format(" ({:.0f} of yield over {:g}{})", walls.yield_mpa,
                                         walls.safety, size_star(answer, Assumed::stress_safety));
  if (!walls.found) {
    std::string text = fmt::format("{}: {:g} mm at the band's top, {}: {}{}",
                                   walls.from_stock ? "none of your stock" : "not as said",
                                   walls.chosen.thickness_mm, page.figures.force(walls.top_force_n),
                                   at_top(walls.chosen, page.figures), safety);
    if (walls.doubled) {
      text += fmt::format("; with a like plate lying against it it holds: {}",
                          at_top(*walls.doubled, page.figures));
    }
    if (walls.ribbed) {
      text += fmt::format("; with a flat bar {:g} x {:g} mm welded across its middle it holds: {}",
                          walls.ribbed->rib_height_mm, walls.chosen.thickness_mm,
                          at_top(walls.ribbed->wall, page.figures));
    }
    write_item(page, "end walls",
               text + ". Or weld or fold the edges, screw the lid on, or take steel");
    return;
  }
  std::string text = fmt::format(
      "{:g} mm{}: at the band's top, {}, {}{}", walls.chosen.thickness_mm,
      walls.unlike       ? " as said, the weaker of two"
      : walls.from_stock ? ""
                         : " as said",
      page.figures.force(walls.top_force_n), at_top(walls.chosen, page.figures), safety);
  if (walls.thinner) {
    text += fmt::format("; {:g} mm fails: {}", walls.thinner->thickness_mm,
                        why_it_fails(*walls.thinner));
  }
  write_item(page, "end walls", text);
}

std::string in_gaps(const LengthOffer& length, int gaps) {
  if (length.sheets_due == 0) {
    return "";
  }
  return length.sheets_due == gaps
             ? ", one in every gap at least"
             : fmt::format(", one in each of {} gaps at least", length.sheets_due);
}

void write_sheets(SizePage& page) {
  const SizeAnswer& answer = page.answer;
  const LengthOffer& length = answer.offers.front().length;
  write_item(page, "sheets",
             fmt::format("{}{}; from thickest to thinnest cells they add up to {:g} to {:g} mm in "
                         "steps of {:g}, and the band forgives {:.2f}",
                         kit_words(length, page.figures), in_gaps(length, answer.cell_count + 1),
                         length.totals_mm.low, length.totals_mm.high, length.greatest_step_mm,
                         length.window_mm));
  if (answer.pad) {
    write_item(
        page, "pads",
        fmt::format("{} of {:g} mm foam, {}, at {}: no smaller one of your stock does",
                    answer.pad->both_ends ? "two" : "one", answer.pad->thickness_mm,
                    answer.pad->table ? "by your table"
                                      : fmt::format("ASTM D1056 grade {} *", answer.pad->grade),
                    answer.pad->both_ends ? "both ends" : "one end"));
  }
  if (answer.end_plate_mm > 0) {
    std::string text =
        fmt::format("two of {:g} mm, one at each end wall: they keep the cells out of the corners",
                    answer.end_plate_mm);
    if (answer.end_plate_short_mm > 0) {
      text += fmt::format(
          "; {:.1f} mm inside the face's edge all round, so as not to stand on bead or bend",
          answer.end_plate_short_mm);
    }
    write_item(page, "end plates", text);
  }
  if (answer.with_filler) {
    write_item(page, "or",
               fmt::format("a filler plate of {:g} mm at an end, and {} sheets less: {}",
                           answer.with_filler->length.filler_mm,
                           length.sheets() - answer.with_filler->length.sheets(),
                           kit_words(answer.with_filler->length, page.figures)));
  }
}

}  // namespace

void write_order(SizePage& page) {
  page.lines.blank();
  page.lines.line("WHAT TO ORDER", Emphasis::heading);
  if (page.answer.offers.empty()) {
    write_walls(page);
    return;
  }
  write_length(page);
  if (page.answer.section) {
    write_size_of(page, "width", page.answer.section->width);
    write_size_of(page, "height", page.answer.section->height);
  }
  write_walls(page);
  write_sheets(page);
}

void write_size_pressures(SizePage& page, const SizePressures& pressures) {
  const SizeAnswer& answer = page.answer;
  const Figures& figures = page.figures;
  const double area = answer.band.face_area_mm2;
  const auto line = [&](const std::string& what, const std::string& mpa, const std::string& n) {
    page.lines.columns({{what, 34}, {mpa, 12, true}, {n, 18, true}});
  };
  const auto one = [&](const std::string& what, double mpa) {
    line(what, figures.pressure_number(mpa), figures.force_number(mpa * area));
  };
  page.lines.columns({{"FACE PRESSURE as ordered", 36},
                      {std::string(figures.pressure_unit()), 12, true},
                      {fmt::format("{} on face", figures.force_unit()), 18, true}},
                     Emphasis::heading);
  line(fmt::format("your band{}", answer.band.assumed ? " *" : ""),
       fmt::format("{}-{}", figures.pressure_number(answer.band.low_mpa),
                   figures.pressure_number(answer.band.high_mpa)),
       fmt::format("{}-{}", figures.force_number(answer.band.low_mpa * area),
                   figures.force_number(answer.band.high_mpa * area)));
  one(fmt::format("lowest over {} charge", percent(answer.use_charge)), pressures.lowest_mpa);
  one("as built", pressures.built_mpa);
  one("highest", pressures.highest_mpa);
  one(fmt::format("  judged, +{:.0f} % doubt{}", answer.band.model_margin * 100,
                  size_star(answer, Assumed::model_margin)),
      answer.band.judged(pressures.highest_mpa));
  if (pressures.life) {
    page.lines.wrapped(
        fmt::format("inside until {} of capacity is lost *: the pressure only rises with age, then "
                    "sheets come out",
                    life_text(*pressures.life)),
        {.first = 2, .next = 4});
  }
}

void write_size_pressure(SizePage& page) {
  const SizeOffer& offer = page.answer.offers.front();
  page.lines.blank();
  write_size_pressures(page,
                       {offer.lowest_mpa, offer.built_mpa, offer.highest_mpa, offer.life_span});
}

}  // namespace stackfit::cli
