// SPDX-License-Identifier: GPL-3.0-or-later
//
// wall_dump DIRECTORY TRIANGLES: the wall of wall_bench.cpp as raw arrays, for SciPy and NumPy to
// work on the very same (tests/bench/reference.py): nodes, the plate's matrix with its supports
// left out (whole, by columns), an even load and what it bends the plate into, the walls'
// shapes with the points' areas, and the forces of the ladder.
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "solver/columns.hpp"
#include "solver/plate_supports.hpp"
#include "tests/bench/bench_builds.hpp"

namespace {

using namespace stackfit;
using Sparse = Eigen::SparseMatrix<double>;

template <typename Number>
void write(const std::string& path, const Number* numbers, std::size_t count) {
  std::ofstream file(path, std::ios::binary);
  file.write(reinterpret_cast<const char*>(numbers),
             static_cast<std::streamsize>(count * sizeof(Number)));
}
template <typename Numbers>
void write(const std::string& path, const Numbers& numbers) {
  write(path, numbers.data(), static_cast<std::size_t>(numbers.size()));
}

void write_plate(const std::string& to, const Plate& plate) {
  const Sparse columns = free_unknowns(plate.mesh(), plate.supports()).columns;
  Sparse matrix = columns.transpose() * plate.stiffness() * columns;
  matrix.makeCompressed();
  const auto entries = static_cast<std::size_t>(matrix.nonZeros());
  write(to + "columns.i32", matrix.outerIndexPtr(), static_cast<std::size_t>(matrix.cols()) + 1);
  write(to + "rows.i32", matrix.innerIndexPtr(), entries);
  write(to + "values.f64", matrix.valuePtr(), entries);
  const Eigen::VectorXd load = even_pressure(plate.mesh(), -1, 0.1);
  const Eigen::VectorXd on_free = columns.transpose() * load;
  const Eigen::VectorXd bent = columns.transpose() * plate.solve(load);
  write(to + "load.f64", on_free);
  write(to + "bent.f64", bent);
}

void write_ladder(const std::string& to, const std::shared_ptr<const WallModes>& walls) {
  std::vector<double> area;
  for (const ColumnPoint& point : walls->mesh().points) area.push_back(point.area_mm2);
  write(to + "area.f64", area);
  write(to + "shapes.f64", walls->shapes());
  const Columns columns(bench::cells_between(walls));
  std::vector<double> forces;
  ColumnsState last;
  for (int rung = 1; rung <= bench::ladder_rungs; ++rung) {
    ColumnsLoad load;
    load.interference_mm = {bench::ladder_step_mm * rung};
    last = columns.solve(load, rung > 1 ? &last : nullptr);
    forces.push_back(last.total_force_n());
  }
  write(to + "forces.f64", forces);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    std::fputs("usage: wall_dump DIRECTORY TRIANGLES\n", stderr);
    return 2;
  }
  const std::string to = std::string(argv[1]) + "/";
  const WallPair pair = bench::walls_of(std::atoi(argv[2]));
  const auto mesh = mesh_walls(pair);
  std::vector<double> nodes;
  for (const geometry::Point& node : mesh->mesh.nodes) {
    nodes.push_back(node.x_mm);
    nodes.push_back(node.y_mm);
  }
  write(to + "nodes.f64", nodes);
  const auto walls = std::make_shared<const WallModes>(mesh, pair, false);
  write_plate(to, *walls->first().plate);
  write_ladder(to, walls);
  return 0;
}
