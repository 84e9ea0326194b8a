// SPDX-License-Identifier: GPL-3.0-or-later
//
// The coverage intervals of monte_carlo.hpp.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <vector>

#include "solver/monte_carlo.hpp"

namespace stackfit {

namespace {

/// As many parts as make the spread among them known to a seventh, each with samples enough.
constexpr std::size_t most_parts = 25;
constexpr std::size_t least_samples_in_part = 40;
/// The seed of the lots only: the same parts of the same samples every time.
constexpr std::uint64_t lot_seed = 101;

void sort_for(std::vector<double>& samples, double share) {
  if (samples.size() < 2 || !(share > 0 && share < 1)) {
    throw std::invalid_argument("coverage: two samples and a share within 0 and 1 are needed");
  }
  std::sort(samples.begin(), samples.end());
}

/// How many steps between the interval's ends: q of JCGM 101, 7.7.1.
std::size_t steps_between(std::size_t samples, double share) {
  const auto steps = static_cast<std::size_t>(share * static_cast<double>(samples) + 0.5);
  return std::clamp<std::size_t>(steps, 1, samples - 1);
}

/// Half of what lies between the sorted samples one standard deviation of the rank to either side.
double rank_error(const std::vector<double>& sorted, std::size_t rank, double tail) {
  const double spread = std::sqrt(static_cast<double>(sorted.size()) * tail * (1 - tail));
  const auto ranks = std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(spread)));
  const std::size_t below = rank - std::min(rank, ranks);
  const std::size_t above = std::min(rank + ranks, sorted.size() - 1);
  return (sorted[above] - sorted[below]) / 2;
}

Coverage shortest_of(const std::vector<double>& sorted, double share) {
  const std::size_t steps = steps_between(sorted.size(), share);
  std::size_t best = 0;
  for (std::size_t low = 1; low + steps < sorted.size(); ++low) {
    if (sorted[low + steps] - sorted[low] < sorted[best + steps] - sorted[best]) {
      best = low;
    }
  }
  return {sorted[best], sorted[best + steps], 0, 0};
}

/// The sorted samples dealt out by lot into parts, each sorted again.
std::vector<std::vector<double>> deal_out(const std::vector<double>& sorted) {
  const std::size_t count =
      std::clamp<std::size_t>(sorted.size() / least_samples_in_part, 2, most_parts);
  std::vector<double> lots(sorted.size());
  draw_uniform(lot_seed, 0, 1, lots.size(), lots);
  std::vector<std::vector<double>> parts(count);
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    parts[static_cast<std::size_t>(lots[i] * static_cast<double>(count))].push_back(sorted[i]);
  }
  std::erase_if(parts, [](const std::vector<double>& part) { return part.size() < 2; });
  return parts;
}

/// The standard deviation of one end over the parts.
double spread_of(const std::vector<Coverage>& parts, double Coverage::*end) {
  double mean = 0;
  for (const Coverage& part : parts) {
    mean += part.*end / static_cast<double>(parts.size());
  }
  double squares = 0;
  for (const Coverage& part : parts) {
    squares += (part.*end - mean) * (part.*end - mean);
  }
  return parts.size() < 2 ? 0 : std::sqrt(squares / static_cast<double>(parts.size() - 1));
}

}  // namespace

Coverage symmetric_coverage(std::vector<double> samples, double share) {
  sort_for(samples, share);
  const std::size_t steps = steps_between(samples.size(), share);
  // Counted from 0: JCGM 101 counts r from 1.
  const std::size_t low = std::max<std::size_t>((samples.size() - steps + 1) / 2, 1) - 1;
  const std::size_t high = low + steps;
  const double tail = (1 - share) / 2;
  return {samples[low], samples[high], rank_error(samples, low, tail),
          rank_error(samples, high, tail)};
}

Coverage shortest_coverage(std::vector<double> samples, double share) {
  sort_for(samples, share);
  Coverage whole = shortest_of(samples, share);
  std::vector<Coverage> parts;
  for (const std::vector<double>& part : deal_out(samples)) {
    parts.push_back(shortest_of(part, share));
  }
  // The ends settle with the cube root of the number of samples (Kim and Pollard, Cube root
  // asymptotics, Ann. Statist. 18, 1990), with its square root where the density breaks off.
  const double settling = std::cbrt(static_cast<double>(parts.size()));
  whole.low_error = spread_of(parts, &Coverage::low) / settling;
  whole.high_error = spread_of(parts, &Coverage::high) / settling;
  return whole;
}

}  // namespace stackfit
