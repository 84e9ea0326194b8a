// SPDX-License-Identifier: GPL-3.0-or-later
//
// The build sheet: one HTML file to look at, to print, and to play with.
//
// For: `--page`. It opens from disk, loads nothing, and says with words and shapes whatever it says
// with colour. Contract, each tested: 1 a file's text changes nothing but its own text; 2 every
// figure is printed as the text answer prints it; 3 the answer stands in it as --json gives it.
// Not for: deciding anything: all of it is in the answers.
#pragma once

#include <string>
#include <vector>

#include "cli/build_input.hpp"
#include "cli/console.hpp"
#include "cli/units.hpp"
#include "solver/answer.hpp"
#include "solver/check.hpp"
#include "solver/size.hpp"

namespace stackfit::cli {

/// What stands at the foot of every sheet of paper, and how figures are printed.
struct PageHead {
  std::string file;  ///< of the build; empty: described on the command line
  std::string date;  ///< `2026-11-28`
  UnitChoice units;
};

/// Today, and the file and units of an input that was taken.
[[nodiscard]] PageHead page_head(const BuildInput& input, const BuildTaken& taken);

/// Written whole or not at all, never over one of `inputs`. 0, or the exit status with which to
/// end.
[[nodiscard]] int write_page(const std::string& path, const std::string& html,
                             const std::vector<std::string>& inputs, Console& console);

[[nodiscard]] std::string page_of(const Answer& answer, const PageHead& head);
[[nodiscard]] std::string page_of(const SizeAnswer& answer, const PageHead& head);
[[nodiscard]] std::string page_of(const CheckAnswer& answer, const PageHead& head);

}  // namespace stackfit::cli
