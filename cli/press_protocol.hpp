// SPDX-License-Identifier: GPL-3.0-or-later
//
// How a press test of one cell is made on a bench, with the form to fill in.
//
// For: `stackfit softness` called bare: print it and take it to the bench.
// Not for: reading what was filled in (press_csv.hpp).
#pragma once

#include <string>
#include <string_view>

namespace stackfit::cli {

/// The first line of the form's table, as it is to be saved.
inline constexpr std::string_view press_form_header = "force (kgf),thickness (mm),branch,note";

/// At most 80 columns wide.
[[nodiscard]] std::string press_protocol();

}  // namespace stackfit::cli
