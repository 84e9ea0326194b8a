// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/json_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <iterator>
#include <set>
#include <string>
#include <string_view>
#include <utility>

#include "cli/characters.hpp"

namespace stackfit::cli {
namespace {

// Walks the text and tells how far the parser has come: the parser holds a copy of the iterator,
// so the count lives outside it.
class CountingIterator {
 public:
  using iterator_category = std::forward_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  CountingIterator(const char* at, const char** furthest) : at_(at), furthest_(furthest) {}
  reference operator*() const { return *at_; }
  CountingIterator& operator++() {
    ++at_;
    *furthest_ = at_;
    return *this;
  }
  CountingIterator operator++(int) {
    CountingIterator before = *this;
    ++*this;
    return before;
  }
  bool operator==(const CountingIterator& other) const { return at_ == other.at_; }
  bool operator!=(const CountingIterator& other) const { return at_ != other.at_; }

 private:
  const char* at_;
  const char** furthest_;
};

// Line starts, so that ten thousand values do not count lines ten thousand times.
class LineIndex {
 public:
  explicit LineIndex(std::string_view text) : text_(text) {
    for (std::size_t at = 0; at < text.size(); ++at) {
      if (text[at] == '\n') starts_.push_back(at + 1);
    }
  }
  [[nodiscard]] LineColumn at(std::size_t offset) const {
    const auto next = std::ranges::upper_bound(starts_, offset);
    const auto line = static_cast<std::size_t>(next - starts_.begin());
    const std::size_t start = starts_[line - 1];
    // Values come one behind the other: where all stand in one line, none counts it anew.
    const bool goes_on = told_at_ >= start && told_at_ <= offset;
    const std::size_t from = goes_on ? told_at_ : start;
    const int before = goes_on ? told_column_ : 1;
    told_at_ = offset;
    told_column_ = before + line_column(text_.substr(from), offset - from).column - 1;
    return {static_cast<int>(line), told_column_};
  }

 private:
  std::string_view text_;
  std::vector<std::size_t> starts_{0};
  mutable std::size_t told_at_ = 0;  ///< the place told last
  mutable int told_column_ = 1;
};

std::size_t start_of_string(std::string_view text, std::size_t closing_quote) {
  for (std::size_t at = closing_quote; at-- > 0;) {
    if (text[at] != '"') continue;
    std::size_t slashes = 0;
    while (slashes < at && text[at - 1 - slashes] == '\\') ++slashes;
    if (slashes % 2 == 0) return at;
  }
  return 0;
}

constexpr std::string_view number_letters = "+-.0123456789eE";

std::size_t start_of_number(std::string_view text, std::size_t end) {
  // The parser reads one letter beyond a number before it knows that the number has ended.
  std::size_t last = std::min(end, text.size());
  while (last > 0 && number_letters.find(text[last - 1]) == std::string_view::npos) --last;
  while (last > 0 && number_letters.find(text[last - 1]) != std::string_view::npos) --last;
  return last;
}

// Listens to the parser and notes places, duplicate keys and what was open when it failed.
class PlaceHandler : public nlohmann::json_sax<nlohmann::ordered_json> {
 public:
  PlaceHandler(const TextFile& file, const char* const* furthest, JsonText* out)
      : file_(file), lines_(file.text), furthest_(furthest), out_(out) {}

  bool null() override { return scalar(offset() - 4); }
  bool boolean(bool value) override { return scalar(offset() - (value ? 4 : 5)); }
  bool number_integer(number_integer_t /*value*/) override { return number(); }
  bool number_unsigned(number_unsigned_t /*value*/) override { return number(); }
  bool number_float(number_float_t /*value*/, const string_t& /*text*/) override {
    return number();
  }
  bool string(string_t& /*value*/) override {
    return scalar(start_of_string(file_.text, offset() - 1));
  }
  bool binary(binary_t& /*value*/) override { return false; }
  bool start_object(std::size_t /*count*/) override { return open(false); }
  bool start_array(std::size_t /*count*/) override { return open(true); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }
  bool key(string_t& name) override;
  bool parse_error(std::size_t /*position*/, const std::string& token,
                   const nlohmann::detail::exception& error) override;

 private:
  struct Stray {
    std::size_t at = 0;
    std::string word;
  };
  struct Level {
    std::string pointer;
    bool is_array = false;
    std::size_t items = 0;
    std::set<std::string> keys;
    std::size_t opened_at = 0;
  };

  [[nodiscard]] std::size_t offset() const {
    return static_cast<std::size_t>(*furthest_ - file_.text.data());
  }
  [[nodiscard]] TextPlace place(std::size_t at, const std::string& pointer) const {
    const LineColumn where = lines_.at(at);
    return {file_.name, where.line, where.column, pointer};
  }
  void report(std::size_t at, const std::string& pointer, std::string found, std::string allowed,
              std::string mend) {
    out_->problems.push_back(
        {place(at, pointer), std::move(found), std::move(allowed), std::move(mend)});
  }
  // The pointer of the value that begins now.
  std::string next_pointer() {
    after_key_ = false;
    if (levels_.empty()) return "";
    Level& level = levels_.back();
    return level.is_array ? child_pointer(level.pointer, level.items++) : key_pointer_;
  }
  bool number() { return scalar(start_of_number(file_.text, offset())); }
  bool scalar(std::size_t at) {
    const std::string pointer = next_pointer();
    out_->places.set_value(pointer, place(at, pointer));
    return within_count(at);
  }
  // Each value takes memory for its place as well.
  bool within_count(std::size_t at) {
    if (++values_ <= most_values) return true;
    report(at, "", fmt::format("more than {} values", most_values),
           "a build file, which has some hundred", "is this the right file?");
    return false;
  }
  bool open(bool is_array);
  bool close() {
    levels_.pop_back();
    return true;
  }
  void report_too_soon(std::size_t at);
  void report_stray(const Stray& stray);
  [[nodiscard]] Stray stray_word(std::string_view what, std::size_t end) const;

  const TextFile& file_;
  LineIndex lines_;
  const char* const* furthest_;
  JsonText* out_;
  std::vector<Level> levels_;
  std::string key_pointer_;
  bool after_key_ = false;
  std::size_t values_ = 0;
};

bool PlaceHandler::open(bool is_array) {
  const std::size_t at = offset() - 1;
  const std::string pointer = next_pointer();
  out_->places.set_value(pointer, place(at, pointer));
  levels_.push_back({pointer, is_array, 0, {}, at});
  if (levels_.size() <= deepest_nesting) return within_count(at);
  report(at, "", fmt::format("brackets more than {} deep", deepest_nesting),
         "a build file, which nests about six deep", "");
  return false;
}

bool PlaceHandler::key(string_t& name) {
  Level& level = levels_.back();
  key_pointer_ = child_pointer(level.pointer, std::string_view(name));
  const std::size_t at = start_of_string(file_.text, offset() - 1);
  if (!level.keys.insert(name).second) {
    report(at, key_pointer_, fmt::format("the key \"{}\" a second time", name),
           "each key once in one object",
           fmt::format("it stands in line {} already; keep one of the two",
                       out_->places.key(key_pointer_).line));
  }
  out_->places.set_key(key_pointer_, place(at, key_pointer_));
  after_key_ = true;
  return true;
}

struct Significant {
  std::optional<std::size_t> last;          ///< letter that is neither space nor comment
  std::optional<std::size_t> open_comment;  ///< where one begins that is never closed
};

// What stands in the text before `end`.
Significant significant(std::string_view text, std::size_t end) {
  Significant seen;
  for (std::size_t at = 0; at < std::min(end, text.size()); ++at) {
    const std::string_view rest = text.substr(at);
    if (rest.starts_with("//")) {
      at = std::min(text.find('\n', at), text.size());
    } else if (rest.starts_with("/*")) {
      const std::size_t close = text.find("*/", at + 2);
      if (close == std::string_view::npos) seen.open_comment = at;
      at = std::min(close, text.size() - 1) + 1;
    } else if (rest.front() == '"') {
      ++at;
      while (at < text.size() && text[at] != '"') at += text[at] == '\\' ? 2U : 1U;
      seen.last = at;
    } else if (std::string_view(" \t\r\n").find(rest.front()) == std::string_view::npos) {
      seen.last = at;
    }
  }
  return seen;
}

std::optional<std::size_t> last_significant(std::string_view text, std::size_t end) {
  return significant(text, end).last;
}

bool is_inside_letter(char byte) {
  return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U;
}

// "58,5" in an object: the comma ended the value, and a number stands where a key belongs.
bool is_decimal_comma(std::string_view text, std::size_t comma) {
  return text[comma] == ',' && comma > 0 && comma + 1 < text.size() && is_digit(text[comma - 1]) &&
         is_digit(text[comma + 1]);
}

void PlaceHandler::report_too_soon(std::size_t at) {
  if (levels_.empty()) {
    report(0, "", "an empty file", "a build file, which begins with {", "stackfit new writes one");
    return;
  }
  const Level& level = levels_.back();
  report(at, level.pointer, "the end of the file",
         fmt::format("the closing {} of the {} in line {}", level.is_array ? ']' : '}',
                     level.is_array ? '[' : '{', lines_.at(level.opened_at).line),
         "");
}

// What the parser stumbled over, as it stands in the text.
PlaceHandler::Stray PlaceHandler::stray_word(std::string_view what, std::size_t end) const {
  const std::string_view text = file_.text;
  const std::size_t last = end == 0 ? 0 : end - 1;
  const auto from = [&](std::size_t start, std::size_t stop) {
    // Letters beyond ASCII are shown whole.
    while (start > 0 && is_inside_letter(text[std::min(start, text.size() - 1)])) --start;
    while (stop < text.size() && is_inside_letter(text[stop])) ++stop;
    return Stray{start, std::string(text.substr(start, std::max(stop, start + 1) - start))};
  };
  if (what.find("unexpected string") != std::string_view::npos) {
    return from(start_of_string(text, last), end);
  }
  if (what.find("unexpected number") != std::string_view::npos) {
    const std::size_t start = start_of_number(text, end);
    return from(start, std::min(text.find_first_not_of(number_letters, start), text.size()));
  }
  std::size_t start = last;
  std::size_t stop = std::min(last + 1, text.size());
  const auto in_word = [&](std::size_t at) {
    return std::isalnum(static_cast<unsigned char>(text[at])) != 0 || text[at] == '.' ||
           text[at] == '-';
  };
  // A word that breaks off is known to be none only at the letter behind it.
  const bool broken_word = what.find("unexpected") == std::string_view::npos;
  if (broken_word && start > 0 && start < text.size() && !in_word(start) && in_word(start - 1)) {
    stop = start--;
  }
  if (start >= text.size() || !in_word(start)) return from(start, stop);
  while (start > 0 && in_word(start - 1)) --start;
  while (stop < text.size() && in_word(stop)) ++stop;
  return from(start, stop);
}

void PlaceHandler::report_stray(const Stray& stray) {
  const std::size_t at = stray.at;
  const bool closing = stray.word == "}" || stray.word == "]";
  const auto before = last_significant(file_.text, at);
  const std::string found =
      stray.word.starts_with('"') ? stray.word : fmt::format("\"{}\"", stray.word);
  if (levels_.empty()) {
    const bool nothing_yet = !before.has_value();
    report(at, "", found,
           nothing_yet ? "a build file begins with {" : "nothing after the closing bracket", "");
  } else if (closing && before && file_.text[*before] == ',') {
    report(*before, levels_.back().pointer, "a comma with nothing after it",
           fmt::format("no comma before a closing {}", stray.word), "take this comma out");
  } else if (after_key_ && before && file_.text[*before] != ':') {
    report(at, key_pointer_, found, "a colon between a key and its value", "");
  } else if (after_key_) {
    report(at, key_pointer_, found,
           "a value: a number, text in double quotes, true, false, [ ] or { }",
           "text needs double quotes, a number a decimal point and no unit");
  } else if (before &&
             std::string_view(",{[").find(file_.text[*before]) != std::string_view::npos) {
    report(at, levels_.back().pointer, found,
           levels_.back().is_array ? "a value" : "a key in double quotes",
           is_decimal_comma(file_.text, *before)
               ? "in a number the decimal point is a point, not a comma"
               : "");
  } else {
    const bool unit = std::isalpha(static_cast<unsigned char>(stray.word.front())) != 0 && before &&
                      std::isdigit(static_cast<unsigned char>(file_.text[*before])) != 0;
    report(at, levels_.back().pointer, found,
           fmt::format("a comma or the closing {}", levels_.back().is_array ? ']' : '}'),
           unit ? "a number with its unit stands in double quotes, such as \"0.8 mm\""
                : "a comma is missing before this, or a bracket");
  }
}

bool PlaceHandler::parse_error(std::size_t /*position*/, const std::string& /*token*/,
                               const nlohmann::detail::exception& error) {
  const std::size_t end = offset();
  // The parser's token for the end of the text is the last letter it saw, so ask the text.
  const bool at_end = end >= file_.text.size();
  const std::string_view what = error.what();
  if (file_.text.find_first_not_of(" \t\r\n") == std::string::npos) {
    report_too_soon(0);  // releases of the library word this case differently
  } else if (what.find("number overflow") != std::string_view::npos) {
    report(start_of_number(file_.text, end), levels_.empty() ? "" : key_pointer_,
           "a number too large to hold", "a number up to 1e9", "");
  } else if (at_end && what.find("unexpected end of input") != std::string_view::npos) {
    report_too_soon(end);
  } else if (what.find("invalid string") != std::string_view::npos) {
    report(end == 0 ? 0 : end - 1, levels_.empty() ? "" : levels_.back().pointer,
           "text in quotes that breaks off or holds a letter JSON does not allow",
           R"(text within one line, with \" for a quote and \\ for a backslash)",
           "close the quotes before the end of the line");
  } else if (what.find("comment") != std::string_view::npos) {
    const std::size_t last = end == 0 ? 0 : end - 1;
    report(significant(file_.text, end).open_comment.value_or(last), "",
           "a comment that is not closed or not begun properly",
           "// to the end of the line, or /* to */", "");
  } else {
    report_stray(stray_word(what, end));
  }
  return false;
}

}  // namespace

JsonText read_json_text(const TextFile& file) {
  JsonText out;
  out.places = Places(file.name);
  const char* const begin = file.text.data();
  const char* const end = begin + file.text.size();
  const char* furthest = begin;
  PlaceHandler handler(file, &furthest, &out);
  const bool understood = nlohmann::ordered_json::sax_parse(
      CountingIterator(begin, &furthest), CountingIterator(end, &furthest), &handler,
      nlohmann::ordered_json::input_format_t::json, true, true);
  if (understood) out.document = nlohmann::ordered_json::parse(file.text, nullptr, false, true);
  return out;
}

}  // namespace stackfit::cli
