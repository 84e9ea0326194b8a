// SPDX-License-Identifier: GPL-3.0-or-later
//
// The log of dated readings: a table of cells with a column `date`.
//
// For: `--log`. Contract, each tested: 1 every problem of the table in one run, each with line and
// column; 2 a copy is the text that was read, byte for byte, with lines added in its own columns
// and units; 3 the copy read again holds today's readings. Not for: comparing readings
// (solver/cell_log.hpp), or writing (whole_file.hpp).
#pragma once

#include <string>
#include <vector>

#include "cli/read_build.hpp"
#include "cli/text_file.hpp"
#include "solver/cell_log.hpp"

namespace stackfit::cli {

/// What a log is read for.
struct LogOf {
  CellType type;                      ///< with its nominal thickness, to tell a slip of unit
  std::vector<std::string> cell_ids;  ///< of the build
  Day today;                          ///< no line may be later
};

struct ReadLog {
  bool exists = false;  ///< false: it is begun
  CellLog lines;
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
  std::string text;  ///< as read
};

/// A file that is not there is an empty log. Does not throw on bad input.
[[nodiscard]] ReadLog read_log(const std::string& path, const LogOf& of);
/// A log that is there, and in memory.
[[nodiscard]] ReadLog read_log(const TextFile& file, const LogOf& of);

struct LogCopy {
  std::string text;
  int added = 0;                      ///< lines; a cell that has a line of today gets no second one
  std::vector<std::string> left_out;  ///< names of readings that the table has no column for
};
/// The log with a line for each of today's readings.
[[nodiscard]] LogCopy with_lines_of_today(const ReadLog& log, const std::vector<CellReading>& cells,
                                          Day today);

/// The name of the copy: `bank-2026-11-25.csv` beside `bank.csv` (a day in its name is replaced).
[[nodiscard]] std::string copy_name(const std::string& path, Day today);

}  // namespace stackfit::cli
