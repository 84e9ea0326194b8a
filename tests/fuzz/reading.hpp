// SPDX-License-Identifier: GPL-3.0-or-later
//
// What every reader owes whoever wrote a file, and files that stand in memory alone.
//
// For: the targets that read builds and tables. A file of theirs is all that can be read: no
// name, whatever it is, reaches the disk.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "cli/read_build.hpp"
#include "cli/text_file.hpp"
#include "tests/fuzz/hold.hpp"

namespace stackfit::fuzz {

/// One input holds several files: each begins below a line `=== NAME`, and what stands above the
/// first such line has the name given here.
class Files {
 public:
  Files(std::string name, std::string_view text) {
    static constexpr std::string_view mark = "=== ";
    std::string* file = &texts_[name];
    while (!text.empty()) {
      const std::size_t end = std::min(text.find('\n'), text.size() - 1) + 1;
      const std::string_view line = text.substr(0, end);
      text.remove_prefix(end);
      if (line.starts_with(mark)) {
        name = line.substr(mark.size(), line.size() - mark.size() - (line.ends_with('\n') ? 1 : 0));
        file = &texts_[name];
      } else {
        *file += line;
      }
    }
  }

  [[nodiscard]] bool has(const std::string& name) const { return texts_.contains(name); }
  [[nodiscard]] std::string text(const std::string& name) const {
    const auto at = texts_.find(name);
    return at == texts_.end() ? std::string() : at->second;
  }

  [[nodiscard]] cli::TextFile read(const std::string& name) const {
    if (has(name)) return cli::check_text(name, text(name));
    return {name, {}, cli::Problem{{name, 0, 0, ""}, "no such file", "a file", ""}};
  }

 private:
  std::map<std::string, std::string> texts_;
};

inline bool is_text(const std::string& bytes) {
  const cli::TextFile file = cli::check_text("", ' ' + bytes);
  return !file.problem || file.problem->place.line == 0;
}

/// A place within the text: neither its line nor its column is behind the end. What is missing from
/// a table of paths has a path alone.
inline void hold_place(const cli::TextPlace& place, const std::string& text,
                       const std::string& said) {
  if (place.line == 0 && !place.pointer.empty()) return;
  hold(place.line > 0 && place.column > 0, "a place has a line and a column", said);
  std::string_view rest = text;
  for (int line = 1; line < place.line; ++line) {
    const std::size_t end = rest.find('\n');
    hold(end != std::string_view::npos, "a place's line is in the file", said);
    rest.remove_prefix(end + 1);
  }
  const std::string_view line = rest.substr(0, rest.find('\n'));
  const auto letters = std::ranges::count_if(
      line, [](char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; });
  hold(place.column <= letters + 1, "a place's column is in its line", said);
}

/// What is told of a problem: where, what was found and what is allowed; and safe to print.
inline void hold_problem(const cli::Problem& problem) {
  const std::string said = cli::describe(problem);
  hold(!problem.place.file.empty(), "a problem names its file", said);
  hold(!problem.found.empty(), "a problem says what was found", said);
  hold(!problem.allowed.empty(), "a problem says what is allowed", said);
  hold(said.ends_with('\n'), "a problem ends its line", said);
  hold(std::ranges::none_of(said,
                            [](char letter) {
                              return letter != '\n' && static_cast<unsigned char>(letter) < 0x20U;
                            }),
       "no control character is printed", said);
  hold(is_text(said), "what is printed is UTF-8", said);
}

/// All problems and notes of a file that is text, each at its place in it.
inline void hold_told(const std::vector<cli::Problem>& problems,
                      const std::vector<cli::ReadingNote>& notes, const Files& files) {
  for (const cli::Problem& problem : problems) {
    hold_problem(problem);
    const std::string& file = problem.place.file;
    // A file that is no text has no lines, and an option stands in no file.
    if (!files.has(file) || file.starts_with("--") ||
        (problem.place.line == 0 && files.read(file).problem))
      continue;
    hold_place(problem.place, files.text(file), cli::describe(problem));
  }
  for (const cli::ReadingNote& note : notes) {
    hold(!note.text.empty(), "a note says something");
    hold(!note.place.file.empty(), "a note names its file", note.text);
  }
}

}  // namespace stackfit::fuzz
