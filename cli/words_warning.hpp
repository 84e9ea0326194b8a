// SPDX-License-Identifier: GPL-3.0-or-later
//
// A warning as one sentence that ends in a next step with its size.
//
// For: text views. Not for: deciding what is worth a warning (solver).
#pragma once

#include <string>

#include "cli/figures.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

/// `below your band at 60 %: 14 kPa, 7 short; add 0.30 mm of shims`.
[[nodiscard]] std::string sentence(const Warning& warning, const Figures& figures);

}  // namespace stackfit::cli
