// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_new.hpp"

#include <filesystem>
#include <istream>
#include <optional>
#include <ostream>
#include <stdexcept>
#include <string>
#include <system_error>

#include "cli/blank_form.hpp"
#include "cli/interview.hpp"
#include "cli/measuring_sheet.hpp"
#include "cli/whole_file.hpp"

namespace stackfit::cli {
namespace {

bool is_table(const std::string& file) {
  return file.ends_with(".csv");
}

// Never over a file that is there: it may be hours of measuring.
void refuse_existing(const std::string& file) {
  std::error_code error;  // what may not be looked at is told when it is written
  if (!file.empty() && std::filesystem::exists(file, error)) {
    throw std::runtime_error(file + " is there already; give another name");
  }
}

// Questions go to `err`, so that the answers alone can be piped on.
std::optional<std::string> asked(const NewOptions& options, Console& console) {
  const std::string folder = std::filesystem::path(options.file).parent_path().string();
  return interview(console.in, console.err, {.used = options.used, .folder = folder});
}

std::optional<std::string> text_of_new(const NewOptions& options, Console& console) {
  if (options.measure) {
    return measuring_sheet(static_cast<std::size_t>(options.cells), options.used);
  }
  if (options.blank) {
    return is_table(options.file) ? blank_form_table() : blank_form_json();
  }
  return asked(options, console);
}

std::string next_step(const NewOptions& options) {
  if (options.measure) {
    return options.file + " was written: print it and take it to the bench\n";
  }
  if (options.blank) {
    return options.file + " was written: fill it in, then stackfit pick\n";
  }
  return options.file + " was written. Next: stackfit pick " + options.file + '\n';
}

int write_new(const NewOptions& options, const std::string& text, Console& console) {
  if (options.file.empty()) {
    return deliver(console, text, exit_inside);
  }
  try {
    write_whole_file(options.file, text, {}, Existing::refuse);
  } catch (const std::runtime_error&) {
    // A form is printed again at any time; what was answered is in no other place.
    if (!options.measure && !options.blank) {
      console.out << text << std::flush;
      console.err << "What you answered is printed instead: keep it.\n";
    }
    throw;
  }
  console.err << next_step(options);
  return exit_inside;
}

}  // namespace

int run_new(const NewOptions& options, Console& console) {
  try {
    // Said before the first question, not after the last.
    refuse_existing(options.file);
    const std::optional<std::string> text = text_of_new(options, console);
    return text ? write_new(options, *text, console) : exit_unusable;
  } catch (const std::runtime_error& error) {
    console.err << "stackfit: " << error.what() << '\n';
    return exit_failed;
  }
}

}  // namespace stackfit::cli
