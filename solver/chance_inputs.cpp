// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/chance_inputs.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "solver/monte_carlo.hpp"

namespace stackfit {
namespace {

Drawn normal(ChanceInput id, double half_span, bool assumed) {
  const double width = half_span / normal_95;
  return {id, {}, assumed, Spread::normal, 0, width, width, {}};
}
/// How far the ends of a 95 % span are from the median, each as a factor.
struct Factors {
  double below = 1;
  double above = 1;
};
Factors either_way(double factor) {
  return {factor, factor};
}
Factors of_span(const Assumption& row) {
  return {row.value / row.low, row.high / row.value};
}
Drawn lognormal(ChanceInput id, double median, const Factors& factors, bool assumed) {
  return {id,
          {},
          assumed,
          Spread::lognormal,
          median,
          std::log(factors.below) / normal_95,
          std::log(factors.above) / normal_95,
          {}};
}
Drawn uniform(ChanceInput id, Span bounds, bool assumed) {
  return {id, {}, assumed, Spread::uniform, 0.5 * (bounds.low + bounds.high), 0, 0, bounds};
}

/// The draws of one study, block by block of what was said.
class Gatherer {
 public:
  explicit Gatherer(const Study& study)
      : study_(study), build_(study.build()), row_(study.row()), said_(study.build().uncertainty) {}

  [[nodiscard]] ChanceInputs gather() {
    readings();
    states();
    lengths();
    swing();
    growth();
    friction();
    inputs_.shift.expansion = expansion();
    const Assumption& m = assumption(Assumed::model_margin);
    inputs_.shift.model_margin = uniform(ChanceInput::model_margin, {m.low, m.high}, true);
    softness();
    edge_fixity();
    if (ShapeInput* wall = of_table(Assumed::wall_thickness, ChanceInput::wall_thickness)) {
      wall->by_inverse_cube = true;
    }
    of_table(Assumed::foam_relaxation, ChanceInput::foam_relaxation);
    of_table(Assumed::foam_set, ChanceInput::foam_set);
    domes();
    frame_force();
    drop_certain();
    return std::move(inputs_);
  }

 private:
  [[nodiscard]] double fraction(Assumed id) const { return study_.assumptions().fraction(id); }
  [[nodiscard]] bool noted(Assumed id) const {
    const std::vector<Assumed>& all = study_.findings().assumed;
    return std::find(all.begin(), all.end(), id) != all.end();
  }
  /// The half span said, or the one of the table.
  double or_else(const std::optional<double>& said, Assumed id, double otherwise) {
    if (said) {
      return *said;
    }
    if (std::find(inputs_.doubts.begin(), inputs_.doubts.end(), id) == inputs_.doubts.end()) {
      inputs_.doubts.push_back(id);
    }
    return otherwise;
  }
  double fraction_or(const std::optional<double>& said, Assumed id) {
    return or_else(said, id, fraction(id));
  }

  /// A row longer than its edges' sum is taken as domes: the edges then still rest on calipers.
  [[nodiscard]] bool row_reading_decides() const {
    for (std::size_t i = 0; i < row_.cells.size(); ++i) {
      const std::optional<double>& edge = build_.cells[i].edge_mm;
      if (!edge || row_.cells[i].edge_mm != *edge) {
        return true;
      }
    }
    return false;
  }

  /// Calipers, one by one or the whole row, or the lot where nothing was read.
  void readings() {
    const auto unread = std::count_if(row_.cells.begin(), row_.cells.end(),
                                      [](const RowCell& cell) { return cell.from_data_sheet; });
    const auto read = static_cast<double>(row_.cells.size()) - static_cast<double>(unread);
    if (build_.row_mm && row_reading_decides()) {
      inputs_.shift.calipers_common = normal(
          ChanceInput::calipers_common,
          or_else(said_.row_mm, Assumed::box_reading, study_.assumptions()[Assumed::box_reading]),
          !said_.row_mm);
      return;
    }
    // The table's figures are standard uncertainties.
    const double common = or_else(said_.calipers_mm, Assumed::calipers_common,
                                  normal_95 * study_.assumptions()[Assumed::calipers_common]);
    const double each = or_else(said_.calipers_each_mm, Assumed::calipers_scatter,
                                normal_95 * study_.assumptions()[Assumed::calipers_scatter]);
    inputs_.shift.calipers_common =
        normal(ChanceInput::calipers_common, read * common, !said_.calipers_mm);
    inputs_.shift.calipers_each =
        normal(ChanceInput::calipers_each, std::sqrt(read) * each, !said_.calipers_each_mm);
    if (unread > 0) {
      const auto cells = static_cast<double>(unread);
      const auto& line = build_.cell.thickness.tolerance_mm;
      const double tolerance =
          line.value_or(fraction(Assumed::thickness_tolerance) * row_.nominal_mm);
      const double lot = study_.assumptions()[Assumed::lot_share];
      const double apart = (1 - lot) * (1 - lot);
      inputs_.shift.lot_thickness =
          normal(ChanceInput::lot_thickness,
                 tolerance * std::sqrt(cells * cells * lot * lot + cells * apart), !line);
    }
  }

  /// Charge and temperature when measured, common to all cells.
  void states() {
    const Assumption& shipped = assumption(Assumed::shipped_charge);
    const auto& common = build_.measured_charge;
    if (said_.charge) {
      inputs_.shift.measured_charge =
          uniform(ChanceInput::measured_charge, {-*said_.charge, *said_.charge}, false);
    } else if (noted(Assumed::shipped_charge) || (common && common->as_shipped)) {
      inputs_.shift.measured_charge =
          normal(ChanceInput::measured_charge, 0.5 * (shipped.high - shipped.low), true);
    } else {
      const bool each =
          std::any_of(build_.cells.begin(), build_.cells.end(),
                      [](const CellReading& cell) { return cell.charge.has_value(); });
      const bool span = common && common->between && !each;
      const double doubt =
          span ? 0.5 * (common->between->high - common->between->low)
               : or_else({}, Assumed::charge_doubt, study_.assumptions()[Assumed::charge_doubt]);
      inputs_.shift.measured_charge = uniform(ChanceInput::measured_charge, {-doubt, doubt}, !span);
    }
    if (noted(Assumed::reference_temperature)) {
      const Assumption& t = assumption(Assumed::reference_temperature);
      inputs_.shift.measured_temperature =
          uniform(ChanceInput::measured_temperature, {t.low, t.high}, true);
    }
  }

  void lengths() {
    if (!row_.box.rods) {
      inputs_.shift.box_length = normal(ChanceInput::box_length,
                                        or_else(said_.box_length_mm, Assumed::box_reading,
                                                study_.assumptions()[Assumed::box_reading]),
                                        !said_.box_length_mm);
    }
    const double share = fraction_or(said_.shims, Assumed::shim_thickness);
    if (!row_.kit.empty()) {
      inputs_.shift.shim_thickness = normal(ChanceInput::shim_thickness, share, !said_.shims);
    }
    std::map<std::string, double> fixed;  // pieces of one name are alike
    for (const RowGap& gap : row_.gaps) {
      for (const RowSheet& sheet : gap.fixed) {
        fixed[sheet.name] += sheet.thickness_mm;
      }
    }
    double squares = 0;
    for (const auto& [name, total] : fixed) {
      squares += total * total;
    }
    inputs_.shift.fixed_sheets =
        normal(ChanceInput::shim_thickness, share * std::sqrt(squares), !said_.shims);
    inputs_.shift.fixed_sheets->where = "fixed sheets";
  }

  void swing() {
    const auto drawn = [&](ChanceInput id, double median, Assumed table, bool figure_said) {
      const Factors factors = figure_said || said_.swing
                                  ? either_way(1 + fraction_or(said_.swing, Assumed::said_swing))
                                  : of_span(assumption(table));
      return lognormal(id, median, factors, !said_.swing);
    };
    const bool table = build_.cell.swing && std::holds_alternative<SwingTable>(*build_.cell.swing);
    if (table) {
      inputs_.shift.swing_net = drawn(ChanceInput::swing_net, 1, Assumed::swing_net, true);
      return;
    }
    const SwingFigures figures =
        build_.cell.swing ? std::get<SwingFigures>(*build_.cell.swing) : SwingFigures{};
    const bool lfp = build_.cell.chemistry == Chemistry::lfp_graphite;
    const double net = figures.net_fraction.value_or(lfp ? fraction(Assumed::swing_net)
                                                         : layer_net(build_.cell.chemistry));
    // Of NMC the layer law itself stands in, and counts as a said figure.
    if (net > 0) {
      inputs_.shift.swing_net = drawn(ChanceInput::swing_net, net, Assumed::swing_net,
                                      figures.net_fraction.has_value() || !lfp);
    }
    const double hump = figures.hump_fraction.value_or(fraction(Assumed::swing_hump));
    if (lfp && hump > 0) {
      inputs_.shift.swing_hump = drawn(ChanceInput::swing_hump, hump, Assumed::swing_hump,
                                       figures.hump_fraction.has_value());
    }
  }

  void growth() {
    if (!(row_.use_capacity_loss.high > 0)) {
      return;
    }
    const auto drawn = [&](ChanceInput id, Assumed table) {
      const Factors factors = noted(table) && !said_.growth
                                  ? of_span(assumption(table))
                                  : either_way(1 + fraction_or(said_.growth, Assumed::said_figure));
      return lognormal(id, 1, factors, !said_.growth);
    };
    inputs_.shift.growth = drawn(ChanceInput::growth, Assumed::growth);
    if (!said_.growth) {
      inputs_.shift.growth_under_load =
          drawn(ChanceInput::growth_under_load, Assumed::growth_under_load);
    }
  }

  [[nodiscard]] Drawn expansion() {
    const bool table = noted(Assumed::expansion) && !said_.expansion;
    const Factors factors =
        table ? of_span(assumption(Assumed::expansion))
              : either_way(1 + fraction_or(said_.expansion, Assumed::said_figure));
    return lognormal(ChanceInput::expansion, row_.expansion_per_k, factors, !said_.expansion);
  }

  /// Only where a hand slides the last cell in.
  void friction() {
    const InsertionRules& rules = study_.insertion();
    if (rules.method != BuildMethod::hand || row_.box.rods) {
      return;
    }
    const auto drawn = [&](ChanceInput id, Assumed table) {
      const Factors factors =
          said_.friction ? either_way(1 + *said_.friction) : of_span(assumption(table));
      return lognormal(id, 1, factors, !said_.friction);
    };
    const double film = rules.friction_film;
    if (rules.friction != film || rules.friction_other != film) {
      inputs_.shift.friction = drawn(ChanceInput::friction, Assumed::friction);
    }
    if (rules.friction == film || rules.friction_other == film) {
      inputs_.shift.friction_slip_film =
          drawn(ChanceInput::friction_slip_film, Assumed::friction_slip_film);
    }
  }

  void softness() {
    ShapeInput input;
    const bool table = row_.law_assumed && !said_.softness;
    const Assumption& a = assumption(Assumed::squeeze_a);
    const double factor = table ? a.high / a.value
                                : 1 + or_else(said_.softness, Assumed::said_softness,
                                              study_.assumptions()[Assumed::said_softness] - 1);
    input.drawn = lognormal(ChanceInput::squeeze_a, 1, either_way(factor), !said_.softness);
    input.nominal = 1;
    for (const double times : {1 / factor, factor}) {
      ShapeVariant variant{times, build_, study_.assumptions()};
      if (row_.law_assumed) {
        // The very ends of the table are solved for the soft and the stiff bracket as well.
        const double value = table ? (times < 1 ? a.low : a.high) : row_.squeeze_a_mpa * times;
        variant.x = value / row_.squeeze_a_mpa;
        variant.assumptions = study_.assumptions().with(Assumed::squeeze_a, value);
      } else if (auto* law = std::get_if<SoftnessLaw>(&*variant.build.cell.softness)) {
        law->a_mpa *= times;
      } else {
        for (double& p : std::get<SoftnessTable>(*variant.build.cell.softness).pressure_mpa) {
          p *= times;
        }
      }
      input.variants.push_back(std::move(variant));
    }
    inputs_.softness = std::move(input);
  }

  /// The joint that it could be taken for: held for fixed and the other way round.
  [[nodiscard]] static WallJoint other_joint(WallJoint joint) {
    switch (joint) {
      case WallJoint::folded:
      case WallJoint::welded:
        return WallJoint::screwed;
      case WallJoint::screwed:
        return WallJoint::welded;
      case WallJoint::open:
        return WallJoint::open;
    }
    return joint;
  }
  static void swap_joints(std::optional<EndWallInput>& wall) {
    auto* plate = wall ? std::get_if<PlateWall>(&*wall) : nullptr;
    if (plate == nullptr) {
      return;
    }
    plate->joint = other_joint(plate->joint.value_or(WallJoint::screwed));
    if (plate->edges) {
      for (auto* edge :
           {&plate->edges->left, &plate->edges->right, &plate->edges->bottom, &plate->edges->top}) {
        for (EdgeJoint& part : *edge) {
          part.joint = other_joint(part.joint);
        }
      }
    }
  }
  void edge_fixity() {
    if (row_.box.rods || row_.box.rigid()) {
      return;
    }
    ShapeVariant variant{1, build_, study_.assumptions()};
    if (!variant.build.box.end_walls) {
      variant.build.box.end_walls = PlateWall{};  // as assumed
    }
    swap_joints(variant.build.box.end_walls);
    swap_joints(variant.build.box.last_end_wall);
    const auto is_plate = [](const std::optional<EndWallInput>& wall) {
      return wall && std::holds_alternative<PlateWall>(*wall);
    };
    if (!is_plate(variant.build.box.end_walls) && !is_plate(variant.build.box.last_end_wall)) {
      return;  // known by its bow, or rigid
    }
    const Assumption& row = assumption(Assumed::edge_fixity);
    ShapeInput input;
    input.drawn = uniform(ChanceInput::edge_fixity, {row.low, row.high}, true);
    input.variants.push_back(std::move(variant));
    inputs_.shape.push_back(std::move(input));
    inputs_.doubts.push_back(Assumed::edge_fixity);
  }

  /// A figure of the table that was used and is uncertain, common to the row.
  ShapeInput* of_table(Assumed id, ChanceInput as) {
    if (!noted(id)) {
      return nullptr;
    }
    const Assumption& row = assumption(id);
    ShapeInput input;
    input.drawn = uniform(as, {row.low, row.high}, true);
    input.nominal = study_.assumptions()[id];
    for (const double value : {row.low, row.high}) {
      if (value != input.nominal) {
        input.variants.push_back({value, build_, study_.assumptions().with(id, value)});
      }
    }
    inputs_.shape.push_back(std::move(input));
    return &inputs_.shape.back();
  }

  /// Slack differs from cell to cell: what counts is its mean over the domed ones, which is drawn
  /// as a normal one (the sum of so many uniform ones).
  void domes() {
    const auto domed = std::count_if(row_.cells.begin(), row_.cells.end(),
                                     [](const RowCell& cell) { return cell.dome_mm > 0; });
    if (ShapeInput* slack = of_table(Assumed::dome_slack, ChanceInput::dome_slack)) {
      const Span bounds = slack->drawn.bounds;
      const double one = (bounds.high - bounds.low) / std::sqrt(12.0);
      slack->drawn.spread = Spread::normal;
      slack->drawn.width = one / std::sqrt(static_cast<double>(std::max<std::ptrdiff_t>(1, domed)));
      slack->drawn.width_above = slack->drawn.width;
    }
    of_table(Assumed::dome_exponent, ChanceInput::dome_exponent);
  }

  void frame_force() {
    if (!row_.box.rods) {
      return;
    }
    const double share = fraction_or(said_.frame_force, Assumed::frame_force);
    ShapeInput input;
    input.drawn = lognormal(ChanceInput::frame_force, 1, either_way(1 + share), !said_.frame_force);
    input.nominal = 1;
    for (const double times : {1 / (1 + share), 1 + share}) {
      ShapeVariant variant{times, build_, study_.assumptions()};
      variant.build.frame->force_n = row_.box.rods->force_n * times;
      input.variants.push_back(std::move(variant));
    }
    inputs_.shape.push_back(std::move(input));
  }

  /// What has no width is not drawn.
  void drop_certain() {
    if (row_.box.rods) {
      // A frame is brought to its force whatever the thicknesses.
      inputs_.shift.calipers_common.reset();
      inputs_.shift.calipers_each.reset();
      inputs_.shift.lot_thickness.reset();
      inputs_.shift.shim_thickness.reset();
      inputs_.shift.fixed_sheets.reset();
    }
    inputs_.keep([](ChanceInput) { return true; });
  }

  const Study& study_;
  const Build& build_;
  const Row& row_;
  const Uncertainty& said_;
  ChanceInputs inputs_;
};

constexpr std::array shift_members{&ShiftInputs::calipers_common,
                                   &ShiftInputs::calipers_each,
                                   &ShiftInputs::lot_thickness,
                                   &ShiftInputs::measured_charge,
                                   &ShiftInputs::measured_temperature,
                                   &ShiftInputs::box_length,
                                   &ShiftInputs::shim_thickness,
                                   &ShiftInputs::fixed_sheets,
                                   &ShiftInputs::swing_net,
                                   &ShiftInputs::swing_hump,
                                   &ShiftInputs::growth,
                                   &ShiftInputs::growth_under_load,
                                   &ShiftInputs::expansion,
                                   &ShiftInputs::friction,
                                   &ShiftInputs::friction_slip_film,
                                   &ShiftInputs::model_margin};

bool certain(const Drawn& drawn) {
  return drawn.spread == Spread::uniform ? !(drawn.bounds.high > drawn.bounds.low)
                                         : !(drawn.width > 0 || drawn.width_above > 0);
}

}  // namespace

double Drawn::at_normal(double z) const {
  const double off = (z < 0 ? width : width_above) * z;
  return spread == Spread::lognormal ? centre * std::exp(off) : centre + off;
}

double Drawn::at(double u) const {
  return spread == Spread::uniform ? bounds.low + u * (bounds.high - bounds.low)
                                   : at_normal(normal_quantile(u));
}

std::vector<const Drawn*> ChanceInputs::all() const {
  std::vector<const Drawn*> found;
  for (const auto member : shift_members) {
    if (shift.*member) {
      found.push_back(&*(shift.*member));
    }
  }
  if (softness) {
    found.push_back(&softness->drawn);
  }
  for (const ShapeInput& input : shape) {
    found.push_back(&input.drawn);
  }
  return found;
}

void ChanceInputs::keep(const std::function<bool(ChanceInput)>& wanted) {
  for (const auto member : shift_members) {
    std::optional<Drawn>& drawn = shift.*member;
    if (drawn && (certain(*drawn) || !wanted(drawn->id))) {
      drawn.reset();
    }
  }
  if (softness && (certain(softness->drawn) || !wanted(softness->drawn.id))) {
    softness.reset();
  }
  shape.erase(std::remove_if(shape.begin(), shape.end(),
                             [&](const ShapeInput& input) {
                               return certain(input.drawn) || input.variants.empty() ||
                                      !wanted(input.drawn.id);
                             }),
              shape.end());
}

ChanceInputs chance_inputs(const Study& study) {
  return Gatherer(study).gather();
}

}  // namespace stackfit
