// SPDX-License-Identifier: GPL-3.0-or-later
//
// The files of cli/page, which travel inside the program.
//
// For: page_template.cpp. Written into the build by embed_page.cmake.
#pragma once

#include <span>
#include <string_view>

namespace stackfit::cli {

struct PageFile {
  std::string_view name;
  std::string_view text;
};
/// In the order of their names.
[[nodiscard]] std::span<const PageFile> page_files();

}  // namespace stackfit::cli
