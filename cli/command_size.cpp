// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_size.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <optional>
#include <ostream>
#include <stdexcept>

#include "cli/named_files.hpp"
#include "cli/page.hpp"
#include "cli/patience.hpp"
#include "cli/save_build.hpp"
#include "cli/save_order.hpp"
#include "cli/size_drawing.hpp"
#include "cli/view_size.hpp"
#include "cli/whole_file.hpp"

namespace stackfit::cli {
namespace {

SizeAnswer sized(const Build& build, Console& console) {
  const Patience patience(console, "sizing: walls, lengths, kits and what else would do ...");
  return answer_size(build);
}

std::string view_of(const SizeAnswer& answer, const SizeOptions& options, const TextStyle& style) {
  constexpr int indent = 2;
  if (options.json) {
    return size_json(answer).dump(indent) + "\n";
  }
  return options.assumed ? size_assumed_text(answer, style) : size_text(answer, style);
}

// Writes one of the files that go with an order. 0, or the exit status with which to end.
template <class Write>
int keep(const std::string& path, const SizeAnswer& answer, Console& console, const Write& write) {
  if (path.empty()) {
    return 0;
  }
  if (!answer.serves()) {
    console.err << fmt::format("{} was not written: there is no order to keep\n", path);
    return 0;
  }
  try {
    write();
  } catch (const std::invalid_argument& error) {
    console.err << fmt::format("{} was not written: {}\n", path, error.what());
    return exit_failed;
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
                   "  stackfit size fixtures/order/metal_box.json\n\n"
                   "stackfit new writes a build file by asking.\n";
    return exit_unusable;
  }
  BuildInput input = options.input;
  input.needs = BuildNeeds::to_order;
  const std::optional<BuildTaken> taken = take_build(
      input, console,
      files_named_twice(
          {{"--save", options.save}, {"--drawing", options.drawing}, {"--page", options.page}}));
  if (!taken) {
    return exit_unusable;
  }
  const SizeAnswer answer = sized(*taken->read.build, console);
  const TextStyle style{.colour = console.colour, .all = options.all, .units = taken->units};
  const int saved =
      keep(options.save, answer, console, [&] { save_ordered(options.save, taken->read, answer); });
  const int drawn = keep(options.drawing, answer, console, [&] {
    write_whole_file(
        options.drawing,
        drawing_of(answer, std::filesystem::path(options.input.file).filename().string(), today()),
        taken->read.files);
  });
  const int sheet =
      options.page.empty()
          ? 0
          : write_page(options.page, page_of(answer, page_head(options.input, *taken)),
                       taken->read.files, console);
  const int shown = deliver(console, view_of(answer, options, style),
                            answer.serves() ? exit_inside : exit_warning);
  // A file that could not be written weighs more than any answer.
  return saved != 0 ? saved : drawn != 0 ? drawn : sheet != 0 ? sheet : shown;
}

}  // namespace stackfit::cli
