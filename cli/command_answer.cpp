// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_answer.hpp"

#include <fmt/format.h>

#include <ostream>
#include <stdexcept>

#include "cli/answer_words.hpp"
#include "cli/paths.hpp"
#include "cli/read_build.hpp"
#include "cli/save_build.hpp"
#include "cli/text_lines.hpp"
#include "cli/units.hpp"
#include "cli/view_assumed.hpp"
#include "cli/view_json.hpp"
#include "cli/view_text.hpp"

namespace stackfit::cli {
namespace {

// What stands between the options and a build, gathered so that all of it is told in one run.
struct Source {
  BuildSource source;
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
};

void add_set(Source& gathered, const std::string& assignment) {
  const PathRead read = read_path_value(assignment);
  if (read.value) {
    gathered.source.sets.push_back(*read.value);
  } else {
    gathered.problems.push_back(
        {{"--set", 0, 0, ""}, fmt::format("\"{}\"", assignment), read.problem, ""});
  }
}

void add_plain_options(Source& gathered, const AnswerOptions& options) {
  if (!options.plain.any()) {
    return;
  }
  if (!options.file.empty()) {
    gathered.problems.push_back({{all_options, 0, 0, ""},
                                 "a build file and options such as --cells together",
                                 "one of the two",
                                 "change single values of the file with --set path=value"});
    return;
  }
  OptionsRead read = read_options(options.plain);
  gathered.source.options = std::move(read.values);
  gathered.problems = std::move(read.problems);
  gathered.notes = std::move(read.notes);
}

Source gather(const AnswerOptions& options) {
  Source gathered;
  gathered.source.file = options.file;
  add_plain_options(gathered, options);
  for (const std::string& assignment : options.sets) {
    add_set(gathered, assignment);
  }
  return gathered;
}

int refuse(Console& console, const std::vector<Problem>& problems) {
  for (const Problem& problem : problems) {
    console.err << describe(problem);
  }
  console.err << counted(static_cast<int>(problems.size()), "problem")
              << ": nothing was worked out\n";
  return exit_unusable;
}

void tell(Console& console, const std::vector<ReadingNote>& notes) {
  TextLines lines(false);
  for (const ReadingNote& note : notes) {
    const TextPlace& place = note.place;
    std::string text = "note: " + place.file;
    if (place.line > 0) {
      text += fmt::format(":{}:{}", place.line, place.column);
    }
    if (!place.pointer.empty()) {
      text += ' ' + place.pointer;
    }
    lines.wrapped(text + ": " + printable(note.text), {.first = 0, .next = 2});
  }
  console.err << lines.text();
}

std::string view_of(const Answer& answer, const AnswerOptions& options, const TextStyle& style) {
  constexpr int indent = 2;
  if (options.json) {
    return json_of(answer).dump(indent) + "\n";
  }
  if (options.assumed) {
    return assumed_text(answer, style);
  }
  return text_of(answer, style);
}

// 0, or the exit status with which to end.
int save(const AnswerOptions& options, const ReadBuild& read, const Answer& answer,
         Console& console) {
  if (!answer.has_plan || answer.verdict == Verdict::stop) {
    console.err << fmt::format("{} was not written: there is no plan to keep\n", options.save);
    return 0;
  }
  if (!answer.inside()) {
    console.err << fmt::format("{} keeps a plan that does not fit\n", options.save);
  }
  try {
    save_build(options.save, read, answer);
  } catch (const std::runtime_error& error) {
    console.err << "stackfit: " << error.what() << '\n';
    return exit_failed;
  }
  return 0;
}

int show(const Answer& answer, const AnswerOptions& options, const TextStyle& style,
         Console& console) {
  const int status = answer.inside() ? exit_inside : exit_warning;
  return deliver(console, view_of(answer, options, style), status);
}

}  // namespace

std::string example_without_file() {
  return "  stackfit pick --measured edge --charge 40% --box 514mm \\\n"
         "    --cells 63.5,63.8,63.4,64.0,63.6,63.5,63.6,63.7 --face 152x188 \\\n"
         "    --thickness \"63.5+-0.8 mm\" --force 240kgf --when assembly \\\n"
         "    --wall \"3mm aluminium folded\" --opens \"one end wall\" --shims 0.8x14,0.5x12\n";
}

int run_answer(Question question, const AnswerOptions& options, Console& console) {
  if (options.file.empty() && !options.plain.any()) {
    console.err << "No build was given: name a build file, or describe the build like this:\n\n"
                << example_without_file() << "\nstackfit new writes a build file by asking.\n";
    return exit_unusable;
  }
  const UnitChoiceRead units = read_unit_choice(options.units);
  Source gathered = gather(options);
  if (!units.problem.empty()) {
    gathered.problems.push_back({{"--units", 0, 0, ""}, options.units, units.problem, ""});
  }
  if (!gathered.problems.empty()) {
    return refuse(console, gathered.problems);
  }
  const ReadBuild read = read_build(gathered.source);
  if (!read.build) {
    return refuse(console, read.problems);
  }
  tell(console, gathered.notes);
  tell(console, read.notes);
  if (question == Question::pressure && read.build->placed.empty() && !read.build->kit.empty()) {
    console.err << "note: no shim of the kit is placed in this build: pick chooses, --save keeps\n";
  }

  const Answer answer =
      question == Question::pick ? answer_pick(*read.build) : answer_pressure(*read.build);
  TextStyle style{.colour = console.colour, .all = options.all, .units = units.choice};
  int saved = 0;
  if (!options.save.empty()) {
    saved = save(options, read, answer, console);
  }
  const int shown = show(answer, options, style, console);
  return saved == 0 ? shown : saved;
}

}  // namespace stackfit::cli
