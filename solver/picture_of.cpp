// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/picture_of.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace stackfit {
namespace {

/// A value somewhere on the wall.
struct Spot {
  geometry::Point at;
  double value = 0;
  double weight = 1;
};

struct Bounds {
  double left = std::numeric_limits<double>::infinity();
  double bottom = std::numeric_limits<double>::infinity();
  double right = -std::numeric_limits<double>::infinity();
  double top = -std::numeric_limits<double>::infinity();
};

/// Rounded rectangles reach their bounds in the ends of their straight edges.
Bounds bounds_of(const geometry::Outline& outline) {
  Bounds bounds;
  for (const geometry::Loop& loop : outline.loops) {
    for (const geometry::Edge& edge : loop) {
      bounds.left = std::min(bounds.left, edge.from.x_mm);
      bounds.right = std::max(bounds.right, edge.from.x_mm);
      bounds.bottom = std::min(bounds.bottom, edge.from.y_mm);
      bounds.top = std::max(bounds.top, edge.from.y_mm);
    }
  }
  return bounds;
}

/// Where half a wall is meshed, the other half is its mirror.
void add_mirrored(std::vector<Spot>& spots, const WallMesh& mesh, double wall_width_mm) {
  if (mesh.share == 1) {
    return;
  }
  const std::size_t meshed = spots.size();
  for (std::size_t i = 0; i < meshed; ++i) {
    Spot other = spots[i];
    other.at.x_mm = wall_width_mm - other.at.x_mm;
    spots.push_back(other);
  }
}

double squared_distance(const geometry::Point& a, const geometry::Point& b) {
  return (a.x_mm - b.x_mm) * (a.x_mm - b.x_mm) + (a.y_mm - b.y_mm) * (a.y_mm - b.y_mm);
}

/// The value at the nearest spot.
double nearest(const std::vector<Spot>& spots, const geometry::Point& at) {
  const auto found =
      std::min_element(spots.begin(), spots.end(), [&](const Spot& a, const Spot& b) {
        return squared_distance(a.at, at) < squared_distance(b.at, at);
      });
  return found->value;
}

/// Shepard's mean of the few spots nearby: smooth enough for a line on paper, exact at a spot.
double between(std::vector<Spot>& spots, const geometry::Point& at) {
  constexpr std::ptrdiff_t neighbours = 4;
  const auto closer = [&](const Spot& a, const Spot& b) {
    return squared_distance(a.at, at) < squared_distance(b.at, at);
  };
  const auto count = std::min(neighbours, static_cast<std::ptrdiff_t>(spots.size()));
  std::partial_sort(spots.begin(), spots.begin() + count, spots.end(), closer);
  double sum = 0;
  double weights = 0;
  constexpr double same_spot_mm2 = 1e-6;
  for (auto spot = spots.begin(); spot != spots.begin() + count; ++spot) {
    const double weight = 1 / (squared_distance(spot->at, at) + same_spot_mm2);
    sum += weight * spot->value;
    weights += weight;
  }
  return sum / weights;
}

// --- the face -----------------------------------------------------------------------------

std::vector<Spot> pressed_spots(const Study& study, const RowColumns::Full& full) {
  const Row& row = study.row();
  const WallMesh& mesh = full.walls->mesh();
  std::vector<Spot> spots;
  for (std::size_t q = 0; q < mesh.points.size(); ++q) {
    if (mesh.points[q].face == row.face) {
      spots.push_back({mesh.points[q].at, full.now.pressure_mpa[static_cast<Eigen::Index>(q)],
                       mesh.points[q].area_mm2});
    }
  }
  add_mirrored(spots, mesh, row.box.walls.width_mm);
  return spots;
}

/// Each square of the map is the mean of the columns in it; one without any takes the nearest.
PressureMap map_of(const std::vector<Spot>& spots, const Bounds& face) {
  constexpr double square_mm = 6;  // about as far apart as the columns stand
  const int most_squares = 40;
  const auto squares = [most_squares](double length_mm) {
    return std::clamp(static_cast<int>(std::lround(length_mm / square_mm)), 1, most_squares);
  };
  PressureMap map;
  map.width_mm = face.right - face.left;
  map.height_mm = face.top - face.bottom;
  map.columns = squares(map.width_mm);
  map.rows = squares(map.height_mm);
  const auto count = static_cast<std::size_t>(map.columns) * static_cast<std::size_t>(map.rows);
  std::vector<double> weight(count, 0);
  map.pressure_mpa.assign(count, 0);
  const auto index = [](double share, int of) {
    return static_cast<std::size_t>(std::clamp(static_cast<int>(share * of), 0, of - 1));
  };
  const auto columns = static_cast<std::size_t>(map.columns);
  for (const Spot& spot : spots) {
    const std::size_t square =
        index((face.top - spot.at.y_mm) / map.height_mm, map.rows) * columns +
        index((spot.at.x_mm - face.left) / map.width_mm, map.columns);
    map.pressure_mpa[square] += spot.weight * spot.value;
    weight[square] += spot.weight;
  }
  for (std::size_t square = 0; square < count; ++square) {
    const double x = static_cast<double>(square % columns) + 0.5;
    const double y = static_cast<double>(square / columns) + 0.5;
    map.pressure_mpa[square] = weight[square] > 0
                                   ? map.pressure_mpa[square] / weight[square]
                                   : nearest(spots, {face.left + x * map.width_mm / map.columns,
                                                     face.top - y * map.height_mm / map.rows});
  }
  return map;
}

RowState state_of(const StateResult& state) {
  return {state.charge, state.temperature_c, state.capacity_loss, state.settled, state.stiff_pads};
}

void draw_face(const Study& study, const ShimLoad& load, const PlanResult& result,
               Picture& picture) {
  const Bounds face =
      bounds_of(study.row().box.walls.faces.at(static_cast<std::size_t>(study.row().face)));
  picture.worst_as_built = result.as_built.highest_local_mpa > result.highest.highest_local_mpa;
  const StateResult& worst = picture.worst_as_built ? result.as_built : result.highest;
  const auto full = study.model().columns_at(state_of(worst), load);
  if (full) {
    picture.worst_face = map_of(pressed_spots(study, *full), face);
    return;
  }
  picture.worst_face = {
      face.right - face.left, face.top - face.bottom, 1, 1, {worst.highest_local_mpa}};
}

// --- the walls ----------------------------------------------------------------------------

WallLines lines_of(const WallMesh& mesh, const WallPair& pair, const Eigen::VectorXd& nodes_mm) {
  constexpr int steps = 20;
  WallLines lines;
  if (nodes_mm.size() == 0 || nodes_mm.isZero()) {
    return lines;
  }
  std::vector<Spot> spots;
  for (std::size_t node = 0; node < mesh.mesh.nodes.size(); ++node) {
    spots.push_back({mesh.mesh.nodes[node], nodes_mm[static_cast<Eigen::Index>(node)]});
  }
  add_mirrored(spots, mesh, pair.width_mm);
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps;
    lines.across_mm.push_back(between(spots, {share * pair.width_mm, pair.height_mm / 2}));
    lines.up_mm.push_back(between(spots, {pair.width_mm / 2, share * pair.height_mm}));
  }
  return lines;
}

void draw_walls(const Study& study, const ShimLoad& load, const PlanResult& result,
                Picture& picture) {
  const Row& row = study.row();
  picture.wall_width_mm = row.box.walls.width_mm;
  picture.wall_height_mm = row.box.walls.height_mm;
  picture.inner_length_mm = row.box.rods ? study.model().free_row_mm(load) - result.cells_give_mm -
                                               result.sheets_give_mm - result.pads_give_mm
                                         : row.box.inner_length_mm;
  const auto full = study.model().columns_at(study.model().build_state(), load);
  if (!full) {
    return;
  }
  const WallMesh& mesh = full->walls->mesh();
  if (row.box.walls.first) {
    picture.first_wall = lines_of(mesh, row.box.walls, full->now.first_mm);
  }
  if (row.box.walls.last) {
    picture.last_wall = lines_of(mesh, row.box.walls, full->now.last_mm);
  }
}

// --- the curves ---------------------------------------------------------------------------

std::vector<double> even_steps(double low, double high, int steps) {
  std::vector<double> values;
  for (int i = 0; i <= steps; ++i) {
    values.push_back(low + (high - low) * i / steps);
  }
  return values;
}

constexpr double total_step_mm = 0.25;

/// Totals about the plan's own, none below nothing.
std::vector<double> totals_about(double planned_mm) {
  constexpr int steps = 8;
  constexpr double reach_mm = steps * total_step_mm;
  std::vector<double> totals = even_steps(std::max(0.0, planned_mm - reach_mm), planned_mm, steps);
  if (planned_mm == 0) {
    totals.assign(1, 0);
  }
  const std::vector<double> more = even_steps(planned_mm, planned_mm + reach_mm, steps);
  totals.insert(totals.end(), more.begin() + 1, more.end());
  return totals;
}

/// How far age is followed: past the required states, and to twice the life found, within reason.
double most_loss(const Study& study, const PlanResult& result) {
  constexpr double least = 0.05;
  constexpr double most = 0.20;
  const double twice = 2 * result.life_mean.value_or(0);
  return std::max(study.row().use_capacity_loss.high, std::clamp(twice, least, most));
}

void play_states(const Study& study, const PlanResult& result, const ShimLoad& load, Play& play) {
  const Row& row = study.row();
  const double all_mm = row.nominal_mm * static_cast<double>(row.cells.size());
  play.charge = row.swing.knots({0, 1});
  for (const double charge : play.charge) {
    play.longer_mm.push_back(all_mm * (row.swing.at(charge) - row.swing.at(row.build_charge)));
  }
  // Two states a degree apart: the model's own word on what heat does.
  RowState state = study.model().build_state();
  const double cool = study.model().interference_mm(state, load);
  state.temperature_c += 1;
  play.longer_mm_per_k = study.model().interference_mm(state, load) - cool;
  play.longer_mm_per_loss = all_mm * row.growth.per_loss;
  play.most_loss = most_loss(study, result);
  constexpr double further_k = 10;
  play.least_temperature_c =
      std::min(row.use_temperature_c.low, row.build_temperature_c) - further_k;
  play.most_temperature_c =
      std::max(row.use_temperature_c.high, row.build_temperature_c) + further_k;
}

std::vector<double> shifts_of(const Study& study, const Play& play) {
  constexpr int steps = 48;
  const double cooler = play.least_temperature_c - study.row().build_temperature_c;
  const double warmer = play.most_temperature_c - study.row().build_temperature_c;
  const auto heat = std::minmax({play.longer_mm_per_k * cooler, play.longer_mm_per_k * warmer});
  const auto [least, most] = std::minmax_element(play.longer_mm.begin(), play.longer_mm.end());
  // A step of the totals further both ways: between two of them both are read (picture.hpp).
  return even_steps(*least + heat.first - total_step_mm,
                    *most + heat.second + play.longer_mm_per_loss * play.most_loss + total_step_mm,
                    steps);
}

Play play_of(const Study& study, const ShimLoad& load, const PlanResult& result) {
  Play play;
  if (study.row().rim) {
    return play;
  }
  play_states(study, result, load, play);
  play.total_mm = study.row().box.rods ? std::vector<double>{result.shim_total_mm}
                                       : totals_about(result.shim_total_mm);
  play.shift_mm = shifts_of(study, play);
  for (const RowModel::Kind& kind : study.model().kinds()) {
    PlayKind& made = play.kinds.emplace_back();
    made.settled = kind.settled;
    made.stiff_pads = kind.stiff_pads;
    for (const double total : play.total_mm) {
      ShimLoad other = load;
      other.thickness_mm += total - result.shim_total_mm;
      for (const double shift : play.shift_mm) {
        const StateResult state = study.model().solve_moved(kind, other, shift);
        made.face_pressure_mpa.push_back(state.face_pressure_mpa);
        made.highest_local_mpa.push_back(state.highest_local_mpa);
        made.wall_bow_mm.push_back(state.wall_bow_mm);
      }
    }
  }
  return play;
}

}  // namespace

Picture picture_of(const Study& study, const ShimPlan& plan, const PlanResult& result) {
  const ShimLoad load = study.load_of(plan.used);
  Picture picture;
  draw_face(study, load, result, picture);
  draw_walls(study, load, result, picture);
  picture.play = play_of(study, load, result);
  return picture;
}

}  // namespace stackfit
