// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_size.hpp"

#include <fmt/format.h>

#include <optional>
#include <ostream>
#include <stdexcept>

#include "cli/save_order.hpp"
#include "cli/view_size.hpp"

namespace stackfit::cli {
namespace {

std::string view_of(const SizeAnswer& answer, const SizeOptions& options, const TextStyle& style) {
  constexpr int indent = 2;
  if (options.json) {
    return size_json(answer).dump(indent) + "\n";
  }
  return options.assumed ? size_assumed_text(answer, style) : size_text(answer, style);
}

// 0, or the exit status with which to end.
int save(const SizeOptions& options, const ReadBuild& read, const SizeAnswer& answer,
         Console& console) {
  if (!answer.serves()) {
    console.err << fmt::format("{} was not written: there is no order to keep\n", options.save);
    return 0;
  }
  try {
    save_ordered(options.save, read, answer);
  } catch (const std::runtime_error& error) {
    console.err << "stackfit: " << error.what() << '\n';
    return exit_failed;
  }
  return 0;
}

}  // namespace

int run_size(const SizeOptions& options, Console& console) {
  if (!options.input.any()) {
    console.err << "No build was given: name a build file, for example\n\n"
                   "  stackfit size fixtures/metal_box_to_order.json\n\n"
                   "stackfit new writes a build file by asking.\n";
    return exit_unusable;
  }
  BuildInput input = options.input;
  input.needs = BuildNeeds::to_order;
  const std::optional<BuildTaken> taken = take_build(input, console);
  if (!taken) {
    return exit_unusable;
  }
  const SizeAnswer answer = answer_size(*taken->read.build);
  const TextStyle style{.colour = console.colour, .all = options.all, .units = taken->units};
  const int saved = options.save.empty() ? 0 : save(options, taken->read, answer, console);
  const int shown = deliver(console, view_of(answer, options, style),
                            answer.serves() ? exit_inside : exit_warning);
  return saved == 0 ? shown : saved;
}

}  // namespace stackfit::cli
