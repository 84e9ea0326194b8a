// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where calipers, boards, straightedge and rule go: inline drawings of the measuring sheet.
//
// For: the build sheet. What is written of it in words stands in measuring_sheet.cpp.
// Not for: any build's own figures: these drawings are always the same.
#pragma once

#include <string>

namespace stackfit::cli {

/// Jaws at the four edge places and at the middle of one face, caps on the terminals.
[[nodiscard]] std::string caliper_places(const std::string& id);
/// A cell, and a whole row, between two flat boards.
[[nodiscard]] std::string board_places(const std::string& id);
/// A straightedge across the face, a feeler gauge under it, and both diagonals.
[[nodiscard]] std::string straightedge_places(const std::string& id);
/// The inside length of a box at five places.
[[nodiscard]] std::string box_places(const std::string& id);

}  // namespace stackfit::cli
