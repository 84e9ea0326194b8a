// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/view_size.hpp"

namespace stackfit::cli {

std::string size_text(const SizeAnswer& answer, const TextStyle&) {
  return answer.title + "\n";
}

}  // namespace stackfit::cli
