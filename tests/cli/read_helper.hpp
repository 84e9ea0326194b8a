// SPDX-License-Identifier: GPL-3.0-or-later
//
// Build files for tests: written into a folder of their own, read, and looked at.
//
// For: tests/cli.
#pragma once

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "cli/read_build.hpp"

namespace stackfit::cli::testing {

/// A folder of one test's own, even beside the same test in another process; gone with it.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "stackfit_test_XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) {
      throw std::runtime_error("no temporary folder: " + name);
    }
    path_ = name;
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  Folder(Folder&&) = delete;
  Folder& operator=(Folder&&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  [[nodiscard]] std::string path(const std::string& name) const { return (path_ / name).string(); }
  std::string write(const std::string& name, std::string_view text) const {
    std::ofstream(path(name), std::ios::binary) << text;
    return path(name);
  }
  [[nodiscard]] std::string text(const std::string& name) const {
    std::ifstream stream(path(name), std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
  }
  [[nodiscard]] std::size_t files() const {
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(path_),
                                                  std::filesystem::directory_iterator{}));
  }

 private:
  std::filesystem::path path_;
};

inline ReadBuild read_text(std::string_view text, std::vector<PathValue> sets = {},
                           const std::string& name = "build.json") {
  const Folder folder;
  return read_build({folder.write(name, text), {}, std::move(sets)});
}

inline ReadBuild read_fixture(const std::string& name, std::vector<PathValue> sets = {}) {
  return read_build({std::string(STACKFIT_FIXTURES_DIR) + "/" + name, {}, std::move(sets)});
}

/// Every problem as printed, for INFO.
inline std::string all_of(const ReadBuild& read) {
  std::string text;
  for (const Problem& problem : read.problems) text += describe(problem);
  return text;
}

/// The problem at this pointer, or an empty one.
inline Problem problem_at(const ReadBuild& read, std::string_view pointer) {
  const auto at = std::ranges::find_if(
      read.problems, [&](const Problem& problem) { return problem.place.pointer == pointer; });
  return at == read.problems.end() ? Problem{} : *at;
}

inline bool holds(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

/// A build that can be read, small enough to change in one place.
inline constexpr const char* plain_build = R"({
  "stackfit": 1,
  "cell": {
    "chemistry": "LFP",
    "face": { "width": 141, "height": 183 },
    "thickness": "58.4±0.5 mm 30-40% 215kgf",
    "makers_force": "215kgf ±10"
  },
  "cells": [ { "id": "A", "edge": 58.4 }, { "id": "B", "edge": 58.5 } ],
  "box": { "inner": { "length": 119 } },
  "kit": [ "0.8 mm x 6 polypropylene" ]
})";

}  // namespace stackfit::cli::testing
