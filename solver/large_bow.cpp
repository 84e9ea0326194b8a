// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/large_bow.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <utility>

#include "solver/large_bow_strains.hpp"
#include "solver/many_loads.hpp"
#include "solver/share_jobs.hpp"

namespace stackfit {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

Index pair_count(Index shapes) {
  return shapes * (shapes + 1) / 2;
}

/// Places in one go: their strains for all products fit a processor's cache.
constexpr Index block_places = 96;

void require_shapes(const Plate& plate, const MatrixXd& shapes) {
  if (shapes.rows() != plate.unknowns()) {
    throw std::invalid_argument("a shape of a plate needs three figures for each node");
  }
  if (shapes.cols() < 1 || shapes.cols() > BowStiffening::greatest_shape_count) {
    throw std::invalid_argument("a bow is made of 1 to 45 shapes");
  }
  if (!shapes.allFinite()) {
    throw std::invalid_argument("a shape of a plate must be made of finite figures");
  }
}

/// Weighted strains that each product of two shapes brings by itself [3 count x pairs], from the
/// slopes of all shapes [2 places x m].
MatrixXd pair_strains(const Membrane& sheet, const MatrixXd& slopes, Index first, Index count) {
  MatrixXd strains(3 * count, pair_count(slopes.cols()));
  for (Index k = 0; k < count; ++k) {
    const Index place = first + k;
    Index pair = 0;
    for (Index i = 0; i < slopes.cols(); ++i) {
      for (Index j = 0; j <= i; ++j) {
        const double share = i == j ? 0.5 : 1;  // (i, j) stands for (j, i) too
        const Eigen::Vector3d bow = share * twice_bow_strains(slopes.col(i).segment<2>(2 * place),
                                                              slopes.col(j).segment<2>(2 * place));
        strains.col(pair++).segment<3>(3 * k) = sheet.root_weight[place] * (sheet.mix * bow);
      }
    }
  }
  return strains;
}

/// For each block of places between two of them: calls work(first place, strains of the pairs
/// there).
template <typename Work>
void by_blocks(const Membrane& sheet, const MatrixXd& slopes, Index from, Index to,
               const Work& work) {
  for (Index first = from; first < to; first += block_places) {
    const Index count = std::min(block_places, to - first);
    work(first, pair_strains(sheet, slopes, first, count));
  }
}

/// Most that two threads take a half each of: below it, starting one costs more.
constexpr Index fewest_pairs_shared = 8;

/// The sum over all blocks of places of what work(first place, strains, sum) adds. The places are
/// summed in two halves whatever the number of threads: the same sums everywhere. Another job that
/// needs neither may run beside them.
template <typename Work>
MatrixXd summed_by_blocks(const Membrane& sheet, const MatrixXd& slopes, Index rows,
                          const Work& work, const std::function<void()>& beside) {
  const Index pairs = pair_count(slopes.cols());
  const Index middle = (sheet.places() / 2 + block_places - 1) / block_places * block_places;
  const std::array ends{Index{0}, std::min(middle, sheet.places()), sheet.places()};
  std::array<MatrixXd, 2> sums;
  const auto job = [&](std::size_t number) {
    if (number == sums.size()) {
      beside();
      return;
    }
    MatrixXd sum = MatrixXd::Zero(rows, pairs);
    by_blocks(sheet, slopes, ends[number], ends[number + 1],
              [&](Index first, const MatrixXd& strains) { work(first, strains, sum); });
    sums[number] = std::move(sum);
  };
  share_jobs(sums.size() + (beside ? 1 : 0), pairs < fewest_pairs_shared ? 1 : 0, job);
  return sums[0] + sums[1];
}

/// Displacements in the plane that follow each product, at their least energy [free x pairs].
MatrixXd followed(const Membrane& sheet, const MatrixXd& slopes) {
  Eigen::SimplicialLDLT<Membrane::Sparse> factor;
  const auto make_factor = [&] {
    factor.compute(Membrane::Sparse(sheet.strains.transpose() * sheet.strains));
  };
  const MatrixXd pull = summed_by_blocks(
      sheet, slopes, sheet.strains.cols(),
      [&](Index first, const MatrixXd& strains, MatrixXd& sum) {
        sum.noalias() -= sheet.strains.middleRows(3 * first, strains.rows()).transpose() * strains;
      },
      make_factor);
  if (factor.info() != Eigen::Success || !(factor.vectorD().array() > 0).all()) {
    throw std::invalid_argument("the sheet is free to move in its plane");
  }
  return solve_many(factor, pull);
}

/// The strains that are left are what stores energy; as a sum of squares it cannot be negative.
MatrixXd products(const Membrane& sheet, const MatrixXd& slopes) {
  const MatrixXd displacements = followed(sheet, slopes);
  MatrixXd result = summed_by_blocks(
      sheet, slopes, displacements.cols(),
      [&](Index first, const MatrixXd& strains, MatrixXd& sum) {
        const MatrixXd left =
            strains + sheet.strains.middleRows(3 * first, strains.rows()) * displacements;
        sum.selfadjointView<Eigen::Lower>().rankUpdate(left.transpose());
      },
      {});
  result.triangularView<Eigen::StrictlyUpper>() = result.transpose();
  return result;
}

/// The products c_i c_j, j <= i.
VectorXd pairs_of(const VectorXd& c) {
  VectorXd q(pair_count(c.size()));
  for (Index i = 0, pair = 0; i < c.size(); pair += ++i) {
    q.segment(pair, i + 1) = c[i] * c.head(i + 1);
  }
  return q;
}

/// columns * dq/dc, with dq_ij/dc_k = c_j where k = i, plus c_i where k = j.
MatrixXd times_pair_slopes(const MatrixXd& columns, const VectorXd& c) {
  MatrixXd result = MatrixXd::Zero(columns.rows(), c.size());
  for (Index i = 0, pair = 0; i < c.size(); ++i) {
    for (Index j = 0; j <= i; ++j, ++pair) {
      result.col(i) += c[j] * columns.col(pair);
      result.col(j) += c[i] * columns.col(pair);
    }
  }
  return result;
}

/// The symmetric matrix T with  sum over pairs of y_ij c_i c_j = 1/2 c'Tc.
MatrixXd spread(const VectorXd& y, Index shapes) {
  MatrixXd result(shapes, shapes);
  for (Index i = 0, pair = 0; i < shapes; ++i) {
    for (Index j = 0; j <= i; ++j, ++pair) {
      result(i, j) = y[pair];
      result(j, i) = y[pair];
    }
    result(i, i) *= 2;
  }
  return result;
}

void require_count(const VectorXd& c, Index shapes) {
  if (c.size() != shapes) {
    throw std::invalid_argument("a bow needs one figure for each of its shapes");
  }
}

}  // namespace

std::vector<MembraneEdge> membrane_sides(const std::vector<PlateEdge>& sides, EdgeDraw in_plane) {
  std::vector<MembraneEdge> result;
  result.reserve(sides.size());
  for (const PlateEdge side : sides) {
    const bool supported = side == PlateEdge::fixed || side == PlateEdge::held;
    if (side == PlateEdge::mirror) {
      result.push_back(MembraneEdge::sliding);
    } else if (supported && in_plane == EdgeDraw::held) {
      result.push_back(MembraneEdge::held);
    } else {
      result.push_back(MembraneEdge::free);
    }
  }
  return result;
}

double greatest_stretch_stress_mpa(const Plate& plate, const PlateSection& section,
                                   const VectorXd& deflections, EdgeDraw in_plane) {
  require_shapes(plate, deflections);
  const Membrane sheet =
      membrane(plate.mesh(), section, membrane_sides(plate.supports().sides, in_plane));
  const MatrixXd slopes = sheet.slopes * deflections;
  const VectorXd displacements = followed(sheet, slopes);
  double greatest = 0;
  by_blocks(sheet, slopes, 0, sheet.places(), [&](Index first, const MatrixXd& bow) {
    const VectorXd strains = bow + sheet.strains.middleRows(3 * first, bow.rows()) * displacements;
    for (Index k = 0; k < strains.size() / 3; ++k) {
      // Forces per length are the sheet's stiffness, mix' mix, times the strains.
      const Eigen::Vector3d n = sheet.mix.transpose() * strains.segment<3>(3 * k) /
                                sheet.root_weight[first + k] / section.thickness_mm;
      greatest =
          std::max(greatest, std::sqrt(n[0] * n[0] - n[0] * n[1] + n[1] * n[1] + 3 * n[2] * n[2]));
    }
  });
  return greatest;
}

BowStiffening::BowStiffening(const Plate& plate, const MatrixXd& shapes, EdgeDraw in_plane)
    : BowStiffening(plate, plate.section(), shapes, in_plane) {}

BowStiffening::BowStiffening(const Plate& plate, const PlateSection& section,
                             const MatrixXd& shapes, EdgeDraw in_plane)
    : BowStiffening(plate, section, shapes, membrane_sides(plate.supports().sides, in_plane)) {}

BowStiffening::BowStiffening(const Plate& plate, const MatrixXd& shapes,
                             const std::vector<MembraneEdge>& sides)
    : BowStiffening(plate, plate.section(), shapes, sides) {}

BowStiffening::BowStiffening(const Plate& plate, const PlateSection& section,
                             const MatrixXd& shapes, const std::vector<MembraneEdge>& sides)
    : shape_count_(shapes.cols()) {
  require_shapes(plate, shapes);
  const Membrane sheet = membrane(plate.mesh(), section, sides);
  products_ = products(sheet, sheet.slopes * shapes);
}

BowStiffening& BowStiffening::operator+=(const BowStiffening& other) {
  if (other.shape_count_ != shape_count_) {
    throw std::invalid_argument("two sheets of one bow have the same shapes");
  }
  products_ += other.products_;
  return *this;
}

double BowStiffening::energy_n_mm(const VectorXd& c) const {
  require_count(c, shape_count_);
  const VectorXd q = pairs_of(c);
  return 0.5 * q.dot(products_ * q);
}

BowStiffening::Local BowStiffening::at(const VectorXd& c) const {
  require_count(c, shape_count_);
  const VectorXd q = pairs_of(c);
  const VectorXd y = products_ * q;
  const MatrixXd direct = spread(y, shape_count_);
  const MatrixXd slopes = times_pair_slopes(products_, c);  // M dq/dc
  Local result;
  result.energy_n_mm = 0.5 * q.dot(y);
  result.gradient = direct * c;
  result.hessian = direct + times_pair_slopes(slopes.transpose(), c);
  return result;
}

}  // namespace stackfit
