// SPDX-License-Identifier: GPL-3.0-or-later
//
// A sheet to print and take to the bench: where the calipers go, and blanks for what they read.
//
// For: `new --measure`. Not for: reading the figures back (cells_csv.hpp; the columns are the
// same).
#pragma once

#include <cstddef>
#include <string>

namespace stackfit::cli {

/// Plain text, at most 80 columns. With `used`, signs and history are asked as well.
[[nodiscard]] std::string measuring_sheet(std::size_t cells, bool used);

}  // namespace stackfit::cli
