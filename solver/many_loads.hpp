// SPDX-License-Identifier: GPL-3.0-or-later
//
// One sparse factor, many right sides.
//
// For: the shapes of walls and what follows their stretching: tens of loads on one factor.
// Not for: one load or a few; Eigen's own way is as quick there, and taken.
// What can be relied on: every answer is, to the last bit, that of factor.solve(). Eigen walks
// through the factor once for each load; here eight loads go along, each in the same order of
// steps.
#pragma once

#include <Eigen/SparseCholesky>
#include <algorithm>

namespace stackfit {

[[nodiscard]] inline Eigen::MatrixXd solve_many(
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>>& factor,
    const Eigen::MatrixXd& loads) {
  constexpr Eigen::Index side_by_side = 8;
  using Block = Eigen::Matrix<double, Eigen::Dynamic, side_by_side, Eigen::RowMajor>;
  if (loads.cols() < side_by_side / 2) {
    return factor.solve(loads);
  }
  const Eigen::SparseMatrix<double>& lower = factor.matrixL().nestedExpression();
  const Eigen::VectorXd inverse = factor.vectorD().cwiseInverse();
  Eigen::MatrixXd answers(loads.rows(), loads.cols());
  for (Eigen::Index first = 0; first < loads.cols(); first += side_by_side) {
    const Eigen::Index count = std::min(side_by_side, loads.cols() - first);
    Block x = Block::Zero(loads.rows(), side_by_side);
    x.leftCols(count) = factor.permutationP() * loads.middleCols(first, count);
    for (Eigen::Index i = 0; i < lower.outerSize(); ++i) {
      for (Eigen::SparseMatrix<double>::InnerIterator at(lower, i); at; ++at) {
        x.row(at.index()) -= x.row(i) * at.value();
      }
    }
    x = inverse.asDiagonal() * x;
    for (Eigen::Index i = lower.outerSize() - 1; i >= 0; --i) {
      for (Eigen::SparseMatrix<double>::InnerIterator at(lower, i); at; ++at) {
        x.row(i) -= x.row(at.index()) * at.value();
      }
    }
    answers.middleCols(first, count) = factor.permutationPinv() * x.leftCols(count);
  }
  return answers;
}

}  // namespace stackfit
