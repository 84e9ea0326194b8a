// SPDX-License-Identifier: GPL-3.0-or-later
//
// The drawing of what `size` ordered: from its answer to the figures that are drawn.
//
// For: `size --drawing`. Sizes are of bare metal, as a shop cuts them.
// Not for: drawing as such (drawing_svg.hpp).
#pragma once

#include <string>

#include "solver/size.hpp"

namespace stackfit::cli {

/// SVG. The answer must have an order. Throws std::invalid_argument for what cannot be drawn.
[[nodiscard]] std::string drawing_of(const SizeAnswer& answer, const std::string& file,
                                     const std::string& date);

}  // namespace stackfit::cli
