// SPDX-License-Identifier: GPL-3.0-or-later
//
// plan_beside_glpk [KITS]: the shim search, brute force and GLPK on the same drawn kits in one
// run. Compare the ratios, not the times. Exit status 1 where two of them differ.
#include <chrono>
#include <cstdio>
#include <cstdlib>

#include "tests/plan/glpk/milp_plan.hpp"

using namespace plan_checks;

namespace {

constexpr double most_placings = 40'000;

/// Adds up the time of all calls.
class Stopwatch {
 public:
  template <typename Call>
  auto time(const Call& call) {
    const auto from = std::chrono::steady_clock::now();
    auto result = call();
    seconds_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
    return result;
  }
  [[nodiscard]] double seconds() const { return seconds_; }

 private:
  double seconds_ = 0;
};

}  // namespace

int main(int argc, char** argv) {
  const int kits = argc > 1 ? std::atoi(argv[1]) : 320;
  Stopwatch search;
  Stopwatch brute;
  Stopwatch glpk;
  int differ = 0;
  for (int seed = 1; seed <= kits; ++seed) {
    const DrawnPlan drawn = draw_plan(static_cast<unsigned>(seed), most_placings);
    const auto plan = search.time([&] { return stackfit::pick_shims(drawn.problem); });
    const auto every = brute.time([&] { return brute_force(drawn.problem); });
    const auto milp = glpk.time([&] { return milp_plan(drawn); });
    if (plan.counts != every.counts || plan.counts != milp.counts) {
      std::printf("kit %d: the three differ\n", seed);
      ++differ;
    }
  }
  std::printf("%d kits: search %.3f s, brute force %.3f s (ratio %.0f), GLPK %.3f s (ratio %.0f)\n",
              kits, search.seconds(), brute.seconds(), brute.seconds() / search.seconds(),
              glpk.seconds(), glpk.seconds() / search.seconds());
  return differ > 0 ? 1 : 0;
}
