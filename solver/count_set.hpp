// SPDX-License-Identifier: GPL-3.0-or-later
//
// Sets of count vectors ("so many of each kind"), as bits of a mixed-radix number.
//
// For: the exact shim search, which adds a pattern of sheets to every vector of a set at once:
// one shift of a bit string. Not for: vectors with more than `count_box_limit` combinations.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace stackfit {

/// Largest number of combinations that is searched exhaustively (256 KiB of bits a set): six
/// kinds of ten, three of a hundred.
inline constexpr std::size_t count_box_limit = std::size_t{1} << 21;

/// All vectors 0 <= v_k <= cap_k. The first kind varies slowest, so that the order of indices
/// is the lexicographic order of vectors.
class CountBox {
 public:
  explicit CountBox(std::vector<int> caps);

  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] std::size_t kinds() const { return caps_.size(); }
  [[nodiscard]] int cap(std::size_t kind) const { return caps_[kind]; }
  [[nodiscard]] std::size_t stride(std::size_t kind) const { return strides_[kind]; }
  [[nodiscard]] std::size_t index(const std::vector<int>& counts) const;
  [[nodiscard]] std::vector<int> counts(std::size_t index) const;
  [[nodiscard]] bool holds(const std::vector<int>& counts) const;

 private:
  std::vector<int> caps_;
  std::vector<std::size_t> strides_;
  std::size_t size_ = 1;
};

/// Number of vectors of a box, or count_box_limit + 1 where there are more than that.
[[nodiscard]] std::size_t combinations(const std::vector<int>& caps);

/// A set of indices below `size`.
class CountSet {
 public:
  explicit CountSet(std::size_t size) : size_(size), words_((size + 63) / 64, 0) {}

  void insert(std::size_t index) { words_[index / 64] |= std::uint64_t{1} << (index % 64); }
  void insert_range(std::size_t from, std::size_t to);  ///< [from, to)
  [[nodiscard]] bool contains(std::size_t index) const {
    return ((words_[index / 64] >> (index % 64)) & 1U) != 0;
  }
  [[nodiscard]] bool empty() const;
  void intersect(const CountSet& other);
  /// Adds every member of `from` that is in all the masks, moved up by `offset`. `from` may be
  /// this set itself: then only members it had before are moved. What would leave the set is
  /// dropped where it leaves the last word. True when this set grew.
  bool insert_shifted(const CountSet& from, const std::vector<const CountSet*>& masks,
                      std::size_t offset);

  template <typename Visit>
  void for_each(const Visit& visit) const {
    for (std::size_t word = 0; word < words_.size(); ++word) {
      for (std::uint64_t bits = words_[word]; bits != 0; bits &= bits - 1) {
        visit(word * 64 + static_cast<std::size_t>(__builtin_ctzll(bits)));
      }
    }
  }

 private:
  std::size_t size_;
  std::vector<std::uint64_t> words_;
};

/// Adding patterns to sets within a box; keeps the masks that stop a digit from overflowing.
class CountAdder {
 public:
  explicit CountAdder(const CountBox& box);

  [[nodiscard]] CountSet nothing() const;    ///< only the vector of zeros
  [[nodiscard]] CountSet empty_set() const;  ///< no vector at all
  /// Every member of `set` plus any one of the patterns.
  [[nodiscard]] CountSet plus_one_of(const CountSet& set,
                                     const std::vector<std::vector<int>>& patterns);
  /// Every member plus any number of the kinds marked.
  [[nodiscard]] CountSet plus_any(CountSet set, const std::vector<bool>& kinds);

 private:
  [[nodiscard]] const CountSet& room_for(std::size_t kind, int more);

  const CountBox& box_;
  std::vector<std::vector<CountSet>> room_;  ///< [kind][more]; an empty slot is made when asked
  std::vector<std::vector<bool>> made_;
};

}  // namespace stackfit
