// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_tree.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <set>
#include <stdexcept>

namespace stackfit::cli {
namespace {

// The library holds them by address: put in an order that is the same in every run.
std::vector<std::string> names_of(const std::set<CLI::Option*>& options) {
  std::vector<std::string> names;
  for (const CLI::Option* option : options) {
    names.push_back(option->get_name());
  }
  std::ranges::sort(names);
  return names;
}

std::string first_name(const TreeOption& option) {
  return option.names.empty() ? option.positional : option.names.back();
}

TreeOption option_of_tree(const CLI::Option& option) {
  TreeOption told;
  for (const std::string& name : option.get_snames()) {
    told.names.push_back("-" + name);
  }
  for (const std::string& name : option.get_lnames()) {
    told.names.push_back("--" + name);
  }
  if (told.names.empty()) {
    told.positional = option.get_name(true);
  }
  told.group = option.get_group();
  told.meaning = option.get_description();
  told.placeholder = option.get_option_text();
  told.repeats = option.get_expected_max() > 1;
  told.not_with = names_of(option.get_excludes());
  told.only_with = names_of(option.get_needs());
  const bool flag = option.get_type_size() == 0 || option.get_expected_max() == 0;
  told.value = flag ? OptionValue{} : value_of_option(first_name(told));
  return told;
}

TreeCommand command_of(const CLI::App& app) {
  TreeCommand command;
  command.name = app.get_name();
  command.meaning = app.get_description();
  command.footer = app.get_footer();
  for (const CLI::Option* option : app.get_options()) {
    TreeOption told = option_of_tree(*option);
    (told.names.empty() ? command.positionals : command.options).push_back(std::move(told));
  }
  for (const CLI::App* below : app.get_subcommands([](const CLI::App*) { return true; })) {
    command.commands.push_back(command_of(*below));
  }
  return command;
}

}  // namespace

bool TreeCommand::has_option(std::string_view option) const {
  const auto named = [&](const TreeOption& known) {
    return known.positional == option ||
           std::ranges::find(known.names, option) != known.names.end();
  };
  return std::ranges::any_of(options, named) || std::ranges::any_of(positionals, named) ||
         std::ranges::any_of(
             commands, [&](const TreeCommand& command) { return command.has_option(option); });
}

TreeCommand tree_of(const CLI::App& app) {
  TreeCommand tree = command_of(app);
  for (const std::string_view option : options_with_known_values()) {
    if (!tree.has_option(option)) {
      throw std::logic_error("option_values.cpp knows an option that no command has: " +
                             std::string(option));
    }
  }
  return tree;
}

}  // namespace stackfit::cli
