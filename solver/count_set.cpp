// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/count_set.hpp"

#include <algorithm>
#include <utility>

namespace stackfit {

std::size_t combinations(const std::vector<int>& caps) {
  std::size_t product = 1;
  for (const int cap : caps) {
    product *= static_cast<std::size_t>(cap) + 1;
    if (product > count_box_limit) {
      return count_box_limit + 1;
    }
  }
  return product;
}

CountBox::CountBox(std::vector<int> caps) : caps_(std::move(caps)), strides_(caps_.size()) {
  for (std::size_t kind = caps_.size(); kind-- > 0;) {
    strides_[kind] = size_;
    size_ *= static_cast<std::size_t>(caps_[kind]) + 1;
  }
}

std::size_t CountBox::index(const std::vector<int>& counts) const {
  std::size_t index = 0;
  for (std::size_t kind = 0; kind < kinds(); ++kind) {
    index += static_cast<std::size_t>(counts[kind]) * strides_[kind];
  }
  return index;
}

std::vector<int> CountBox::counts(std::size_t index) const {
  std::vector<int> counts(kinds());
  for (std::size_t kind = 0; kind < kinds(); ++kind) {
    counts[kind] = static_cast<int>(index / strides_[kind]);
    index %= strides_[kind];
  }
  return counts;
}

bool CountBox::holds(const std::vector<int>& counts) const {
  for (std::size_t kind = 0; kind < kinds(); ++kind) {
    if (counts[kind] < 0 || counts[kind] > caps_[kind]) {
      return false;
    }
  }
  return true;
}

void CountSet::insert_range(std::size_t from, std::size_t to) {
  constexpr std::uint64_t all = ~std::uint64_t{0};
  while (from < to) {
    const std::size_t bit = from % 64;
    const std::size_t run = std::min(64 - bit, to - from);
    words_[from / 64] |= (run == 64 ? all : ((std::uint64_t{1} << run) - 1)) << bit;
    from += run;
  }
}

bool CountSet::empty() const {
  return std::all_of(words_.begin(), words_.end(), [](std::uint64_t word) { return word == 0; });
}

void CountSet::intersect(const CountSet& other) {
  for (std::size_t i = 0; i < words_.size(); ++i) {
    words_[i] &= other.words_[i];
  }
}

bool CountSet::insert_shifted(const CountSet& from, const std::vector<const CountSet*>& masks,
                              std::size_t offset) {
  const std::size_t skip = offset / 64;
  const std::size_t bits = offset % 64;
  std::uint64_t grown = 0;
  const auto add = [&](std::size_t to, std::uint64_t word) {
    grown |= word & ~words_[to];
    words_[to] |= word;
  };
  // From the top down, so that a set may be shifted into itself. Sets are mostly empty words.
  for (std::size_t source = words_.size() - skip; source-- > 0;) {
    std::uint64_t word = from.words_[source];
    if (word == 0) {
      continue;
    }
    for (const CountSet* mask : masks) {
      word &= mask->words_[source];
    }
    if (word == 0) {
      continue;
    }
    add(source + skip, word << bits);
    const std::uint64_t carry = bits == 0 ? 0 : word >> (64 - bits);
    if (carry != 0 && source + skip + 1 < words_.size()) {
      add(source + skip + 1, carry);
    }
  }
  return grown != 0;
}

CountAdder::CountAdder(const CountBox& box) : box_(box) {
  for (std::size_t kind = 0; kind < box.kinds(); ++kind) {
    const auto slots = static_cast<std::size_t>(box.cap(kind)) + 1;
    room_.emplace_back(slots, CountSet(0));
    made_.emplace_back(slots, false);
  }
}

CountSet CountAdder::nothing() const {
  CountSet set(box_.size());
  set.insert(0);
  return set;
}

CountSet CountAdder::empty_set() const {
  return CountSet(box_.size());
}

const CountSet& CountAdder::room_for(std::size_t kind, int more) {
  const auto slot = static_cast<std::size_t>(more);
  if (!made_[kind][slot]) {
    const std::size_t stride = box_.stride(kind);
    const std::size_t block = stride * (static_cast<std::size_t>(box_.cap(kind)) + 1);
    const std::size_t kept = stride * (static_cast<std::size_t>(box_.cap(kind) - more) + 1);
    CountSet room(box_.size());
    for (std::size_t from = 0; from < box_.size(); from += block) {
      room.insert_range(from, from + kept);
    }
    room_[kind][slot] = std::move(room);
    made_[kind][slot] = true;
  }
  return room_[kind][slot];
}

CountSet CountAdder::plus_one_of(const CountSet& set,
                                 const std::vector<std::vector<int>>& patterns) {
  CountSet sum = empty_set();
  for (const std::vector<int>& pattern : patterns) {
    std::vector<const CountSet*> masks;
    for (std::size_t kind = 0; kind < box_.kinds(); ++kind) {
      if (pattern[kind] > 0) {
        masks.push_back(&room_for(kind, pattern[kind]));
      }
    }
    sum.insert_shifted(set, masks, box_.index(pattern));
  }
  return sum;
}

CountSet CountAdder::plus_any(CountSet set, const std::vector<bool>& kinds) {
  for (std::size_t kind = 0; kind < box_.kinds(); ++kind) {
    if (!kinds[kind] || box_.cap(kind) == 0) {
      continue;
    }
    const std::vector<const CountSet*> room{&room_for(kind, 1)};
    bool grew = true;
    while (grew) {
      grew = set.insert_shifted(set, room, box_.stride(kind));
    }
  }
  return set;
}

}  // namespace stackfit
