// SPDX-License-Identifier: GPL-3.0-or-later
//
// What each remedy changes, and nothing else.
#include <utility>

#include "solver/remedy.hpp"

namespace stackfit {

Build apply(const Remedy& remedy, Build build) {
  switch (remedy.code) {
    case RemedyCode::add_shims:
    case RemedyCode::insulating_sheets: {
      KitShim shim;
      shim.sheet.name = remedy.name;
      shim.sheet.thickness_mm = remedy.thickness_mm;
      // As the kit's own, so that the added sheet insulates where they do.
      if (!build.kit.empty()) {
        shim.sheet.material = build.kit.front().sheet.material;
      }
      shim.count = remedy.count;
      build.kit.push_back(std::move(shim));
      break;
    }
    case RemedyCode::more_of_a_kind:
      build.kit[static_cast<std::size_t>(remedy.kit_index)].count = remedy.count;
      break;
    case RemedyCode::box_length:
      build.box.inner_length_mm = {remedy.value};
      break;
    case RemedyCode::frame_force:
      build.frame->force_n = remedy.value;
      break;
    case RemedyCode::charge_window:
      build.use.charge = remedy.window;
      break;
    case RemedyCode::build_method:
      build.build.method = remedy.method;
      break;
    case RemedyCode::build_charge:
      build.build.charge = remedy.value;
      break;
    case RemedyCode::slip_film:
      build.build.slip_film = true;
      break;
    case RemedyCode::end_wall:
      build.box.end_walls = remedy.wall;
      break;
    case RemedyCode::cell_order:
      build.cells_may_move = true;
      break;
    case RemedyCode::end_pads: {
      PadInput pad;
      pad.name = "pad";
      pad.thickness_mm = remedy.thickness_mm;
      pad.law = FoamGrade{remedy.grade};
      pad.where.word = PlaceWord::ends;
      build.pads.push_back(std::move(pad));
      break;
    }
  }
  return build;
}

}  // namespace stackfit
