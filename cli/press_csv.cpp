// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/press_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "cli/answer_words.hpp"
#include "cli/csv.hpp"
#include "cli/nearest_key.hpp"
#include "cli/quantity.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

enum class PressColumn : std::uint8_t { force, pressure, thickness, branch, note, count };
constexpr std::size_t name_count = static_cast<std::size_t>(PressColumn::count);
constexpr std::array<std::string_view, name_count> names{"force", "pressure", "thickness", "branch",
                                                         "note"};

constexpr std::array branch_words{Word<bool>{"loading", false}, Word<bool>{"load", false},
                                  Word<bool>{"up", false},      Word<bool>{"unloading", true},
                                  Word<bool>{"unload", true},   Word<bool>{"down", true}};

// Thicker or thinner than nominal by this share, the unit or the cell is another one.
constexpr double plausible_share = 0.2;
constexpr double mm_per_cm = 10;

struct Column {
  std::size_t index = 0;
  std::string unit;
};
using Columns = std::array<std::optional<Column>, name_count>;

struct HeaderWords {
  std::optional<PressColumn> name;
  std::string unit;
};

std::optional<PressColumn> find_name(std::string_view written) {
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (same_words(names[i], written)) return static_cast<PressColumn>(i);
  }
  return std::nullopt;
}

// "force (kgf)", "force [kgf]", "force kgf", "force_kgf"; a name alone has no unit.
HeaderWords header_words(std::string_view header) {
  if (const auto name = find_name(header)) return {name, ""};
  const std::size_t bracket = header.find_first_of("([");
  if (bracket != std::string_view::npos) {
    const std::string_view rest = header.substr(bracket + 1);
    const std::string_view unit = rest.substr(0, std::min(rest.find_first_of(")]"), rest.size()));
    return {find_name(trimmed(header.substr(0, bracket))), std::string(trimmed(unit))};
  }
  const std::size_t last = header.find_last_of("_ ");
  if (last == std::string_view::npos) return {};
  const std::string_view unit = trimmed(header.substr(last + 1));
  if (find_unit(unit) == nullptr) return {};
  return {find_name(trimmed(header.substr(0, last))), std::string(unit)};
}

// Nothing, or the form's own line to write on.
bool left_blank(std::string_view text) {
  return is_blank(text) || text.find_first_not_of("_ ") == std::string_view::npos;
}

class TableReader {
 public:
  explicit TableReader(const TextFile& file) : file_(file), csv_(read_csv(file)) {
    table_.file = file.name;
    table_.problems = csv_.problems;
  }

  PressTable read() {
    if (!csv_.header.empty()) read_header();
    if (complete_) {
      for (const CsvRow& row : csv_.rows) add_line(row);
    }
    return std::move(table_);
  }

 private:
  [[nodiscard]] TextPlace place(const CsvField& field) const {
    return {file_.name, field.line, field.column, ""};
  }
  void problem(TextPlace where, std::string found, std::string allowed, std::string mend = {}) {
    table_.problems.push_back(
        {std::move(where), std::move(found), std::move(allowed), std::move(mend)});
  }

  void read_header() {
    for (std::size_t i = 0; i < csv_.header.size(); ++i) read_name(i);
    require_columns();
  }

  void read_name(std::size_t index) {
    const CsvField& field = csv_.header[index];
    if (field.text.empty()) return;
    const HeaderWords words = header_words(field.text);
    if (!words.name) {
      const std::string written = field.text.substr(0, field.text.find_first_of("([_ "));
      const auto near = nearest_word(written, {names.begin(), names.end()});
      return problem(
          place(field), fmt::format("the column \"{}\"", field.text),
          fmt::format("one of {}, with a unit such as \"force (kgf)\"", fmt::join(names, ", ")),
          near ? fmt::format("did you mean \"{}\"?", *near) : "");
    }
    auto& column = columns_.at(static_cast<std::size_t>(*words.name));
    if (column) {
      return problem(place(field), fmt::format("a second column \"{}\"", field.text),
                     "each column once");
    }
    column = Column{index, words.unit};
  }

  [[nodiscard]] const std::optional<Column>& column(PressColumn name) const {
    return columns_.at(static_cast<std::size_t>(name));
  }

  void require_columns() {
    const TextPlace top{file_.name, csv_.header.front().line, 1, ""};
    const bool force = column(PressColumn::force).has_value();
    const bool pressure = column(PressColumn::pressure).has_value();
    const bool thickness = column(PressColumn::thickness).has_value();
    if (force == pressure) {
      problem(top, force ? "a column of force and one of pressure" : "no column of loads",
              "one of the two: \"force (kgf)\" or \"pressure (kPa)\"",
              force ? "keep what was weighed" : "stackfit softness prints a form");
    }
    if (!thickness) {
      problem(top, "no column \"thickness (mm)\"", "the thickness at each load",
              "stackfit softness prints a form");
    }
    complete_ = force != pressure && thickness;
  }

  [[nodiscard]] const CsvField* field(const CsvRow& row, PressColumn name) const {
    const auto& at = column(name);
    if (!at || at->index >= row.size() || left_blank(row[at->index].text)) return nullptr;
    return &row[at->index];
  }

  // A number takes the header's unit; a field with a unit of its own keeps that.
  std::optional<double> quantity(const CsvField& field, PressColumn name, Dimension dimension) {
    std::string text = with_decimal_point(csv_, field.text);
    const std::string& unit = column(name)->unit;
    if (!unit.empty() && read_number(text)) text += ' ' + unit;
    const Parsed<double> read = read_quantity(text, dimension);
    if (!read.ok()) {
      const bool no_unit = read_number(text).has_value();
      problem(place(field), fmt::format("\"{}\"", text), read.allowed,
              no_unit ? fmt::format("name the unit in the header: \"{} ({})\"",
                                    names.at(static_cast<std::size_t>(name)),
                                    dimension == Dimension::force ? "kgf" : "kPa")
                      : read.mend);
      return std::nullopt;
    }
    note_once(field, read.note);
    return read.value;
  }

  void note_once(const CsvField& field, const std::string& text) {
    const auto said = [&](const ReadingNote& note) { return note.text == text; };
    if (text.empty() || std::ranges::any_of(table_.notes, said)) return;
    table_.notes.push_back({place(field), text});
  }

  void add_line(const CsvRow& row) {
    const bool by_force = column(PressColumn::force).has_value();
    const PressColumn load_name = by_force ? PressColumn::force : PressColumn::pressure;
    const CsvField* load = field(row, load_name);
    const CsvField* thickness = field(row, PressColumn::thickness);
    if (load == nullptr && thickness == nullptr) return;
    if (thickness == nullptr) {
      table_.notes.push_back({place(*load), "no thickness at this load: the line is left out"});
      return;
    }
    if (load == nullptr) {
      return problem(place(*thickness), "a thickness without its load",
                     "the load it was read at, in the same line");
    }
    PressLine line;
    line.load_place = place(*load);
    line.thickness_place = place(*thickness);
    const auto amount =
        quantity(*load, load_name, by_force ? Dimension::force : Dimension::pressure);
    const auto mm = quantity(*thickness, PressColumn::thickness, Dimension::length);
    const auto unloading = branch(row);
    if (amount && *amount < 0) {
      problem(line.load_place, fmt::format("\"{}\"", load->text), "a load not below zero");
    } else if (amount && mm && unloading) {
      (by_force ? line.force_n : line.pressure_mpa) = amount;
      line.thickness_mm = *mm;
      line.unloading = *unloading;
      table_.lines.push_back(std::move(line));
    }
  }

  std::optional<bool> branch(const CsvRow& row) {
    const CsvField* written = field(row, PressColumn::branch);
    if (written == nullptr) return false;
    const auto word = find_word(std::span<const Word<bool>>(branch_words), written->text);
    if (!word) {
      problem(place(*written), fmt::format("\"{}\"", written->text),
              "loading or unloading; empty is loading");
    }
    return word;
  }

  const TextFile& file_;
  Csv csv_;
  Columns columns_;
  bool complete_ = false;
  PressTable table_;
};

std::string unit_slip(double thickness_mm, double nominal_mm) {
  const auto near = [&](double factor) {
    return std::abs(thickness_mm * factor / nominal_mm - 1) <= plausible_share;
  };
  if (near(mm_per_inch)) return "were these inches? the header is then \"thickness (in)\"";
  if (near(1 / mm_per_inch)) return "were these mm? the header is then \"thickness (mm)\"";
  if (near(mm_per_cm)) return "were these cm? the header is then \"thickness (cm)\"";
  return "take the boards' own thickness off; check the cell's nominal thickness";
}

class TestTaker {
 public:
  TestTaker(const PressTable& table, const PressedCell& cell, const Assumptions& assumptions)
      : table_(table), cell_(cell), assumptions_(assumptions) {}

  PressTestTaken take() {
    out_.test.nominal_mm = cell_.nominal_mm;
    out_.test.reading_error_mm = cell_.reading_error_mm;
    for (const PressLine& line : table_.lines) add(line);
    if (out_.problems.empty()) {
      for (const PressFault& fault : press_faults(out_.test, assumptions_)) add(fault);
    }
    return std::move(out_);
  }

 private:
  void add(const PressLine& line) {
    const double mpa = line.force_n ? *line.force_n / cell_.face_area_mm2 : *line.pressure_mpa;
    const double most_mpa = assumptions_[Assumed::squeeze_tangent_above];
    if (mpa > most_mpa) {
      problem(line.load_place, fmt::format("{:.3g} MPa on the face", mpa),
              fmt::format("up to {:g} MPa: no cell is meant to see more", most_mpa),
              "check the load's unit and the size of the face");
    }
    if (std::abs(line.thickness_mm / cell_.nominal_mm - 1) > plausible_share) {
      problem(line.thickness_place, fmt::format("{:g} mm", line.thickness_mm),
              fmt::format("a thickness near the nominal {:g} mm", cell_.nominal_mm),
              unit_slip(line.thickness_mm, cell_.nominal_mm));
    }
    (line.unloading ? out_.test.unloading : out_.test.loading).push_back({mpa, line.thickness_mm});
    if (!line.unloading) loading_.push_back(&line);
  }

  void add(const PressFault& fault) {
    switch (fault.code) {
      case PressFaultCode::too_few_loads:
        return problem(table_.lines.empty() ? TextPlace{table_.file, 1, 1, ""} : loading_place(0),
                       fault.loads == 0 ? "no load with a thickness on the way up"
                                        : "a single load: it shows no give",
                       "at least two loads, and four to stand without the assumed law",
                       "stackfit softness prints how the test is made");
      case PressFaultCode::rises:
        return problem(loading_[fault.reading]->thickness_place,
                       fmt::format("{:.2f} mm thicker than at the lower load of line {}",
                                   fault.size_mm, loading_[fault.before]->load_place.line),
                       "a thickness that falls as the load rises, within the reading error",
                       "are two readings swapped, or is it a reading of the way back "
                       "(branch: unloading)?");
      case PressFaultCode::no_give:
        return problem(loading_place(0),
                       fmt::format("{} loads under which the thickness does not fall beyond the "
                                   "reading error",
                                   fault.loads),
                       "loads far enough apart to show the cell's give",
                       "read to 0.01 mm, and press further, up to the maker's force");
    }
  }

  void problem(TextPlace where, std::string found, std::string allowed, std::string mend) {
    out_.problems.push_back(
        {std::move(where), std::move(found), std::move(allowed), std::move(mend)});
  }
  [[nodiscard]] TextPlace loading_place(std::size_t reading) const {
    return reading < loading_.size() ? loading_[reading]->load_place
                                     : table_.lines.front().load_place;
  }

  const PressTable& table_;
  const PressedCell& cell_;
  const Assumptions& assumptions_;
  std::vector<const PressLine*> loading_;
  PressTestTaken out_;
};

}  // namespace

bool PressTable::by_force() const {
  return std::ranges::any_of(lines, [](const PressLine& line) { return line.force_n.has_value(); });
}

PressTable read_press_table(const TextFile& file) {
  if (file.problem) {
    PressTable table;
    table.problems.push_back(*file.problem);
    return table;
  }
  return TableReader(file).read();
}

PressTestTaken take_press_test(const PressTable& table, const PressedCell& cell,
                               const Assumptions& assumptions) {
  return TestTaker(table, cell, assumptions).take();
}

}  // namespace stackfit::cli
