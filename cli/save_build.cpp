// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/save_build.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <ctime>
#include <utility>

#include "cli/points_csv.hpp"
#include "cli/pretty_json.hpp"
#include "cli/whole_file.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

// Twelve figures: far finer than anything measured, and 38 rather than 37.99999999999999.
std::string in(double value, std::string_view unit) {
  return fmt::format("{:.12g} {}", value, unit);
}

std::string percent_text(double fraction) {
  return in(fraction * 100, "%");
}

void add_placed(Json& placed, const PlanResult& plan) {
  for (const GapResult& gap : plan.gaps) {
    Json sheets = Json::array();
    for (const GapSheet& sheet : gap.sheets) {
      if (sheet.origin != SheetOrigin::kit) {
        continue;
      }
      sheets.push_back({{"name", sheet.name}, {"count", sheet.count}});
    }
    placed.push_back({{"gap", gap.name}, {"sheets", sheets}});
  }
}

Json placed_json(const Answer& answer) {
  Json placed = Json::array();
  if (answer.rows.empty()) {
    add_placed(placed, answer.plan);
  }
  for (const Answer& row : answer.rows) {
    add_placed(placed, row.plan);
  }
  return placed;
}

// The cells as they stand in the answer. A cell without an id keeps the number it had.
void put_in_order(Json& cells, const Answer& answer) {
  if (!answer.order || answer.order->moved == 0 || !cells.is_array()) {
    return;
  }
  const Json as_given = cells;
  const auto first = static_cast<std::size_t>(answer.first_cell) - 1;
  for (std::size_t i = 0; i < answer.order->places.size(); ++i) {
    const auto from = static_cast<std::size_t>(answer.order->places[i]) - 1;
    Json cell = as_given[from];
    if (cell.is_object()) {
      cell["id"] = id_of_cell(cell, from);
    }
    cells[first + i] = std::move(cell);
  }
}

void add_note(Json& document, std::string_view date) {
  const std::string said = document.contains("note") && document["note"].is_string()
                               ? document["note"].get<std::string>() + "\n"
                               : std::string();
  document["note"] =
      said + fmt::format("Sheets placed and build state written by stackfit on {}.", date);
}

}  // namespace

Json saved_document(const ReadBuild& read, const Answer& answer, std::string_view date) {
  Json document = read.document;
  document["placed"] = placed_json(answer);
  if (document.contains("cells")) {
    put_in_order(document["cells"], answer);
    for (const Answer& row : answer.rows) {
      put_in_order(document["cells"], row);
    }
  }
  if (!document.contains("build")) {
    document["build"] = Json::object();
  }
  document["build"]["charge"] = percent_text(answer.build_charge);
  document["build"]["temperature"] = in(answer.build_temperature_c, "C");
  add_note(document, date);
  return document;
}

std::string today() {
  // fmt::localtime is the thread-safe one.
  return fmt::format("{:%Y-%m-%d}", fmt::localtime(std::time(nullptr)));
}

void save_build(const std::string& path, const ReadBuild& read, const Answer& answer) {
  write_whole_file(path, pretty_json(saved_document(read, answer, today())), read.files);
}

}  // namespace stackfit::cli
