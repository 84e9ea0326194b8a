// SPDX-License-Identifier: GPL-3.0-or-later
//
// A row whose sheets would keep the band, and which the build method cannot close.
#include <fmt/format.h>

#include <string>

#include "cli/view_check_box_parts.hpp"
#include "cli/words_remedy.hpp"

namespace stackfit::cli {
namespace {

/// The first ways that work, each with what asks for it; where none does, what is left.
void ways_in(BoxPage& page, const InsertionResult& insertion, TextLines::Indent indent) {
  constexpr int shown_at_most = 2;
  int shown = 0;
  if (insertion.method != BuildMethod::hand && insertion.push_n <= insertion.push_limit_n) {
    page.lines.wrapped(fmt::format("works: by hand, {} of push, a hand may {}",
                                   newtons_beside(insertion.push_n, page.figures),
                                   newtons(insertion.push_limit_n)),
                       indent);
    page.lines.verbatim(std::string(indent.next, ' ') + "--set build.method=hand");
    return;
  }
  for (const WayOutResult& way : insertion.ways_out) {
    if (way.works && shown++ < shown_at_most) {
      page.lines.wrapped("works: " + sentence(way, page.figures), indent);
      page.lines.verbatim(std::string(indent.next, ' ') + shell_option(set_argument(way)));
    }
  }
  if (shown == 0) {
    page.lines.wrapped(
        "no way in works: an end wall must be made to come off (box.opens), or thinner sheets "
        "or pads that give come in; `stackfit pick` lists what mends it",
        indent);
  }
}

}  // namespace

std::string why_not_closed(const InsertionResult& insertion, const Figures& figures) {
  switch (insertion.method) {
    case BuildMethod::hand:
      return fmt::format("by hand it takes {} of push, a hand may {}",
                         newtons_beside(insertion.push_n, figures),
                         newtons_beside(insertion.push_limit_n, figures));
    case BuildMethod::end_wall_last:
      return "no end wall comes off to be put on last";
    case BuildMethod::clamp:
      return "clamped until it goes in, the others would be pressed too hard";
    case BuildMethod::walls_spread:
      return "the walls cannot be spread so far";
  }
  return {};
}

void write_cannot_be_put_together(BoxPage& page, const RowCheck& row, TextLines::Indent indent) {
  const InsertionResult& insertion = *row.insertion;
  const bool as_placed = row.placed && row.something_goes_in && row.as_placed &&
                         row.as_placed->worst == Standing::inside;
  page.lines.wrapped(fmt::format("{}: {}. {} would keep your band",
                                 row.something_goes_in ? "CANNOT BE GOT IN" : "CANNOT BE CLOSED",
                                 why_not_closed(insertion, page.figures),
                                 as_placed ? "The sheets as placed" : "Some sheets"),
                     indent, Emphasis::bad);
  ways_in(page, insertion, indent);
}

}  // namespace stackfit::cli
