// SPDX-License-Identifier: GPL-3.0-or-later
//
// The equilibrium of rows of cells, column by column, between two bending walls and their tie.
//
// For: local pressure over the faces, contact, and what every part gives, at one interference.
// The row minimises
//     E(c, u) = 1/2 c'c + tie(u) + integral over the faces of Psi(d),
//     d = interference + bulge - (walls' deflection) - u,
// over the walls' amplitudes c and the extension u of what ties the walls together (side walls,
// rods). With plates of small bow and rising laws E is convex: one answer, which Newton's method
// with a line search reaches.
// Not for: charge, heat and age (row_model.hpp); many interferences in turn (force_curve.hpp).
//
// What can be relied on, each with its test:
//  1. The energy never rises from step to step.
//  2. The force rises with the interference. Local pressures need not: thin walls lift off.
//  3. In a full solution the pressures add up to the walls' reactions, within
//     reaction_error_share of the force, whatever the walls' thickness.
//  4. A wall without give and flat cells: the one column of series.hpp.
#pragma once

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <cstdint>
#include <memory>
#include <string_view>
#include <utility>
#include <vector>

#include "solver/column_law.hpp"
#include "solver/tie.hpp"
#include "solver/wall_modes.hpp"

namespace stackfit {

/// How exactly the pressures of a full solution balance the walls.
inline constexpr double reaction_error_share = 1e-9;

enum class ColumnsStop : std::uint8_t {
  loose,        ///< nothing touches: no pressure anywhere
  converged,    ///< the energy left to gain is below rounding
  cap_reached,  ///< the cap on steps was met first
  no_descent,   ///< no step along Newton's direction lowers the energy
  singular      ///< the Hessian could not be factored
};

/// One sentence for each.
[[nodiscard]] std::string_view sentence(ColumnsStop stop);

struct ColumnsSetup {
  std::shared_ptr<const WallModes> walls;
  std::vector<ColumnLaw> laws;  ///< one a region
  std::vector<int> region;      ///< of each point
  Eigen::VectorXd bulge_mm;     ///< of each point: the cells' domes together, beyond their slack
};

/// Where the columns stand when they are solved.
struct ColumnsState {
  ColumnsStop stop = ColumnsStop::loose;
  int steps = 0;
  Eigen::VectorXd amplitudes;
  double extension_mm = 0;       ///< of the tie
  Eigen::VectorXd wall_mm;       ///< of each point: both walls together, away from the row
  Eigen::VectorXd pressure_mpa;  ///< of each point
  std::vector<double> force_n;   ///< of each face, whole
  Eigen::VectorXd first_mm;      ///< of each node of the mesh: one wall, away from the row
  Eigen::VectorXd last_mm;
  double first_bow_mm = 0;  ///< of each wall, at the node where it bows most
  double last_bow_mm = 0;
  double energy_n_mm = 0;  ///< whole; of a closed row since it was built
  /// Change with an interference that grows alike in every column.
  std::vector<double> force_per_mm;  ///< of each face
  Eigen::VectorXd pressure_per_mm;   ///< of each point
  Eigen::VectorXd amplitudes_per_mm;
  double extension_per_mm = 0;
  /// Energy at the start and after each step, of the meshed part; of a full solution, those of
  /// its steps by the plates.
  std::vector<double> path_n_mm;
  /// Of the Hessian over the shapes, or of one near it: saves work to a solution nearby.
  std::shared_ptr<const Eigen::LLT<Eigen::MatrixXd>> factor;

  [[nodiscard]] double total_force_n() const;
  [[nodiscard]] bool usable() const {
    return stop == ColumnsStop::loose || stop == ColumnsStop::converged;
  }
};

struct ColumnsLoad {
  std::vector<double> interference_mm;  ///< of each face: where its cells are flat
  std::vector<double> region_shift_mm;  ///< of each region; empty: none
  std::vector<double> region_give_mm_per_mpa;
  Eigen::VectorXd less_mm;              ///< of each point: thickness lost by settled pads, or empty
  const TieLaw* tie = nullptr;          ///< none: the walls' edges stay where they are
  double tie_zero_mm = 0;               ///< extension at which the tie's own count begins
  double pulled_n = 0;                  ///< without tie: a constant pull on the walls (rods)
  const ColumnsState* built = nullptr;  ///< closed row: walls and pressures when it was built
};

class Columns {
 public:
  explicit Columns(ColumnsSetup setup) : setup_(std::move(setup)) {}

  /// By the walls' shapes alone. `start` saves steps; any earlier state will do.
  [[nodiscard]] ColumnsState solve(const ColumnsLoad& load,
                                   const ColumnsState* start = nullptr) const;
  /// In full: the walls deflect as their plates do under the very pressures of the columns.
  [[nodiscard]] ColumnsState solve_fully(const ColumnsLoad& load,
                                         const ColumnsState* start = nullptr) const;

  /// The even interference [mm] beyond `load` at which something first touches, walls and tie
  /// unloaded.
  [[nodiscard]] double first_touch_mm(const ColumnsLoad& load) const;

  [[nodiscard]] const ColumnsSetup& setup() const { return setup_; }

 private:
  ColumnsSetup setup_;
};

}  // namespace stackfit
