// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/bench/bench_builds.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "cli/read_build.hpp"
#include "solver/study.hpp"

namespace bench {

using namespace stackfit;

Build fixture(const std::string& name) {
  cli::BuildSource source;
  source.file = std::string(STACKFIT_FIXTURES_DIR "/") + name;
  return cli::read_build(source).build.value();
}

Build row_of(int cells) {
  Build build = fixture("wide_kit_sixteen.json");
  const std::vector<CellReading> readings = build.cells;
  const double share = static_cast<double>(cells) / static_cast<double>(readings.size());
  build.cells.clear();
  for (int i = 0; i < cells; ++i) {
    build.cells.push_back(readings[static_cast<std::size_t>(i) % readings.size()]);
    build.cells.back().id = std::to_string(i + 1);
  }
  build.series = cells;
  for (double& length : build.box.inner_length_mm) length *= share;
  return build;
}

Build kit_of(int kinds) {
  constexpr int pieces = 16;
  Build build = fixture("wide_kit_sixteen.json");
  std::sort(build.kit.begin(), build.kit.end(), [](const KitShim& a, const KitShim& b) {
    return a.sheet.thickness_mm > b.sheet.thickness_mm;
  });
  build.kit.resize(static_cast<std::size_t>(kinds));
  for (KitShim& kind : build.kit) kind.count = pieces;
  return build;
}

WallPair walls_of(int triangles) {
  constexpr double default_triangles = 2000;  // default_edge_mm
  WallPair pair = Study(fixture("shed_bank.json"), {}).row().box.walls;
  pair.mirrored = false;
  pair.edge_scale = std::sqrt(default_triangles / triangles);
  return pair;
}

ColumnsSetup cells_between(std::shared_ptr<const WallModes> walls) {
  ColumnLaw law;
  law.add(std::make_shared<ExponentialLaw>(ExponentialLaw::Constants{0.06, 180, 1}), 8 * 58.2);
  const std::size_t points = walls->mesh().points.size();
  return {std::move(walls),
          {law},
          std::vector<int>(points, 0),
          Eigen::VectorXd::Zero(static_cast<Eigen::Index>(points))};
}

}  // namespace bench
