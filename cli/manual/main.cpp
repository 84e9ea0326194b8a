// SPDX-License-Identifier: GPL-3.0-or-later
//
// stackfit_manual FOLDER VERSION DATE: writes manual pages and completions into FOLDER.
//
// For: the build, which installs them. Not for: people; `stackfit --help` says the same.
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <stdexcept>

#include "cli/command_line.hpp"
#include "cli/manual/completions.hpp"
#include "cli/manual/manual_page.hpp"

namespace {

namespace manual = stackfit::cli::manual;

void write(const std::filesystem::path& file, const std::string& text) {
  std::filesystem::create_directories(file.parent_path());
  std::ofstream out(file, std::ios::binary);
  out << text << std::flush;
  if (!out) {
    throw std::runtime_error(file.string() + " could not be written");
  }
}

void write_all(const std::filesystem::path& folder, const manual::Edition& edition) {
  const stackfit::cli::TreeCommand program = stackfit::cli::command_tree();
  const std::filesystem::path pages = folder / "man1";
  write(pages / (program.name + ".1"), manual::program_page(program, edition));
  for (const stackfit::cli::TreeCommand& command : program.commands) {
    write(pages / (program.name + '-' + command.name + ".1"),
          manual::command_page(program, command, edition));
  }
  write(folder / "bash" / program.name, manual::bash_completion(program));
  write(folder / "zsh" / ('_' + program.name), manual::zsh_completion(program));
  write(folder / "fish" / (program.name + ".fish"), manual::fish_completion(program));
}

}  // namespace

int main(int count, char** words) {
  constexpr int words_wanted = 4;
  if (count != words_wanted) {
    std::cerr << "stackfit_manual FOLDER VERSION DATE\n";
    return EXIT_FAILURE;
  }
  try {
    write_all(words[1], {words[2], words[3]});
  } catch (const std::exception& failure) {
    std::cerr << "stackfit_manual: " << failure.what() << '\n';
    return EXIT_FAILURE;
  }
  return EXIT_SUCCESS;
}
