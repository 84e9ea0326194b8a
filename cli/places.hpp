// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where each value of a document was said: JSON pointer -> file, line, column.
//
// For: messages. Values may come from a JSON file, a table of cells, a form or an option.
// Not for: the values themselves.
#pragma once

#include <map>
#include <set>
#include <string>
#include <string_view>

#include "cli/read_build.hpp"

namespace stackfit::cli {

/// `/cells/3` and `edge` -> `/cells/3/edge`, with `~` and `/` escaped (RFC 6901).
[[nodiscard]] std::string child_pointer(std::string_view parent, std::string_view key);
[[nodiscard]] std::string child_pointer(std::string_view parent, std::size_t index);

class Places {
 public:
  explicit Places(std::string file = {}) : file_(std::move(file)) {}

  void set_value(const std::string& pointer, TextPlace place);
  void set_key(const std::string& pointer, TextPlace place);

  /// The value was said anew as a whole: nothing below it keeps its old place.
  void replace_value(const std::string& pointer, TextPlace place);

  /// The value was left blank in a form: `place` is where it could be filled in.
  void set_blank(const std::string& pointer) { blanks_.insert(pointer); }
  [[nodiscard]] bool was_blank(const std::string& pointer) const {
    return blanks_.contains(pointer);
  }

  /// Place of the value, or of the nearest one around it; always carries the pointer asked for.
  [[nodiscard]] TextPlace value(const std::string& pointer) const;
  /// Place of the key itself, where a document has one.
  [[nodiscard]] TextPlace key(const std::string& pointer) const;

  /// Everything below `from` in `other` is said to stand below `to` here.
  void adopt(const Places& other, const std::string& from, const std::string& to);
  /// One value's own places, moved to another pointer.
  void adopt_one(const Places& other, const std::string& from, const std::string& to);
  [[nodiscard]] const std::string& file() const { return file_; }

 private:
  std::string file_;
  std::map<std::string, TextPlace> values_;
  std::map<std::string, TextPlace> keys_;
  std::set<std::string> blanks_;
};

}  // namespace stackfit::cli
