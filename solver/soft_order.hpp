// SPDX-License-Identifier: GPL-3.0-or-later
//
// What helps where hard shims cannot: when the cells breathe by more than the band takes, the
// row needs something soft in it. A foam pad, or a wall so thin that it is the spring itself.
//
// For: `size`, where no length serves. Smallest first; each is held in full, like any plan.
// Not for: the springs of a clamp frame (frame_order.hpp).
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "solver/length_order.hpp"
#include "solver/wall_order.hpp"

namespace stackfit {

/// Pads at one end of the row or at both.
struct PadOffer {
  double thickness_mm = 0;
  int grade = 0;                     ///< of ASTM D1056, generic; 0: by the table
  std::optional<FoamTable> table{};  ///< of the foam that is sold
  bool both_ends = false;
  LengthOffer length;  ///< with these pads in
};
/// A thinner wall from the stock, which is springy enough.
struct ThinWallOffer {
  WallTried wall;  ///< at the band's top: its stress holds, its bow may not
  LengthOffer length;
};

/// A narrower charge window, by equal steps at both ends, in which hard shims hold.
struct ChargeOffer {
  Span charge;
  LengthOffer length;
};

[[nodiscard]] Build with_pad(Build build, const PadOffer& pad);

/// The smallest pad that serves: thinnest in all, then one end before both, then the softest
/// grade. Empty where none that is sold does.
[[nodiscard]] std::optional<PadOffer> offer_pad(const Build& build, const Assumptions& assumptions,
                                                const LengthDemand& demand,
                                                const std::shared_ptr<WallStore>& store);
/// The thickest of the walls in stock, thinner than the one chosen, that serves and whose stress
/// holds.
[[nodiscard]] std::optional<ThinWallOffer> offer_thin_wall(const Build& build,
                                                           const Assumptions& assumptions,
                                                           const LengthDemand& demand,
                                                           const WallOrder& walls,
                                                           const std::shared_ptr<WallStore>& store);

/// The widest such window; empty where even a third of the charge is too much.
[[nodiscard]] std::optional<ChargeOffer> offer_charge(const Build& build,
                                                      const Assumptions& assumptions,
                                                      const LengthDemand& demand,
                                                      const std::shared_ptr<WallStore>& store);

}  // namespace stackfit
