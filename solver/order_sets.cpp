// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/order_sets.hpp"

#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <set>

namespace stackfit {
namespace {

/// Words for all ledgers together: whole vectors while that takes some hundredths of a second,
/// totals while it takes some tenths; 2 MiB and 64 MiB.
constexpr std::size_t most_count_words = std::size_t{1} << 18;
constexpr std::size_t most_total_words = std::size_t{1} << 23;
/// Bytes of the table of moves.
constexpr std::size_t most_move_bytes = std::size_t{1} << 27;
constexpr std::size_t word_bits = 64;

std::vector<std::uint64_t> no_bits(std::size_t bits) {
  return std::vector<std::uint64_t>((bits + word_bits - 1) / word_bits, 0);
}
void put(std::vector<std::uint64_t>& words, std::size_t bit) {
  words[bit / word_bits] |= std::uint64_t{1} << (bit % word_bits);
}
bool has(const std::vector<std::uint64_t>& words, std::size_t bit) {
  return ((words[bit / word_bits] >> (bit % word_bits)) & 1U) != 0;
}

/// The window of a limit, without terminals.
GapLimit window_of(const GapLimit& limit) {
  return {limit.low_nm, limit.high_nm, GapLimit::any, GapLimit::any, {}};
}

}  // namespace

struct OrderSets::Ledger {
  LedgerProblem problem;
  std::vector<std::vector<std::int64_t>> totals_nm;  ///< [place][step]: shims in the gap
  std::int64_t least_nm = 0;                         ///< by totals: what bit 0 stands for
  bool possible = true;  ///< each gap has something that some pair allows
};

OrderSets::OrderSets(const PlanProblem& problem, const MovableCells& cells, const CountBox& box,
                     const GapPatterns& patterns, LedgerBy ledger)
    : problem_(problem), cells_(cells), box_(box), patterns_(patterns) {
  std::int64_t unit = 0;
  for (const PlanKind& kind : problem.kinds) {
    unit = std::gcd(unit, kind.thickness_nm);
  }
  unit_nm_ = std::max<std::int64_t>(1, unit);
  by_counts_ = ledger == LedgerBy::what_fits && cells.cell_nm.size() <= most_exhausted_cells &&
               ledger_words(cells.cell_nm.size(), box.size()) <= most_count_words;
}

bool OrderSets::can_be_exhausted(std::int64_t most_shims_nm) const {
  const std::size_t n = cells_.cell_nm.size();
  if (n > most_exhausted_cells) {
    return false;
  }
  const auto bits = static_cast<std::size_t>(most_shims_nm / unit_nm_) + 1;
  return by_counts_ || ledger_words(n, bits) <= most_total_words;
}

std::int64_t OrderSets::steps(std::size_t place, std::size_t a, std::size_t b,
                              std::int64_t gap_total_nm) const {
  const std::int64_t spacing = cells_.middle_nm(place, a, b) + gap_total_nm;
  return std::abs(spacing - *problem_.terminals->wanted_nm) / terminal_step_nm;
}

std::int64_t OrderSets::most_steps(std::int64_t most_shims_nm) const {
  const auto [thinnest, thickest] =
      std::minmax_element(cells_.cell_nm.begin(), cells_.cell_nm.end());
  const auto thin = static_cast<std::size_t>(thinnest - cells_.cell_nm.begin());
  const auto thick = static_cast<std::size_t>(thickest - cells_.cell_nm.begin());
  std::int64_t most = 0;
  for (std::size_t place = 0; place < cells_.pads_nm.size(); ++place) {
    const std::int64_t fixed = problem_.gaps[place + 1].fixed_nm;
    most = std::max(
        {most, steps(place, thin, thin, fixed), steps(place, thick, thick, fixed + most_shims_nm)});
  }
  return most;
}

Patterns OrderSets::for_some_pair(std::size_t gap, const GapLimit& limit,
                                  std::int64_t most_shims_nm) const {
  Patterns found = patterns_.within(gap, window_of(limit), most_shims_nm);
  if (limit.terminal_steps == GapLimit::any) {
    return found;
  }
  const std::size_t n = cells_.cell_nm.size();
  std::set<std::int64_t> middles;
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = a + 1; b < n; ++b) {
      middles.insert(cells_.middle_nm(gap - 1, a, b));
    }
  }
  std::erase_if(found, [&](const std::vector<int>& pattern) {
    const std::int64_t total = problem_.gaps[gap].fixed_nm + patterns_.total_nm(pattern);
    return std::none_of(middles.begin(), middles.end(), [&](std::int64_t middle) {
      return std::abs(middle + total - *problem_.terminals->wanted_nm) / terminal_step_nm <=
             limit.terminal_steps;
    });
  });
  return found;
}

/// Bits whose digits have room for a pattern.
std::vector<std::uint64_t> OrderSets::room_for(const std::vector<int>& pattern) const {
  std::vector<std::uint64_t> room = no_bits(box_.size());
  for (std::size_t index = 0; index < box_.size(); ++index) {
    bool fits = true;
    for (std::size_t kind = 0; kind < pattern.size() && fits; ++kind) {
      const std::size_t radix = static_cast<std::size_t>(box_.cap(kind)) + 1;
      const auto digit = static_cast<int>(index / box_.stride(kind) % radix);
      fits = digit + pattern[kind] <= box_.cap(kind);
    }
    if (fits) {
      put(room, index);
    }
  }
  return room;
}

void OrderSets::fill_by_counts(const std::vector<Patterns>& by_gap, Ledger& ledger) const {
  ledger.problem.bits = box_.size();
  for (std::size_t place = 0; place < by_gap.size(); ++place) {
    std::vector<std::int64_t>& totals = ledger.totals_nm.emplace_back();
    for (const std::vector<int>& pattern : by_gap[place]) {
      totals.push_back(patterns_.total_nm(pattern));
    }
    std::vector<LedgerStep>& steps = ledger.problem.steps.emplace_back();
    if (place > 0 && by_gap[place] == by_gap[place - 1]) {
      steps = std::vector<LedgerStep>(ledger.problem.steps[place - 1]);
      continue;
    }
    for (const std::vector<int>& pattern : by_gap[place]) {
      steps.push_back({box_.index(pattern), room_for(pattern)});
    }
  }
}

void OrderSets::fill_by_totals(const std::vector<Patterns>& by_gap, std::int64_t most_shims_nm,
                               Ledger& ledger) const {
  std::int64_t spread = 0;
  for (const Patterns& patterns : by_gap) {
    std::set<std::int64_t> totals;
    for (const std::vector<int>& pattern : patterns) {
      totals.insert(patterns_.total_nm(pattern));
    }
    ledger.least_nm += *totals.begin();
    spread += *totals.rbegin() - *totals.begin();
    ledger.totals_nm.emplace_back(totals.begin(), totals.end());
  }
  ledger.possible = ledger.least_nm <= most_shims_nm;
  if (!ledger.possible) {
    return;
  }
  spread = std::min(spread, most_shims_nm - ledger.least_nm);
  ledger.problem.bits = static_cast<std::size_t>(spread / unit_nm_) + 1;
  for (const std::vector<std::int64_t>& totals : ledger.totals_nm) {
    std::vector<LedgerStep>& steps = ledger.problem.steps.emplace_back();
    for (const std::int64_t total : totals) {
      LedgerStep step{static_cast<std::size_t>((total - totals.front()) / unit_nm_),
                      no_bits(ledger.problem.bits)};
      for (std::size_t bit = 0; bit + step.offset < ledger.problem.bits; ++bit) {
        put(step.room, bit);
      }
      steps.push_back(std::move(step));
    }
  }
}

/// Which steps two neighbours allow.
void OrderSets::allow_pairs(const GapLimit& limit, Ledger& ledger) const {
  const std::size_t n = cells_.cell_nm.size();
  for (std::size_t place = 0; place + 1 < n; ++place) {
    auto& allowed = ledger.problem.allowed.emplace_back(n * n);
    const std::int64_t fixed = problem_.gaps[place + 1].fixed_nm;
    const std::vector<std::int64_t>& totals = ledger.totals_nm[place];
    for (std::size_t pair = 0; pair < n * n; ++pair) {
      for (std::size_t i = 0; i < totals.size() && pair / n != pair % n; ++i) {
        if (steps(place, pair / n, pair % n, fixed + totals[i]) <= limit.terminal_steps) {
          allowed[pair].push_back(static_cast<std::uint16_t>(i));
        }
      }
    }
  }
}

OrderSets::Ledger OrderSets::ledger(const GapLimit& limit, std::int64_t most_shims_nm) const {
  Ledger out;
  out.problem.cells = cells_.cell_nm.size();
  std::vector<Patterns> by_gap;
  for (std::size_t gap = 1; gap < cells_.cell_nm.size(); ++gap) {
    by_gap.push_back(for_some_pair(gap, limit, most_shims_nm));
    if (by_gap.back().empty()) {
      out.possible = false;
      return out;
    }
  }
  if (by_counts_) {
    fill_by_counts(by_gap, out);
  } else {
    fill_by_totals(by_gap, most_shims_nm, out);
  }
  if (out.possible) {
    allow_pairs(limit, out);
  }
  return out;
}

/// The bit that a vector ends at; empty where the ledger cannot hold it.
std::optional<std::size_t> OrderSets::bit_of(std::size_t index, const Ledger& ledger) const {
  if (by_counts_) {
    return index;
  }
  const std::int64_t above = patterns_.total_nm(box_.counts(index)) - ledger.least_nm;
  const auto bit = static_cast<std::size_t>(above / unit_nm_);
  return above >= 0 && bit < ledger.problem.bits ? std::optional(bit) : std::nullopt;
}

CountSet OrderSets::inner(const GapLimit& limit, std::int64_t most_shims_nm,
                          const CountSet& among) const {
  CountSet kept(box_.size());
  const Ledger made = ledger(limit, most_shims_nm);
  if (!made.possible) {
    return kept;
  }
  const std::vector<std::uint64_t> used = used_over_orders(made.problem);
  among.for_each([&](std::size_t index) {
    const auto bit = bit_of(index, made);
    if (bit && has(used, *bit)) {
      kept.insert(index);
    }
  });
  return kept;
}

std::optional<MovedOrder> OrderSets::least_moved(const GapLimit& limit, std::int64_t most_shims_nm,
                                                 const CountSet& targets) const {
  const Ledger made = ledger(limit, most_shims_nm);
  const std::size_t n = cells_.cell_nm.size();
  if (!made.possible || (n << (n - 1)) * made.problem.bits > most_move_bytes) {
    return std::nullopt;
  }
  std::vector<std::uint64_t> ends = no_bits(made.problem.bits);
  targets.for_each([&](std::size_t index) {
    if (const auto bit = bit_of(index, made)) {
      put(ends, *bit);
    }
  });
  return least_moved_order(made.problem, ends);
}

}  // namespace stackfit
