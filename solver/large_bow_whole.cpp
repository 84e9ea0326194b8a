// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/large_bow_whole.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/SparseCholesky>
#include <cmath>
#include <cstddef>
#include <optional>
#include <stdexcept>
#include <utility>

#include "solver/large_bow_strains.hpp"
#include "solver/plate_supports.hpp"

namespace stackfit {
namespace {

using Eigen::Index;
using Eigen::VectorXd;
using Sparse = Eigen::SparseMatrix<double>;
using SparseRows = Membrane::SparseRows;
using Triplets = std::vector<Eigen::Triplet<double>>;

/// How the tangent takes the forces in the plane: as they are, or without what is pressed, which
/// keeps it positive definite on the way.
enum class Forces : std::uint8_t { all, pulls_only };

/// The energy of a plate as a function of its free deflections and slopes alone: the displacements
/// in the plane follow, at their least energy.
class WholePlate {
 public:
  WholePlate(const Plate& plate, const std::vector<MembraneEdge>& sides)
      : sheet_(membrane(plate.mesh(), plate.section(), sides)) {
    const FreeUnknowns free = free_unknowns(plate.mesh(), plate.supports());
    columns_ = free.columns;
    slopes_ = sheet_.slopes * columns_;
    Sparse supported = plate.stiffness();
    supported.diagonal() += free.springs_n_per_mm;
    bending_ = columns_.transpose() * supported * columns_;
    in_plane_.compute(Sparse(sheet_.strains.transpose() * sheet_.strains));
    if (in_plane_.info() != Eigen::Success) {
      throw std::invalid_argument("the sheet is free to move in its plane");
    }
  }

  /// Everything known of one shape of the plate.
  struct Place {
    VectorXd free;     ///< deflections and slopes
    VectorXd slopes;   ///< at the places of the sheet
    VectorXd strains;  ///< weighted, with the displacements that follow
    double bending_n_mm = 0;
    double stretching_n_mm = 0;

    [[nodiscard]] double stored_n_mm() const { return bending_n_mm + stretching_n_mm; }
  };

  [[nodiscard]] Index unknowns() const { return columns_.cols(); }
  [[nodiscard]] const Sparse& columns() const { return columns_; }

  [[nodiscard]] Place at(VectorXd free) const {
    Place place;
    place.free = std::move(free);
    place.slopes = slopes_ * place.free;
    const VectorXd bow = bow_strains(place.slopes);
    const VectorXd follow = in_plane_.solve(-(sheet_.strains.transpose() * bow));
    place.strains = bow + sheet_.strains * follow;
    place.bending_n_mm = 0.5 * place.free.dot(bending_ * place.free);
    place.stretching_n_mm = 0.5 * place.strains.squaredNorm();
    return place;
  }

  /// Of the stored energy, by the free deflections and slopes.
  [[nodiscard]] VectorXd gradient(const Place& place) const {
    const VectorXd forces = slope_forces(place);
    return bending_ * place.free + slopes_.transpose() * forces;
  }

  /// Second derivatives by deflections, slopes and displacements in the plane together.
  [[nodiscard]] Sparse tangent(const Place& place, Forces forces) const {
    const SparseRows turning = strains_by_slopes(place) * slopes_;
    const SparseRows pulling = pull_on_slopes(place, forces) * slopes_;
    const Sparse bowed =
        bending_ + Sparse(slopes_.transpose() * pulling) + Sparse(turning.transpose() * turning);
    const Sparse across = turning.transpose() * sheet_.strains;
    const Sparse flat = sheet_.strains.transpose() * sheet_.strains;
    return joined(bowed, across, flat);
  }

 private:
  [[nodiscard]] VectorXd bow_strains(const VectorXd& slopes) const {
    VectorXd result(3 * sheet_.places());
    for (Index p = 0; p < sheet_.places(); ++p) {
      const Eigen::Vector2d slope = slopes.segment<2>(2 * p);
      result.segment<3>(3 * p) =
          0.5 * sheet_.root_weight[p] * (sheet_.mix * twice_bow_strains(slope, slope));
    }
    return result;
  }

  /// d(weighted strain)/d(slope) at one place.
  [[nodiscard]] Eigen::Matrix<double, 3, 2> by_slope(const Place& place, Index p) const {
    const Eigen::Vector2d slope = place.slopes.segment<2>(2 * p);
    Eigen::Matrix<double, 3, 2> result;
    result.col(0) = twice_bow_strains(slope, Eigen::Vector2d::UnitX());
    result.col(1) = twice_bow_strains(slope, Eigen::Vector2d::UnitY());
    return sheet_.root_weight[p] * sheet_.mix * result;
  }

  [[nodiscard]] VectorXd slope_forces(const Place& place) const {
    VectorXd result(2 * sheet_.places());
    for (Index p = 0; p < sheet_.places(); ++p) {
      result.segment<2>(2 * p) = by_slope(place, p).transpose() * place.strains.segment<3>(3 * p);
    }
    return result;
  }

  [[nodiscard]] SparseRows strains_by_slopes(const Place& place) const {
    Triplets entries;
    for (Index p = 0; p < sheet_.places(); ++p) {
      const Eigen::Matrix<double, 3, 2> block = by_slope(place, p);
      for (Index r = 0; r < 3; ++r) {
        entries.emplace_back(3 * p + r, 2 * p, block(r, 0));
        entries.emplace_back(3 * p + r, 2 * p + 1, block(r, 1));
      }
    }
    SparseRows result(3 * sheet_.places(), 2 * sheet_.places());
    result.setFromTriplets(entries.begin(), entries.end());
    return result;
  }

  /// Forces in the plane times area, as a tensor at each place.
  [[nodiscard]] SparseRows pull_on_slopes(const Place& place, Forces forces) const {
    Triplets entries;
    for (Index p = 0; p < sheet_.places(); ++p) {
      const Eigen::Vector3d n =
          sheet_.root_weight[p] * (sheet_.mix.transpose() * place.strains.segment<3>(3 * p));
      Eigen::Matrix2d pull;
      pull << n[0], n[2], n[2], n[1];
      if (forces == Forces::pulls_only) {
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> parts(pull);
        pull = parts.eigenvectors() * parts.eigenvalues().cwiseMax(0).asDiagonal() *
               parts.eigenvectors().transpose();
      }
      for (Index r = 0; r < 2; ++r) {
        entries.emplace_back(2 * p + r, 2 * p, pull(r, 0));
        entries.emplace_back(2 * p + r, 2 * p + 1, pull(r, 1));
      }
    }
    SparseRows result(2 * sheet_.places(), 2 * sheet_.places());
    result.setFromTriplets(entries.begin(), entries.end());
    return result;
  }

  /// The lower triangle of [bowed across; across' flat].
  static Sparse joined(const Sparse& bowed, const Sparse& across, const Sparse& flat) {
    const Index split = bowed.rows();
    Triplets entries;
    entries.reserve(
        static_cast<std::size_t>(bowed.nonZeros() + across.nonZeros() + flat.nonZeros()));
    const auto add = [&entries](const Sparse& block, const auto& put) {
      for (Index column = 0; column < block.outerSize(); ++column) {
        for (Sparse::InnerIterator entry(block, column); entry; ++entry) {
          put(entry);
        }
      }
    };
    add(bowed, [&](const auto& e) { entries.emplace_back(e.row(), e.col(), e.value()); });
    add(across, [&](const auto& e) { entries.emplace_back(split + e.col(), e.row(), e.value()); });
    add(flat,
        [&](const auto& e) { entries.emplace_back(split + e.row(), split + e.col(), e.value()); });
    Sparse result(split + flat.rows(), split + flat.rows());
    result.setFromTriplets(entries.begin(), entries.end());
    return result;
  }

  Membrane sheet_;
  Sparse columns_;
  SparseRows slopes_;
  Sparse bending_;
  Eigen::SimplicialLDLT<Sparse> in_plane_;
};

/// Newton with line search under one load, from a place.
class Newton {
 public:
  Newton(const WholePlate& plate, const LargeBowRequest& request)
      : plate_(&plate),
        load_(plate.columns().transpose() * request.load_n),
        greatest_iterations_(request.greatest_iterations) {}

  enum class End : std::uint8_t { rest, saddle, lost };
  struct Result {
    End end = End::lost;
    WholePlate::Place place;
  };

  [[nodiscard]] Result solve(WholePlate::Place place, double load_share) {
    // A decrement this small is a deflection right to about 1e-6 of itself.
    constexpr double at_rest = 1e-12;
    const VectorXd load = load_share * load_;
    for (int i = 0; i < greatest_iterations_; ++i) {
      const VectorXd slope = plate_->gradient(place) - load;
      const bool stable = factor(place, Forces::all);
      if (!stable && !factor(place, Forces::pulls_only)) {
        break;
      }
      const VectorXd step = solved(-slope);
      const double decrement = -slope.dot(step);
      if (decrement <= at_rest * place.stored_n_mm()) {
        return {stable ? End::rest : End::saddle, std::move(place)};
      }
      std::optional<WholePlate::Place> next = searched(place, load, {step, decrement});
      if (!next) {
        break;
      }
      place = std::move(*next);
    }
    return {};
  }

 private:
  struct Step {
    const VectorXd& direction;
    double decrement;
  };

  /// L. Armijo, Pacific J. Math. 16 (1966) 1-3.
  [[nodiscard]] std::optional<WholePlate::Place> searched(const WholePlate::Place& place,
                                                          const VectorXd& load,
                                                          const Step& step) const {
    constexpr double enough = 1e-4;
    constexpr int halvings = 20;
    const auto energy = [&load](const WholePlate::Place& at) {
      return at.stored_n_mm() - load.dot(at.free);
    };
    double length = 1;
    for (int i = 0; i <= halvings; ++i, length /= 2) {
      WholePlate::Place next = plate_->at(place.free + length * step.direction);
      if (energy(next) <= energy(place) - enough * length * step.decrement) {
        return next;
      }
    }
    return std::nullopt;
  }

  bool factor(const WholePlate::Place& place, Forces forces) {
    const Sparse tangent = plate_->tangent(place, forces);
    if (!analysed_) {
      factor_.analyzePattern(tangent);
      analysed_ = true;
    }
    factor_.factorize(tangent);
    return factor_.info() == Eigen::Success && (factor_.vectorD().array() > 0).all();
  }

  /// Nothing pulls on the displacements in the plane, since they follow.
  [[nodiscard]] VectorXd solved(const VectorXd& forces) const {
    VectorXd all = VectorXd::Zero(factor_.rows());
    all.head(forces.size()) = forces;
    return factor_.solve(all).head(forces.size());
  }

  const WholePlate* plate_;
  VectorXd load_;
  int greatest_iterations_;
  Eigen::SimplicialLDLT<Sparse> factor_;
  bool analysed_ = false;
};

void require_request(const Plate& plate, const LargeBowRequest& request) {
  if (request.load_n.size() != plate.unknowns()) {
    throw std::invalid_argument("a load on a plate needs three figures for each node");
  }
  if (request.load_shares.empty()) {
    throw std::invalid_argument("a large bow needs at least one share of its load");
  }
}

/// From one share of the load to the next, in smaller steps where one will not do.
Newton::Result advanced(Newton& newton, const WholePlate::Place& from, double from_share,
                        const LargeBowRequest& request, double to_share) {
  Newton::Result last{Newton::End::rest, from};
  double reached = from_share;
  double step = to_share - from_share;
  const double least_step = std::abs(step) / std::exp2(request.greatest_halvings);
  while (reached != to_share) {
    const bool to_end = std::abs(to_share - reached) <= std::abs(step);
    const double share = to_end ? to_share : reached + step;
    Newton::Result next = newton.solve(last.place, share);
    if (next.end == Newton::End::lost) {
      step /= 2;
      if (std::abs(step) < least_step) {
        return next;
      }
      continue;
    }
    last = std::move(next);
    if (last.end == Newton::End::saddle) {
      return last;
    }
    reached = share;
  }
  return last;
}

}  // namespace

LargeBow bow_under_load(const Plate& plate, const LargeBowRequest& request) {
  require_request(plate, request);
  const WholePlate whole(plate, request.sides);
  Newton newton(whole, request);
  Newton::Result last{Newton::End::rest, whole.at(VectorXd::Zero(whole.unknowns()))};
  double reached = 0;
  LargeBow result;
  for (const double share : request.load_shares) {
    last = advanced(newton, last.place, reached, request, share);
    if (last.end != Newton::End::rest) {
      result.stop =
          last.end == Newton::End::saddle ? LargeBowStop::unstable : LargeBowStop::not_converged;
      return result;
    }
    reached = share;
    result.steps.push_back({share, whole.columns() * last.place.free, last.place.bending_n_mm,
                            last.place.stretching_n_mm});
  }
  result.stop = LargeBowStop::reached;
  return result;
}

}  // namespace stackfit
