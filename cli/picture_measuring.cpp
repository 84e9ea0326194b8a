// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_measuring.hpp"

#include <utility>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

std::string caliper_places(const std::string& id) {
  SvgWriter svg({400, 200, "Caliper places", "", id});
  return std::move(svg).finish();
}

std::string board_places(const std::string& id) {
  SvgWriter svg({400, 200, "Board places", "", id});
  return std::move(svg).finish();
}

std::string straightedge_places(const std::string& id) {
  SvgWriter svg({400, 200, "Straightedge places", "", id});
  return std::move(svg).finish();
}

std::string box_places(const std::string& id) {
  SvgWriter svg({400, 200, "Box places", "", id});
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
