// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/cell_order.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <tuple>
#include <utility>

namespace stackfit {
namespace {

using Order = std::vector<std::size_t>;

/// Half a nanometre of rounding must not make a step.
long steps(double mm) {
  constexpr double dust_mm = 1e-6;
  return static_cast<long>(std::ceil((mm - dust_mm) / order_step_mm));
}

int places_changed(const Order& order) {
  int moved = 0;
  for (std::size_t place = 0; place < order.size(); ++place) {
    moved += order[place] != place ? 1 : 0;
  }
  return moved;
}

struct Rank {
  long deviation = 0;
  long facing = 0;
  int moved = 0;
  Order order;
  [[nodiscard]] auto key() const { return std::tie(deviation, facing, moved, order); }
};

Rank rank_of(const OrderQuestion& question, const Order& order) {
  const OrderFigures figures = figures_of(question, order);
  return {steps(figures.deviation_mm), steps(figures.facing_swelling_mm), places_changed(order),
          order};
}

Order as_they_stand(std::size_t cells) {
  Order order(cells);
  std::iota(order.begin(), order.end(), std::size_t{0});
  return order;
}

Rank best_of_all(const OrderQuestion& question) {
  Order order = as_they_stand(question.cells.size());
  Rank best = rank_of(question, order);
  while (std::next_permutation(order.begin(), order.end())) {
    Rank rank = rank_of(question, order);
    if (rank.key() < best.key()) {
      best = std::move(rank);
    }
  }
  return best;
}

/// The best exchange of two cells, again and again until none helps.
Rank improved(const OrderQuestion& question, const Order& start) {
  Rank best = rank_of(question, start);
  for (bool better = true; better;) {
    better = false;
    const Order from = best.order;
    for (std::size_t i = 0; i < from.size(); ++i) {
      for (std::size_t j = i + 1; j < from.size(); ++j) {
        Order other = from;
        std::swap(other[i], other[j]);
        Rank rank = rank_of(question, other);
        if (rank.key() < best.key()) {
          best = std::move(rank);
          better = true;
        }
      }
    }
  }
  return best;
}

/// Thickest cells where the sheets on both sides are thinnest.
Order thick_beside_thin(const OrderQuestion& question) {
  const std::size_t cells = question.cells.size();
  Order places = as_they_stand(cells);
  const auto beside_mm = [&](std::size_t place) {
    // What lies at a wall moves no terminal against another.
    const double before = place == 0 ? question.gap_mm[place + 1] : question.gap_mm[place];
    const double after = place + 1 == cells ? question.gap_mm[place] : question.gap_mm[place + 1];
    return before + after;
  };
  std::stable_sort(places.begin(), places.end(),
                   [&](std::size_t a, std::size_t b) { return beside_mm(a) < beside_mm(b); });
  Order thickest = as_they_stand(cells);
  std::stable_sort(thickest.begin(), thickest.end(), [&](std::size_t a, std::size_t b) {
    return question.cells[a].thickness_mm > question.cells[b].thickness_mm;
  });
  Order order(cells);
  for (std::size_t i = 0; i < cells; ++i) {
    order[places[i]] = thickest[i];
  }
  return order;
}

Rank best_found(const OrderQuestion& question) {
  Rank best = improved(question, as_they_stand(question.cells.size()));
  Rank other = improved(question, thick_beside_thin(question));
  return other.key() < best.key() ? other : best;
}

void require_sound(const OrderQuestion& question) {
  if (question.cells.empty() || question.gap_mm.size() != question.cells.size() + 1 ||
      question.parallel < 1) {
    throw std::invalid_argument("an order needs cells, one more gap than cells, and groups");
  }
}

}  // namespace

OrderFigures figures_of(const OrderQuestion& question, const std::vector<std::size_t>& order) {
  OrderFigures figures;
  const std::size_t pairs = order.size() - 1;
  std::vector<double> spacing;
  for (std::size_t i = 0; i < pairs; ++i) {
    const OrderCell& a = question.cells[order[i]];
    const OrderCell& b = question.cells[order[i + 1]];
    spacing.push_back(0.5 * (a.thickness_mm + b.thickness_mm) + question.gap_mm[i + 1]);
    figures.facing_swelling_mm =
        std::max(figures.facing_swelling_mm, a.swelling_mm + b.swelling_mm);
  }
  if (spacing.empty()) {
    return figures;
  }
  const double mean =
      std::accumulate(spacing.begin(), spacing.end(), 0.0) / static_cast<double>(pairs);
  const double wanted = question.wanted_spacing_mm.value_or(mean);
  for (const double one : spacing) {
    figures.deviation_mm = std::max(figures.deviation_mm, std::abs(one - wanted));
  }
  return figures;
}

CellOrder order_cells(const OrderQuestion& question) {
  require_sound(question);
  const std::size_t cells = question.cells.size();
  const auto parallel = static_cast<std::size_t>(question.parallel);
  const Rank now = rank_of(question, as_they_stand(cells));
  const bool all_tried = cells <= exact_up_to;
  const Rank best = all_tried ? best_of_all(question) : best_found(question);
  CellOrder out;
  for (std::size_t place = 0; place < cells; ++place) {
    out.places.push_back({best.order[place], (place / parallel) % 2 == 0});
    out.groups_change =
        out.groups_change || (parallel > 1 && place / parallel != best.order[place] / parallel);
  }
  out.before = figures_of(question, now.order);
  out.after = figures_of(question, best.order);
  out.moved = best.moved;
  out.proven = all_tried;
  out.worth_it = out.before.deviation_mm - out.after.deviation_mm >= worth_moving_mm ||
                 (best.deviation <= now.deviation &&
                  out.before.facing_swelling_mm - out.after.facing_swelling_mm >= worth_moving_mm);
  return out;
}

}  // namespace stackfit
