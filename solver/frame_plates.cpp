// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/frame_plates.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "solver/materials.hpp"
#include "solver/stock.hpp"
#include "solver/study.hpp"
#include "solver/wall_result.hpp"

namespace stackfit {
namespace {

WallMaterial material_of(const Build& build) {
  return build.frame->plates.material.value_or(wall_when_not_said);
}

double most_stress_mpa(const PlateTask& task) {
  const Build& build = task.build;
  const double safety =
      build.order.stress_safety.value_or(task.assumptions[Assumed::stress_safety]);
  const WallMaterial which = material_of(build);
  const double share =
      which == WallMaterial::plywood ? std::min(lasting_wood_share, 1 / safety) : 1 / safety;
  return share * material(which).yield_mpa;
}

double most_bow_mm(const PlateTask& task) {
  const FramePlates& plates = task.build.frame->plates;
  return task.build.order.most_bow_mm.value_or(task.assumptions[Assumed::most_bow_share] *
                                               std::min(plates.width_mm, plates.height_mm));
}

/// Tries of the stock, each solved once.
class Stock {
 public:
  explicit Stock(const PlateTask& task) : task_(task), thickness_(task.build.order.wall_stock_mm) {
    if (thickness_.empty()) {
      const auto sold = plate_stock_mm(material_of(task.build));
      thickness_.assign(sold.begin(), sold.end());
    }
    std::sort(thickness_.begin(), thickness_.end());
  }

  [[nodiscard]] std::size_t count() const { return thickness_.size(); }
  const PlateTrial& at(std::size_t index) {
    const auto known = trials_.find(index);
    return known != trials_.end()
               ? known->second
               : trials_.emplace(index, try_plate(task_, thickness_[index])).first->second;
  }

  /// Where the thickness should lie that holds: stress goes with its square, bow with its cube.
  std::size_t likely() {
    const std::size_t middle = count() / 2;
    const PlateTrial& trial = at(middle);
    if (!trial.solved) {
      return count() - 1;
    }
    const double wanted =
        trial.thickness_mm * std::max(std::sqrt(trial.stress_mpa / trial.most_stress_mpa),
                                      std::cbrt(trial.bow_mm / trial.most_bow_mm));
    const auto found = std::lower_bound(thickness_.begin(), thickness_.end(), wanted);
    return std::min(static_cast<std::size_t>(found - thickness_.begin()), count() - 1);
  }

 private:
  const PlateTask& task_;
  std::vector<double> thickness_;
  std::map<std::size_t, PlateTrial> trials_;
};

void choose_from_stock(const PlateTask& task, PlateOrder& out) {
  Stock stock(task);
  std::size_t index = stock.likely();
  while (!stock.at(index).holds() && index + 1 < stock.count()) {
    ++index;
  }
  while (stock.at(index).holds() && index > 0 && stock.at(index - 1).holds()) {
    --index;
  }
  out.chosen = stock.at(index);
  if (index > 0) {
    out.next_thinner = stock.at(index - 1);
  }
}

}  // namespace

PlateTrial try_plate(const PlateTask& task, double thickness_mm) {
  PlateTrial trial;
  trial.solved = true;
  trial.thickness_mm = thickness_mm;
  trial.most_stress_mpa = most_stress_mpa(task);
  trial.most_bow_mm = most_bow_mm(task);
  Build build = task.build;
  build.frame->plates.thickness_mm = thickness_mm;
  build.frame->springs.reset();
  build.frame->force_n = task.force_n;
  try {
    const Study study(std::move(build), task.assumptions, task.store);
    const auto full = study.model().columns_at(study.model().build_state(), {});
    for (const WallResult& wall : wall_results(study.row(), full.value())) {
      trial.stress_mpa = std::max(trial.stress_mpa, wall.stress_mpa);
      trial.bow_mm = std::max(trial.bow_mm, wall.bow_mm);
    }
  } catch (const std::runtime_error&) {
    trial.solved = false;  // far too thin: no equilibrium was found
  }
  return trial;
}

PlateOrder size_plates(const PlateTask& task) {
  PlateOrder out;
  out.material = material_of(task.build);
  out.lasting_wood = out.material == WallMaterial::plywood;
  out.force_n = task.force_n;
  if (const auto& said = task.build.frame->plates.thickness_mm) {
    out.said = try_plate(task, *said);
    if (out.said->holds()) {
      out.chosen = *out.said;
      return out;
    }
  }
  choose_from_stock(task, out);
  return out;
}

}  // namespace stackfit
