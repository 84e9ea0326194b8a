// SPDX-License-Identifier: GPL-3.0-or-later
//
// The row to scale along its length, as an inline drawing: from the side and from above.
//
// For: the build sheet, one drawing for each row; long rows are drawn in several strips, one under
// the other, at one scale. Needs a plan. Bows and domes are exaggerated by a factor that is
// written. Not for: drawings for a shop (drawing_svg.hpp).
#pragma once

#include <string>

#include "solver/answer.hpp"

namespace stackfit::cli {

[[nodiscard]] std::string row_from_side(const Answer& answer, const std::string& id);
[[nodiscard]] std::string row_from_above(const Answer& answer, const std::string& id);

}  // namespace stackfit::cli
