// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_check.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <optional>
#include <ostream>
#include <stdexcept>
#include <utility>

#include "cli/answer_words.hpp"
#include "cli/days.hpp"
#include "cli/log_csv.hpp"
#include "cli/named_files.hpp"
#include "cli/page.hpp"
#include "cli/text_file.hpp"
#include "cli/view_check.hpp"
#include "cli/whole_file.hpp"

namespace stackfit::cli {
namespace {

// Beyond this a battery is no longer low voltage, and the figure is another one.
constexpr double highest_charger_v = 1500;

// Beside a file these two say what a table of cells has no column for.
BuildInput with_options_as_sets(BuildInput input) {
  if (input.file.empty()) {
    return input;
  }
  const auto take = [&](std::string& option, const char* path) {
    if (!option.empty()) {
      input.sets.insert(input.sets.begin(), fmt::format("{}={}", path, option));
      option.clear();
    }
  };
  take(input.plain.thickness, "cell.thickness");
  take(input.plain.charge, "measured_charge");
  return input;
}

// The command's own options; what is wrong with them is told together with the build's problems.
struct Own {
  Day today;
  std::optional<double> charger_v;
  std::vector<Problem> problems;
};

Own read_own(const CheckOptions& options) {
  Own own{day_today(), {}, {}};
  if (!options.date.empty()) {
    const Parsed<Day> day = read_day(options.date);
    if (!day.ok()) {
      own.problems.push_back(
          {{"--date", 0, 0, ""}, fmt::format("\"{}\"", options.date), day.allowed, day.mend});
    } else if (*day.value > own.today) {
      own.problems.push_back({{"--date", 0, 0, ""},
                              options.date,
                              fmt::format("a day up to today, {}", day_text(own.today)),
                              "the day on which the cells were measured"});
    } else {
      own.today = *day.value;
    }
  }
  if (!options.charger.empty()) {
    const Parsed<double> charger = read_quantity(options.charger, Dimension::voltage);
    if (charger.ok() && *charger.value > 0 && *charger.value <= highest_charger_v) {
      own.charger_v = charger.value;
    } else {
      own.problems.push_back({{"--charger", 0, 0, ""},
                              fmt::format("\"{}\"", options.charger),
                              "the charge voltage printed on the charger, such as 29.2V",
                              charger.mend});
    }
  }
  return own;
}

ReadLog read_log_for(const CheckOptions& options, const Build& build, Day today) {
  if (options.log.empty()) {
    return {};
  }
  LogOf of{build.cell, {}, today};
  of.type.thickness.nominal_mm = nominal_of(build).mm;
  for (const CellReading& cell : build.cells) {
    of.cell_ids.push_back(cell.id);
  }
  return read_log(options.log, of);
}

std::string target_of(const CheckOptions& options, const ReadLog& log, Day today) {
  if (!options.log_out.empty()) {
    return options.log_out;
  }
  return log.exists ? copy_name(options.log, today) : options.log;
}

bool already_written(const std::string& path, const std::string& text) {
  std::error_code error;
  return std::filesystem::exists(path, error) && read_text_file(path).text == text;
}

// The log is read and its copy written: the page is neither.
std::vector<Problem> page_over_log(const CheckOptions& options, const ReadLog& log, Day today) {
  if (options.log.empty()) {
    return {};
  }
  const std::string target = target_of(options, log, today);
  std::vector<NamedFile> files{{"--log", options.log}, {"--page", options.page}};
  if (!is_same_file(target, options.log)) {
    files.insert(files.begin(), {"the log's copy", target});
  }
  return files_named_twice(files);
}

// 0, or the exit status with which to end.
int write_log(const CheckOptions& options, const ReadBuild& read, const ReadLog& log, Day today,
              Console& console) {
  const LogCopy copy = with_lines_of_today(log, cells_with_charges(*read.build), today);
  if (copy.added == 0) {
    console.err << fmt::format("note: {} has a line of {} for every cell: nothing was written\n",
                               options.log, day_text(today));
    return 0;
  }
  if (!copy.left_out.empty()) {
    console.err << fmt::format("note: {} has no column for {}: left out of the copy\n", options.log,
                               fmt::join(copy.left_out, ", "));
  }
  const std::string target = target_of(options, log, today);
  std::vector<std::string> inputs = read.files;
  if (log.exists) {
    inputs.push_back(options.log);
  }
  try {
    if (!already_written(target, copy.text)) {
      const bool named = !options.log_out.empty();
      write_whole_file(target, copy.text, inputs, named ? Existing::replace : Existing::refuse);
    }
  } catch (const std::runtime_error& error) {
    console.err << "stackfit: " << error.what() << "; --log-out names another\n";
    return exit_failed;
  }
  console.err << fmt::format("{} {} of {}: {}\n", log.exists ? "log copied with" : "log begun with",
                             counted(copy.added, "line"), day_text(today), target);
  return 0;
}

std::string view_of(const CheckAnswer& answer, const CheckOptions& options,
                    const TextStyle& style) {
  constexpr int indent = 2;
  if (options.json) {
    return json_of(answer).dump(indent) + "\n";
  }
  return options.assumed ? assumed_text(answer, style) : text_of(answer, style);
}

}  // namespace

int run_check(const CheckOptions& options, Console& console) {
  if (!options.input.any()) {
    console.err << "No cells were given: name a table of cells or a build file, for example\n\n"
                   "  stackfit check fixtures/used_twelve.csv --thickness \"58.2+-0.4 mm\"\n";
    return exit_unusable;
  }
  Own own = read_own(options);
  BuildInput input = with_options_as_sets(options.input);
  input.needs = BuildNeeds::cells;
  const std::optional<BuildTaken> taken = take_build(input, console, std::move(own.problems));
  if (!taken) {
    return exit_unusable;
  }
  const Build& build = *taken->read.build;
  ReadLog log = read_log_for(options, build, own.today);
  std::ranges::move(page_over_log(options, log, own.today), std::back_inserter(log.problems));
  if (!log.problems.empty()) {
    return refuse(console, log.problems);
  }
  tell(console, log.notes);
  CheckAnswer answer =
      answer_check(build, {own.today, log.lines, !options.log.empty(), own.charger_v});
  if (answer.title.empty() && !input.file.empty() && input.file != "-") {
    answer.title = std::filesystem::path(input.file).filename().string();
  }
  const int saved =
      options.log.empty() ? 0 : write_log(options, taken->read, log, own.today, console);
  const TextStyle style{.colour = console.colour, .all = options.all, .units = taken->units};
  const int sheet = options.page.empty()
                        ? 0
                        : write_page(options.page, page_of(answer, page_head(input, *taken)),
                                     taken->read.files, console);
  const bool warns = answer.verdict != CellVerdict::no_fault_found || answer.box_warns();
  const int shown =
      deliver(console, view_of(answer, options, style), warns ? exit_warning : exit_inside);
  // A file that could not be written weighs more than any answer.
  return saved != 0 ? saved : sheet != 0 ? sheet : shown;
}

}  // namespace stackfit::cli
