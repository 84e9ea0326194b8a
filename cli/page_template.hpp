// SPDX-License-Identifier: GPL-3.0-or-later
//
// The page's templates (cli/page/*.html), filled.
//
// For: page_*.cpp. A variable that the data lack is a mistake of ours and throws: an empty spot on
// a page would not be noticed. Not for: what is filled in; `{{{..}}}` takes HTML that is safe
// already (page_text.hpp), `{{..}}` escapes.
#pragma once

#include <kainjow/mustache.hpp>
#include <string>
#include <string_view>

namespace stackfit::cli {

using PageData = kainjow::mustache::data;
using PageList = kainjow::mustache::list;

/// A file of cli/page as it was when the program was built, by its name. Throws std::logic_error
/// for one that there is not.
[[nodiscard]] std::string_view page_file(std::string_view name);

/// Throws std::logic_error for a template that is broken or asks for what is not there.
[[nodiscard]] std::string filled(std::string_view template_name, const PageData& data);

}  // namespace stackfit::cli
