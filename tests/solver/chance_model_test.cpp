// SPDX-License-Identifier: GPL-3.0-or-later
//
// Drawn figures on reduced curves, against the build with those figures solved anew; chances
// against adaptive quadrature.
#include "solver/chance_model.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "solver/chance.hpp"
#include "solver/monte_carlo.hpp"
#include "tests/catch.hpp"
#include "tests/solver/sample_build.hpp"
#include "tests/solver/sample_frame.hpp"

namespace {

using namespace stackfit;

/// The build and the assumptions in which one draw's figures are what was said.
struct Perturbed {
  Build build;
  Assumptions assumptions;
  double shim_share = 0;
};

void scale_softness(Perturbed& p, const Study& study, double times) {
  if (study.row().law_assumed) {
    p.assumptions =
        p.assumptions.with(Assumed::squeeze_a, study.assumptions()[Assumed::squeeze_a] * times);
  } else {
    std::get<SoftnessLaw>(*p.build.cell.softness).a_mpa *= times;
  }
}

void each_cell_thicker(Build& build, double sum_mm) {
  for (CellReading& cell : build.cells) {
    const double by = sum_mm / static_cast<double>(build.cells.size());
    for (auto* reading : {&cell.edge_mm, &cell.middle_mm, &cell.boards_mm}) {
      if (*reading) {
        **reading += by;
      }
    }
  }
}

void swing_figure(Build& build, const Study& study, bool net, double value) {
  SwingFigures figures =
      build.cell.swing ? std::get<SwingFigures>(*build.cell.swing) : SwingFigures{};
  const Assumptions& a = study.assumptions();
  figures.net_fraction = figures.net_fraction.value_or(a.fraction(Assumed::swing_net));
  figures.hump_fraction = figures.hump_fraction.value_or(a.fraction(Assumed::swing_hump));
  (net ? figures.net_fraction : figures.hump_fraction) = value;
  build.cell.swing = figures;
}

Perturbed perturbed(const Study& study, const ChanceModel& model, const std::vector<double>& u) {
  Perturbed p{study.build(), study.assumptions(), 0};
  for (std::size_t i = 0; i < u.size(); ++i) {
    const Drawn& drawn = *model.inputs()[i];
    const double value = drawn.at(u[i]);
    switch (drawn.id) {
      case ChanceInput::calipers_common:
      case ChanceInput::calipers_each:
        each_cell_thicker(p.build, value);
        break;
      case ChanceInput::measured_charge:
        p.build.measured_charge->charge += value;
        break;
      case ChanceInput::measured_temperature:
        p.assumptions = p.assumptions.with(Assumed::reference_temperature, value);
        break;
      case ChanceInput::box_length:
        for (double& length : p.build.box.inner_length_mm) {
          length += value;
        }
        break;
      case ChanceInput::shim_thickness:
        p.shim_share = value;
        break;
      case ChanceInput::squeeze_a:
        scale_softness(p, study, value);
        break;
      case ChanceInput::swing_net:
        swing_figure(p.build, study, true, value);
        break;
      case ChanceInput::swing_hump:
        swing_figure(p.build, study, false, value);
        break;
      case ChanceInput::growth:
      case ChanceInput::growth_under_load: {
        double& now = *p.build.cell.growth.per_capacity_lost;
        now *= value;
        break;
      }
      case ChanceInput::expansion:
        p.build.cell.expansion_per_k = value;
        break;
      case ChanceInput::wall_thickness:
        p.assumptions = p.assumptions.with(Assumed::wall_thickness, value);
        break;
      case ChanceInput::dome_slack:
        p.assumptions = p.assumptions.with(Assumed::dome_slack, value);
        break;
      case ChanceInput::dome_exponent:
        p.assumptions = p.assumptions.with(Assumed::dome_exponent, value);
        break;
      case ChanceInput::foam_relaxation:
        p.assumptions = p.assumptions.with(Assumed::foam_relaxation, value);
        break;
      case ChanceInput::foam_set:
        p.assumptions = p.assumptions.with(Assumed::foam_set, value);
        break;
      case ChanceInput::frame_force:
        p.build.frame->force_n = study.row().box.rods->force_n * value;
        break;
      default:
        break;  // does not move a pressure
    }
  }
  return p;
}

/// What cannot be put into a build as one figure.
bool can_be_said(ChanceInput id) {
  return id != ChanceInput::edge_fixity;
}

/// The greatest differences of lowest, as built and highest pressure over some draws, in shares of
/// the pressure beyond a small absolute part.
double worst_miss(const Build& build, const std::vector<int>& used, int draws, double beside_mpa) {
  const Study study(build, Assumptions{});
  const ShimLoad load = study.load_of(used);
  const ChanceModel model(study, load, can_be_said);
  const ShimTotal shims = shim_total(study.row(), used);
  double worst = 0;
  for (int draw = 0; draw < draws; ++draw) {
    std::vector<double> u(model.inputs().size());
    draw_uniform(7, static_cast<std::uint64_t>(draw), u.size(), 1, u);
    std::vector<double> quick(3);
    model.pressures(shims, u, 1, quick);
    const Perturbed p = perturbed(study, model, u);
    const Study changed(p.build, p.assumptions, study.store());
    ShimLoad thicker = changed.load_of(used);
    thicker.thickness_mm += p.shim_share * shims.spread_mm;
    const PlanPressures full = changed.model().evaluate(thicker);
    const auto miss = [&](double by_curve, double solved) {
      worst = std::max(
          worst, std::max(0.0, std::abs(by_curve - solved) - beside_mpa) / std::max(solved, 0.02));
    };
    miss(quick[0], full.lowest.face_pressure_mpa);
    miss(quick[1], full.as_built.face_pressure_mpa);
    miss(quick[2], full.highest.face_pressure_mpa);
  }
  return worst;
}

Build aged_sample() {
  Build b = sample::known();
  b.use.capacity_loss = Span{0, 0.02};
  return b;
}

Build plate_walls(double middle_mm) {
  Build b = sample::known(4, 5.2);
  b.cell.softness.reset();
  b.cell.swing.reset();
  for (CellReading& cell : b.cells) {
    cell.middle_mm = middle_mm;
    cell.temperature_c.reset();
  }
  PlateWall wall;
  wall.thickness_mm = 4;
  wall.material = WallMaterial::aluminium;
  wall.joint = WallJoint::screwed;
  b.box.end_walls = wall;
  b.box.inner_width_mm = 130;
  b.box.inner_height_mm = 112;
  return b;
}

Build by_hand_with_pads() {
  Build b = sample::with_pads();
  b.build.method = BuildMethod::hand;
  b.use.capacity_loss = Span{0, 0.05};
  return b;
}

Build watched_with_table() {
  Build b = plate_walls(40.4);
  b.cell.swing = SwingTable{{0, 0.3, 0.6, 1}, {0, 0.004, 0.003, 0.006}};
  b.cell.limit_mpa = 0.5;
  return b;
}

}  // namespace

TEST_CASE("drawn figures on reduced curves give what the changed build gives solved anew") {
  SECTION("one column, all its figures said, aged") {
    CHECK(worst_miss(aged_sample(), {10, 1}, 30, 2e-5) < 0.002);
  }
  SECTION("flat cells between plates, softness and swing assumed") {
    CHECK(worst_miss(plate_walls(40), {10, 1}, 12, 1e-4) < 0.01);
  }
  SECTION("domed cells between plates") {
    // Slack and the dome's shape bend the curve more than a parabola at its foot, below the band.
    CHECK(worst_miss(plate_walls(40.4), {9, 3}, 12, 3e-4) < 0.03);
  }
  SECTION("foam at the ends, new and settled, with a lid") {
    Build b = sample::with_pads();
    b.cell.growth.per_capacity_lost = 0.15;
    CHECK(worst_miss(b, {8, 2}, 12, 2e-4) < 0.03);
  }
  SECTION("a clamp frame") {
    Build b = sample::sample_frame(0.03, 0.25);
    b.frame->plates.thickness_mm = 12;
    b.frame->rods.size = "M8";
    b.frame->force_n = 1200;
    CHECK(worst_miss(b, {}, 12, 2e-4) < 0.02);
  }
}

TEST_CASE("pressures of draws far beyond the curves are large, and numbers") {
  Build b = sample::known();
  b.cell.chemistry = Chemistry::nmc_graphite;
  b.cell.softness.reset();
  const Study study(b, Assumptions{});
  const std::vector<int> used{9, 2};
  const ChanceModel model(study, study.load_of(used));
  constexpr std::size_t samples = 512;
  std::vector<double> u(model.inputs().size() * samples);
  draw_uniform(1, 0, model.inputs().size(), samples, u);
  for (const double more_mm : {0.0, 2.0, 5.0}) {
    ShimTotal shims = shim_total(study.row(), used);
    shims.total_mm += more_mm;
    std::vector<double> out(3 * samples);
    model.pressures(shims, u, samples, out);
    CHECK(std::ranges::all_of(out, [](double mpa) { return std::isfinite(mpa) && mpa >= 0; }));
    // The highest is not below the lowest.
    for (std::size_t i = 0; i < samples; ++i) {
      REQUIRE(out[2 * samples + i] >= out[i]);
    }
  }
}

TEST_CASE("a draw's window is the same alone and in a block, to the last bit") {
  // Alone a draw meets no vector instruction, and of its bounds only what it is beaten in itself is
  // passed over; a block passes over what is beaten in all its draws, looks up the rest one by one
  // or together.
  const auto [name, build, used] = GENERATE(table<std::string, Build, std::vector<int>>({
      {"domed cells between plates", plate_walls(40.4), {9, 3}},
      {"foam at the ends, by hand", by_hand_with_pads(), {8, 2}},
      {"the swing a table, a limit, watched cells", watched_with_table(), {10, 1}},
  }));
  INFO(name);
  const Study study(build, Assumptions{});
  const ChanceModel model(study, study.load_of(used));
  const std::size_t inputs = model.inputs().size();
  constexpr std::size_t samples = 1021;  // no whole number of vectors
  std::vector<double> u(inputs * samples);
  draw_uniform(7, 0, inputs, samples, u);
  std::vector<double> together(window_rows * samples);
  model.windows(u, samples, together);
  std::vector<double> one(inputs);
  std::vector<double> alone(window_rows);
  int different = 0;
  for (std::size_t i = 0; i < samples; ++i) {
    for (std::size_t k = 0; k < inputs; ++k) {
      one[k] = u[k * samples + i];
    }
    model.windows(one, 1, alone);
    for (std::size_t k = 0; k < window_rows; ++k) {
      different += alone[k] == together[k * samples + i] ? 0 : 1;
    }
  }
  CHECK(different == 0);
}

TEST_CASE("the chance with two uncertain figures is that of adaptive quadrature") {
  // Flat cells between rigid walls: interference d = N t / B ln(1 + p / (k A)) + give p, so that a
  // draw passes where the box length lies in a window that only the softness k moves.
  const Build build = sample::known();
  const Study study(build, Assumptions{});
  const std::vector<int> used{9, 2};
  const ShimLoad load = study.load_of(used);
  const auto two = [](ChanceInput id) {
    return id == ChanceInput::box_length || id == ChanceInput::squeeze_a;
  };
  const ChanceModel model(study, load, two);
  REQUIRE(model.inputs().size() == 2);

  const Row& row = study.row();
  const RowModel& rows = study.model();
  const auto at = [&](double charge, double celsius) {
    return rows.interference_mm({charge, celsius, 0, false, false}, load);
  };
  const SwingCurve::Extremes extremes = row.swing.extremes(row.use_charge);
  const double thinnest = std::min(at(extremes.charge_lowest, 5), at(extremes.charge_lowest, 40));
  const double thickest = std::max(at(extremes.charge_highest, 5), at(extremes.charge_highest, 40));
  const double built = rows.built_interference_mm(load);
  const double length = 160.0 / 180;
  const auto squeeze = [&](double p, double k) {
    return length * std::log1p(p / (0.06 * k)) + p * row.face_area_mm2 * load.give_mm_per_n;
  };
  const boost::math::normal gauss;
  const double box_sd = 0.4 / 1.959963984540054;
  const double ln_sd = std::log(1.25) / 1.959963984540054;
  const double top = row.band.high_mpa / (1 + row.band.model_margin);
  const auto inside = [&](double z) {
    const double k = std::exp(ln_sd * z);
    // Box longer by x: d - x; in the window where squeeze(low) <= thinnest - x and so on.
    const double most = thinnest - squeeze(row.band.low_mpa, k);
    const double least = std::max(thickest, built) - squeeze(top, k);
    const double share = most > least ? cdf(gauss, most / box_sd) - cdf(gauss, least / box_sd) : 0;
    return share * pdf(gauss, z);
  };
  const double exact =
      boost::math::quadrature::gauss_kronrod<double, 61>::integrate(inside, -8.0, 8.0, 12, 1e-12);

  std::int64_t kept = 0;
  constexpr std::int64_t samples = 400'000;
  DrawPlan plan;
  plan.inputs = 2;
  plan.outputs = window_rows;
  plan.samples = samples;
  plan.distribution = DrawPlan::Distribution::uniform;
  const std::vector<double> rows_drawn = draw_samples(plan, [&](const SampleBlock& block) {
    model.windows(block.draws, block.samples, block.out);
  });
  const ShimTotal shims = shim_total(row, used);
  for (std::size_t i = 0; i < samples; ++i) {
    kept += window_of(rows_drawn, samples, i).holds(shims) ? 1 : 0;
  }
  const ChanceOf chance = chance_by_count(kept, samples);
  INFO("exact " << exact << ", drawn " << chance.chance << " +- " << chance.standard_error);
  REQUIRE(exact > 0.05);
  REQUIRE(exact < 0.999);
  CHECK(std::abs(chance.chance - exact) < 3 * chance.standard_error);
}
