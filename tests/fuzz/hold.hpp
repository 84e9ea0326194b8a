// SPDX-License-Identifier: GPL-3.0-or-later
//
// Properties of the fuzz targets: one that does not hold ends the run, in every kind of build.
//
// For: tests/fuzz, whose runs have no test framework around them.
#pragma once

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace stackfit::fuzz {

/// `about` is what the property was asked of: a line, a name, a figure.
inline void hold(bool property, std::string_view what, std::string_view about = {}) {
  if (property) return;
  std::fprintf(stderr, "a property does not hold: %.*s\n", static_cast<int>(what.size()),
               what.data());
  if (!about.empty()) {
    std::fprintf(stderr, "  of: %.*s\n", static_cast<int>(about.size()), about.data());
  }
  std::abort();
}

inline std::string text_of(const std::uint8_t* data, std::size_t size) {
  return {data, data + size};
}

}  // namespace stackfit::fuzz
