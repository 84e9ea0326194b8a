// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_size.hpp"

#include <optional>
#include <ostream>

#include "cli/view_size.hpp"

namespace stackfit::cli {
namespace {

std::string view_of(const SizeAnswer& answer, const SizeOptions& options, const TextStyle& style) {
  constexpr int indent = 2;
  return options.json ? size_json(answer).dump(indent) + "\n" : size_text(answer, style);
}

bool serves(const SizeAnswer& answer) {
  return answer.verdict == SizeVerdict::serves ||
         answer.verdict == SizeVerdict::serves_on_assumed_figures;
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
  return deliver(console, view_of(answer, options, style),
                 serves(answer) ? exit_inside : exit_warning);
}

}  // namespace stackfit::cli
