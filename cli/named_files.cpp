// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/named_files.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/whole_file.hpp"

namespace stackfit::cli {

std::vector<Problem> files_named_twice(const std::vector<NamedFile>& files) {
  std::vector<Problem> problems;
  for (auto file = files.begin(); file != files.end(); ++file) {
    const auto before = std::ranges::find_if(files.begin(), file, [&](const NamedFile& other) {
      return !other.path.empty() && !file->path.empty() && is_same_file(other.path, file->path);
    });
    if (before == file) continue;
    problems.push_back({{std::string(file->option), 0, 0, ""},
                        fmt::format("\"{}\", the file of {} too", file->path, before->option),
                        "a file of its own for each",
                        "give another name"});
  }
  return problems;
}

}  // namespace stackfit::cli
