// SPDX-License-Identifier: GPL-3.0-or-later
//
// Catch2 version 2 and version 3 under one spelling: that of version 3.
//
// For: every test file, in place of Catch2's own headers.
#pragma once

#if __has_include(<catch2/catch_test_macros.hpp>)
#include <catch2/catch_approx.hpp>
#include <catch2/catch_test_macros.hpp>
#include <catch2/generators/catch_generators_all.hpp>
#include <catch2/matchers/catch_matchers.hpp>
#include <catch2/matchers/catch_matchers_floating_point.hpp>
#include <catch2/matchers/catch_matchers_string.hpp>
#else
#include <catch2/catch.hpp>
#include <string>

namespace Catch {
using Detail::Approx;
namespace Matchers {
inline auto ContainsSubstring(const std::string& text) {
  return Contains(text);
}
}  // namespace Matchers
}  // namespace Catch
#endif
