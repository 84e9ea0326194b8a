// SPDX-License-Identifier: GPL-3.0-or-later
//
// Packs evened by exchanges: one cell for one, then two for two where the longest or the shortest
// row takes part, until nothing gains.
//
// Cells left over take part as a pack whose length and spread do not count.
#include <algorithm>
#include <limits>
#include <numeric>

#include "solver/sort_parts.hpp"

namespace stackfit::sorting {
namespace {

constexpr Mah unlimited = std::numeric_limits<Mah>::max() / 4;

struct Cost {
  Um outside = 0;  ///< beyond what can be shimmed
  Um square = 0;   ///< of the distance from the aim
  [[nodiscard]] Cost operator+(const Cost& o) const {
    return {outside + o.outside, square + o.square};
  }
  auto operator<=>(const Cost&) const = default;  // NOLINT(modernize-use-nullptr): a false hit
};

/// Where two cells, or two pairs, change places.
struct Move {
  std::size_t a = 0;
  std::size_t b = 0;
  std::size_t a2 = 0;
  std::size_t b2 = 0;
};

class Exchange {
 public:
  Exchange(const Pile& pile, Mah spread, std::int64_t& looks)
      : pile_(pile), spread_(spread), looks_(looks), packs_(first_packs(pile, spread)) {
    add_left_over();
    for (const std::vector<int>& pack : packs_) {
      rows_.push_back(pile_.row(pack));
    }
  }

  Exchanged run(ExchangeUntil until) {
    set_aim();
    const bool any = until == ExchangeUntil::shimmable;
    while (looks_ > 0 && !(any && outside() == 0) && even_out_all()) {
    }
    // From here on no exchange is undone: each leaves fewer rows at the ends, or the ends closer.
    while (looks_ > 0 && !any && outside() == 0 && draw_together()) {
    }
    Exchanged out;
    out.outside = outside();
    if (has_left_over()) {
      packs_.pop_back();
    }
    out.packs = std::move(packs_);
    return out;
  }

 private:
  /// Without capacities runs would be the most uneven packs of all: thick and thin in turn.
  static Packs first_packs(const Pile& pile, Mah spread) {
    if (pile.c.front() != pile.c.back()) {
      return runs_within(pile, spread);
    }
    const auto count = static_cast<std::size_t>(pile.packs);
    Packs packs(count);
    for (int cell = 0; cell < pile.packs * pile.each; ++cell) {
      const auto in_turn = static_cast<std::size_t>(cell) % (2 * count);
      packs[in_turn < count ? in_turn : 2 * count - 1 - in_turn].push_back(cell);
    }
    return packs;
  }

  void add_left_over() {
    if (pile_.spare() == 0) {
      return;
    }
    std::vector<bool> used(pile_.t.size(), false);
    for (const std::vector<int>& pack : packs_) {
      for (const int cell : pack) {
        used[static_cast<std::size_t>(cell)] = true;
      }
    }
    packs_.emplace_back();
    for (int cell = 0; cell < pile_.size(); ++cell) {
      if (!used[static_cast<std::size_t>(cell)]) {
        packs_.back().push_back(cell);
      }
    }
  }

  [[nodiscard]] bool has_left_over() const { return pile_.spare() > 0; }
  [[nodiscard]] std::size_t count() const { return static_cast<std::size_t>(pile_.packs); }
  [[nodiscard]] bool is_left_over(std::size_t pack) const { return pack == count(); }

  /// The mean row, or where that cannot be shimmed the nearest length that can.
  void set_aim() {
    const Um total = std::accumulate(rows_.begin(), rows_.begin() + pile_.packs, Um{0});
    aim_ = total / pile_.packs;
    const Um away = pile_.from_shimmable(aim_);
    if (away > 0) {
      aim_ = pile_.from_shimmable(aim_ + away) == 0 ? aim_ + away : aim_ - away;
    }
  }

  [[nodiscard]] Um outside() const {
    Um sum = 0;
    for (std::size_t pack = 0; pack < count(); ++pack) {
      sum += pile_.from_shimmable(rows_[pack]);
    }
    return sum;
  }

  [[nodiscard]] Cost cost(std::size_t pack, Um row) const {
    if (is_left_over(pack)) {
      return {};
    }
    return {pile_.from_shimmable(row), (row - aim_) * (row - aim_)};
  }

  /// Capacities that a cell may have that takes the place of one (or two) of a pack.
  struct Room {
    Mah low = -unlimited;
    Mah high = unlimited;
    [[nodiscard]] bool holds(Mah capacity) const { return capacity >= low && capacity <= high; }
  };
  [[nodiscard]] Room room_without(std::size_t pack, std::size_t out, std::size_t out2) const {
    Room room;
    if (is_left_over(pack)) {
      return room;
    }
    for (std::size_t i = 0; i < packs_[pack].size(); ++i) {
      if (i != out && i != out2) {
        const Mah c = pile_.capacity(packs_[pack][i]);
        room.low = std::max(room.low, c - spread_);
        room.high = std::min(room.high, c + spread_);
      }
    }
    return room;
  }
  [[nodiscard]] std::vector<Room> rooms(std::size_t pack) const {
    std::vector<Room> out;
    for (std::size_t i = 0; i < packs_[pack].size(); ++i) {
      out.push_back(room_without(pack, i, i));
    }
    return out;
  }

  void swap(std::size_t p, std::size_t i, std::size_t q, std::size_t j) {
    const Um moved = pile_.thickness(packs_[p][i]) - pile_.thickness(packs_[q][j]);
    std::swap(packs_[p][i], packs_[q][j]);
    rows_[p] -= moved;
    rows_[q] += moved;
  }

  /// The exchange of one cell for one that gains most between two packs.
  bool even_out(std::size_t p, std::size_t q) {
    if (apart(p, q)) {
      return false;
    }
    const std::vector<Room> of_p = rooms(p);
    const std::vector<Room> of_q = rooms(q);
    Cost best = cost(p, rows_[p]) + cost(q, rows_[q]);
    bool gains = false;
    Move move;
    for (std::size_t i = 0; i < of_p.size(); ++i) {
      const int a = packs_[p][i];
      for (std::size_t j = 0; j < of_q.size(); ++j) {
        const int b = packs_[q][j];
        const Um moved = pile_.thickness(a) - pile_.thickness(b);
        if (moved == 0 || !of_p[i].holds(pile_.capacity(b)) || !of_q[j].holds(pile_.capacity(a))) {
          continue;
        }
        const Cost now = cost(p, rows_[p] - moved) + cost(q, rows_[q] + moved);
        if (now < best) {
          best = now;
          move = {i, j, 0, 0};
          gains = true;
        }
      }
    }
    looks_ -= static_cast<std::int64_t>(of_p.size() * of_q.size());
    if (gains) {
      swap(p, move.a, q, move.b);
    }
    return gains;
  }

  /// No cell of one can go to the other.
  [[nodiscard]] bool apart(std::size_t p, std::size_t q) const {
    if (is_left_over(q)) {
      return false;
    }
    const auto [p_low, p_high] = capacities(p);
    const auto [q_low, q_high] = capacities(q);
    return p_low > q_high + spread_ || q_low > p_high + spread_;
  }
  [[nodiscard]] std::pair<Mah, Mah> capacities(std::size_t pack) const {
    Mah low = unlimited;
    Mah high = -unlimited;
    for (const int cell : packs_[pack]) {
      low = std::min(low, pile_.capacity(cell));
      high = std::max(high, pile_.capacity(cell));
    }
    return {low, high};
  }

  bool even_out_all() {
    bool gained = false;
    for (std::size_t p = 0; p < count() && looks_ > 0; ++p) {
      for (std::size_t q = p + 1; q < packs_.size(); ++q) {
        gained = even_out(p, q) || gained;
      }
    }
    return gained;
  }

  /// The longest or the shortest row comes closer to the others. False where neither can.
  bool draw_together() {
    const auto end = rows_.begin() + pile_.packs;
    const auto longest =
        static_cast<std::size_t>(std::max_element(rows_.begin(), end) - rows_.begin());
    const auto shortest =
        static_cast<std::size_t>(std::min_element(rows_.begin(), end) - rows_.begin());
    if (rows_[longest] - rows_[shortest] <= pile_.step) {
      return false;
    }
    low_ = rows_[shortest];
    high_ = rows_[longest];
    for (const std::size_t p : {longest, shortest}) {
      for (std::size_t q = 0; q < packs_.size(); ++q) {
        if (q != p && looks_ > 0 && draw_in(p, q)) {
          return true;
        }
      }
    }
    return false;
  }

  /// Strictly between the shortest and the longest row there are.
  [[nodiscard]] bool lies_between(std::size_t pack, Um row) const {
    return is_left_over(pack) || (row > low_ && row < high_ && pile_.from_shimmable(row) == 0);
  }

  /// The first exchange of one or two cells after which both rows lie strictly between.
  bool draw_in(std::size_t p, std::size_t q) {
    if (apart(p, q)) {
      return false;
    }
    for (std::size_t i = 0; i < packs_[p].size(); ++i) {
      for (std::size_t i2 = i; i2 < packs_[p].size(); ++i2) {
        if (draw_in(p, i, i2, q)) {
          return true;
        }
      }
    }
    return false;
  }

  bool draw_in(std::size_t p, std::size_t i, std::size_t i2, std::size_t q) {
    const std::size_t cells = packs_[q].size();
    const bool two = i != i2;
    const Um out = thickness_of(p, i, i2);
    const Room room = room_without(p, i, i2);
    looks_ -= static_cast<std::int64_t>(two ? cells * cells / 2 : cells);
    for (std::size_t j = 0; j < cells; ++j) {
      if (!room.holds(pile_.capacity(packs_[q][j]))) {
        continue;
      }
      for (std::size_t j2 = two ? j + 1 : j; j2 < (two ? cells : j + 1); ++j2) {
        const Um moved = out - thickness_of(q, j, j2);
        if (lies_between(p, rows_[p] - moved) && lies_between(q, rows_[q] + moved) &&
            fit(p, {i, j, i2, j2}, q)) {
          swap(p, i, q, j);
          if (two) {
            swap(p, i2, q, j2);
          }
          return true;
        }
      }
    }
    return false;
  }

  [[nodiscard]] Um thickness_of(std::size_t pack, std::size_t i, std::size_t i2) const {
    const Um one = pile_.thickness(packs_[pack][i]);
    return i == i2 ? one : one + pile_.thickness(packs_[pack][i2]);
  }

  /// The capacities of what changes places fit where it goes.
  [[nodiscard]] bool fit(std::size_t p, const Move& move, std::size_t q) const {
    return takes(p, move.a, move.a2, pile_.capacity(packs_[q][move.b]),
                 pile_.capacity(packs_[q][move.b2])) &&
           takes(q, move.b, move.b2, pile_.capacity(packs_[p][move.a]),
                 pile_.capacity(packs_[p][move.a2]));
  }
  [[nodiscard]] bool takes(std::size_t pack, std::size_t out, std::size_t out2, Mah in,
                           Mah in2) const {
    if (is_left_over(pack)) {
      return true;
    }
    const Room room = room_without(pack, out, out2);
    return room.holds(in) && room.holds(in2) && std::max(in, in2) - std::min(in, in2) <= spread_;
  }

  const Pile& pile_;
  Mah spread_;
  std::int64_t& looks_;
  Packs packs_;  ///< what is left over behind them, where there is any
  std::vector<Um> rows_;
  Um aim_ = 0;
  Um low_ = 0;
  Um high_ = 0;
};

}  // namespace

Exchanged exchange(const Pile& pile, Mah spread, ExchangeUntil until, std::int64_t& looks) {
  return Exchange(pile, spread, looks).run(until);
}

}  // namespace stackfit::sorting
