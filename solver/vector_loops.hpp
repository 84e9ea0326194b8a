// SPDX-License-Identifier: GPL-3.0-or-later
//
// Loops over blocks of draws, compiled once for each width of vector instruction that a processor
// of this kind may have; which one runs is settled when the program is loaded.
//
// For: functions whose loops take most of the time of a chance; all that such a loop calls must be
// inlined into it. A wider vector does the same arithmetic on more figures at once, and no sum is
// taken in another order, so that the figures are the same whichever runs (vector_math_test.cpp and
// chance_model_test.cpp hold the width of the machine they run on to a draw alone).
// Not for: sums over a block. Other processors and compilers, and the sanitizers, which cannot
// start such functions, have the one plain version.
#pragma once

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
#define STACKFIT_VECTOR_LOOPS __attribute__((target_clones("default", "avx2", "avx512f")))
#else
#define STACKFIT_VECTOR_LOOPS
#endif
