// SPDX-License-Identifier: GPL-3.0-or-later
//
// One build and one load of shims under drawn figures: which totals of shims would pass.
//
// For: the chance that a plan passes, and what it would be with more or fewer shims: each draw
// comes to a window of totals, so that one set of draws serves every plan of the kit.
// A draw passes by the rule of RowModel::judge: every required state at or above the band's lower
// end; every state and the row as built, with the model margin m as drawn, at or below its upper
// end, the limit kept; by hand the push within the hand's limit; watched cells spared. What does
// not vary (even sheets, the method otherwise) is not looked at.
// Not drawn, and so left out of every chance: the band itself, creep, floor friction, cells taken
// as flat because only boards were read, shear between columns beyond m. Walls that bow beyond
// what the model knows fail a plan as it stands, but no draw; a frame as built is not held to the
// limit.
// Not for: rows with a can's rim (`can_draw`), whose curves are no one family.
#pragma once

#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "solver/squeeze_surface.hpp"

namespace stackfit {

/// What a draw comes to, as rows of `samples` numbers. Totals are of kit shims as they really are
/// [mm]; a window is from `loosest` to the least of the others. In a clamp frame the total does
/// not matter: the bounds are then minus or plus infinity.
enum class WindowRow : std::uint8_t {
  loosest,     ///< below it some state is below the band
  tightest,    ///< above it some state, or the row as built, is above the band
  at_limit,    ///< above it the limit is passed, or a watched cell pressed flat
  got_in,      ///< above it a hand does not get the last cell in
  shim_share,  ///< shims of one kind are thicker than said by this share of their thickness
  count
};
inline constexpr std::size_t window_rows = static_cast<std::size_t>(WindowRow::count);

class ChanceModel {
 public:
  /// `load`: a plan near those that are asked for; its total is `load.thickness_mm`. Only inputs
  /// for which `drawn` holds are drawn. `study` must outlive it.
  ChanceModel(const Study& study, const ShimLoad& load,
              const std::function<bool(ChanceInput)>& drawn = {}, int threads = 0);
  ~ChanceModel();
  ChanceModel(const ChanceModel&) = delete;
  ChanceModel& operator=(const ChanceModel&) = delete;
  ChanceModel(ChanceModel&&) = delete;
  ChanceModel& operator=(ChanceModel&&) = delete;

  /// Whether a chance can be told of this build.
  [[nodiscard]] static bool can_draw(const Study& study);

  [[nodiscard]] const std::vector<const Drawn*>& inputs() const { return all_; }
  [[nodiscard]] const Study& study() const { return study_; }
  /// Widths taken from the table of assumptions.
  [[nodiscard]] const std::vector<Assumed>& doubts() const { return inputs_.doubts; }
  [[nodiscard]] const ShimLoad& load() const { return load_; }

  /// `u`: inputs x samples uniform draws, input after input; `out`: window_rows x samples.
  void windows(std::span<const double> u, std::size_t samples, std::span<double> out) const;
  /// Face pressures [MPa] with a plan's shims as drawn: lowest of the required states, as built,
  /// highest; 3 x samples.
  void pressures(const ShimTotal& shims, std::span<const double> u, std::size_t samples,
                 std::span<double> out) const;
  /// The highest alone; `samples`.
  void highest_pressures(const ShimTotal& shims, std::span<const double> u, std::size_t samples,
                         std::span<double> out) const;

 private:
  struct Shifts;  // what moves the row along its curves
  struct Work;    // arrays of one block
  struct Bound;   // one condition of the rule
  struct Curve;   // a whole curve, for pressures
  void prepare(std::span<const double> u, std::size_t samples, Work& work) const;
  void take_inputs(std::span<const double> u, std::size_t samples, Work& work) const;
  void find_spans(std::size_t samples, Work& work) const;
  void find_pressure(const Bound& bound, std::size_t samples, Work& work) const;
  [[nodiscard]] bool beaten(const Bound& bound, std::size_t samples, Work& work) const;
  void apply(const Bound& bound, std::size_t samples, Work& work, std::span<double> out) const;
  void apply_to_close(const Bound& bound, std::size_t samples, Work& work,
                      std::span<double> out) const;
  void take_totals(const Bound& bound, std::size_t samples, Work& work,
                   std::span<double> out) const;
  [[nodiscard]] double total_of(double interference, double beta, double built, double now) const {
    return load_.thickness_mm + (interference + beta * built - now) / (1 - beta);
  }
  [[nodiscard]] double total(const Bound& bound, double interference, const Work& work,
                             std::size_t i) const;
  void add_shims(const ShimTotal& shims, std::size_t samples, Work& work) const;
  [[nodiscard]] double frame_factor(const Work& work, std::size_t samples, std::size_t i) const;
  void judge_frame(std::size_t samples, const Work& work, std::span<double> out) const;
  void take_shapes(std::size_t samples, Work& work) const;
  [[nodiscard]] bool by_hand() const;
  [[nodiscard]] RowModel::Kind built_kind() const;
  [[nodiscard]] SqueezeSurface::Interference at_force(const RowModel::Kind& kind) const;
  [[nodiscard]] double slope(const RowModel::Kind& kind, double pressure_mpa) const;
  void make_bounds();
  void add_push();
  void order_bounds();
  void make_curves();
  void add_bound(Bound bound, const SqueezeSurface::Interference& interference);
  void solve_highest(std::size_t samples, Work& work, std::span<double> out) const;
  void solve(const Curve& curve, std::span<const double> target, std::span<const double> built,
             Work& work, std::span<double> pressure) const;

  const Study& study_;
  ShimLoad load_;
  ChanceInputs inputs_;
  std::vector<const Drawn*> all_;
  CellSqueeze cells_;
  std::unique_ptr<ShapeStudies> studies_;
  std::unique_ptr<Shifts> shifts_;
  std::vector<Bound> bounds_;  ///< leaders before those that they may beat
  std::size_t leaders_ = 0;
  std::vector<Curve> curves_;  ///< as built, then each kind of required state
  bool frame_ = false;
  double built_in_frame_mpa_ = 0;  ///< face pressure that a frame's force gives this row
};

}  // namespace stackfit
