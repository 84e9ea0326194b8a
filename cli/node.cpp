// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/node.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "cli/explain_schema.hpp"

namespace stackfit::cli {
namespace {

// A thousandth is finer than any caliper; the longest is a hundred metres.
constexpr Span plausible_length_mm{0.001, 1e5};

}  // namespace

bool Node::has(std::string_view key) const {
  return value_->is_object() && value_->contains(std::string(key));
}

std::optional<Node> Node::child(std::string_view key) const {
  if (!has(key)) return std::nullopt;
  return Node(value_->at(std::string(key)), child_pointer(pointer_, key), *sink_);
}

std::vector<Node> Node::items() const {
  std::vector<Node> nodes;
  if (!value_->is_array()) return nodes;
  for (std::size_t index = 0; index < value_->size(); ++index) {
    nodes.emplace_back(value_->at(index), child_pointer(pointer_, index), *sink_);
  }
  return nodes;
}

std::vector<Node> Node::items(std::string_view key) const {
  const auto list = child(key);
  return list ? list->items() : std::vector<Node>{};
}

std::optional<std::string> Node::text() const {
  if (!value_->is_string()) return std::nullopt;
  return value_->get<std::string>();
}

bool Node::fits(double value, Dimension dimension, Sign sign) const {
  if (dimension == Dimension::charge && !is_within(value, whole_charge)) {
    problem(what_is_allowed(dimension));
    return false;
  }
  if (dimension == Dimension::temperature && !is_within(value, plausible_celsius)) {
    problem(fmt::format("a temperature from {:g} to {:g} C", plausible_celsius.low,
                        plausible_celsius.high),
            "check the unit");
    return false;
  }
  if (sign == Sign::positive && value <= 0) {
    problem(fmt::format("{}, above zero", what_is_allowed(dimension)));
    return false;
  }
  if (sign == Sign::not_negative && value < 0) {
    problem(fmt::format("{}, not below zero", what_is_allowed(dimension)));
    return false;
  }
  const double least_mm = sign == Sign::positive ? plausible_length_mm.low : 0;
  if (dimension == Dimension::length &&
      !is_within(std::abs(value), {least_mm, plausible_length_mm.high})) {
    problem(fmt::format("a length {} {:g} mm", std::abs(value) < least_mm ? "not below" : "up to",
                        std::abs(value) < least_mm ? least_mm : plausible_length_mm.high),
            "check the unit");
    return false;
  }
  return true;
}

std::optional<double> Node::quantity(Dimension dimension, Sign sign) const {
  std::optional<double> value;
  if (value_->is_string()) {
    value = accept(read_quantity(value_->get<std::string>(), dimension));
  } else if (value_->is_number() && bare_unit(dimension) != nullptr) {
    value = accept(read_bare(value_->get<double>(), dimension));
  }
  // A reading of what must not be negative says so at its own place.
  if (value && !fits(*value, dimension, sign)) return std::nullopt;
  return value;
}

std::optional<Span> Node::span(Dimension dimension) const {
  if (!value_->is_string()) return std::nullopt;
  const auto span = accept(read_span(value_->get<std::string>(), dimension));
  if (!span || !fits(span->low, dimension, Sign::any) || !fits(span->high, dimension, Sign::any)) {
    return std::nullopt;
  }
  return span;
}

std::optional<std::string> Node::text(std::string_view key) const {
  const auto node = child(key);
  return node ? node->text() : std::nullopt;
}

std::optional<double> Node::quantity(std::string_view key, Dimension dimension, Sign sign) const {
  const auto node = child(key);
  return node ? node->quantity(dimension, sign) : std::nullopt;
}

std::optional<Span> Node::span(std::string_view key, Dimension dimension) const {
  const auto node = child(key);
  return node ? node->span(dimension) : std::nullopt;
}

std::optional<int> Node::whole(std::string_view key) const {
  const auto node = child(key);
  // Bounds are the schema's; this only keeps a huge number from wrapping round.
  if (!node || !node->json().is_number_integer()) return std::nullopt;
  const double number = node->json().get<double>();
  if (!is_within(number, {0, largest_number})) return std::nullopt;
  return static_cast<int>(number);
}

std::optional<bool> Node::flag(std::string_view key) const {
  const auto node = child(key);
  if (!node || !node->json().is_boolean()) return std::nullopt;
  return node->json().get<bool>();
}

std::vector<double> Node::quantities(std::string_view key, Dimension dimension) const {
  std::vector<double> values;
  for (const Node& item : items(key)) {
    if (const auto value = item.quantity(dimension, Sign::any)) values.push_back(*value);
  }
  return values;
}

void Node::problem(std::string allowed, std::string mend) const {
  problem_found(shown(*value_), std::move(allowed), std::move(mend));
}

void Node::problem_found(std::string found, std::string allowed, std::string mend) const {
  sink_->problems.push_back(
      {sink_->places.value(pointer_), std::move(found), std::move(allowed), std::move(mend)});
}

void Node::problem_missing(std::string_view key, std::string found, std::string allowed,
                           std::string mend) const {
  const std::string pointer = child_pointer(pointer_, key);
  if (sink_->places.was_blank(pointer)) found = "a blank";
  sink_->problems.push_back(
      {sink_->places.value(pointer), std::move(found), std::move(allowed), std::move(mend)});
}

void Node::note(std::string text) const {
  sink_->notes.push_back({sink_->places.value(pointer_), std::move(text)});
}

}  // namespace stackfit::cli
