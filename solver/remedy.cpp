// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/remedy.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "solver/insulation.hpp"
#include "solver/stock.hpp"

namespace stackfit {
namespace {

constexpr double length_step_mm = 0.5;
constexpr double longest_change_mm = 12;
/// Forces of a frame that are tried over the band, and to what they are rounded [N].
constexpr int force_steps = 24;
constexpr double force_round_n = 10;
constexpr double charge_step = 0.05;
constexpr double narrowest_window = 0.3;
/// Of one thickness more pieces are named for so many kinds at most.
constexpr std::size_t most_kinds = 2;

double total_mm(const Study& study, const ShimPlan& plan) {
  double total = 0;
  for (std::size_t kind = 0; kind < plan.used.size(); ++kind) {
    total += plan.used[kind] * study.row().kit[kind].sheet.thickness_mm;
  }
  return total;
}

class Finder {
 public:
  explicit Finder(const Study& study)
      : study_(study),
        short_of_insulators_(insulators_on_hand(study.row()) < sheets_due(study.row())) {}

  [[nodiscard]] std::vector<Remedy> find() {
    more_of_a_kind();
    other_thickness();
    build_method();
    build_charge();
    slip_film();
    charge_window();
    end_pads();
    if (study_.build().frame) {
      frame_force();
    } else {
      box_length();
    }
    return std::move(found_);
  }

 private:
  /// Solves the build with the remedy; adds it when a plan passes, build method and all.
  bool offer(Remedy remedy) {
    const Study changed(apply(remedy, study_.build()), study_.assumptions(), study_.store(),
                        study_.place());
    if (!changed.can_pass()) {
      return false;
    }
    const ShimPlan plan = changed.choose();
    if (!plan.passes) {
      return false;
    }
    remedy.margin = plan.margin;
    remedy.passes = true;
    found_.push_back(std::move(remedy));
    return true;
  }

  /// The fewest more of one kind, tried kind by kind.
  void more_of_a_kind() {
    const auto gaps = static_cast<int>(study_.row().gaps.size());
    for (std::size_t kind = 0; kind < study_.row().kit.size(); ++kind) {
      Remedy remedy;
      remedy.code = RemedyCode::more_of_a_kind;
      remedy.name = study_.row().kit[kind].sheet.name;
      remedy.thickness_mm = study_.row().kit[kind].sheet.thickness_mm;
      remedy.kit_index = static_cast<int>(kind);
      for (int more = 1; more <= gaps; ++more) {
        remedy.count = study_.row().kit[kind].count + more;
        if (offer(remedy)) {
          break;
        }
      }
      if (found_.size() >= most_kinds) {
        return;
      }
    }
  }

  /// One further thickness: the fewest pieces that do, and one for every gap.
  void other_thickness() {
    const auto gaps = static_cast<int>(study_.row().gaps.size());
    if (!other_thickness({1, 2, 4})) {
      other_thickness({2 * gaps});
    }
    other_thickness({gaps});
  }

  bool other_thickness(const std::vector<int>& counts) {
    for (const int count : counts) {
      for (const double thickness : shim_stock_mm) {
        const bool known =
            std::any_of(study_.row().kit.begin(), study_.row().kit.end(),
                        [&](const RowKind& kind) { return kind.sheet.thickness_mm == thickness; });
        if (known) {
          continue;
        }
        Remedy remedy;
        remedy.code = short_of_insulators_ ? RemedyCode::insulating_sheets : RemedyCode::add_shims;
        remedy.name = "added";
        remedy.thickness_mm = thickness;
        remedy.count = count;
        if (offer(remedy)) {
          return true;
        }
      }
    }
    return false;
  }

  void build_method() {
    const InsertionRules& rules = study_.insertion();
    if (rules.method != BuildMethod::hand) {
      return;
    }
    if (study_.build().box.opens == Opens::none) {
      return;
    }
    Remedy remedy;
    remedy.code = RemedyCode::build_method;
    remedy.method = BuildMethod::end_wall_last;
    offer(remedy);
  }

  void build_charge() {
    if (study_.insertion().method != BuildMethod::hand) {
      return;
    }
    Remedy remedy;
    remedy.code = RemedyCode::build_charge;
    // Whole steps below today's charge, down to the lowest that is allowed.
    const auto steps_of = [](double charge) { return std::lround(charge / charge_step); };
    for (long step = steps_of(study_.row().build_charge) - 1;
         step >= steps_of(study_.insertion().lowest_charge); --step) {
      remedy.value = std::round(100 * charge_step * static_cast<double>(step)) / 100;
      if (offer(remedy)) {
        return;
      }
    }
  }

  void slip_film() {
    if (study_.insertion().method != BuildMethod::hand || study_.build().build.slip_film) {
      return;
    }
    Remedy remedy;
    remedy.code = RemedyCode::slip_film;
    offer(remedy);
  }

  /// Narrower by equal steps at both ends.
  void charge_window() {
    Remedy remedy;
    remedy.code = RemedyCode::charge_window;
    const Span now = study_.row().use_charge;
    for (int step = 1;; ++step) {
      remedy.window = {now.low + step * charge_step, now.high - step * charge_step};
      remedy.window.low = std::round(remedy.window.low * 100) / 100;
      remedy.window.high = std::round(remedy.window.high * 100) / 100;
      if (remedy.window.high - remedy.window.low < narrowest_window) {
        return;
      }
      if (offer(remedy)) {
        return;
      }
    }
  }

  /// The thinnest pads at both ends that do.
  void end_pads() {
    if (!study_.build().pads.empty()) {
      return;
    }
    for (const double thickness : pad_stock_mm) {
      for (const int grade : pad_grades) {
        Remedy remedy;
        remedy.code = RemedyCode::end_pads;
        remedy.thickness_mm = thickness;
        remedy.grade = grade;
        remedy.count = 2;
        if (offer(remedy)) {
          return;
        }
      }
    }
  }

  /// The nearest length, longer or shorter, by which the kit serves.
  void box_length() {
    const double now = study_.row().box.inner_length_mm;
    for (int step = 1; step * length_step_mm <= longest_change_mm; ++step) {
      const double change = step * length_step_mm;
      for (const double length : {now + change, now - change}) {
        Remedy remedy;
        remedy.code = RemedyCode::box_length;
        remedy.value = std::round(length / length_step_mm) * length_step_mm;
        if (offer(remedy)) {
          return;
        }
      }
    }
  }

  /// The force nearest to the present one to which the frame is better brought.
  void frame_force() {
    const BandResult& band = study_.row().band;
    const double now = study_.row().box.rods->force_n;
    std::vector<double> forces;
    for (int step = 0; step <= force_steps; ++step) {
      const double share = static_cast<double>(step) / force_steps;
      const double pressure = band.low_mpa + share * (band.high_mpa - band.low_mpa);
      forces.push_back(std::round(pressure * band.face_area_mm2 / force_round_n) * force_round_n);
    }
    std::sort(forces.begin(), forces.end(),
              [now](double x, double y) { return std::abs(x - now) < std::abs(y - now); });
    for (const double force : forces) {
      Remedy remedy;
      remedy.code = RemedyCode::frame_force;
      remedy.value = force;
      if (offer(remedy)) {
        return;
      }
    }
  }

  const Study& study_;
  bool short_of_insulators_;
  std::vector<Remedy> found_;
};

}  // namespace

Build apply(const Remedy& remedy, Build build) {
  switch (remedy.code) {
    case RemedyCode::add_shims:
    case RemedyCode::insulating_sheets: {
      KitShim shim;
      shim.sheet.name = remedy.name;
      shim.sheet.thickness_mm = remedy.thickness_mm;
      // As the kit's own, so that the added sheet insulates where they do.
      if (!build.kit.empty()) {
        shim.sheet.material = build.kit.front().sheet.material;
      }
      shim.count = remedy.count;
      build.kit.push_back(std::move(shim));
      break;
    }
    case RemedyCode::more_of_a_kind:
      build.kit[static_cast<std::size_t>(remedy.kit_index)].count = remedy.count;
      break;
    case RemedyCode::box_length:
      build.box.inner_length_mm = {remedy.value};
      break;
    case RemedyCode::frame_force:
      build.frame->force_n = remedy.value;
      break;
    case RemedyCode::charge_window:
      build.use.charge = remedy.window;
      break;
    case RemedyCode::build_method:
      build.build.method = remedy.method;
      break;
    case RemedyCode::build_charge:
      build.build.charge = remedy.value;
      break;
    case RemedyCode::slip_film:
      build.build.slip_film = true;
      break;
    case RemedyCode::end_wall: {
      PlateWall wall =
          build.box.end_walls && std::holds_alternative<PlateWall>(*build.box.end_walls)
              ? std::get<PlateWall>(*build.box.end_walls)
              : PlateWall{};
      wall.thickness_mm = remedy.thickness_mm;
      build.box.end_walls = wall;
      break;
    }
    case RemedyCode::cell_order:
      build.cells_may_move = true;
      break;
    case RemedyCode::end_pads: {
      PadInput pad;
      pad.name = "pad";
      pad.thickness_mm = remedy.thickness_mm;
      pad.law = FoamGrade{remedy.grade};
      pad.where.word = PlaceWord::ends;
      build.pads.push_back(std::move(pad));
      break;
    }
  }
  return build;
}

namespace {

/// By hand only: whether the same kit would do with an end wall put on last.
bool only_the_hand_is_too_weak(const Study& study) {
  if (study.insertion().method != BuildMethod::hand) {
    return false;
  }
  Build other = study.build();
  other.build.method = BuildMethod::end_wall_last;
  other.box.opens = Opens::one_end_wall;
  return Study(other, study.assumptions()).can_pass();
}

/// Whether the band could be kept if a swollen cell might be pressed flat.
bool only_swelling_forbids(const Study& study) {
  if (!study.row().watched()) {
    return false;
  }
  constexpr double all_of_the_face = 1;
  const Study other(study.build(),
                    study.assumptions().with(Assumed::swollen_contact, all_of_the_face),
                    study.store(), study.place());
  return other.can_pass();
}

FailedRule failed_rule(const Study& study, const ShimPlan& plan, const Failure& failure) {
  if (failure.sheets_on_hand < failure.sheets_due) {
    return FailedRule::too_few_insulating_sheets;
  }
  if (!plan.found) {
    return FailedRule::total_not_in_kit;  // places or counts leave no way to insulate every gap
  }
  const ShimLoad load = study.load_of(plan.used);
  const RowModel::Judgement judged = study.model().judge(load);
  if (judged.passes) {
    return method_holds(study.insertion(), study.model(), load) ? FailedRule::metal_left_bare
                                                                : FailedRule::build_method;
  }
  if (!judged.spares_swollen && only_swelling_forbids(study)) {
    return FailedRule::swollen_pressed_flat;
  }
  if (judged.not_below && judged.not_above && !judged.walls_hold) {
    return FailedRule::walls_bow_too_far;
  }
  if (judged.not_below && judged.not_above) {
    return judged.even ? FailedRule::swollen_pressed_flat : FailedRule::uneven_coverage;
  }
  if (study.build().frame) {
    return FailedRule::frame_force;
  }
  if (only_the_hand_is_too_weak(study)) {
    return FailedRule::build_method;
  }
  return failure.wanted_total_mm ? FailedRule::total_not_in_kit : FailedRule::pressure_out_of_reach;
}

}  // namespace

Failure explain_failure(const Study& study, const ShimPlan& plan) {
  Failure failure;
  failure.sheets_due = sheets_due(study.row());
  failure.sheets_on_hand = insulators_on_hand(study.row());
  failure.swing_mm = study.model().breathing_mm();
  failure.band_takes_mm = study.model().band_takes_mm(study.load_of(plan.used));
  const Span passing = study.passing_total_mm();
  if (plan.found) {
    failure.nearest_total_mm = total_mm(study, plan);
  }
  if (passing.low <= passing.high) {
    failure.wanted_total_mm = passing;
  }
  failure.rule = failed_rule(study, plan, failure);
  return failure;
}

std::vector<Remedy> find_remedies(const Study& study) {
  return Finder(study).find();
}

}  // namespace stackfit
