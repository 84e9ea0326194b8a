// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_map.hpp"

#include <utility>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

std::string pressure_map(const Answer& /*answer*/, const std::string& id) {
  SvgWriter svg({400, 200, "Pressure map", "", id});
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
