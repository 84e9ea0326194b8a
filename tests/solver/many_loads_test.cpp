// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/many_loads.hpp"

#include <cstddef>
#include <cstring>
#include <random>
#include <vector>

#include "tests/catch.hpp"

using stackfit::solve_many;

namespace {

/// Five entries a row on a grid, as a plate's are strewn; the diagonal outweighs them.
Eigen::SparseMatrix<double> grid_matrix(int across, int up) {
  std::mt19937 draw(1);
  const auto uniform = [&draw] { return static_cast<double>(draw()) / 4294967296.0 - 0.5; };
  std::vector<Eigen::Triplet<double>> entries;
  for (int i = 0; i < across * up; ++i) {
    entries.emplace_back(i, i, 4 + uniform());
    for (const int step : {1, across}) {
      if (i + step < across * up) {
        const double value = uniform();
        entries.emplace_back(i, i + step, value);
        entries.emplace_back(i + step, i, value);
      }
    }
  }
  Eigen::SparseMatrix<double> matrix(across * up, across * up);
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

}  // namespace

TEST_CASE("many loads at once come out to the last bit as one by one") {
  const Eigen::SparseMatrix<double> matrix = grid_matrix(17, 23);
  const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(matrix);
  REQUIRE(factor.info() == Eigen::Success);
  for (const Eigen::Index count : {0, 1, 3, 4, 7, 8, 9, 45}) {
    Eigen::MatrixXd loads = Eigen::MatrixXd::Random(matrix.rows(), count);
    loads.topRows(100).setZero();  // Eigen leaves out what is zero on its way
    const Eigen::MatrixXd expected = factor.solve(loads);
    const Eigen::MatrixXd found = solve_many(factor, loads);
    REQUIRE(found.rows() == expected.rows());
    REQUIRE(found.cols() == expected.cols());
    CAPTURE(count);
    const auto bytes = static_cast<std::size_t>(expected.size()) * sizeof(double);
    CHECK((bytes == 0 || std::memcmp(found.data(), expected.data(), bytes) == 0));
  }
}
