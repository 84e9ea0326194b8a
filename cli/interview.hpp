// SPDX-License-Identifier: GPL-3.0-or-later
//
// Twelve questions in shop words, and the build file they make.
//
// For: `new`. Enter means "I don't know": what has a default is left out of the file, and what has
// none (count, face, thickness, inside length) is asked once more, then left as a blank.
// Not for: writing the file (whole_file.hpp), or forms without questions (blank_form.hpp).
#pragma once

#include <iosfwd>
#include <optional>
#include <string>

namespace stackfit::cli {

struct InterviewOptions {
  bool used = false;   ///< ask signs and history of the cells as well
  std::string folder;  ///< where the build file will stand: tables of cells are looked for there
};

/// The text of the build file; none where the input ended before the last answer, which has been
/// said on `out`.
[[nodiscard]] std::optional<std::string> interview(std::istream& in, std::ostream& out,
                                                   const InterviewOptions& options);

}  // namespace stackfit::cli
