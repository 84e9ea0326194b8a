// SPDX-License-Identifier: GPL-3.0-or-later
//
// Thicknesses [mm] that are commonly sold: what `size` chooses from where the person names no
// stock. Common practice of metal and plastics merchants; an answer that rests on them says so.
#pragma once

#include <array>

namespace stackfit {

/// Aluminium sheet and plate for end walls: metric, then what inch stock adds (1/8 and 3/16 in).
inline constexpr std::array wall_stock_mm{2.0, 2.5, 3.0, 3.175, 4.0, 4.7625, 5.0, 6.0, 8.0, 10.0};
/// Plate for a clamp frame.
inline constexpr std::array frame_plate_stock_mm{4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0};
/// Insulating sheet that is stiff enough to handle and to count on.
inline constexpr std::array sheet_stock_mm{0.3, 0.5, 0.8, 1.0, 1.5, 2.0, 3.0};
/// Plate that fills what shims would be many for.
inline constexpr std::array filler_stock_mm{4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0};
/// Foam pads.
inline constexpr std::array pad_stock_mm{2.0, 3.0, 5.0, 6.0, 10.0};
/// ASTM D1056 grades that are tried for a pad.
inline constexpr std::array pad_grades{1, 2, 3, 4};

}  // namespace stackfit
