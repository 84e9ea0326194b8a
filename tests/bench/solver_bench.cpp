// SPDX-License-Identifier: GPL-3.0-or-later
//
// How long the solver takes for its parts, walls apart (wall_bench.cpp). Figures mean something
// only beside a reference in the same run: tests/bench/table.py sets them side by side.
#include <benchmark/benchmark.h>

#include <cstddef>
#include <cstdint>
#include <memory>
#include <random>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "geometry/flatness.hpp"
#include "solver/chance_model.hpp"
#include "solver/dome_fit.hpp"
#include "solver/monte_carlo.hpp"
#include "solver/series.hpp"
#include "solver/study.hpp"
#include "tests/bench/bench_builds.hpp"

namespace {

using namespace stackfit;

using bench::fixture;

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
BENCHMARK(resolve)->Unit(benchmark::kMillisecond);

/// The shim search alone: laws, walls and curves are there.
void choose(benchmark::State& state, const Build& build) {
  const Study study(build, {});
  benchmark::DoNotOptimize(study.choose().margin);
  for (auto _ : state) benchmark::DoNotOptimize(study.choose().margin);
}
void search(benchmark::State& state, const std::string& name) {
  choose(state, fixture(name));
}
BENCHMARK_CAPTURE(search, eight_cells, std::string("shed_bank.json"))
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(search, sixteen_cells_six_kinds, std::string("wide_kit_sixteen.json"))
    ->Unit(benchmark::kMillisecond);

void search_by_cells(benchmark::State& state) {
  choose(state, bench::row_of(static_cast<int>(state.range(0))));
}
BENCHMARK(search_by_cells)
    ->ArgName("cells")
    ->RangeMultiplier(2)
    ->Range(2, 64)
    ->Unit(benchmark::kMillisecond);

void search_by_kinds(benchmark::State& state) {
  choose(state, bench::kit_of(static_cast<int>(state.range(0))));
}
BENCHMARK(search_by_kinds)->ArgName("kinds")->DenseRange(1, 6)->Unit(benchmark::kMillisecond);

/// Real time: it works on all threads.
void whole_answer(benchmark::State& state, const std::string& name) {
  const Build build = fixture(name);
  for (auto _ : state) benchmark::DoNotOptimize(answer_pick(build).plan.margin);
}
BENCHMARK_CAPTURE(whole_answer, eight_cells, std::string("shed_bank.json"))
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK_CAPTURE(whole_answer, nothing_fits, std::string("too_few_shims.json"))
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace
