// SPDX-License-Identifier: GPL-3.0-or-later
//
// A whole text file in memory, known to be UTF-8, without its byte order mark.
//
// For: reading a file or standard input, and refusing what is not text with its own sentence.
// Not for: writing (whole_file.hpp).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "cli/read_build.hpp"

namespace stackfit::cli {

/// A build file is a few kilobytes; this is a wrong file.
inline constexpr std::size_t largest_file_bytes = std::size_t{16} * 1024 * 1024;

struct TextFile {
  std::string name;  ///< as the person named it; "standard input" for "-"
  std::string text;
  std::optional<Problem> problem;
};

/// Reads `path`, or standard input for "-".
[[nodiscard]] TextFile read_text_file(const std::string& path);

/// Reads a table that a build file names: a file, and never standard input or a device, which
/// could keep whoever was only handed the build file waiting for ever.
[[nodiscard]] TextFile read_table_file(const std::string& path);

/// The same checks on bytes already in memory.
[[nodiscard]] TextFile check_text(std::string name, std::string bytes);

struct LineColumn {
  int line = 1;
  int column = 1;  ///< in letters, not bytes
};
[[nodiscard]] LineColumn line_column(std::string_view text, std::size_t offset);

}  // namespace stackfit::cli
