// SPDX-License-Identifier: GPL-3.0-or-later
//
// Rows between walls, put together by hand from rectangles: what tests solve as columns.
//
// For: tests of columns.hpp without a build and its resolution (row.hpp).
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "solver/columns.hpp"
#include "solver/law.hpp"

namespace stackfit::testing {

struct Rectangle {
  double x_mm = 0;  ///< of the lower left corner, on the wall
  double y_mm = 0;
  double width_mm = 0;
  double height_mm = 0;

  [[nodiscard]] double area_mm2() const { return width_mm * height_mm; }
  [[nodiscard]] geometry::Outline outline() const {
    return geometry::rounded_rectangle({width_mm, height_mm, 0},
                                       {x_mm + 0.5 * width_mm, y_mm + 0.5 * height_mm});
  }
};

struct HandDome {
  double height_mm = 0;
  double slack_mm = 0;
};

/// A foam that takes no more from 0.7 of its thickness; stresses in MPa, times the scale.
inline LawPtr foam(double scale) {
  std::vector<double> stress{0, 0.044, 0.08, 0.128, 0.192, 0.336, 0.72};
  for (double& each : stress) {
    each *= scale;
  }
  return std::make_shared<TableLaw>(std::vector<double>{0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.7}, stress);
}

struct HandPad {
  LawPtr law;
  double thickness_mm = 0;
  std::optional<Rectangle> patch;  ///< none: the whole face
  double gap_outside_mm = 0;       ///< shorter by so much where the pad is not
};

struct HandRow {
  Rectangle face;
  LawPtr cell_law;
  double cells_mm = 0;  ///< reference thickness of all cells together
  std::vector<HandDome> domes;
  double sheets_give_mm_per_mpa = 0;
  std::vector<HandPad> pads;
};

/// Edges in the order left, right, bottom, top.
inline WallPlate hand_wall(const PlateSection& section, const Rectangle& whole,
                           const std::array<PlateEdge, 4>& edges) {
  WallPlate wall;
  wall.section = section;
  wall.left = {{0, whole.height_mm, edges[0]}};
  wall.right = {{0, whole.height_mm, edges[1]}};
  wall.bottom = {{0, whole.width_mm, edges[2]}};
  wall.top = {{0, whole.width_mm, edges[3]}};
  return wall;
}

inline constexpr std::array<PlateEdge, 4> open_top{PlateEdge::fixed, PlateEdge::fixed,
                                                   PlateEdge::fixed, PlateEdge::free};

/// The pair's faces and sheets by its rows.
inline WallPair with_rows(WallPair pair, const std::vector<HandRow>& rows) {
  for (const HandRow& row : rows) {
    pair.faces.push_back(row.face.outline());
    for (const HandPad& pad : row.pads) {
      if (pad.patch) {
        pair.sheets.push_back(pad.patch->outline());
      }
    }
  }
  return pair;
}

/// Dome of all cells of a row at a point, phi with exponent 2.
inline double hand_bulge_mm(const HandRow& row, const geometry::Point& at) {
  const double xi = 2 * (at.x_mm - row.face.x_mm) / row.face.width_mm - 1;
  const double eta = 2 * (at.y_mm - row.face.y_mm) / row.face.height_mm - 1;
  const double phi = std::pow((1 - xi * xi) * (1 - eta * eta), 2);
  double sum = 0;
  for (const HandDome& dome : row.domes) {
    const double bulge = dome.height_mm * phi;
    sum += dome.height_mm > 0 ? std::max(0.0, bulge - dome.slack_mm) : bulge;
  }
  return sum;
}

/// A region for each face and set of pads on it, with the shift of what is missing there.
struct HandSetup {
  ColumnsSetup setup;
  std::vector<double> region_shift_mm;

  [[nodiscard]] ColumnsLoad load(std::vector<double> interference_mm) const {
    ColumnsLoad made;
    made.interference_mm = std::move(interference_mm);
    made.region_shift_mm = region_shift_mm;
    return made;
  }
};

inline HandSetup hand_setup(std::shared_ptr<const WallModes> walls,
                            const std::vector<HandRow>& rows) {
  HandSetup made;
  const std::vector<ColumnPoint>& points = walls->mesh().points;
  std::vector<std::pair<int, std::uint64_t>> regions;
  made.setup.bulge_mm.resize(static_cast<Eigen::Index>(points.size()));
  for (std::size_t q = 0; q < points.size(); ++q) {
    const HandRow& row = rows[static_cast<std::size_t>(points[q].face)];
    made.setup.bulge_mm[static_cast<Eigen::Index>(q)] = hand_bulge_mm(row, points[q].at);
    const std::pair<int, std::uint64_t> key{points[q].face, points[q].sheets};
    const auto known = std::find(regions.begin(), regions.end(), key);
    made.setup.region.push_back(static_cast<int>(known - regions.begin()));
    if (known != regions.end()) {
      continue;
    }
    regions.push_back(key);
    ColumnLaw law;
    law.add(row.cell_law, row.cells_mm);
    law.add_give(row.sheets_give_mm_per_mpa);
    double shift = 0;
    // Patches are counted through all rows, as with_rows lists them.
    int patch = 0;
    for (const HandRow& each : rows) {
      for (const HandPad& pad : each.pads) {
        const bool covers = !pad.patch || (points[q].sheets >> patch & 1U) != 0;
        patch += pad.patch ? 1 : 0;
        if (&each != &row) {
          continue;
        }
        if (covers) {
          law.add(pad.law, pad.thickness_mm);
        } else {
          shift -= pad.gap_outside_mm;
        }
      }
    }
    made.setup.laws.push_back(std::move(law));
    made.region_shift_mm.push_back(shift);
  }
  made.setup.walls = std::move(walls);
  return made;
}

}  // namespace stackfit::testing
