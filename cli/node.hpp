// SPDX-License-Identifier: GPL-3.0-or-later
//
// One value of a document, with its pointer: the converters read through it.
//
// For: reading a quantity, word, flag or list, and noting a problem at its place. A value of the
// wrong type reads as not said: the schema has complained of it already.
// Not for: deciding what must be there (build.schema.json).
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/places.hpp"
#include "cli/quantity.hpp"
#include "cli/read_build.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {

/// What converting gathers besides the build.
struct Gathering {
  const Places& places;
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
};

/// Nobody builds or measures a battery outside these: such a figure is a slip, or another unit.
inline constexpr Span plausible_celsius{-60, 120};
inline constexpr Span whole_charge{0, 1};
[[nodiscard]] constexpr bool is_within(double value, const Span& span) {
  return value >= span.low && value <= span.high;
}

enum class Sign : std::uint8_t { any, not_negative, positive };

class Node {
 public:
  using Json = nlohmann::ordered_json;

  Node(const Json& value, std::string pointer, Gathering& sink)
      : value_(&value), pointer_(std::move(pointer)), sink_(&sink) {}

  [[nodiscard]] const Json& json() const { return *value_; }
  [[nodiscard]] const std::string& pointer() const { return pointer_; }
  [[nodiscard]] bool has(std::string_view key) const;
  /// True where the key stands in the file with nothing filled in.
  [[nodiscard]] bool was_blank(std::string_view key) const {
    return sink_->places.was_blank(child_pointer(pointer_, key));
  }
  [[nodiscard]] std::optional<Node> child(std::string_view key) const;
  /// Items of the list this is; none where it is no list.
  [[nodiscard]] std::vector<Node> items() const;
  /// Items of the list at `key`; none where there is none.
  [[nodiscard]] std::vector<Node> items(std::string_view key) const;

  [[nodiscard]] std::optional<std::string> text() const;
  [[nodiscard]] std::optional<double> quantity(Dimension dimension, Sign sign) const;
  [[nodiscard]] std::optional<Span> span(Dimension dimension) const;

  [[nodiscard]] std::optional<std::string> text(std::string_view key) const;
  [[nodiscard]] std::optional<double> quantity(std::string_view key, Dimension dimension,
                                               Sign sign = Sign::positive) const;
  [[nodiscard]] std::optional<Span> span(std::string_view key, Dimension dimension) const;
  [[nodiscard]] std::optional<int> whole(std::string_view key) const;
  [[nodiscard]] std::optional<bool> flag(std::string_view key) const;
  /// A list of quantities; shorter than the list where some could not be read.
  [[nodiscard]] std::vector<double> quantities(std::string_view key, Dimension dimension) const;

  template <class Meaning>
  std::optional<Meaning> word(std::string_view key, std::span<const Word<Meaning>> words) const {
    const auto written = text(key);
    return written ? find_word(words, *written) : std::nullopt;
  }

  /// Unwraps what a line was parsed into: the value, or a problem here; a note either way.
  template <class Value>
  std::optional<Value> accept(const Parsed<Value>& parsed) const {
    if (!parsed.ok()) problem(parsed.allowed, parsed.mend);
    if (!parsed.note.empty()) note(parsed.note);
    return parsed.value;
  }

  /// False, with a problem here, where no such quantity is meant: for values out of a line of
  /// several, which are held to the same as quantities alone.
  [[nodiscard]] bool fits(double value, Dimension dimension, Sign sign = Sign::positive) const;

  /// A problem with this value; what was found is the value itself.
  void problem(std::string allowed, std::string mend = {}) const;
  void problem_found(std::string found, std::string allowed, std::string mend = {}) const;
  /// Something is missing: the place is that of the value around it, or of the blank left for it.
  void problem_missing(std::string_view key, std::string found, std::string allowed,
                       std::string mend) const;
  void note(std::string text) const;

 private:
  const Json* value_;
  std::string pointer_;
  Gathering* sink_;
};

}  // namespace stackfit::cli
