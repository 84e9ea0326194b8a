// SPDX-License-Identifier: GPL-3.0-or-later
//
// Exponentials and logarithms of many figures at once.
//
// For: draws by the million, where a call of the library's function for each is what takes the
// time. Plain arithmetic and bits, no branch: compilers turn the loops into vector instructions,
// and every machine comes to the same figures.
// Not for: single figures; nor infinities and what is not a number, which come out as anything.
//
// Within 3 units in the last place of the true value (tests/solver/vector_math_test.cpp).
#pragma once

#include <span>

namespace stackfit {

/// e to each of them, from -700 to 700. `out` may be `x` itself.
void exp_all(std::span<const double> x, std::span<double> out);
/// Natural logarithm of each; they must be positive and normal. `out` may be `x` itself.
void ln_all(std::span<const double> x, std::span<double> out);

}  // namespace stackfit
