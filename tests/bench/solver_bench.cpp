// SPDX-License-Identifier: GPL-3.0-or-later
//
// How long the solver takes for its parts. Figures mean something only beside a reference in
// the same run: tests/bench/beside_scipy.py prints them as ratios.
#include <benchmark/benchmark.h>

#include <string>

#include "cli/read_build.hpp"
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

/// From a build to a row with its laws, wall and model.
void resolve(benchmark::State& state) {
  const Build build = fixture("shed_bank.json");
  for (auto _ : state) {
    const Study study(build, {});
    benchmark::DoNotOptimize(study.row().face_area_mm2);
  }
}
BENCHMARK(resolve);

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
