// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/log_csv.hpp"

#include <sstream>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "cli/command_line.hpp"
#include "cli/days.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"
#include "tests/cli/run_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using namespace stackfit::cli::testing;

namespace {

Ran run_check(std::vector<std::string> arguments) {
  return run_command("check", std::move(arguments));
}

const Day this_day = read_day("2024-03-16").value.value_or(Day{});

LogOf of_cells(std::vector<std::string> ids = {"A", "B"}) {
  LogOf of;
  of.type.thickness.nominal_mm = 50;
  of.cell_ids = std::move(ids);
  of.today = this_day;
  return of;
}

ReadLog read_text_log(const std::string& text, const LogOf& of = of_cells()) {
  const Folder folder;
  return read_log(folder.write("log.csv", text), of);
}

CellReading reading(const std::string& id) {
  CellReading cell;
  cell.id = id;
  cell.edge_mm = 50.05;
  cell.boards_mm = 50.25;
  cell.charge = 0.38;
  cell.voltage_v = 3.297;
  cell.signs = "none";
  return cell;
}

constexpr const char* cells =
    "id,edge (mm),boards (mm),charge,signs\n"
    "A,50.00,50.20,40 %,none\nB,50.05,50.22,40 %,none\n";
constexpr const char* old_log =
    "date,cell,edge (mm),boards (mm),charge (%)\n"
    "2023-03-18,A,49.99,50.18,40\n2023-03-18,B,50.04,50.20,42\n";

}  // namespace

TEST_CASE("days: year, month and day of the calendar, and nothing else") {
  CHECK(day_text(this_day) == "2024-03-16");
  CHECK(read_day(" 2024-02-29 ").ok());
  for (const char* wrong :
       {"2023-02-29", "2024-13-01", "2024-00-10", "16.03.2024", "2024-3-16", "2024-03-16T10:00",
        "24-03-16", "2024/03/16", "202a-03-16", "0024-03-16", "2024-03--6", ""}) {
    INFO(wrong);
    CHECK_FALSE(read_day(wrong).ok());
  }
}

TEST_CASE("log: lines with units in the header or the field, decimal commas, notes") {
  const ReadLog log = read_text_log(
      "date;cell;edge (cm);boards;charge;voltage (V);signs;note\n"
      "2023-03-18;A;5,001;1,98 in;40 %;3,297;none;on the bench\n\n2023-09-18;A;;50,3;38 "
      "%;;leak;\n");
  INFO((log.problems.empty() ? "" : describe(log.problems.front())));
  REQUIRE(log.problems.empty());
  REQUIRE(log.lines.size() == 2);
  CHECK(log.lines[0].reading.edge_mm == Approx(50.01));
  CHECK(log.lines[0].reading.boards_mm == Approx(1.98 * 25.4));
  CHECK(log.lines[0].reading.charge == Approx(0.4));
  CHECK(log.lines[0].reading.voltage_v == Approx(3.297));
  CHECK(log.lines[0].reading.id == "A");
  CHECK_FALSE(log.lines[1].reading.edge_mm);
  CHECK(log.lines[1].reading.signs == "leak");
  CHECK(day_text(log.lines[1].day) == "2023-09-18");
}

TEST_CASE("log: every slip in one run, with line, column and what to do") {
  const ReadLog log = read_log(std::string(STACKFIT_FIXTURES_DIR) + "/broken/used_log.csv",
                               {[] {
                                  CellType type;
                                  type.thickness.nominal_mm = 58.2;
                                  return type;
                                }(),
                                {"U1", "U2", "U3", "U4"},
                                this_day});
  struct Expected {
    int line;
    int column;
    const char* part;
  };
  const std::vector<Expected> expected{{3, 1, "2022-03-18 behind 2023-03-18 (line 2)"},
                                       {4, 1, "no such day"},
                                       {5, 1, "year first"},
                                       {6, 15, "inches in a mm column?"},
                                       {7, 1, "a second line of cell U3"},
                                       {8, 1, "a day up to 2024-03-16"},
                                       {9, 1, "without a date"},
                                       {10, 1, "without a cell"},
                                       {10, 25, "0 to 100 %"}};
  REQUIRE(log.problems.size() == expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const std::string told = describe(log.problems[i]);
    INFO(told);
    CHECK(log.problems[i].place.line == expected[i].line);
    CHECK(log.problems[i].place.column == expected[i].column);
    CHECK_THAT(told, ContainsSubstring(expected[i].part));
  }
  // A cell that the build does not have is told, and no slip.
  REQUIRE(log.notes.size() == 1);
  CHECK_THAT(log.notes[0].text, ContainsSubstring("X9"));
  CHECK(log.notes[0].place.line == 11);
}

TEST_CASE("log: a table without dates is no log") {
  const ReadLog log =
      read_log(std::string(STACKFIT_FIXTURES_DIR) + "/broken/log_without_dates.csv", of_cells());
  REQUIRE(log.problems.size() == 3);
  CHECK_THAT(describe(log.problems[0]) + describe(log.problems[1]) + describe(log.problems[2]),
             ContainsSubstring("a log without a column \"date\""));
  CHECK(read_text_log("").problems.size() == 1);
  CHECK(read_text_log("date,cell,edge (mm)\n").problems.empty());
}

TEST_CASE("log: a copy is what was read, byte for byte, and today's lines in its own columns") {
  const std::string text =
      "note;date;cell;edge (cm);charge;signs\r\nfirst;2023-03-18;A;5,001;40 %;none";
  const ReadLog log = read_text_log(text);
  REQUIRE(log.problems.empty());
  CellReading second = reading("B");
  second.signs = "smells; \"sweet\"";
  const LogCopy copy = with_lines_of_today(log, {reading("A"), second}, this_day);
  CHECK(copy.added == 2);
  CHECK(copy.text == text +
                         "\r\n;2024-03-16;A;5,005;38 %;none\r\n"
                         ";2024-03-16;B;5,005;38 %;\"smells; \"\"sweet\"\"\"\r\n");
  CHECK(copy.left_out == std::vector<std::string>{"boards", "voltage"});
  const ReadLog again = read_text_log(copy.text);
  REQUIRE(again.problems.empty());
  REQUIRE(again.lines.size() == 3);
  CHECK(again.lines[2].reading.edge_mm == Approx(50.05));
  CHECK(again.lines[2].reading.charge == Approx(0.38));
  CHECK(again.lines[2].reading.signs == second.signs);
  CHECK(again.lines[2].day == this_day);
  // A cell that has its line of today gets no second one.
  CHECK(with_lines_of_today(again, {reading("A"), second}, this_day).added == 0);
}

TEST_CASE("log: one that is begun has a column for every reading") {
  CellReading cell = reading("A");
  cell.temperature_c = 18.5;
  cell.capacity_ah = 211.4;
  cell.resistance_mohm = 0.31;
  cell.middle_mm = 50.22;
  cell.pressed = PressedReading{49.8, 1200};
  const LogCopy copy = with_lines_of_today({}, {cell}, this_day);
  CHECK(copy.left_out.empty());
  const ReadLog again = read_text_log(copy.text);
  INFO((again.problems.empty() ? "" : describe(again.problems.front())));
  REQUIRE(again.problems.empty());
  REQUIRE(again.lines.size() == 1);
  const CellReading& read = again.lines[0].reading;
  CHECK(read.edge_mm == cell.edge_mm);
  CHECK(read.middle_mm == cell.middle_mm);
  CHECK(read.temperature_c == cell.temperature_c);
  CHECK(read.capacity_ah == cell.capacity_ah);
  CHECK(read.resistance_mohm == cell.resistance_mohm);
  REQUIRE(read.pressed);
  CHECK(read.pressed->force_n == Approx(1200));
}

TEST_CASE("log: the copy's name has the day, in place of an older one") {
  CHECK(copy_name("bank.csv", this_day) == "bank-2024-03-16.csv");
  CHECK(copy_name("logs/bank-2023-09-01.csv", this_day) == "logs/bank-2024-03-16.csv");
  CHECK(copy_name("2023-09-01.csv", this_day) == "2023-09-01-2024-03-16.csv");
  CHECK(copy_name("bank-12345678901.csv", this_day) == "bank-12345678901-2024-03-16.csv");
}

TEST_CASE("check --log: an input is never changed, the copy goes beside it, whole") {
  const Folder folder;
  const std::string table = folder.write("cells.csv", cells);
  const std::string log = folder.write("bank.csv", old_log);
  const std::vector<std::string> arguments{table, "--log", log, "--date", "2024-03-16"};
  const Ran first = run_check(arguments);
  INFO(first.err);
  CHECK(first.status == exit_inside);
  CHECK(folder.text("bank.csv") == old_log);
  CHECK(folder.text("bank-2024-03-16.csv") ==
        std::string(old_log) + "2024-03-16,A,50,50.2,40\n2024-03-16,B,50.05,50.22,40\n");
  CHECK_THAT(first.err, ContainsSubstring("bank-2024-03-16.csv"));
  CHECK_THAT(first.err, ContainsSubstring("no column for signs"));
  CHECK(folder.files() == 3);
  // The same again is there already; something else under that name is not written over.
  CHECK(run_check(arguments).status == exit_inside);
  std::ignore = folder.write("bank-2024-03-16.csv", "mine\n");
  const Ran refused = run_check(arguments);
  CHECK(refused.status == exit_failed);
  CHECK_THAT(refused.err, ContainsSubstring("--log-out"));
  CHECK(folder.text("bank-2024-03-16.csv") == "mine\n");
  CHECK_FALSE(refused.out.empty());
  for (const std::string& input : {log, table}) {
    const std::string before = folder.text(input == log ? "bank.csv" : "cells.csv");
    CHECK(run_check({table, "--log", log, "--date", "2024-03-16", "--log-out", input}).status ==
          exit_failed);
    CHECK(folder.text(input == log ? "bank.csv" : "cells.csv") == before);
  }
}

TEST_CASE("check --log: a log that is not there is begun under its own name, and read next time") {
  const Folder folder;
  const std::string table = folder.write("cells.csv", cells);
  const std::string log = folder.path("new.csv");
  const Ran begun = run_check({table, "--log", log, "--date", "2024-03-16"});
  CHECK(begun.status == exit_inside);
  CHECK_THAT(begun.err, ContainsSubstring("log begun with 2 lines"));
  CHECK_THAT(begun.out, ContainsSubstring("Nothing to compare yet"));
  const Ran same_day = run_check({table, "--log", log, "--date", "2024-03-16"});
  CHECK_THAT(same_day.err, ContainsSubstring("nothing was written"));
  CHECK(folder.files() == 2);
  const Ran later =
      run_check({table, "--log", log, "--date", "2024-06-16", "--set", "cells.0.boards=50.5"});
  CHECK(later.status == exit_warning);
  CHECK_THAT(later.out, ContainsSubstring("grows 0.20 % a month"));
  CHECK(folder.files() == 3);
}

TEST_CASE("check --log: a log that cannot be used stops the answer and is left alone") {
  const Folder folder;
  const std::string table = folder.write("cells.csv", cells);
  const std::string log = folder.write("bank.csv", "date,cell,edge\n2024-05-01,A,50\n");
  const Ran ran = run_check({table, "--log", log, "--date", "2024-03-16"});
  CHECK(ran.status == exit_unusable);
  CHECK(ran.out.empty());
  CHECK(folder.files() == 2);
}
