// SPDX-License-Identifier: GPL-3.0-or-later
//
// The drawing of what `size` ordered: from its answer to the figures that are drawn.
//
// For: `size --drawing`, and the build sheet of what was ordered. Sizes are of bare metal, as a
// shop cuts them. Not for: drawing as such (drawing_svg.hpp).
#pragma once

#include <string>

#include "solver/size.hpp"

namespace stackfit::cli {

/// SVG, a file of its own; or, with an id, an inline drawing for a page, whose ids begin with it.
/// The answer must have an order. Throws std::invalid_argument for what cannot be drawn.
[[nodiscard]] std::string drawing_of(const SizeAnswer& answer, const std::string& file,
                                     const std::string& date, const std::string& inline_id = {});

}  // namespace stackfit::cli
