// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <ostream>
#include <stdexcept>

#include "cli/answer_words.hpp"
#include "cli/named_files.hpp"
#include "cli/page.hpp"
#include "cli/save_build.hpp"
#include "cli/view_assumed.hpp"
#include "cli/view_json.hpp"
#include "cli/view_text.hpp"
#include "cli/words_chance.hpp"

namespace stackfit::cli {
namespace {

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

// Whether the chance is what was asked for, or more.
bool sure_enough(const Answer& answer, const ChanceOptions& asked) {
  if (!asked.need) {
    return true;
  }
  return answer.chance &&
         answer.chance->plan.more_than.value_or(answer.chance->plan.chance) >= *asked.need;
}

// Why an answer that is inside ends as a warning.
void tell_chance(const Answer& answer, const ChanceOptions& asked, Console& console) {
  if (!answer.inside() || sure_enough(answer, asked)) {
    return;
  }
  const std::string found = answer.chance ? "the chance is " + chance_text(answer.chance->plan)
                                          : "no chance was computed for this build";
  console.err << fmt::format("{}; {} was needed\n", found, chance_text(*asked.need));
}

int show(const Answer& answer, const AnswerOptions& options, const ChanceOptions& asked,
         const TextStyle& style, Console& console) {
  tell_chance(answer, asked, console);
  return deliver(console, view_of(answer, options, style), exit_status(answer, asked));
}

}  // namespace

std::string example_without_file() {
  return "  stackfit pick --measured edge --charge 40% --box 514mm \\\n"
         "    --cells 63.5,63.8,63.4,64.0,63.6,63.5,63.6,63.7 --face 152x188 \\\n"
         "    --thickness \"63.5+-0.8 mm\" --force 240kgf --when assembly \\\n"
         "    --wall \"3mm aluminium folded\" --opens \"one end wall\" --shims 0.8x14,0.5x12\n";
}

int exit_status(const Answer& answer, const ChanceOptions& asked) {
  return answer.inside() && sure_enough(answer, asked) ? exit_inside : exit_warning;
}

int run_answer(Question question, const AnswerOptions& options, Console& console) {
  if (!options.input.any()) {
    console.err << "No build was given: name a build file, or describe the build like this:\n\n"
                << example_without_file() << "\nstackfit new writes a build file by asking.\n";
    return exit_unusable;
  }
  ChanceRead asked = read_chance_options(options.chance);
  std::ranges::move(files_named_twice({{"--save", options.save}, {"--page", options.page}}),
                    std::back_inserter(asked.problems));
  const std::optional<BuildTaken> taken = take_build(options.input, console, asked.problems);
  if (!taken) {
    return exit_unusable;
  }
  const ReadBuild& read = taken->read;
  if (question == Question::pressure && read.build->placed.empty() && !read.build->kit.empty()) {
    console.err << "note: no shim of the kit is placed in this build: pick chooses, --save keeps\n";
  }

  const std::optional<ChanceOptions> chance =
      asked.wanted ? std::optional(asked.options) : std::nullopt;
  const Pictures pictures = options.page.empty() ? Pictures::none : Pictures::drawn;
  const Answer answer = question == Question::pick
                            ? answer_pick(*read.build, {}, chance, pictures)
                            : answer_pressure(*read.build, {}, chance, pictures);
  TextStyle style{.colour = console.colour, .all = options.all, .units = taken->units};
  int saved = 0;
  if (!options.save.empty()) {
    saved = save(options, read, answer, console);
  }
  const int drawn =
      options.page.empty()
          ? 0
          : write_page(options.page, page_of(answer, page_head(options.input, *taken)), read.files,
                       console);
  const int shown = show(answer, options, asked.options, style, console);
  // A file that could not be written weighs more than any answer.
  return saved != 0 ? saved : drawn != 0 ? drawn : shown;
}

}  // namespace stackfit::cli
