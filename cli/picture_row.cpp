// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_row.hpp"

#include <utility>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

std::string row_from_side(const Answer& /*answer*/, const std::string& id) {
  SvgWriter svg({400, 200, "Row from side", "", id});
  return std::move(svg).finish();
}

std::string row_from_above(const Answer& /*answer*/, const std::string& id) {
  SvgWriter svg({400, 200, "Row from above", "", id});
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
