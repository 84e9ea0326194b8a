// SPDX-License-Identifier: GPL-3.0-or-later
//
// Letters by their kind, whatever the locale.
#pragma once

namespace stackfit::cli {

[[nodiscard]] constexpr bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}

}  // namespace stackfit::cli
