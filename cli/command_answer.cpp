// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_answer.hpp"

#include <fmt/format.h>

#include <optional>
#include <ostream>
#include <stdexcept>

#include "cli/answer_words.hpp"
#include "cli/save_build.hpp"
#include "cli/view_assumed.hpp"
#include "cli/view_json.hpp"
#include "cli/view_text.hpp"

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
  if (!options.input.any()) {
    console.err << "No build was given: name a build file, or describe the build like this:\n\n"
                << example_without_file() << "\nstackfit new writes a build file by asking.\n";
    return exit_unusable;
  }
  const std::optional<BuildTaken> taken = take_build(options.input, console);
  if (!taken) {
    return exit_unusable;
  }
  const ReadBuild& read = taken->read;
  if (question == Question::pressure && read.build->placed.empty() && !read.build->kit.empty()) {
    console.err << "note: no shim of the kit is placed in this build: pick chooses, --save keeps\n";
  }

  const Answer answer =
      question == Question::pick ? answer_pick(*read.build) : answer_pressure(*read.build);
  TextStyle style{.colour = console.colour, .all = options.all, .units = taken->units};
  int saved = 0;
  if (!options.save.empty()) {
    saved = save(options, read, answer, console);
  }
  const int shown = show(answer, options, style, console);
  return saved == 0 ? shown : saved;
}

}  // namespace stackfit::cli
