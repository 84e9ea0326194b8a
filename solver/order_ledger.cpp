// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/order_ledger.hpp"

#include <algorithm>
#include <bit>
#include <limits>

namespace stackfit {
namespace {

constexpr std::size_t word_bits = 64;
constexpr std::uint8_t never = std::numeric_limits<std::uint8_t>::max();

using Words = std::vector<std::uint64_t>;
using Subset = std::uint32_t;

std::size_t words_for(std::size_t bits) {
  return (bits + word_bits - 1) / word_bits;
}
bool has(const Words& words, std::size_t bit) {
  return ((words[bit / word_bits] >> (bit % word_bits)) & 1U) != 0;
}
bool stands(Subset set, std::size_t cell) {
  return ((set >> cell) & 1U) != 0;
}
Subset with(Subset set, std::size_t cell) {
  return set | (Subset{1} << cell);
}

/// Numbers the states: the last cell is always of the subset, so its bit is left out.
struct States {
  std::size_t cells;
  [[nodiscard]] std::size_t count() const { return cells << (cells - 1); }
  [[nodiscard]] Subset all() const { return (Subset{1} << cells) - 1; }
  [[nodiscard]] std::size_t operator()(Subset set, std::size_t last) const {
    const Subset below = set & ((Subset{1} << last) - 1);
    const Subset above = (set >> (last + 1)) << last;
    return (last << (cells - 1)) | below | above;
  }
};

void shift_into(std::uint64_t* to, const std::uint64_t* from, const LedgerStep& step,
                std::size_t words) {
  const std::size_t skip = step.offset / word_bits;
  const std::size_t bits = step.offset % word_bits;
  for (std::size_t i = 0; i + skip < words; ++i) {
    const std::uint64_t word = from[i] & step.room[i];
    to[i + skip] |= word << bits;
    if (bits != 0 && i + skip + 1 < words) {
      to[i + skip + 1] |= word >> (word_bits - bits);
    }
  }
}

/// Fewest further moves from each state and ledger, backwards from the whole row.
class MovesToGo {
 public:
  MovesToGo(const LedgerProblem& problem, const Words& targets)
      : p_(problem), states_{problem.cells}, table_(states_.count() * problem.bits, never) {
    for (std::size_t last = 0; last < p_.cells; ++last) {
      for (std::size_t u = 0; u < p_.bits; ++u) {
        row(states_.all(), last)[u] = has(targets, u) ? 0 : never;
      }
    }
    for (Subset set = states_.all(); --set > 0;) {
      for (std::size_t last = 0; last < p_.cells; ++last) {
        if (stands(set, last)) {
          fill(set, last);
        }
      }
    }
  }

  [[nodiscard]] std::optional<MovedOrder> least() const {
    int least = never;
    std::size_t first = 0;
    for (std::size_t cell = 0; cell < p_.cells; ++cell) {
      const int moves = row(with(0, cell), cell)[0];
      if (moves != never && moves + (cell != 0 ? 1 : 0) < least) {
        least = moves + (cell != 0 ? 1 : 0);
        first = cell;
      }
    }
    if (least == never) {
      return std::nullopt;
    }
    return follow(first, least);
  }

 private:
  [[nodiscard]] const std::uint8_t* row(Subset set, std::size_t last) const {
    return table_.data() + states_(set, last) * p_.bits;
  }
  [[nodiscard]] std::uint8_t* row(Subset set, std::size_t last) {
    return table_.data() + states_(set, last) * p_.bits;
  }
  [[nodiscard]] const std::vector<std::uint16_t>& allowed(std::size_t place, std::size_t a,
                                                          std::size_t b) const {
    return p_.allowed[place - 1][a * p_.cells + b];
  }

  void fill(Subset set, std::size_t last) {
    const auto place = static_cast<std::size_t>(std::popcount(set));  // of the next cell, from 0
    std::uint8_t* to = row(set, last);
    for (std::size_t next = 0; next < p_.cells; ++next) {
      if (stands(set, next)) {
        continue;
      }
      const std::uint8_t* from = row(with(set, next), next);
      const std::uint8_t move = next != place ? 1 : 0;
      for (const std::uint16_t index : allowed(place, last, next)) {
        const LedgerStep& step = p_.steps[place - 1][index];
        for (std::size_t u = 0; u + step.offset < p_.bits; ++u) {
          const std::uint8_t after = from[u + step.offset];
          if (after != never && after + move < to[u] && has(step.room, u)) {
            to[u] = static_cast<std::uint8_t>(after + move);
          }
        }
      }
    }
  }

  /// Place by place the least cell by which the fewest moves can still be had; all ledgers that
  /// do are kept.
  [[nodiscard]] MovedOrder follow(std::size_t first, int least) const {
    MovedOrder out{least, {first}};
    Subset set = with(0, first);
    int left = least - (first != 0 ? 1 : 0);
    std::vector<std::size_t> used{0};
    for (std::size_t place = 1; place < p_.cells; ++place) {
      for (std::size_t next = 0; next < p_.cells; ++next) {
        if (stands(set, next)) {
          continue;
        }
        const int after = left - (next != place ? 1 : 0);
        std::vector<std::size_t> then = reached(set, out.order.back(), next, used, after);
        if (!then.empty()) {
          used = std::move(then);
          set = with(set, next);
          out.order.push_back(next);
          left = after;
          break;
        }
      }
    }
    return out;
  }

  [[nodiscard]] std::vector<std::size_t> reached(Subset set, std::size_t last, std::size_t next,
                                                 const std::vector<std::size_t>& used,
                                                 int moves_after) const {
    const auto place = static_cast<std::size_t>(std::popcount(set));
    const std::uint8_t* after = row(with(set, next), next);
    std::vector<std::size_t> found;
    for (const std::uint16_t index : allowed(place, last, next)) {
      const LedgerStep& step = p_.steps[place - 1][index];
      for (const std::size_t u : used) {
        if (u + step.offset < p_.bits && has(step.room, u) &&
            after[u + step.offset] == moves_after) {
          found.push_back(u + step.offset);
        }
      }
    }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
  }

  const LedgerProblem& p_;
  States states_;
  std::vector<std::uint8_t> table_;
};

}  // namespace

std::size_t ledger_words(std::size_t cells, std::size_t bits) {
  return States{cells}.count() * words_for(bits);
}

std::vector<std::uint64_t> used_over_orders(const LedgerProblem& problem) {
  const States states{problem.cells};
  const std::size_t words = words_for(problem.bits);
  Words ledgers(states.count() * words, 0);
  const auto ledger = [&](Subset set, std::size_t last) {
    return ledgers.data() + states(set, last) * words;
  };
  for (std::size_t cell = 0; cell < problem.cells; ++cell) {
    ledger(with(0, cell), cell)[0] = 1;
  }
  // A subset with one cell more is a greater number.
  for (Subset set = 1; set < states.all(); ++set) {
    const auto place = static_cast<std::size_t>(std::popcount(set));
    for (std::size_t last = 0; last < problem.cells; ++last) {
      if (!stands(set, last)) {
        continue;
      }
      const std::uint64_t* from = ledger(set, last);
      if (std::all_of(from, from + words, [](std::uint64_t word) { return word == 0; })) {
        continue;
      }
      for (std::size_t next = 0; next < problem.cells; ++next) {
        if (stands(set, next)) {
          continue;
        }
        for (const std::uint16_t index : problem.allowed[place - 1][last * problem.cells + next]) {
          shift_into(ledger(with(set, next), next), from, problem.steps[place - 1][index], words);
        }
      }
    }
  }
  Words all(words, 0);
  for (std::size_t last = 0; last < problem.cells; ++last) {
    const std::uint64_t* from = ledger(states.all(), last);
    for (std::size_t i = 0; i < words; ++i) {
      all[i] |= from[i];
    }
  }
  return all;
}

std::optional<MovedOrder> least_moved_order(const LedgerProblem& problem,
                                            const std::vector<std::uint64_t>& targets) {
  return MovesToGo(problem, targets).least();
}

}  // namespace stackfit
