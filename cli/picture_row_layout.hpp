// SPDX-License-Identifier: GPL-3.0-or-later
//
// Where everything of a row stands in its drawing: strips, scale, walls with their bow, labels.
//
// For: picture_row.cpp. Not for: drawing.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "cli/drawing_row.hpp"
#include "solver/answer.hpp"

namespace stackfit::cli {

/// The cells of one strip, and what of the row's length it shows. It ends behind the gap after its
/// last cell; only the first strip begins with a gap.
struct RowStrip {
  std::size_t first = 0;
  std::size_t last = 0;  ///< behind the last cell; also the last gap
  double from_mm = 0;
  double to_mm = 0;
};

/// An end wall or plate seen along one of its lines.
struct DrawnWall {
  std::string name;  ///< `fixed wall`
  double thickness_mm = 0;
  bool comes_off = false;                  ///< and goes on last
  std::vector<double> up_mm = {0, 0};      ///< deflection at even steps, from the floor up
  std::vector<double> across_mm = {0, 0};  ///< and from side to side
};

struct RowLayout {
  const Answer* answer = nullptr;
  RowSpots spots;
  double length_mm = 0;
  std::vector<RowStrip> strips;
  double scale = 1;  ///< user units for one mm
  double left = 0;   ///< where each strip begins: a short row stands in the middle
  double face_width_mm = 0;
  double face_height_mm = 0;
  double wall_width_mm = 0;
  double wall_height_mm = 0;
  DrawnWall first_wall;
  DrawnWall last_wall;
  int bow_times = 1;   ///< exaggeration of the bow; 1 too where there is none
  int dome_times = 0;  ///< of swollen cells' domes; 0: no cell is swollen
  double greatest_bow_mm = 0;
  /// What stands over each gap: its sheets; or, where those of any gap are too long for a line, a
  /// letter and what they come to, and the letters' key.
  std::vector<std::string> gap_labels;
  std::vector<std::string> gap_key;

  [[nodiscard]] double units(double mm) const { return mm * scale; }
  /// x of a place along the row in a strip.
  [[nodiscard]] double x(const RowStrip& strip, double along_mm) const;
};

/// Room left and right of a row for walls, their bow and their names.
inline constexpr double row_margin = 40;

/// The answer must have a plan.
[[nodiscard]] RowLayout row_layout(const Answer& answer);

/// `0.80`, `2 x 0.50` (with the sign for times), `pad 3.00`: one for each kind of sheet in the gap.
[[nodiscard]] std::vector<std::string> sheet_texts(const GapResult& gap);
/// All of them; empty for a gap with nothing in it.
[[nodiscard]] std::string sheets_text(const GapResult& gap);
[[nodiscard]] bool holds_pad(const GapResult& gap);
/// All of it in sentences: what from the first wall on stands where.
[[nodiscard]] std::string row_in_words(const RowLayout& layout);
/// Shorter: how its cells are turned.
[[nodiscard]] std::string polarity_in_words(const RowLayout& layout);

}  // namespace stackfit::cli
