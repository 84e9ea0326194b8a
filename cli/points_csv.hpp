// SPDX-License-Identifier: GPL-3.0-or-later
//
// Tables of heights read over the faces of cells -> "points" of each cell in the document.
//
// One line for each reading, columns in any order:
//     cell, face, x (mm), y (mm), z (mm)
//  - cell: the cell's id. Without this column the whole table is of the cell that names it, with
//    it one table may be named by many cells; lines of other cells are passed over, and said.
//  - face: front or back.
//  - x to the right and y upwards from the middle of the face, as seen from that face.
//  - z: height outwards (the middle of a swollen face reads more), from any plane of the face's
//    own; tilt does not matter. A line without z is a place that was not read.
//  - common_z in place of z: both faces in one coordinate system, x and y as seen from the front,
//    z from back to front. The thickness then follows as well.
//
// For: where each figure stands, so that it is complained of there. Not for: checking the figures
// (convert_points.cpp), which come to it as if they had been written in the build file.
#pragma once

#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/places.hpp"
#include "cli/read_build.hpp"
#include "cli/text_file.hpp"

namespace stackfit::cli {

struct PointsField {
  nlohmann::ordered_json value;  ///< a number, or text with its unit
  TextPlace place;
};
struct PointsLine {
  std::string cell;
  bool front = true;
  TextPlace place;
  PointsField x;
  PointsField y;
  PointsField z;
};
struct PointsTable {
  std::vector<PointsLine> lines;
  bool by_cell = false;   ///< it has the column "cell"
  bool common_z = false;  ///< it has the column "common_z"
  std::vector<Problem> problems;
};

[[nodiscard]] PointsTable read_points_table(const TextFile& file);

struct LoadedPoints {
  std::vector<Problem> problems;
  std::vector<ReadingNote> notes;
  std::vector<std::string> files;  ///< every table read, each once
};

/// Puts the tables' points in place of their names, in all cells of the document. A name stays
/// where its table could not be read. `path_of` turns a name into a path, and `read_table` reads
/// it.
[[nodiscard]] LoadedPoints load_points(
    nlohmann::ordered_json& document, Places& places,
    const std::function<std::string(std::string)>& path_of,
    const std::function<TextFile(const std::string&)>& read_table);

/// A cell's id, or else its place in the list, from 1.
[[nodiscard]] std::string id_of_cell(const nlohmann::ordered_json& cell, std::size_t index);

}  // namespace stackfit::cli
