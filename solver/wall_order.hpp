// SPDX-License-Identifier: GPL-3.0-or-later
//
// The thickness of the end walls, from what is sold: the thinnest that stands the band's top.
//
// Each thickness is held against its own criterion by a full solution of the row whose highest
// state reaches the top of the band, the model's margin included: the surface stress stays below
// yield over a safety factor, and the bow below a share of the wall's shorter side.
// Not for: clamp frames (frame_order.hpp).
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "solver/study.hpp"

namespace stackfit {

/// One thickness at the band's top.
struct WallTried {
  double thickness_mm = 0;
  double bow_mm = 0;
  double stress_mpa = 0;
  double most_bow_mm = 0;
  double allowed_mpa = 0;  ///< yield over the safety factor; 0: no yield is known
  bool large_bow = false;
  bool bow_holds = false;
  bool stress_holds = false;
  [[nodiscard]] bool holds() const { return bow_holds && stress_holds; }
};

struct WallOrder {
  bool bends = false;       ///< the walls are plates whose thickness counts
  bool from_stock = false;  ///< the thickness was chosen; else it was said and only checked
  bool unlike = false;      ///< two walls said by themselves; the one nearer its limits is told
  bool stock_assumed = false;
  bool found = false;      ///< a thickness holds
  double top_force_n = 0;  ///< on the face
  double safety = 0;
  double yield_mpa = 0;
  WallTried chosen;                  ///< where none is found: the thickest
  std::optional<WallTried> thinner;  ///< the next thinner one that is sold, which fails
  std::vector<double> stock_mm;
  /// Where no thickness holds: the thickest with a like second plate against it, or with a flat bar
  /// as thick as the wall welded across its middle, the lowest that holds.
  std::optional<WallTried> doubled;
  struct Ribbed {
    double rib_height_mm = 0;
    WallTried wall;
  };
  std::optional<Ribbed> ribbed;
};

/// The same build with end walls of this thickness.
[[nodiscard]] Build with_wall(Build build, double thickness_mm);

/// `build` needs no length and no kit. `findings` is told what was assumed.
[[nodiscard]] WallOrder order_walls(const Build& build, const Assumptions& assumptions,
                                    Findings& findings, const std::shared_ptr<WallStore>& store);

/// One thickness against its criterion. Empty where the walls do not bend as plates.
[[nodiscard]] std::optional<WallTried> try_wall(const Build& build, const Assumptions& assumptions,
                                                const std::shared_ptr<WallStore>& store);

}  // namespace stackfit
