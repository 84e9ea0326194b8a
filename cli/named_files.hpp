// SPDX-License-Identifier: GPL-3.0-or-later
//
// The files that the options of one run name.
//
// For: two that would be written over each other, found before anything is worked out.
// Not for: a file that was there before (whole_file.hpp).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/read_build.hpp"

namespace stackfit::cli {

struct NamedFile {
  std::string_view option;
  std::string path;  ///< empty where the option was not given
};

/// Each option whose file is that of one before it, by whatever name.
[[nodiscard]] std::vector<Problem> files_named_twice(const std::vector<NamedFile>& files);

}  // namespace stackfit::cli
