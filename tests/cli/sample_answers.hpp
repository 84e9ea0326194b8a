// SPDX-License-Identifier: GPL-3.0-or-later
//
// Answers filled by hand, for tests of the views: the figures are invented and need not be
// consistent with each other.
#pragma once

#include <string>

#include "solver/answer.hpp"

namespace stackfit::cli::samples {

/// A row that fits on assumed figures, end wall last, one shim of two thicknesses in every gap.
[[nodiscard]] Answer fitting(int cells = 8);
/// The same with a chance, and whatever hangs on one.
[[nodiscard]] Answer with_chance();
/// The same with every name as long as a file may make it, control characters included.
[[nodiscard]] Answer long_names(int cells = 16);
/// Nothing fits: remedies of every kind.
[[nodiscard]] Answer not_fitting();
/// A swollen cell and one with a sign.
[[nodiscard]] Answer stopped();
/// One warning of every code.
[[nodiscard]] Answer every_warning();
/// Little is known: no kit, no voltages, nothing assumed.
[[nodiscard]] Answer bare();

}  // namespace stackfit::cli::samples
