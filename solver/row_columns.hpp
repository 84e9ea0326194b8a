// SPDX-License-Identifier: GPL-3.0-or-later
//
// A resolved row as columns between its walls: regions, domes, stages, reduced curves.
//
// For: force and local pressure of a row at the interference it was built at and the one it has
// now (row_model.hpp). A row that follows another path through its walls - a lid screwed on, rods
// whose nuts are then fixed, pads that settle - depends on both.
// Not for: flat full-face rows between rigid walls (series.hpp).
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <tuple>
#include <utility>
#include <vector>

#include "solver/force_curve.hpp"
#include "solver/row.hpp"
#include "solver/shim_load.hpp"
#include "solver/wall_store.hpp"

namespace stackfit {

/// Where the give of an interference comes from [mm], at the column where it is greatest; of flat
/// cells over the face, as the pressures weigh it.
struct RowGive {
  double cells_mm = 0;
  double sheets_mm = 0;
  double pads_mm = 0;
  double walls_mm = 0;  ///< both end walls and what ties them
};

class RowColumns {
 public:
  RowColumns(const Row& row, std::shared_ptr<WallStore> store);

  /// Whether a row needs columns at all.
  [[nodiscard]] static bool needed(const Row& row);

  /// The even interference [mm], where cells are flat, as built and in the state asked for. In a
  /// clamp frame only their difference counts.
  struct Asked {
    double built_mm = 0;
    double now_mm = 0;
    bool stiff_pads = false;
    bool settled = false;
    bool building = false;  ///< the state is the build itself: lid off, rods at their force
    /// What a can's rim is short of the even interference, of each cell: swing since empty and
    /// growth, which it does not follow. As built and in the state; zero where no can is given.
    double built_rim_less_mm = 0;
    double rim_less_mm = 0;
  };
  /// From the reduced curves.
  [[nodiscard]] ColumnFigures figures(const Asked& asked, const ShimLoad& load) const;
  /// The even interference now [mm] at which a force is reached.
  [[nodiscard]] double interference_mm(const Asked& asked, const ShimLoad& load,
                                       double force_n) const;

  struct Full {
    ColumnsState built;
    ColumnsState now;
    ColumnFigures figures;
    std::shared_ptr<const WallModes> walls;           ///< of the state now
    std::shared_ptr<const WallModes> walls_building;  ///< lid off
    ColumnsSetup setup;
    double rim_force_n = 0;  ///< of the figures' force, what the cans' rims carry
  };
  /// By a full solution.
  [[nodiscard]] Full solve_fully(const Asked& asked, const ShimLoad& load) const;

  /// Whether the walls bow so far that they were let stretch.
  [[nodiscard]] bool walls_stretch() const { return walls_->open->bowed(); }
  [[nodiscard]] RowGive give(const Asked& asked, const ShimLoad& load) const;
  /// What the domes add at the column where they add most [mm].
  [[nodiscard]] double greatest_bulge_mm() const;
  /// By how much the cans' rims are longer than flat cells [mm], negative where shorter; sheets
  /// that leave them free count as missing there. Minus infinity where no can is given.
  [[nodiscard]] double rim_longer_mm(double rim_less_mm, const ShimLoad& load) const;
  /// Deflection of both walls together [mm/N] where the pressure is even over the face.
  [[nodiscard]] double even_wall_give_mm_per_n() const;
  [[nodiscard]] const WallStore::Walls& walls() const { return *walls_; }

 private:
  struct Variant {
    std::vector<ColumnLaw> fresh;
    std::vector<ColumnLaw> settled;
  };
  struct Region {
    int face = 0;
    std::uint64_t sheets = 0;
    double shift_mm = 0;  ///< what is missing there of fixed sheets and pads; a rim's height
    int rim_cells = 0;    ///< cells whose rim it is; 0: not a rim
  };
  [[nodiscard]] bool bows_far() const;
  [[nodiscard]] double bow_at_top_mm() const;
  void let_walls_stretch();
  [[nodiscard]] std::vector<double> give_weights(const Full& full) const;
  [[nodiscard]] std::vector<double> rimmed_weights(const Full& full, double rim_less_mm,
                                                   const ShimLoad& load) const;
  [[nodiscard]] bool is_rim(std::size_t point) const {
    return regions_[static_cast<std::size_t>(region_[point])].rim_cells > 0;
  }
  [[nodiscard]] double rim_force_n(const ColumnsState& state) const;
  /// Whether a sheet of that outline, -1: the whole face, lies where these do.
  [[nodiscard]] static bool lies_under(std::uint64_t sheets, int outline) {
    return outline < 0 || (sheets >> outline & 1U) != 0;
  }
  /// Mean pressure up to which curves are climbed.
  [[nodiscard]] double curve_top_mpa() const;
  [[nodiscard]] double quick_top_mpa() const;
  void find_regions();
  void find_bulges();
  [[nodiscard]] ColumnLaw law_of(const Region& region, bool stiff, bool settled) const;
  [[nodiscard]] const std::vector<RowGap>& gaps_on(int face) const;
  [[nodiscard]] const std::vector<RowCell>& cells_on(int face) const;

  /// Thickness of chosen shims by their outline, where they leave a part of the face free.
  using Lacking = std::vector<std::pair<int, double>>;
  static constexpr double out_of_reach_mm = 1e3;

  [[nodiscard]] bool staged(const Asked& asked) const;
  [[nodiscard]] bool without_curves(const Asked& asked) const;
  [[nodiscard]] ColumnFigures figures_by_shapes(const Asked& asked, const ShimLoad& load) const;
  template <typename Solve>
  [[nodiscard]] Full solve(const Asked& asked, const ShimLoad& load, const Solve& solved) const;
  [[nodiscard]] ColumnsSetup setup(bool stiff, bool settled, bool closed) const;
  [[nodiscard]] ColumnsSetup quick_setup(bool stiff, bool settled, bool closed) const;
  [[nodiscard]] ColumnsLoad load_at(double interference_mm, double rim_less_mm,
                                    const ShimLoad& load) const;
  [[nodiscard]] ColumnsLoad load_lacking(const Lacking& lacking, double rim_less_mm) const;
  [[nodiscard]] Eigen::VectorXd settled_loss(const ColumnsState& built, bool stiff) const;
  [[nodiscard]] std::shared_ptr<const WallStore::Curves> curves(const Asked& asked,
                                                                const ShimLoad& load) const;
  [[nodiscard]] std::shared_ptr<const WallStore::Curves> curves_lacking(
      const Asked& asked, const Lacking& lacking) const;
  [[nodiscard]] WallStore::Curves solve_curves(const Asked& asked, const Lacking& lacking) const;
  [[nodiscard]] LadderRequest ladder(const Columns& columns, const Lacking& lacking,
                                     double rim_less_mm) const;
  [[nodiscard]] double reach_mm(const LadderStep& top, const ColumnsLoad& load,
                                const Lacking& lacking, double rim_less_mm) const;
  [[nodiscard]] WallStore::Key key_of(const Asked& asked, const Lacking& lacking) const;

  const Row& row_;
  std::shared_ptr<WallStore> store_;
  std::shared_ptr<const WallStore::Walls> walls_;
  bool lid_holds_ = false;
  TieLaw tie_ = TieLaw::linear(0);
  std::vector<Region> regions_;
  std::vector<int> region_;  ///< of each point
  Eigen::VectorXd bulge_mm_;
  std::vector<Variant> variants_;                   ///< soft edge of pads, stiff edge
  std::vector<std::pair<LawPtr, LawPtr>> relaxed_;  ///< fresh law, settled law
  using AtHand = std::tuple<bool, bool, bool, double, double, Lacking>;
  mutable std::map<AtHand, std::shared_ptr<const WallStore::Curves>> at_hand_;
};

}  // namespace stackfit
