// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/csv.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "cli/quantity.hpp"

namespace stackfit::cli {
namespace {

// No table here has a tenth of either; a wrong file may have millions, and each takes memory.
constexpr std::size_t most_fields = 1000;
constexpr std::size_t most_rows = 50000;

constexpr std::array separators{';', '\t', ','};

// The header decides: names hold neither semicolons nor tabs, and seldom commas.
char separator_of(std::string_view text) {
  const std::string_view header = text.substr(0, std::min(text.find_first_of("\r\n"), text.size()));
  for (const char separator : separators) {
    if (header.find(separator) != std::string_view::npos) return separator;
  }
  return ',';
}

class CsvScanner {
 public:
  CsvScanner(const TextFile& file, char separator, std::vector<Problem>& problems)
      : file_(file), text_(file.text), separator_(separator), problems_(problems) {}

  [[nodiscard]] bool done() const { return at_ >= text_.size(); }

  CsvRow row() {
    CsvRow fields;
    bool told = false;
    while (true) {
      CsvField next_field = field();
      if (fields.size() < most_fields) {
        fields.push_back(std::move(next_field));
      } else if (!next_field.text.empty() && !told) {
        told = true;
        problems_.push_back({{file_.name, next_field.line, next_field.column, ""},
                             "a line of more fields than any table here has",
                             std::to_string(most_fields) + " fields at most",
                             "is this the right file?"});
      }
      if (done()) return fields;
      const char letter = text_[at_];
      next();
      if (letter == '\r' && !done() && text_[at_] == '\n') next();
      if (letter == '\r' || letter == '\n') return fields;
    }
  }

 private:
  void next() {
    const char letter = text_[at_++];
    if (letter == '\n') {
      ++line_;
      column_ = 1;
    } else if ((static_cast<unsigned char>(letter) & 0xC0U) != 0x80U) {
      ++column_;
    }
  }

  [[nodiscard]] bool at_end_of_field() const {
    return done() || text_[at_] == separator_ || text_[at_] == '\n' || text_[at_] == '\r';
  }

  CsvField field() {
    while (!at_end_of_field() && text_[at_] == ' ') next();
    CsvField out{{}, line_, column_, false};
    if (!done() && text_[at_] == '"') {
      out.quoted = true;
      quoted(out);
    } else {
      while (!at_end_of_field()) {
        out.text += text_[at_];
        next();
      }
    }
    out.text = std::string(trimmed(out.text));
    return out;
  }

  // A quote inside quotes is written twice.
  void quoted(CsvField& out) {
    next();
    while (!done()) {
      const char letter = text_[at_];
      next();
      if (letter != '"') {
        out.text += letter;
      } else if (!done() && text_[at_] == '"') {
        out.text += '"';
        next();
      } else {
        after_quotes(out);
        return;
      }
    }
    problems_.push_back({{file_.name, out.line, out.column, ""},
                         "a quote that is never closed",
                         "quotes in pairs",
                         "close it in the same line"});
  }

  void after_quotes(const CsvField& out) {
    while (!at_end_of_field() && text_[at_] == ' ') next();
    if (at_end_of_field()) return;
    problems_.push_back({{file_.name, line_, column_, ""},
                         "letters behind closing quotes",
                         "nothing between the closing quote and the next field",
                         "write a quote inside quotes twice: \"" + out.text + R"(""")"});
    while (!at_end_of_field()) next();
  }

  const TextFile& file_;
  std::string_view text_;
  char separator_;
  std::vector<Problem>& problems_;
  std::size_t at_ = 0;
  int line_ = 1;
  int column_ = 1;
};

// A build file given for a table: each of its lines would be another complaint.
bool is_json(std::string_view text) {
  text.remove_prefix(std::min(text.find_first_not_of(" \t\r\n"), text.size()));
  return text.starts_with('{') || text.starts_with("//");
}

// True where the header has one separator and every line below it another.
bool separators_differ(const Csv& csv) {
  if (csv.rows.empty() || csv.header.size() < 2) return false;
  return std::ranges::all_of(csv.rows, [&](const CsvRow& row) {
    const char other = csv.separator == ',' ? ';' : ',';
    const bool whole = csv.separator == ',' || row.size() == 1;
    return whole && !row.front().quoted && row.front().text.find(other) != std::string::npos;
  });
}

bool is_empty_row(const CsvRow& row) {
  return std::ranges::all_of(row, [](const CsvField& field) { return field.text.empty(); });
}

}  // namespace

Csv read_csv(const TextFile& file) {
  Csv csv;
  if (is_json(file.text)) {
    csv.problems.push_back({{file.name, 1, 1, ""},
                            "a build file (JSON) in place of a table",
                            "a header line with the names of the columns, then lines of fields",
                            "name the table here; a build file goes where a BUILD is asked for"});
    return csv;
  }
  csv.separator = separator_of(file.text);
  csv.decimal_comma = csv.separator == ';';
  CsvScanner scanner(file, csv.separator, csv.problems);
  while (!scanner.done()) {
    CsvRow row = scanner.row();
    if (is_empty_row(row)) continue;
    if (csv.header.empty()) {
      csv.header = std::move(row);
      continue;
    }
    const std::size_t fields = row.size();
    const auto is_said = [](const CsvField& field) { return !field.text.empty(); };
    if (fields > csv.header.size() &&
        std::any_of(row.begin() + static_cast<std::ptrdiff_t>(csv.header.size()), row.end(),
                    is_said)) {
      const CsvField& extra = row[csv.header.size()];
      csv.problems.push_back({{file.name, extra.line, extra.column, ""},
                              "more fields than the header has names",
                              std::to_string(csv.header.size()) + " fields in each line",
                              csv.separator == ','
                                  ? "put text that holds a comma in double quotes; where decimals "
                                    "have commas, semicolons stand between fields"
                                  : "put text that holds the separator in double quotes"});
    }
    csv.rows.push_back(std::move(row));
    if (csv.rows.size() > most_rows) {
      csv.problems = {{{file.name, csv.rows.back().front().line, 1, ""},
                       "more lines than any table here has",
                       std::to_string(most_rows) + " lines at most",
                       "is this the right file?"}};
      csv.rows.clear();
      return csv;
    }
  }
  if (csv.header.empty()) {
    csv.problems.push_back({{file.name, 1, 1, ""},
                            "an empty table",
                            "a header line with the names of the columns",
                            ""});
  }
  if (separators_differ(csv)) {
    const CsvField& first = csv.rows.front().front();
    csv.problems = {{{file.name, first.line, first.column, ""},
                     csv.separator == ',' ? "semicolons between fields, below a header with commas"
                                          : "commas between fields, below a header without them",
                     "one separator in all lines: commas, or semicolons with decimal commas",
                     "write the header with the separator of the lines"}};
    csv.rows.clear();
  }
  return csv;
}

std::string csv_field(const std::string& text, char separator) {
  if (text.find_first_of(std::string("\"\r\n") + separator) == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char letter : text) quoted += letter == '"' ? "\"\"" : std::string(1, letter);
  return quoted + '"';
}

std::string with_decimal_point(const Csv& csv, const std::string& text) {
  if (!csv.decimal_comma || std::ranges::count(text, ',') != 1) return text;
  // With a point as well, one of the two would have to stand between thousands.
  if (text.find('.') != std::string::npos) return text;
  const std::size_t comma = text.find(',');
  const auto is_digit_at = [&](std::size_t at) {
    return at < text.size() && text[at] >= '0' && text[at] <= '9';
  };
  if (comma == 0 || !is_digit_at(comma - 1) || !is_digit_at(comma + 1)) return text;
  std::string point = text;
  point[comma] = '.';
  return point;
}

}  // namespace stackfit::cli
