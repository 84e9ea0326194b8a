// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/share_jobs.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace stackfit {

void share_jobs(std::size_t jobs, int threads, const std::function<void(std::size_t)>& job) {
  const std::size_t wanted = threads > 0 ? static_cast<std::size_t>(threads)
                                         : std::max(1U, std::thread::hardware_concurrency());
  std::atomic<std::size_t> next = 0;
  std::vector<std::exception_ptr> thrown(jobs);
  const auto work = [&] {
    for (std::size_t i = next++; i < jobs; i = next++) {
      try {
        job(i);
      } catch (...) {
        thrown[i] = std::current_exception();
      }
    }
  };
  {
    std::vector<std::jthread> others;
    for (std::size_t i = 1; i < std::min(wanted, jobs); ++i) {
      others.emplace_back(work);
    }
    work();
  }
  for (const std::exception_ptr& one : thrown) {
    if (one) {
      std::rethrow_exception(one);
    }
  }
}

}  // namespace stackfit
