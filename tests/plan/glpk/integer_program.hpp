// SPDX-License-Identifier: GPL-3.0-or-later
//
// An integer program with whole coefficients, minimised by GLPK one objective after another.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>

struct glp_prob;

namespace plan_checks {

/// A sum of whole multiples of columns, and a constant.
struct Linear {
  std::map<int, std::int64_t> terms;
  std::int64_t constant = 0;

  Linear& add(const Linear& other, std::int64_t times = 1);
};

class IntegerProgram {
 public:
  IntegerProgram();

  [[nodiscard]] Linear whole(std::int64_t least, std::int64_t most);
  void at_least(const Linear& sum, std::int64_t least);
  void at_most(const Linear& sum, std::int64_t most) { at_least(Linear{}.add(sum, -1), -most); }
  /// The least value of a sum; empty where the constraints leave nothing.
  [[nodiscard]] std::optional<std::int64_t> least(const Linear& objective);
  /// The same, and from then on the sum is no more than that. Must have a solution.
  std::int64_t settle(const Linear& objective);
  /// A sum in the solution found last.
  [[nodiscard]] std::int64_t value(const Linear& sum) const;

 private:
  struct Free {
    void operator()(glp_prob* program) const;
  };
  std::unique_ptr<glp_prob, Free> program_;
};

}  // namespace plan_checks
