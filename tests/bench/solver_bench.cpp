// SPDX-License-Identifier: GPL-3.0-or-later
//
// How long the solver takes for its parts. Figures mean something only beside a reference in
// the same run: tests/bench/beside_scipy.py prints them as ratios.
#include <benchmark/benchmark.h>

#include <cstddef>
#include <cstdint>
#include <memory>
#include <random>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "cli/read_build.hpp"
#include "geometry/flatness.hpp"
#include "solver/chance_model.hpp"
#include "solver/columns.hpp"
#include "solver/dome_fit.hpp"
#include "solver/monte_carlo.hpp"
#include "solver/series.hpp"
#include "solver/study.hpp"

namespace {

using namespace stackfit;

Build fixture(const std::string& name) {
  cli::BuildSource source;
  source.file = std::string(STACKFIT_FIXTURES_DIR "/") + name;
  return cli::read_build(source).build.value();
}

/// One equilibrium of cells between giving walls, at interferences that change every time.
void one_column_equilibrium(benchmark::State& state) {
  Series series;
  series.add({std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{0.06, 180, 1}), 8 * 58.2,
              25'800});
  series.add_give(1e-3);
  double interference = 0;
  for (auto _ : state) {
    interference = interference > 5 ? 0.01 : interference + 0.01;
    benchmark::DoNotOptimize(series.solve(interference).force_n);
  }
  state.SetItemsProcessed(state.iterations());
}
BENCHMARK(one_column_equilibrium);

/// The same with foam pads in the row.
void equilibrium_with_foam(benchmark::State& state) {
  const Study study(fixture("van_sixteen.json"), {});
  ShimLoad load;
  load.thickness_mm = 9;
  const RowState built = study.model().build_state();
  for (auto _ : state) {
    load.thickness_mm = load.thickness_mm > 12 ? 6 : load.thickness_mm + 0.01;
    benchmark::DoNotOptimize(study.model().solve(built, load).force_n);
  }
  state.SetItemsProcessed(state.iterations());
}
BENCHMARK(equilibrium_with_foam);

/// Blocks of samples with as many inputs as a common row has; items are samples.
void draws(benchmark::State& state, void (*draw)(std::uint64_t, std::uint64_t, std::size_t,
                                                 std::size_t, std::span<double>)) {
  const std::size_t inputs = 18;
  std::vector<double> out(inputs * block_samples);
  std::uint64_t first = 0;
  for (auto _ : state) {
    draw(1, first, inputs, block_samples, out);
    benchmark::DoNotOptimize(out.data());
    benchmark::ClobberMemory();
    first += block_samples;
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(block_samples));
}
/// Samples of a chance: every figure drawn, and the window of shims that each draw leaves.
void chance_samples(benchmark::State& state, const Build& build) {
  const Study study(build, {});
  const ChanceModel model(study, study.load_of(study.choose().used));
  const std::size_t inputs = model.inputs().size();
  std::vector<double> u(inputs * block_samples);
  std::vector<double> windows(window_rows * block_samples);
  std::uint64_t first = 0;
  for (auto _ : state) {
    draw_uniform(1, first, inputs, block_samples, u);
    model.windows(u, block_samples, windows);
    benchmark::DoNotOptimize(windows.data());
    first += block_samples;
  }
  state.counters["inputs"] = static_cast<double>(inputs);
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(block_samples));
}
/// Foam, domes, age and a hand's push: every figure that one build can leave open at once.
Build every_figure() {
  Build build = fixture("van_sixteen.json");
  build.use.capacity_loss = Span{0, 0.02};
  build.build.method = BuildMethod::hand;
  return build;
}
BENCHMARK_CAPTURE(chance_samples, shed_bank, fixture("shed_bank.json"));
BENCHMARK_CAPTURE(chance_samples, every_figure, every_figure());
BENCHMARK_CAPTURE(draws, uniform, draw_uniform);
BENCHMARK_CAPTURE(draws, normal, draw_normal);

/// A dome of 1,000 readings: with their noise few are corners of the hull; of a smooth one all are.
std::vector<geometry::SpacePoint> thousand_points(double noise_mm) {
  std::vector<geometry::SpacePoint> points;
  std::mt19937 draw(1);
  const auto uniform = [&] { return static_cast<double>(draw()) / 2147483648.0 - 1; };
  for (int i = 0; i < 1000; ++i) {
    const double xi = uniform();
    const double eta = uniform();
    points.push_back({70 * xi, 90 * eta, -0.5 * (xi * xi + eta * eta) + noise_mm * uniform()});
  }
  return points;
}

/// Minimum-zone flatness; the argument is the readings' noise in thousandths of a millimetre.
void flatness_of_1000(benchmark::State& state) {
  const auto points = thousand_points(static_cast<double>(state.range(0)) / 1000);
  for (auto _ : state) {
    benchmark::DoNotOptimize(geometry::flatness_mm(points));
  }
}
BENCHMARK(flatness_of_1000)->Arg(20)->Arg(0)->Unit(benchmark::kMillisecond);

/// Plane, dome, exponent and the search for outliers.
void dome_fit_of(benchmark::State& state) {
  std::vector<FacePoint> points;
  for (const geometry::SpacePoint& p : thousand_points(0.02)) {
    points.push_back({p.x_mm, p.y_mm, p.z_mm});
  }
  points.resize(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) {
    benchmark::DoNotOptimize(fit_dome(points, {70, 90}).fit);
  }
}
BENCHMARK(dome_fit_of)->Arg(25)->Arg(1000)->Unit(benchmark::kMillisecond);

/// From a build to a row with its laws, wall and model.
void resolve(benchmark::State& state) {
  const Build build = fixture("shed_bank.json");
  for (auto _ : state) {
    const Study study(build, {});
    benchmark::DoNotOptimize(study.row().face_area_mm2);
  }
}
BENCHMARK(resolve);

/// The walls of a box whose top is free, the whole of them meshed (at least 2,000 triangles).
WallPair whole_walls() {
  WallPair pair = Study(fixture("shed_bank.json"), {}).row().box.walls;
  pair.mirrored = false;
  return pair;
}

/// Mesh, factor and shapes of both walls.
void walls_mesh_and_shapes(benchmark::State& state) {
  const WallPair pair = whole_walls();
  std::size_t triangles = 0;
  for (auto _ : state) {
    const auto mesh = mesh_walls(pair);
    const WallModes modes(mesh, pair, false);
    benchmark::DoNotOptimize(modes.count());
    triangles = mesh->mesh.triangles.size();
  }
  state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(walls_mesh_and_shapes);

ColumnsSetup cells_between(std::shared_ptr<const WallModes> walls) {
  ColumnLaw law;
  law.add(std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{0.06, 180, 1}), 8 * 58.2);
  const std::size_t points = walls->mesh().points.size();
  return {std::move(walls),
          {law},
          std::vector<int>(points, 0),
          Eigen::VectorXd::Zero(static_cast<Eigen::Index>(points))};
}

/// Mesh, factor, shapes and a ladder of 30 interferences up to about 0.35 MPa.
void walls_and_ladder_of_30(benchmark::State& state) {
  const WallPair pair = whole_walls();
  for (auto _ : state) {
    const auto walls = std::make_shared<const WallModes>(mesh_walls(pair), pair, false);
    const Columns columns(cells_between(walls));
    ColumnsState last;
    for (int step = 1; step <= 30; ++step) {
      ColumnsLoad load;
      load.interference_mm = {0.2 * step};
      last = columns.solve(load, step > 1 ? &last : nullptr);
    }
    benchmark::DoNotOptimize(last.total_force_n());
  }
}
BENCHMARK(walls_and_ladder_of_30);

/// One solution by the plates themselves.
void full_solution(benchmark::State& state) {
  const WallPair pair = whole_walls();
  const Columns columns(
      cells_between(std::make_shared<const WallModes>(mesh_walls(pair), pair, false)));
  ColumnsLoad load;
  load.interference_mm = {3};
  for (auto _ : state) benchmark::DoNotOptimize(columns.solve_fully(load).total_force_n());
}
BENCHMARK(full_solution);

void search(benchmark::State& state, const std::string& name) {
  const Study study(fixture(name), {});
  for (auto _ : state) benchmark::DoNotOptimize(study.choose().margin);
}
BENCHMARK_CAPTURE(search, eight_cells, std::string("shed_bank.json"));
BENCHMARK_CAPTURE(search, sixteen_cells_six_thicknesses, std::string("wide_kit_sixteen.json"));

void whole_answer(benchmark::State& state, const std::string& name) {
  const Build build = fixture(name);
  for (auto _ : state) benchmark::DoNotOptimize(answer_pick(build).plan.margin);
}
BENCHMARK_CAPTURE(whole_answer, eight_cells, std::string("shed_bank.json"));
BENCHMARK_CAPTURE(whole_answer, nothing_fits, std::string("too_few_shims.json"));

}  // namespace
