// SPDX-License-Identifier: GPL-3.0-or-later
//
// Numbered jobs that do not wait for each other, on some threads.
//
// For: studies of many slightly different builds. What each job leaves must stand in a place of its
// own, so that the outcome is the same on any number of threads.
// Not for: draws by the million (monte_carlo.hpp, which keeps each thread's room).
#pragma once

#include <cstddef>
#include <functional>

namespace stackfit {

/// Calls job(0) to job(jobs - 1), on `threads` threads, 0: as many as the machine has. All are
/// done when it returns; what the first job that failed threw comes out.
void share_jobs(std::size_t jobs, int threads, const std::function<void(std::size_t)>& job);

}  // namespace stackfit
