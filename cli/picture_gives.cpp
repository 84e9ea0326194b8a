// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_gives.hpp"

#include <utility>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

std::string who_gives(const PlanResult& /*plan*/, const std::string& id) {
  SvgWriter svg({400, 200, "Who gives", "", id});
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
