// SPDX-License-Identifier: GPL-3.0-or-later
//
// A file written whole or not at all.
//
// For: every file the program writes: a temporary file beside it, then a rename. Whoever looks
// sees the old file or the new one, never half of it. An input is never written over, nor a file
// that its owner has shut against writing.
// Not for: standard output (console.hpp).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace stackfit::cli {

/// Whether both paths lead to one file, by whatever names and links, be it there yet or not.
[[nodiscard]] bool is_same_file(const std::string& left, const std::string& right);

enum class Existing : std::uint8_t { replace, refuse };

/// Throws std::runtime_error with a sentence for the person where the file cannot be written,
/// is one of `inputs` (`-`: what standard input reads), or is there already and `existing` says to
/// refuse.
void write_whole_file(const std::string& path, std::string_view text,
                      const std::vector<std::string>& inputs = {},
                      Existing existing = Existing::replace);

struct FileToWrite {
  std::string path;
  std::string text;
};
/// Several files that belong together: all of them or none. Each is written beside its place
/// before the first is moved there. Throws as above.
void write_whole_files(const std::vector<FileToWrite>& files,
                       const std::vector<std::string>& inputs = {});

}  // namespace stackfit::cli
