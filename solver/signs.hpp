// SPDX-License-Identifier: GPL-3.0-or-later
//
// What was written under `signs`: seen, looked for and not there, or not said.
//
// For: every place that asks whether a cell shows a sign. Not for: what to do about it.
#pragma once

#include <cstdint>
#include <string_view>

namespace stackfit {

enum class Signs : std::uint8_t { not_said, none, seen };

/// Any word but a plain "no" tells of a sign; what holds no letter says nothing.
[[nodiscard]] Signs signs_in(std::string_view words);

}  // namespace stackfit
