// SPDX-License-Identifier: GPL-3.0-or-later
//
// How many insulating sheets a row is due, and how many its kit holds.
#pragma once

#include "solver/row.hpp"

namespace stackfit {

/// Gaps that need an insulating sheet and have none that is there anyway.
[[nodiscard]] int sheets_due(const Row& row);
[[nodiscard]] int insulators_on_hand(const Row& row);

}  // namespace stackfit
