// SPDX-License-Identifier: GPL-3.0-or-later
//
// Thicknesses that are commonly sold [mm], thinnest first: common practice of metal and plastics
// merchants. An answer that rests on them says so.
//
// For: what to order where the person did not say what is on sale (order.hpp).
// Not for: threads (threads.hpp) or springs (disc_stock.hpp).
#pragma once

#include <array>
#include <span>

#include "solver/build.hpp"

namespace stackfit {

/// Aluminium sheet and plate for end walls: metric, then what inch stock adds (1/8 and 3/16 in).
inline constexpr std::array wall_stock_mm{2.0, 2.5, 3.0, 3.175, 4.0, 4.7625, 5.0, 6.0, 8.0, 10.0};
/// Insulating sheet that is stiff enough to handle and to count on.
inline constexpr std::array sheet_stock_mm{0.3, 0.5, 0.8, 1.0, 1.5, 2.0, 3.0};
/// The same with the thin ones and the steps between that are sold or easily cut.
inline constexpr std::array shim_stock_mm{0.1, 0.2, 0.25, 0.3, 0.5, 0.8,
                                          1.0, 1.2, 1.5,  2.0, 2.5, 3.0};
/// Plate that fills what shims would be many for.
inline constexpr std::array filler_stock_mm{4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0};
/// Foam pads.
inline constexpr std::array pad_stock_mm{2.0, 3.0, 5.0, 6.0, 10.0};
/// ASTM D1056 grades that are tried for a pad.
inline constexpr std::array pad_grades{1, 2, 3, 4};

/// Plate of metal, laminate or plastic for a clamp frame.
[[nodiscard]] std::span<const double> metric_plate_stock_mm();
/// Plywood.
[[nodiscard]] std::span<const double> plywood_stock_mm();
/// The list for a material of a frame's plates.
[[nodiscard]] std::span<const double> plate_stock_mm(WallMaterial material);

}  // namespace stackfit
