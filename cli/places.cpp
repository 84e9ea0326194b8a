// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/places.hpp"

#include <iterator>

namespace stackfit::cli {
namespace {

using PlaceMap = std::map<std::string, TextPlace>;

bool is_below(std::string_view pointer, std::string_view root) {
  return pointer.starts_with(root) &&
         (pointer.size() == root.size() || pointer[root.size()] == '/');
}

void adopt_map(PlaceMap& into, const PlaceMap& other, const std::string& from,
               const std::string& to) {
  for (auto at = other.lower_bound(from); at != other.end(); ++at) {
    if (!at->first.starts_with(from)) break;
    if (is_below(at->first, from)) into[to + at->first.substr(from.size())] = at->second;
  }
}

void erase_below(PlaceMap& places, const std::string& root) {
  auto at = places.lower_bound(root);
  while (at != places.end() && at->first.starts_with(root)) {
    at = is_below(at->first, root) ? places.erase(at) : std::next(at);
  }
}

void adopt_single(PlaceMap& into, const PlaceMap& other, const std::string& from,
                  const std::string& to) {
  if (const auto at = other.find(from); at != other.end()) into[to] = at->second;
}

}  // namespace

std::string child_pointer(std::string_view parent, std::string_view key) {
  std::string pointer(parent);
  pointer += '/';
  for (const char letter : key) {
    if (letter == '~') {
      pointer += "~0";
    } else if (letter == '/') {
      pointer += "~1";
    } else {
      pointer += letter;
    }
  }
  return pointer;
}

std::string child_pointer(std::string_view parent, std::size_t index) {
  return child_pointer(parent, std::string_view(std::to_string(index)));
}

void Places::set_value(const std::string& pointer, TextPlace place) {
  values_[pointer] = std::move(place);
}

void Places::set_key(const std::string& pointer, TextPlace place) {
  keys_[pointer] = std::move(place);
}

void Places::replace_value(const std::string& pointer, TextPlace place) {
  erase_below(values_, pointer);
  erase_below(keys_, pointer);
  set_value(pointer, std::move(place));
}

TextPlace Places::value(const std::string& pointer) const {
  TextPlace place{file_, 0, 0, pointer};
  // A form names values only, not the blocks around them: the first value inside stands for it.
  const auto inside = values_.lower_bound(pointer + '/');
  if (!values_.contains(pointer) && !pointer.empty() && inside != values_.end() &&
      inside->first.starts_with(pointer + '/')) {
    place = inside->second;
    place.pointer = pointer;
    return place;
  }
  for (std::string around = pointer;; around.erase(around.rfind('/'))) {
    if (const auto at = values_.find(around); at != values_.end()) {
      place = at->second;
      break;
    }
    if (around.empty()) break;
  }
  place.pointer = pointer;
  return place;
}

TextPlace Places::key(const std::string& pointer) const {
  const auto at = keys_.find(pointer);
  if (at == keys_.end()) return value(pointer);
  TextPlace place = at->second;
  place.pointer = pointer;
  return place;
}

void Places::adopt(const Places& other, const std::string& from, const std::string& to) {
  adopt_map(values_, other.values_, from, to);
  adopt_map(keys_, other.keys_, from, to);
}

void Places::adopt_one(const Places& other, const std::string& from, const std::string& to) {
  adopt_single(values_, other.values_, from, to);
  adopt_single(keys_, other.keys_, from, to);
}

}  // namespace stackfit::cli
