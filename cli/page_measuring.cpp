// SPDX-License-Identifier: GPL-3.0-or-later
//
// The measuring sheet and the cautions of the page.
#include <fmt/format.h>

#include "cli/cautions.hpp"
#include "cli/page_html.hpp"
#include "cli/page_parts.hpp"
#include "cli/page_text.hpp"
#include "cli/picture_measuring.hpp"

namespace stackfit::cli {

std::string measuring_html() {
  return "<div class=\"cards\">\n" +
         figure_html(
             caliper_places("calipers"),
             "Calipers: four edge places 10 mm in from the rim, and the middle of the face. "
             "Caps on, one cell at a time, a light hand.") +
         figure_html(board_places("boards"),
                     "Two flat boards: the highest point of both faces, less what the boards "
                     "measure alone. The whole row in the same way.") +
         figure_html(straightedge_places("straightedge"),
                     "Straightedge of wood or plastic: the feeler gap at both ends where it rocks "
                     "on the middle, in the middle where it rests on the ends.") +
         figure_html(box_places("box"),
                     "Box: inside length at five places, to 0.2 mm, after paint.") +
         "</div>\n";
}

std::string cautions_html() {
  std::string out = "<ul>\n";
  for (const char* caution : cautions::in_full) {
    out += fmt::format("<li>{}</li>\n", html_of(caution));
  }
  return out + fmt::format("</ul>\n<p><strong>{}</strong></p>\n", html_of(cautions::overruled));
}

}  // namespace stackfit::cli
