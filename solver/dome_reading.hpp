// SPDX-License-Identifier: GPL-3.0-or-later
//
// The dome of a cell as it was measured face by face: by a grid of points, or by a straightedge
// and feelers.
//
// For: putting the two faces together, and the one where only one was read. Part of
// resolve_row. Not for: fitting one face (dome_fit.hpp), or a dome by calipers (row_cells.cpp).
#pragma once

#include <optional>
#include <string>

#include "solver/row_parts.hpp"

namespace stackfit {

struct MeasuredDome {
  double height_mm = 0;  ///< both faces together; negative: hollow
  CellDome dome;
  /// At the rim, where points of both faces lie in one coordinate system: between the two fitted
  /// planes at the middle of the face.
  std::optional<double> edge_mm;
};

/// Empty where no face was measured by itself. Points beat a straightedge on the same face. Notes
/// each reading that is off. Throws std::invalid_argument for points no reader lets through.
[[nodiscard]] std::optional<MeasuredDome> measured_dome(const Resolution& resolution,
                                                        const std::string& id,
                                                        const CellReading& reading);

/// The same with what takes milliseconds and decides nothing: the flatness of each face and,
/// where both lie in one coordinate system, what boards would read.
[[nodiscard]] CellDome with_flatness(CellDome dome, const FacePoints& points);

/// How far the highest points stand out beyond the edge, both faces together: what boards see of
/// the dome. A hollow face stands out by nothing.
[[nodiscard]] double dome_beyond_edge_mm(const CellDome& dome);

/// A face's points as seen from it, z outwards. Of two faces in one coordinate system the back's
/// are turned about.
[[nodiscard]] std::vector<FacePoint> outward_points(const FacePoints& points, bool front);

}  // namespace stackfit
