// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/plan/drawn_plan.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "tests/plan/brute_force.hpp"

namespace plan_checks {
namespace {

using stackfit::PlanKind;
using stackfit::PlanProblem;

class Draw {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}

  [[nodiscard]] DrawnPlan plan(double most_placings) {
    DrawnPlan drawn;
    PlanProblem& p = drawn.problem;
    const int gaps = 3 + below(4);
    for (int g = 0; g < gaps; ++g) {
      p.gaps.push_back({below(4) == 0 ? unit_nm * (1 + below(24)) : 0, below(3) > 0});
    }
    const int kinds = 1 + below(3);
    for (int k = 0; k < kinds; ++k) {
      p.kinds.push_back(kind(gaps));
    }
    while (placings(p) > most_placings) {
      --std::max_element(p.kinds.begin(), p.kinds.end(), [](const PlanKind& a, const PlanKind& b) {
          return a.count < b.count;
        })->count;
    }
    if (below(2) == 0) {
      p.terminals = terminals(gaps);
    }
    if (below(5) == 0) {
      p.most_total_nm = unit_nm * (20 + below(120));
    }
    drawn.law = law(p);
    judge_by(drawn.law, p);
    if (below(2) == 0) {
      hint(drawn);
    }
    return drawn;
  }

 private:
  [[nodiscard]] int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }

  [[nodiscard]] PlanKind kind(int gaps) {
    static constexpr std::int64_t stock[]{300'000, 500'000,   500'000, 800'000,
                                          175'000, 1'000'000, 725'000, 250'000};
    PlanKind made;
    made.thickness_nm = stock[below(8)];
    made.count = below(12);
    made.insulates = below(6) > 0;
    const bool anywhere = below(2) == 0;
    for (int g = 0; g < gaps; ++g) {
      made.allowed.push_back(anywhere || below(5) > 0);
    }
    return made;
  }

  [[nodiscard]] stackfit::TerminalWish terminals(int gaps) {
    stackfit::TerminalWish wish;
    for (int g = 0; g + 2 < gaps; ++g) {
      wish.middles_nm.push_back(40'000'000 + unit_nm * below(11));
    }
    if (below(3) > 0) {
      wish.wanted_nm = 40'000'000 + unit_nm * below(50);
    }
    return wish;
  }

  [[nodiscard]] MarginLaw law(const PlanProblem& p) {
    MarginLaw law;
    std::int64_t whole_kit = 0;
    const bool soft_kinds = below(3) == 0;
    for (const PlanKind& k : p.kinds) {
      law.press_units.push_back(k.thickness_nm / unit_nm - (soft_kinds ? below(3) : 0));
      whole_kit += law.press_units.back() * k.count;
    }
    // Up to a quarter beyond what the kit can press: some targets are out of reach.
    const auto target =
        static_cast<std::int64_t>(below(static_cast<int>(whole_kit + whole_kit / 4) + 1));
    const auto side = [&](std::int64_t sign) {
      const std::int64_t top = 100 + below(450);
      const std::int64_t slope = 1 + below(25);
      // The steep line near the target and a flatter one that begins higher.
      const std::int64_t flat = 1 + slope / 3;
      return std::vector<MarginLine>{{top - sign * slope * target, sign * slope},
                                     {top + below(120) - sign * flat * target, sign * flat}};
    };
    law.rising = side(1);
    law.falling = side(-1);
    if (below(4) == 0) {
      law.most_passing_press = std::max<std::int64_t>(0, target - 6 + below(20));
    }
    return law;
  }

  /// The hint that the solver gives as well: totals outside which nothing passes.
  static void hint(DrawnPlan& drawn) {
    std::int64_t least = 0;
    std::int64_t most = 0;
    bool any = false;
    std::int64_t whole_kit = 0;
    std::int64_t softest = 0;  // what a sheet's press falls short of its thickness by, at most
    for (std::size_t k = 0; k < drawn.problem.kinds.size(); ++k) {
      const PlanKind& kind = drawn.problem.kinds[k];
      softest += (kind.thickness_nm / unit_nm - drawn.law.press_units[k]) * kind.count;
      whole_kit += kind.thickness_nm / unit_nm * kind.count;
    }
    for (std::int64_t press = 0; press <= whole_kit; ++press) {
      if (drawn.law.parts_at(press) >= 0) {
        least = any ? least : press;
        most = press + softest;
        any = true;
      }
    }
    drawn.problem.may_pass_nm = any ? std::pair(least * unit_nm, most * unit_nm)
                                    : std::pair(std::int64_t{1}, std::int64_t{0});
  }

  std::mt19937 random_;
};

}  // namespace

std::int64_t MarginLaw::press(const std::vector<int>& used) const {
  std::int64_t sum = 0;
  for (std::size_t kind = 0; kind < used.size(); ++kind) {
    sum += used[kind] * press_units[kind];
  }
  return sum;
}

std::int64_t MarginLaw::parts_at(std::int64_t press) const {
  std::int64_t least = margin_parts * margin_parts;
  for (const auto* side : {&rising, &falling}) {
    for (const MarginLine& line : *side) {
      least = std::min(least, line.start + line.slope * press);
    }
  }
  return least;
}

namespace {

/// By the kinds whose sheets press most and least for their thickness. Double rounding is far below
/// what a part of the margin is.
stackfit::MarginSides kindest_sides(const MarginLaw& law, const std::vector<PlanKind>& kinds,
                                    std::int64_t total_nm) {
  double most = 0;
  double least = 1;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    const double per_unit = static_cast<double>(law.press_units[k] * unit_nm) /
                            static_cast<double>(kinds[k].thickness_nm);
    most = std::max(most, per_unit);
    least = std::min(least, per_unit);
  }
  const double units = static_cast<double>(total_nm) / static_cast<double>(unit_nm);
  const auto side = [](const std::vector<MarginLine>& lines, double press) {
    double lowest = std::numeric_limits<double>::infinity();
    for (const MarginLine& line : lines) {
      lowest = std::min(lowest,
                        static_cast<double>(line.start) + static_cast<double>(line.slope) * press);
    }
    return lowest / margin_parts;
  };
  return {side(law.rising, most * units), side(law.falling, least * units)};
}

}  // namespace

void judge_by(const MarginLaw& law, PlanProblem& problem) {
  problem.score = [law](const std::vector<int>& used) {
    const std::int64_t press = law.press(used);
    const std::int64_t parts = law.parts_at(press);
    const bool closes = !law.most_passing_press || press <= *law.most_passing_press;
    return stackfit::PlanScore{static_cast<double>(parts) / margin_parts, parts >= 0 && closes};
  };
  problem.kindest_sides = [law, kinds = problem.kinds](std::int64_t total_nm) {
    return kindest_sides(law, kinds, total_nm);
  };
  problem.margin_thinner = [law](const std::vector<int>& used, double thinner_mm) {
    const std::int64_t press = law.press(used) - stackfit::to_nm(thinner_mm) / unit_nm;
    return static_cast<double>(law.parts_at(press)) / margin_parts;
  };
}

DrawnPlan draw_plan(unsigned seed, double most_placings) {
  return Draw(seed).plan(most_placings);
}

}  // namespace plan_checks
