// SPDX-License-Identifier: GPL-3.0-or-later
//
// What all views of a drawing have in common: looks, and how far off dimension lines stand.
//
// For: the views of boxes and frames. Not for: lines and text themselves (svg_writer.hpp).
#pragma once

#include <cstddef>

#include "cli/svg_writer.hpp"

namespace stackfit::cli {

/// DimensionLine lines from a view's outline [mm of paper].
inline constexpr double near_line_mm = 8;
inline constexpr double far_line_mm = 16;

inline constexpr SvgText view_title{.size_mm = 3, .bold = true};
inline constexpr SvgLook wall_look{SvgLine::wide, SvgFill::grey};
inline constexpr SvgLook part_look{SvgLine::thin, SvgFill::white};
inline constexpr SvgLook sheet_look{SvgLine::none, SvgFill::black};

/// Lines of the kit that a sheet shows; the answer lists all.
inline constexpr std::size_t most_kit_lines = 10;

}  // namespace stackfit::cli
