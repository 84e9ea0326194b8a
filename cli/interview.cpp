// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/interview.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <istream>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "cli/cells_csv.hpp"
#include "cli/data_lines.hpp"
#include "cli/interview_answers.hpp"
#include "cli/pretty_json.hpp"
#include "cli/quantity.hpp"
#include "cli/text_lines.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr int format_version = 1;
constexpr const char* greeting =
    "A build file in at most twelve questions. Enter alone means \"I don't know\": then the "
    "program assumes a figure, and marks what rests on it. Lengths are in mm unless you write "
    "another unit.";
constexpr const char* file_head =
    "Written by stackfit new. Change what you like, and ask again: stackfit pick. How well you "
    "know a figure goes under \"uncertainty\": box_length, charge, softness and others.";

// Thrown by the one place that reads, so that no question needs to care.
struct InputEnded {};

class Interview {
 public:
  Interview(std::istream& in, std::ostream& out, const InterviewOptions& options)
      : in_(in), out_(out), options_(options) {}

  std::string run() {
    say(greeting);
    document_["stackfit"] = format_version;
    ask_chemistry();
    ask_count();
    ask_face();
    ask_thickness();
    ask_force();
    ask_readings();
    ask_charge();
    ask_length();
    ask_wall();
    ask_opens();
    ask_kit();
    ask_use();
    if (options_.used) ask_history();
    return file_text();
  }

 private:
  void say(std::string_view text) {
    TextLines lines(false);
    lines.wrapped(text, {0, 0});
    out_ << lines.text();
  }

  std::string line(std::string_view prompt) {
    say(prompt);
    out_ << "> " << std::flush;
    std::string typed;
    if (!std::getline(in_, typed)) throw InputEnded{};
    if (!typed.empty() && typed.back() == '\r') typed.pop_back();
    return std::string(trimmed(typed));
  }

  void question(std::string_view text) {
    out_ << '\n';
    say(fmt::format("{}. {}", ++number_, text));
  }

  template <class Value>
  void explain(const Parsed<Value>& parsed) {
    say("That was not understood. Allowed: " + printable(parsed.allowed) +
        (parsed.mend.empty() ? "." : " (" + printable(parsed.mend) + ")."));
  }

  // Asks until the answer can be read or is left out.
  template <class Reader>
  auto ask(std::string_view prompt, const Reader& reader) -> decltype(reader(std::string_view{})) {
    while (true) {
      const std::string typed = line(prompt);
      if (is_blank(typed)) return {};
      auto parsed = reader(std::string_view(typed));
      if (parsed.ok()) {
        if (!parsed.note.empty()) say("(" + parsed.note + ".)");
        typed_ = typed;
        return parsed;
      }
      explain(parsed);
    }
  }

  // The same for a fact without a default: Enter is answered once with why it is needed.
  template <class Reader>
  auto ask_fact(std::string_view prompt, std::string_view why, const Reader& reader)
      -> decltype(reader(std::string_view{})) {
    auto answer = ask(prompt, reader);
    if (answer.ok()) return answer;
    say(why);
    answer = ask(prompt, reader);
    if (!answer.ok()) say("Left blank in the file: fill it in before you run stackfit pick.");
    return answer;
  }

  void unknown(std::string what) { unknown_.push_back(std::move(what)); }

  template <class Meaning>
  static auto word_reader(std::span<const Word<Meaning>> words) {
    return [words](std::string_view text) -> Parsed<std::string> {
      const auto meaning = find_word(words, trimmed(text));
      if (!meaning) return {std::nullopt, word_list(words), {}, {}};
      return {std::string(first_word(words, *meaning)), {}, {}, {}};
    };
  }

  void ask_chemistry();
  void ask_count();
  void ask_face();
  void ask_thickness();
  void ask_force();
  void ask_readings();
  bool ask_one_way(const std::string& prompt);
  void take_readings(const MeasuringWay& way);
  void ask_charge();
  void ask_length();
  void ask_wall();
  void ask_opens();
  void ask_kit();
  void ask_use();
  void ask_history();
  std::string file_text();

  [[nodiscard]] Json bare_cells() const {
    Json cells = Json::array();
    for (std::size_t cell = 1; cell <= cells_; ++cell) {
      cells.push_back({{"id", std::to_string(cell)}});
    }
    return cells;
  }

  std::istream& in_;
  std::ostream& out_;
  const InterviewOptions& options_;
  int number_ = 0;
  std::string typed_;  ///< the last answer that was understood
  std::size_t cells_ = 0;
  Json document_ = Json::object();
  std::vector<std::string> unknown_;
};

void Interview::ask_chemistry() {
  question("What chemistry are the cells?");
  const auto answer = ask("LFP or NMC", word_reader(chemistry_words()));
  if (answer.ok()) {
    document_["cell"]["chemistry"] = *answer.value;
  } else {
    unknown("the chemistry");
  }
}

void Interview::ask_count() {
  question("How many cells are in the row, and how are they connected?");
  const auto answer =
      ask_fact("such as 8s, or 4s2p: 4 groups in series of 2 in parallel",
               "The row cannot be worked out without the number of cells. Count them, or press "
               "Enter once more to leave a blank.",
               read_cell_count);
  if (!answer.ok()) {
    document_["series"] = "";
    document_["parallel"] = "";
    return;
  }
  cells_ = static_cast<std::size_t>(answer.value->cells);
  if (answer.value->series) document_["series"] = *answer.value->series;
  if (answer.value->parallel) document_["parallel"] = *answer.value->parallel;
  if (!answer.value->series) unknown("series and parallel");
}

void Interview::ask_face() {
  question("How large is the cell's big flat side, without the terminals?");
  const auto reader = [](std::string_view text) {
    auto face = read_face(text);
    if (face.ok() && (face.value->width_mm <= 0 || face.value->height_mm <= 0)) {
      return Parsed<FaceSize>{std::nullopt, "sides above zero, such as 152x188", {}, {}};
    }
    return face;
  };
  const auto answer =
      ask_fact("width x height in mm, such as 152x188",
               "Pressure is force on this face, so its size must be known. Measure it, or press "
               "Enter once more to leave a blank.",
               reader);
  Json& face = document_["cell"]["face"];
  face["width"] = answer.ok() ? Json(answer.value->width_mm) : Json("");
  face["height"] = answer.ok() ? Json(answer.value->height_mm) : Json("");
}

void Interview::ask_thickness() {
  question("What does the data sheet print for the thickness?");
  const auto answer =
      ask_fact("the line as printed, such as 63.4±0.6 mm 30-40% 240kgf",
               "Without a data sheet, the thickness you measured will do, such as 63.5. Enter once "
               "more leaves a blank.",
               read_thickness_line);
  document_["cell"]["thickness"] = answer.ok() ? Json(typed_) : Json("");
}

void Interview::ask_force() {
  question("What force does the data sheet print, and when does it apply?");
  const auto reader = [](std::string_view text) { return read_toleranced(text, Dimension::force); };
  const auto force = ask("the line as printed, such as 240kgf ±15", reader);
  if (!force.ok()) {
    unknown("the maker's force: ask the maker, and when it applies");
    return;
  }
  Json& said = document_["cell"]["makers_force"];
  said["value"] = typed_;
  const auto when =
      ask("when: assembly, always, never above, or not said", word_reader(force_when_words()));
  said["when"] = when.ok() ? *when.value : std::string("not said");
}

// Readings of one way, for all cells, into the list.
void Interview::take_readings(const MeasuringWay& way) {
  const auto reader = [&](std::string_view text) {
    auto lengths = read_lengths(text);
    if (lengths.ok() && cells_ > 0 && lengths.value->size() != cells_) {
      return Parsed<std::vector<std::string>>{
          std::nullopt,
          fmt::format("{} readings, one for each cell from the fixed wall on", cells_),
          fmt::format("there are {}", lengths.value->size()),
          {}};
    }
    return lengths;
  };
  const auto readings =
      ask(fmt::format("the {} readings, with spaces or commas between", way.key), reader);
  if (!readings.ok()) return;
  cells_ = readings.value->size();
  Json& cells = document_["cells"];
  if (cells.is_null()) cells = bare_cells();
  for (std::size_t index = 0; index < cells_; ++index) {
    const std::string& text = (*readings.value)[index];
    const auto number = read_number(text);
    const Json value = number ? Json(*number) : Json(text);
    if (way.key == "pressed") {
      cells[index][way.key] = {{"value", value}, {"force", way.force}};
    } else {
      cells[index][way.key] = value;
    }
  }
}

// True where there may be another way.
bool Interview::ask_one_way(const std::string& prompt) {
  const auto reader = [&](std::string_view text) {
    auto way = read_way(text);
    if (!way.ok() || way.value->table.empty()) return way;
    const auto path = (std::filesystem::path(options_.folder) / way.value->table).string();
    const CellsTable table = read_cells_table(read_text_file(path));
    if (table.problems.empty()) return way;
    return Parsed<MeasuringWay>{
        std::nullopt, "a table that can be read", table.problems.front().found, {}};
  };
  const auto way = ask(prompt, reader);
  if (!way.ok()) return false;
  if (way.value->table.empty()) {
    take_readings(*way.value);
    return document_.contains("cells");
  }
  document_["measured"] = way.value->table;
  return false;
}

void Interview::ask_readings() {
  question(
      "How were the cells measured? edge: calipers 10 mm in from the rim; middle: deep jaw; "
      "boards: "
      "between two flat boards; pressed: between plates under a known force.");
  bool more = ask_one_way("edge, middle, boards, pressed 100kgf, or a table such as cells.csv");
  while (more) more = ask_one_way("measured another way as well? (Enter: no)");
  if (document_.contains("cells") || document_.contains("measured")) return;
  unknown("what the cells measure: calipers on every cell are worth most");
  // Where series was not said, the list alone holds the count.
  if (cells_ > 0 && !document_.contains("series")) document_["cells"] = bare_cells();
}

void Interview::ask_charge() {
  question("At what charge were they measured?");
  const auto reader = [](std::string_view text) -> Parsed<std::string> {
    if (same_words(trimmed(text), "as shipped")) return {"as shipped", {}, {}, {}};
    const auto span = read_span(text, Dimension::charge);
    if (!span.ok()) return {std::nullopt, span.allowed + ", or as shipped", span.mend, {}};
    if (span.value->low < 0 || span.value->high > 1) {
      return {std::nullopt, "0 to 100 %", {}, {}};
    }
    return {std::string(trimmed(text)), {}, {}, {}};
  };
  const auto answer = ask("such as 38 %, or as shipped", reader);
  if (answer.ok()) {
    document_["measured_charge"] = *answer.value;
  } else {
    unknown("the charge when measured");
  }
}

void Interview::ask_length() {
  question("How long is the box inside, along the row? Measure in several places.");
  const auto answer =
      ask_fact("in mm, such as 517.0 516.8 517.2",
               "This decides how many shims go in, so it has no default. Measure it, or press "
               "Enter once more to leave a blank.",
               read_lengths);
  Json& length = document_["box"]["inner"]["length"];
  if (!answer.ok()) {
    length = "";
    return;
  }
  length = Json::array();
  for (const std::string& text : *answer.value) {
    const auto number = read_number(text);
    length.push_back(number ? Json(*number) : Json(text));
  }
}

void Interview::ask_wall() {
  question("How thick are the end walls, of what, and how are they joined? And the lid?");
  const auto reader = [](std::string_view text) {
    auto wall = read_wall(text);
    if (wall.ok() && wall.value->thickness_mm && *wall.value->thickness_mm <= 0) {
      return Parsed<PlateWall>{std::nullopt, "a thickness above zero", {}, {}};
    }
    return wall;
  };
  const auto wall = ask("such as 3 mm aluminium folded (or welded, or screwed)", reader);
  if (wall.ok()) {
    document_["box"]["end_walls"] = typed_;
  } else {
    unknown("the end walls");
  }
  const auto lid = ask("the lid: none, loose or screwed", word_reader(lid_words()));
  if (lid.ok()) {
    document_["box"]["lid"] = *lid.value;
  } else {
    unknown("the lid");
  }
}

void Interview::ask_opens() {
  question("Can an end wall come off, so that it goes on last?");
  const auto answer = ask("one, both or no", read_opens);
  if (answer.ok()) {
    document_["box"]["opens"] = *answer.value;
  } else {
    unknown("whether an end wall comes off");
  }
}

void Interview::ask_kit() {
  question("Which shims are on hand, and what are they made of?");
  auto kit = ask("thickness x how many, such as 0.8x14 0.5x12", read_kit);
  if (!kit.ok()) {
    unknown("the shims on hand");
    return;
  }
  const auto is_said = [](const Json& shim) { return shim.contains("material"); };
  if (!std::ranges::all_of(*kit.value, is_said)) {
    const auto material = ask("the material: " + word_list(sheet_material_words()),
                              word_reader(sheet_material_words()));
    if (!material.ok()) unknown("what the shims are made of");
    for (Json& shim : *kit.value) {
      if (material.ok() && !is_said(shim)) shim["material"] = *material.value;
    }
  }
  document_["kit"] = std::move(*kit.value);
}

void Interview::ask_use() {
  question("How empty and how full will the battery be run?");
  const auto reader = [](std::string_view text) {
    auto span = read_span(text, Dimension::charge);
    if (span.ok() &&
        (span.value->low < 0 || span.value->high > 1 || span.value->low >= span.value->high)) {
      return Parsed<Span>{std::nullopt, "from empty to full, such as 10-90 %", {}, {}};
    }
    return span;
  };
  const auto answer = ask("such as 10-90 %", reader);
  if (answer.ok()) {
    document_["use"]["charge"] = typed_;
  } else {
    unknown("how empty and full it is run");
  }
}

void Interview::ask_history() {
  question(
      "Look at each used cell: smell, leak, heat, dent, soft, noisy, colour? A cell with any of "
      "them is set aside outdoors, never pressed.");
  const std::size_t count = cells_;
  if (count > 0 && !document_.contains("measured")) {
    const auto answer = ask("none, or the cell and what you see: 3 dent, 5 smell",
                            [count](std::string_view text) { return read_signs(text, count); });
    if (answer.ok()) {
      Json& cells = document_["cells"];
      if (cells.is_null()) cells = bare_cells();
      for (Json& cell : cells) cell["signs"] = "none";
      for (const CellSign& sign : *answer.value) cells[sign.cell - 1]["signs"] = sign.sign;
    } else {
      unknown("signs on the cells");
    }
  } else {
    say("Write them into the column \"signs\" of the table, cell by cell.");
  }
  const std::string history = line("their history in a few words: age, use, how they were stored");
  if (is_blank(history)) {
    unknown("the cells' history");
  } else {
    document_["cell"]["note"] = "History: " + history;
  }
}

std::string Interview::file_text() {
  Json ordered = Json::object();
  ordered["stackfit"] = document_["stackfit"];
  if (!unknown_.empty()) {
    ordered["note"] =
        fmt::format("Not known when this was written: {}.", fmt::join(unknown_, "; "));
  }
  for (const char* key : {"series", "parallel", "cell", "cells", "measured", "measured_charge",
                          "box", "kit", "use"}) {
    if (document_.contains(key)) ordered[key] = std::move(document_[key]);
  }
  const Comments comments{
      {"/cell", "the data sheet's figures, as printed"},
      {"/cells", "from the fixed wall on; lengths in mm"},
      {"/measured", "a table beside this file"},
      {"/box", "inside, along the row"},
      {"/kit", "the shims on hand"},
  };
  return pretty_json(ordered, comments, file_head);
}

}  // namespace

std::optional<std::string> interview(std::istream& in, std::ostream& out,
                                     const InterviewOptions& options) {
  try {
    return Interview(in, out, options).run();
  } catch (const InputEnded&) {
    out << "\nThe input ended before the last question: nothing was written.\n";
    return std::nullopt;
  }
}

}  // namespace stackfit::cli
