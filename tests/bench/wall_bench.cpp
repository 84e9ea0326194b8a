// SPDX-License-Identifier: GPL-3.0-or-later
//
// How long walls and columns take, and how that grows with the triangles: the mesh, the plate's
// factor, its answers to many loads, the walls' shapes, and a ladder of interferences.
#include <benchmark/benchmark.h>

#include <memory>

#include "solver/columns.hpp"
#include "tests/bench/bench_builds.hpp"

namespace {

using namespace stackfit;

void sizes(benchmark::internal::Benchmark* timed) {
  timed->ArgName("triangles")->Unit(benchmark::kMillisecond);
  for (const int triangles : {500, 1600, 5000, 16'000, 50'000}) timed->Arg(triangles);
}

void count(benchmark::State& state, const WallMesh& walls) {
  state.counters["triangles"] = static_cast<double>(walls.mesh.triangles.size());
  state.counters["nodes"] = static_cast<double>(walls.mesh.nodes.size());
}

int asked(const benchmark::State& state) {
  return static_cast<int>(state.range(0));
}

/// Triangles that follow wall and face, and the columns' points on them.
void wall_mesh(benchmark::State& state) {
  const WallPair pair = bench::walls_of(asked(state));
  for (auto _ : state) benchmark::DoNotOptimize(mesh_walls(pair)->middle_node);
  count(state, *mesh_walls(pair));
}
BENCHMARK(wall_mesh)->Apply(sizes);

/// The plate's matrix put together, and factored.
void wall_factor(benchmark::State& state) {
  const WallPair pair = bench::walls_of(asked(state));
  const auto mesh = mesh_walls(pair);
  const auto plate = WallModes(mesh, pair, false).first().plate;
  for (auto _ : state) {
    const Plate again(mesh->mesh, plate->section(), plate->supports(), plate->backing());
    benchmark::DoNotOptimize(again.unknowns());
  }
  count(state, *mesh);
}
BENCHMARK(wall_factor)->Apply(sizes);

/// Forty-five loads at once, as many as one face has shapes.
void wall_forty_five_loads(benchmark::State& state) {
  const WallPair pair = bench::walls_of(asked(state));
  const auto mesh = mesh_walls(pair);
  const auto plate = WallModes(mesh, pair, false).first().plate;
  const Eigen::MatrixXd loads = even_pressure(mesh->mesh, -1, 0.1).replicate(1, 45);
  for (auto _ : state) benchmark::DoNotOptimize(plate->solve(loads).data());
  count(state, *mesh);
}
BENCHMARK(wall_forty_five_loads)->Apply(sizes);

/// Factor and shapes.
void wall_shapes(benchmark::State& state) {
  const WallPair pair = bench::walls_of(asked(state));
  const auto mesh = mesh_walls(pair);
  for (auto _ : state) benchmark::DoNotOptimize(WallModes(mesh, pair, false).count());
  count(state, *mesh);
}
BENCHMARK(wall_shapes)->Apply(sizes);

std::shared_ptr<const WallModes> modes_of(const WallPair& pair) {
  return std::make_shared<const WallModes>(mesh_walls(pair), pair, false);
}

/// A ladder of thirty interferences, each from the one before, by the shapes.
void ladder(benchmark::State& state) {
  const Columns columns(bench::cells_between(modes_of(bench::walls_of(asked(state)))));
  for (auto _ : state) {
    ColumnsState last;
    for (int rung = 1; rung <= bench::ladder_rungs; ++rung) {
      ColumnsLoad load;
      load.interference_mm = {bench::ladder_step_mm * rung};
      last = columns.solve(load, rung > 1 ? &last : nullptr);
    }
    benchmark::DoNotOptimize(last.total_force_n());
  }
  count(state, columns.setup().walls->mesh());
}
BENCHMARK(ladder)->Apply(sizes);

/// One solution by the plates themselves.
void full_solution(benchmark::State& state) {
  const Columns columns(bench::cells_between(modes_of(bench::walls_of(asked(state)))));
  ColumnsLoad load;
  load.interference_mm = {3};
  for (auto _ : state) benchmark::DoNotOptimize(columns.solve_fully(load).total_force_n());
  count(state, columns.setup().walls->mesh());
}
BENCHMARK(full_solution)->ArgName("triangles")->Arg(1600)->Unit(benchmark::kMillisecond);

}  // namespace
