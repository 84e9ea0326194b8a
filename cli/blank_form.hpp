// SPDX-License-Identifier: GPL-3.0-or-later
//
// Forms to fill in by hand: every key of the build file with its explanation and a blank.
//
// For: `new --blank`. Made from the JSON Schema, so that no key is missing and none is made up;
// blanks left blank count as not said, and `pick` names those that must be filled in.
// Not for: asking (interview.hpp).
#pragma once

#include <string>

namespace stackfit::cli {

/// As JSON with comments.
[[nodiscard]] std::string blank_form_json();
/// As a table `path,value,note` for a spreadsheet program.
[[nodiscard]] std::string blank_form_table();

}  // namespace stackfit::cli
