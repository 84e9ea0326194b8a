// SPDX-License-Identifier: GPL-3.0-or-later
//
// What would mend a build, as a sentence and as the `--set path=value` that applies it.
//
// For: views, and tests that apply a remedy and look again. Not for: finding one (solver).
#pragma once

#include <optional>
#include <string>

#include "cli/figures.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

struct SetArgument {
  std::string path;   ///< `kit.+`, `box.inner.length`
  std::string value;  ///< JSON where it is an object or a number, else the bare text
};

/// The change as --set takes it; none for leaving cells out, which is no change of one value.
[[nodiscard]] std::optional<SetArgument> set_argument(const Remedy& remedy);
/// A way to get the last piece in, as --set takes it.
[[nodiscard]] SetArgument set_argument(const WayOutResult& way);
/// `--set box.inner.length="517.5 mm"`, quoted for a shell.
[[nodiscard]] std::string shell_option(const SetArgument& argument);
/// `have 9 more shims of 1.00 mm on hand`.
[[nodiscard]] std::string sentence(const Remedy& remedy, const Figures& figures);
/// What a way that works takes: `end wall last: two clamps draw it in with 150 kgf`.
[[nodiscard]] std::string sentence(const WayOutResult& way, const Figures& figures);

}  // namespace stackfit::cli
