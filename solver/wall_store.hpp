// SPDX-License-Identifier: GPL-3.0-or-later
//
// What studies of slightly different builds have in common: meshed walls and solved curves.
//
// For: what-ifs and remedies, most of which leave walls and laws as they are. Several threads may
// ask at once; what two of them ask for first is then made twice, and comes out the same.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <vector>

#include "solver/force_curve.hpp"
#include "solver/wall_modes.hpp"

namespace stackfit {

/// Walls and curves that studies of slightly different builds have in common.
class WallStore {
 public:
  struct Walls {
    std::shared_ptr<const WallMesh> mesh;
    std::shared_ptr<const WallModes> open;    ///< lid off
    std::shared_ptr<const WallModes> closed;  ///< lid on; `open` where it holds nothing
  };
  [[nodiscard]] std::shared_ptr<const Walls> walls(const WallPair& pair, bool lid_holds);

  /// One curve, or one for each interference at which the row may have been built.
  struct Curves {
    std::vector<double> built_mm;
    std::vector<ForceCurve> now;
    /// Shims that leave a part of the face free: from this thickness on that part never touches.
    double reach_mm = 0;
  };
  using Key = std::vector<double>;
  [[nodiscard]] std::shared_ptr<const Curves> find(const Key& key) const;
  void keep(Key key, std::shared_ptr<const Curves> curves);

 private:
  struct Entry {
    WallPair pair;
    bool lid_holds = false;
    std::shared_ptr<const Walls> walls;
  };
  [[nodiscard]] std::shared_ptr<const Walls> known_walls(const WallPair& pair,
                                                         bool lid_holds) const;

  mutable std::mutex mutex_;
  std::vector<Entry> walls_;
  std::map<Key, std::shared_ptr<const Curves>> curves_;
};

}  // namespace stackfit
