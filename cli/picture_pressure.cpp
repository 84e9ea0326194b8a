// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_pressure.hpp"

#include <utility>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

std::string pressure_over_charge(const Answer& /*answer*/, const std::string& id) {
  SvgWriter svg({400, 200, "Pressure over charge", "", id});
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
