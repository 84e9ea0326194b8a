// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/save_packs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <stdexcept>
#include <string_view>

#include "cli/csv.hpp"
#include "cli/pretty_json.hpp"
#include "cli/save_build.hpp"
#include "cli/text_file.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

std::string name_of(const std::string& prefix, std::size_t pack, std::string_view ending) {
  std::error_code error;
  const std::filesystem::path path(prefix);
  const bool folder = prefix.ends_with('/') || std::filesystem::is_directory(path, error);
  return folder ? (path / fmt::format("pack_{}.{}", pack, ending)).string()
                : fmt::format("{}_{}.{}", prefix, pack, ending);
}

Json placed_json(const SortAnswer& answer, const PackPlan& plan) {
  Json placed = Json::array();
  for (std::size_t gap = 0; gap < plan.counts.size(); ++gap) {
    Json sheets = Json::array();
    for (std::size_t kind = 0; kind < answer.kit.size(); ++kind) {
      if (plan.counts[gap][kind] > 0) {
        sheets.push_back({{"name", answer.kit[kind]}, {"count", plan.counts[gap][kind]}});
      }
    }
    placed.push_back({{"gap", answer.gaps[gap]}, {"sheets", sheets}});
  }
  return placed;
}

std::string build_text(const ReadBuild& pile, const ReadBuild& box, const SortAnswer& answer,
                       const SortedPack& pack, std::size_t number) {
  Json document = box.document;
  for (const char* key : {"measured", "row", "placed", "cells"}) {
    document.erase(key);
  }
  const std::string title = document.contains("title") && document["title"].is_string()
                                ? document["title"].get<std::string>() + ", "
                                : std::string();
  document["title"] = title + fmt::format("pack {}", number);
  for (const std::size_t place : pack.cells) {
    document["cells"].push_back(pile.document["cells"][place]);
  }
  if (pack.plan && pack.plan->passes) {
    document["placed"] = placed_json(answer, *pack.plan);
  }
  const std::string said = document.contains("note") && document["note"].is_string()
                               ? document["note"].get<std::string>() + "\n"
                               : std::string();
  document["note"] = said + fmt::format("Cells sorted into packs by stackfit on {}.", today());
  return pretty_json(document);
}

/// The table's text line by line: where each begins.
std::vector<std::size_t> line_starts(std::string_view text) {
  std::vector<std::size_t> starts{0};
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '\n') {
      starts.push_back(at + 1);
    }
  }
  return starts;
}

/// A row of the table as it stands, with a line's end behind it. Quotes may hold line ends: a row
/// goes on to where the next begins.
class TableRows {
 public:
  explicit TableRows(const TextFile& file) : text_(file.text), csv_(read_csv(file)) {
    starts_ = line_starts(text_);
  }
  [[nodiscard]] std::string header() const { return piece(csv_.header, 0); }
  [[nodiscard]] std::size_t count() const { return csv_.rows.size(); }
  [[nodiscard]] std::string row(std::size_t place) const {
    return piece(csv_.rows[place], place + 1);
  }

 private:
  [[nodiscard]] std::size_t start(const CsvRow& row) const {
    return starts_[static_cast<std::size_t>(row.front().line - 1)];
  }
  [[nodiscard]] std::string piece(const CsvRow& row, std::size_t next) const {
    const std::size_t from = start(row);
    const std::size_t to = next < csv_.rows.size() ? start(csv_.rows[next]) : text_.size();
    std::string out = text_.substr(from, to - from);
    while (!out.empty() && (out.back() == '\n' || out.back() == '\r')) {
      out.pop_back();
    }
    return out + "\n";
  }

  std::string text_;
  Csv csv_;
  std::vector<std::size_t> starts_;
};

}  // namespace

std::vector<FileToWrite> pack_files(const std::string& prefix, const std::string& table,
                                    const ReadBuild& pile, const ReadBuild* box,
                                    const SortAnswer& answer) {
  std::vector<FileToWrite> files;
  if (box != nullptr) {
    for (const SortedPack& pack : answer.packs) {
      const std::size_t number = files.size() + 1;
      files.push_back(
          {name_of(prefix, number, "json"), build_text(pile, *box, answer, pack, number)});
    }
    return files;
  }
  const TableRows rows(read_text_file(table));
  if (rows.count() != answer.pile) {
    throw std::runtime_error(
        fmt::format("{} was not written: {} has lines that hold no cell; take them out",
                    name_of(prefix, 1, "csv"), table));
  }
  for (const SortedPack& pack : answer.packs) {
    FileToWrite file{name_of(prefix, files.size() + 1, "csv"), rows.header()};
    for (const std::size_t place : pack.cells) {
      file.text += rows.row(place);
    }
    files.push_back(std::move(file));
  }
  return files;
}

}  // namespace stackfit::cli
