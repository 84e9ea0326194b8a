// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/command_line.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <charconv>
#include <exception>
#include <memory>
#include <ostream>
#include <sstream>
#include <string>
#include <system_error>

#include "cli/command_answer.hpp"
#include "cli/command_check.hpp"
#include "cli/command_gauge.hpp"
#include "cli/command_new.hpp"
#include "cli/command_size.hpp"
#include "cli/command_softness.hpp"
#include "cli/command_sort.hpp"
#include "cli/text_lines.hpp"
#include "solver/build.hpp"

namespace stackfit::cli {
namespace {

constexpr const char* program_name = "stackfit";

constexpr const char* purpose =
    "Compression and fit of prismatic cells stacked in a row inside a box: which\n"
    "shims go where, whether the face pressure stays right from empty to full, how\n"
    "the last cell gets in.\n"
    "A swollen, warm, dented, leaking or smelling cell is never pressed.\n";

constexpr const char* help_end =
    "Examples, as typed from the project's folder:\n"
    "  stackfit pick fixtures/shed_bank.json\n"
    "  stackfit pick fixtures/shed_bank.json --assumed\n"
    "  stackfit pick fixtures/shed_bank.json --set box.inner.length=\"518 mm\"\n"
    "  stackfit pressure fixtures/shed_bank.json --json\n"
    "  stackfit check fixtures/used_twelve.csv --set series=12\n"
    "  stackfit new --blank\n"
    "\n"
    "Exit status: 0 inside; 1 answered with a warning; 2 the input cannot be used;\n"
    "3 the answer could not be written, or the program failed.\n";

// As many as a row may have.
constexpr int most_cells_on_a_sheet = 512;

// What the commands were told; one of each, alive as long as the library's parser.
struct Told {
  AnswerOptions pick;
  AnswerOptions pressure;
  SizeOptions size;
  GaugeOptions gauge;
  CheckOptions check;
  NewOptions make_new;
  SoftnessOptions softness;
  SortOptions sort;
};

void add_input_options(CLI::App& command, BuildInput& options) {
  const std::string group = "A build without a file";
  BuildOptions& plain = options.plain;
  command.add_option("BUILD", options.file, "A build file; - is standard input");
  const auto add = [&](const char* name, std::string& into, const char* meaning) {
    command.add_option(name, into, meaning)->group(group);
  };
  add("--measured", plain.measured, "edge, middle, boards or \"pressed 240kgf\"");
  add("--cells", plain.cells, "Readings with commas: 63.5,63.8,63.4");
  add("--face", plain.face, "The large flat side: 152x188");
  add("--thickness", plain.thickness, "The data sheet's thickness line");
  add("--force", plain.force, "The data sheet's force line: 240kgf");
  add("--when", plain.when, "That force is: assembly, always, never above");
  add("--range", plain.range, "Face pressure wanted: 50-150kPa");
  add("--charge", plain.charge, "Charge when measured: 40% or \"as shipped\"");
  add("--box", plain.box, "Inside length or lengths: 517mm");
  add("--wall", plain.wall, "The end walls: \"3mm aluminium folded\"");
  add("--opens", plain.opens, "What comes off: \"one end wall\", both, none");
  add("--shims", plain.shims, "Shims on hand: 0.8x14,0.5x12");
  add("--shim-material", plain.shim_material, "What they are made of");
  command.add_option("--set", options.sets, "Change a value: path=value; may be repeated")
      ->allow_extra_args(false);
  command.add_option("--units", options.units, "Units to print in: mm,kPa,kgf");
}

void add_answer_options(CLI::App& command, AnswerOptions& options) {
  add_input_options(command, options.input);
  command.add_option("--save", options.save, "Write the build as placed to this file");
  command.add_option("--page", options.page, "Write the build sheet, to look at and print");
  command.add_flag("--json", options.json, "Print everything as JSON");
  command.add_flag("--assumed", options.assumed, "Print what is assumed, why and its worth");
  command.add_flag("--all", options.all, "Print every warning, state, cell and doubt");
  const std::string group = "How sure it is";
  const auto add = [&](const char* name, std::string& into, const char* meaning) {
    return command.add_option(name, into, meaning)->group(group);
  };
  add("--need-chance", options.chance.need, "End with 1 where the chance is below: 95");
  command.add_flag("--no-chance", options.chance.none, "Draw nothing; pick goes by the margin")
      ->group(group);
  add("--samples", options.chance.samples, "Draws at least; else as many as settle it: 1e6")
      ->option_text("N");
  add("--threads", options.chance.threads, "Threads that draw; the answer is the same")
      ->option_text("N");
}

CLI::App& add_command(CLI::App& app, const char* name, const char* meaning) {
  CLI::App& command = *app.add_subcommand(name, meaning)->group("Commands");
  command.get_formatter()->label("TEXT", "");
  return command;
}

void set_up_pick(CLI::App& app, AnswerOptions& options) {
  CLI::App& command = add_command(app, "pick", "Which shims go where before the cells go in");
  add_answer_options(command, options);
  command.add_option("--by", options.chance.by, "The best plan is that of most: chance, margin")
      ->group("How sure it is");
  command.footer("Without a file, for example:\n" + example_without_file());
}

void set_up_pressure(CLI::App& app, AnswerOptions& options) {
  CLI::App& command = add_command(app, "pressure", "What this exact build sees, state by state");
  add_answer_options(command, options);
  command.footer("For example:\n  stackfit pressure fixtures/shed_bank.json --all\n");
}

void set_up_size(CLI::App& app, SizeOptions& options) {
  CLI::App& command = add_command(app, "size", "What box or clamp frame to order");
  add_input_options(command, options.input);
  command.add_option("--save", options.save, "Write the build as ordered to this file");
  command.add_option("--drawing", options.drawing, "Write a drawing with its sizes: box.svg");
  command.add_option("--page", options.page, "Write the build sheet, to look at and print");
  command.add_flag("--json", options.json, "Print everything as JSON");
  command.add_flag("--assumed", options.assumed, "Print what is assumed, why and its worth");
  command.add_flag("--all", options.all, "Print every interval, offer and part");
  command.footer("For example:\n  stackfit size fixtures/order/metal_box.json\n");
}

void set_up_gauge(CLI::App& app, GaugeOptions& options) {
  CLI::App& command = add_command(app, "gauge", "The pressure now, from a bow, gap or spring");
  add_input_options(command, options.input);
  const std::string group = "What was read";
  const auto add = [&](const char* name, std::string& into, const char* meaning) {
    command.add_option(name, into, meaning)->group(group);
  };
  add("--bow", options.bow, "An end wall's bow now: 1.9mm");
  add("--empty-bow", options.empty_bow, "The same before the cells went in: 0.3mm");
  add("--at", options.at, "Where, from the wall's middle, right, up: 40,-20");
  add("--which-wall", options.wall, "The wall it was read on: first, last");
  add("--gap", options.gap, "Between the walls now, at that place");
  add("--empty-gap", options.empty_gap, "The same when empty");
  add("--spring-length", options.spring_length, "Of a frame's springs, one or each: 9.8,9.7mm");
  add("--torque", options.torque, "At which a frame's nuts turn on: 0.9N.m");
  add("--error", options.error, "A reading's standard uncertainty; else 0.05mm");
  add("--today", options.today_charge, "Charge today: 40%; not said: as built");
  add("--temperature", options.temperature, "Temperature today: 18C");
  command.add_option("--learn", options.learn, "Write the build with the softness this shows");
  command.add_flag("--json", options.json, "Print everything as JSON");
  command.footer(
      "For example:\n  stackfit gauge fixtures/shed_bank.json --bow 1.9mm --empty-bow 0.3mm\n");
}

void set_up_check(CLI::App& app, CheckOptions& options) {
  CLI::App& command = add_command(app, "check", "Can these cells, perhaps swollen, still be used");
  add_input_options(command, options.input);
  command.get_option("BUILD")->description("A build file or a table of cells; - is stdin");
  command.add_option("--log", options.log, "Dated readings; begun where there is no such file");
  command.add_option("--log-out", options.log_out, "Where the log with today's lines goes");
  command.add_option("--date", options.date, "The day the cells were measured: 2026-11-25");
  command.add_option("--charger", options.charger, "The old charger's charge voltage: 29.2V");
  command.add_option("--page", options.page, "Write the build sheet, to look at and print");
  command.add_flag("--json", options.json, "Print everything as JSON");
  command.add_flag("--assumed", options.assumed, "Print what is assumed, and why");
  command.add_flag("--all", options.all, "Print the growth of every cell");
  command.footer(
      "For example:\n"
      "  stackfit check fixtures/used_twelve.csv --thickness \"58.2+-0.4 mm\" \\\n"
      "    --set series=12 --charger 43.8V\n"
      "  stackfit check fixtures/four_years.json\n"
      "The log is never changed: a copy with today's lines goes beside it.\n");
}

// Not the library's own range: its words are others from one release to the next.
std::string outside_of_a_sheet(const std::string& written) {
  int cells = 0;
  const char* const end = written.data() + written.size();
  const auto [stop, error] = std::from_chars(written.data(), end, cells);
  const bool whole = error == std::errc() && stop == end;
  if (whole && cells >= 1 && cells <= most_cells_on_a_sheet) return {};
  return fmt::format("{} is not a whole number from 1 to {}", written, most_cells_on_a_sheet);
}

void set_up_new(CLI::App& app, NewOptions& options) {
  CLI::App& command = add_command(app, "new", "Write a build file by asking");
  command.add_option("FILE", options.file, "Where to write it; not given: standard output");
  CLI::Option* blank =
      command.add_flag("--blank", options.blank, "Print a form to fill in, without asking");
  CLI::Option* measure =
      command.add_flag("--measure", options.measure, "Print a sheet: where the calipers go")
          ->excludes(blank);
  command.add_option("--cells", options.cells, "Cells on that sheet, 8 if not said")
      ->needs(measure)
      ->check(outside_of_a_sheet)
      ->option_text("N");
  command.footer("For example:\n  stackfit new --measure --cells 16\n  stackfit new --blank\n");
  command.add_flag("--used", options.used, "Ask for signs and history of used cells too");
}

void set_up_softness(CLI::App& app, SoftnessOptions& options) {
  CLI::App& command = add_command(app, "softness", "Squeeze law of a cell from a press test");
  command.add_option("CSV", options.table, "Its readings; without: how to test, and a form");
  const auto add = [&](const char* name, std::string& into, const char* meaning) {
    return command.add_option(name, into, meaning);
  };
  add("--face", options.face, "The large flat side, pressed: 141x183");
  add("--thickness", options.thickness, "The data sheet's thickness line");
  add("--for", options.build, "Take face, thickness and band from a build")->option_text("BUILD");
  add("--range", options.range, "Face pressure it is wanted for: 50-150kPa");
  add("--reading-error", options.reading_error, "Of one reading, standard: 0.02mm");
  add("--units", options.units, "Units to print in: mm,kPa,kgf");
  command.add_flag("--json", options.json, "Print everything as JSON");
  command.footer(
      "For example:\n"
      "  stackfit softness\n"
      "  stackfit softness fixtures/press_test.csv --face 141x183 --thickness \"58.2 mm\"\n"
      "  stackfit softness fixtures/press_test.csv --for fixtures/shed_bank.json\n");
}

void set_up_sort(CLI::App& app, SortOptions& options) {
  CLI::App& command = add_command(app, "sort", "A pile of cells into several packs");
  command.add_option("CSV", options.table, "The pile's table of cells; - is standard input");
  const auto add = [&](const char* name, std::string& into, const char* meaning) {
    return command.add_option(name, into, meaning);
  };
  add("--packs", options.packs, "How many packs are wanted")->option_text("N");
  add("--cells", options.cells, "Cells in each; with --build as many as it has")->option_text("N");
  add("--build", options.build, "One pack's build: box, kit, kind of cell")->option_text("BUILD");
  add("--thickness", options.thickness, "The data sheet's thickness line");
  add("--face", options.face, "The large flat side: 152x188");
  add("--charge", options.charge, "Charge when measured: 40% or \"as shipped\"");
  command.add_option("--set", options.sets, "Change a value: path=value; may be repeated")
      ->allow_extra_args(false);
  add("--units", options.units, "Units to print in: mm,kPa,kgf");
  add("--save", options.save, "Write each pack: PREFIX_1.csv (or .json), ...")
      ->option_text("PREFIX");
  command.add_flag("--json", options.json, "Print everything as JSON");
  command.add_flag("--assumed", options.assumed, "Print what is assumed, and why");
  command.add_flag("--all", options.all, "Print every pack and every cell");
  command.footer(
      "First every pack is to be one that can be shimmed, then capacities within a\n"
      "pack are to match, then the rows of all packs to be equally long.\n"
      "For example:\n"
      "  stackfit sort fixtures/sort/pile.csv --packs 3 --cells 8\n"
      "  stackfit sort fixtures/sort/pile.csv --packs 3 --build fixtures/sort/box.json\n");
}

int run_chosen(const CLI::App& app, const Told& told, Console& console) {
  if (app.got_subcommand("pick")) {
    return run_answer(Question::pick, told.pick, console);
  }
  if (app.got_subcommand("pressure")) {
    return run_answer(Question::pressure, told.pressure, console);
  }
  if (app.got_subcommand("size")) {
    return run_size(told.size, console);
  }
  if (app.got_subcommand("gauge")) {
    return run_gauge(told.gauge, console);
  }
  if (app.got_subcommand("check")) {
    return run_check(told.check, console);
  }
  if (app.got_subcommand("softness")) {
    return run_softness(told.softness, console);
  }
  if (app.got_subcommand("sort")) {
    return run_sort(told.sort, console);
  }
  return run_new(told.make_new, console);
}

// Help and version go where results go; whatever else the parser says is a slip of the input.
int tell_parser_outcome(const CLI::App& app, const CLI::ParseError& outcome, Console& console) {
  std::ostringstream out;
  std::ostringstream err;
  const bool asked_for_text = app.exit(outcome, out, err) == 0;
  console.err << err.str();
  return asked_for_text ? deliver(console, out.str(), exit_inside) : exit_unusable;
}

bool names_no_command(const CLI::App& app, const std::string& word) {
  const auto called = [&](const CLI::App* command) { return command->get_name() == word; };
  return word.rfind('-', 0) != 0 && app.get_subcommands(called).empty();
}

int tell_commands(const CLI::App& app, const std::vector<std::string>& arguments,
                  Console& console) {
  if (!arguments.empty()) {
    console.err << '"' << printable(arguments.front()) << "\" is no command. ";
  }
  console.err << "Commands:\n";
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    console.err << "  stackfit " << command->get_name() << "  " << command->get_description()
                << '\n';
  }
  console.err << "stackfit --help says more.\n";
  return exit_unusable;
}

void set_up(CLI::App& app, Told& told) {
  app.set_version_flag("--version", std::string("stackfit ") + STACKFIT_VERSION);
  app.footer(help_end);
  app.require_subcommand(1);
  app.get_formatter()->label("SUBCOMMAND", "COMMAND");
  set_up_pick(app, told.pick);
  set_up_size(app, told.size);
  set_up_pressure(app, told.pressure);
  set_up_gauge(app, told.gauge);
  set_up_check(app, told.check);
  set_up_new(app, told.make_new);
  set_up_softness(app, told.softness);
  set_up_sort(app, told.sort);
}

int parse_and_run(const std::vector<std::string>& arguments, Console& console) {
  CLI::App app(purpose, program_name);
  Told told;
  set_up(app, told);
  if (arguments.empty() || names_no_command(app, arguments.front())) {
    return tell_commands(app, arguments, console);
  }
  // The library takes its arguments last first.
  std::vector<std::string> backwards(arguments.rbegin(), arguments.rend());
  try {
    app.parse(std::move(backwards));
  } catch (const CLI::ParseError& outcome) {
    return tell_parser_outcome(app, outcome, console);
  }
  return run_chosen(app, told, console);
}

}  // namespace

TreeCommand command_tree() {
  CLI::App app(purpose, program_name);
  Told told;
  set_up(app, told);
  return tree_of(app);
}

int run_command_line(const std::vector<std::string>& arguments, Console& console) {
  try {
    return parse_and_run(arguments, console);
  } catch (const UnusableBuild& failure) {
    console.err << "stackfit: " << failure.what() << '\n';
    return exit_unusable;
  } catch (const std::exception& failure) {
    console.err << "stackfit failed; this is a fault of the program, not of your input: "
                << failure.what() << '\n';
  } catch (...) {
    console.err << "stackfit failed; this is a fault of the program, not of your input\n";
  }
  return exit_failed;
}

}  // namespace stackfit::cli
