// SPDX-License-Identifier: GPL-3.0-or-later
//
// The words that every answer begins and ends with, whatever else it says.
//
// For: views. Each stands once, so that no view can soften it.
#pragma once

namespace stackfit::cli::cautions {

inline constexpr const char* never_pressed =
    "a swollen, warm, dented, leaking or smelling cell is never pressed.";
/// The same as the page's first box tells it: one line each.
inline constexpr const char* stop_lines[] = {
    "Never press a swollen cell flat; never charge or build with a leaking, hot, dented or "
    "smelling "
    "one.",
    "Every metal can is insulated from its neighbour, the walls, the sides and the floor.",
    "Rings and watch off, terminals covered; push on flat walls only, never on a terminal, lid or "
    "vent."};

/// In full, at the end of a page.
inline constexpr const char* in_full[] = {
    "Never press a swollen cell flat. A dome that is pressed in stays a dome inside.",
    "Never charge or build with a cell that leaks, is hot, is dented or smells. Set it aside "
    "outdoors, away from anything that burns.",
    "Insulate every metal can from its neighbour, from the end walls, the sides and the floor.",
    "Steel calipers bridge terminals and cans: one cell at a time, caps on its terminals.",
    "Rings and watch off. Terminals stay covered but for the two that are being joined.",
    "Push only on flat walls, or on the can's shoulders through a full-width block: never on a "
    "terminal, a lid or a vent. No mallet, jack, lever or body weight.",
    "A tight box is opened with clamps on: clamps first, then the screws a turn each, and let it "
    "out "
    "slowly.",
    "A row of cells cannot be switched off: bus bars go on one after another, each measured before "
    "the next."};

inline constexpr const char* overruled =
    "The maker's data sheet and local codes overrule this. A pack for a home, boat or vehicle is "
    "checked by a licensed or qualified person.";

}  // namespace stackfit::cli::cautions
