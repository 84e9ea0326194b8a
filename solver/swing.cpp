// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/swing.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <stdexcept>
#include <utility>

namespace stackfit {
namespace {

/// Graphite volume strain against lithium fraction, piecewise linear.
/// Mohtat et al. 2020, J. Electrochem. Soc. 167, 110561 (knots read in an open model repository).
struct Knot {
  double x;
  double volume_strain;
};
constexpr std::array<Knot, 9> graphite{{{0, 0},
                                        {0.12, 0.02406},
                                        {0.18, 0.033568},
                                        {0.24, 0.043668},
                                        {0.3, 0.04647},
                                        {0.5, 0.05583},
                                        {0.7, 0.08575},
                                        {0.8, 0.10071},
                                        {1, 0.130635}}};

/// One layer pair, both sides: the open BPX example LFP parameter set; foils halved, assumed
/// copper 10 um and aluminium 15 um.
struct LayerRecipe {
  double total_um = 44.4 + 64.3 + 20 + 5 + 7.5;
  double negative_um = 44.4;
  double positive_um = 64.3;
  double negative_active = 0.7568;  ///< volume share of active particles
  double positive_active = 0.7364;
  double x_empty = 0.0016261;
  double x_full = 0.82258;
  double y_empty = 0.95038;
  double y_full = 0.0875;
};
constexpr LayerRecipe recipe{};

/// Volume strain of the positive electrode per unit of lithium taken out of it.
/// LFP: FePO4 is 6.53 % smaller than LiFePO4, from the lattice constants of Padhi et al. 1997
/// (from memory; the paper's text says 6.81 %). NMC: Mohtat et al. 2020.
constexpr double positive_strain(Chemistry chemistry) {
  return chemistry == Chemistry::lfp_graphite ? -0.0653 : -0.0110;
}

double graphite_strain(double x) {
  const auto* const above = std::find_if(graphite.begin() + 1, graphite.end() - 1,
                                         [x](const Knot& knot) { return x <= knot.x; });
  const Knot& b = *above;
  const Knot& a = *(above - 1);
  return a.volume_strain + (b.volume_strain - a.volume_strain) * (x - a.x) / (b.x - a.x);
}

double layer_fraction(Chemistry chemistry, double charge) {
  const double x = recipe.x_empty + charge * (recipe.x_full - recipe.x_empty);
  const double taken_out = charge * (recipe.y_empty - recipe.y_full);
  const double negative = recipe.negative_active * recipe.negative_um *
                          (graphite_strain(x) - graphite_strain(recipe.x_empty));
  const double positive =
      recipe.positive_active * recipe.positive_um * positive_strain(chemistry) * taken_out;
  return (negative + positive) / recipe.total_um;
}

std::vector<double> layer_knots() {
  std::vector<double> charge{0};
  for (const Knot& knot : graphite) {
    const double s = (knot.x - recipe.x_empty) / (recipe.x_full - recipe.x_empty);
    if (s > 0 && s < 1) {
      charge.push_back(s);
    }
  }
  charge.push_back(1);
  return charge;
}

}  // namespace

SwingCurve::SwingCurve(std::vector<double> charge, std::vector<double> fraction)
    : charge_(std::move(charge)), fraction_(std::move(fraction)) {
  if (charge_.size() < 2 || charge_.size() != fraction_.size()) {
    throw std::invalid_argument("a swing curve needs two or more knots, each with its value");
  }
  if (std::adjacent_find(charge_.begin(), charge_.end(), std::greater_equal<>()) != charge_.end() ||
      charge_.front() < 0 || charge_.back() > 1) {
    throw std::invalid_argument("the charges of a swing curve rise from 0 to 1");
  }
}

double SwingCurve::at(double charge) const {
  if (charge <= charge_.front()) {
    return fraction_.front();
  }
  if (charge >= charge_.back()) {
    return fraction_.back();
  }
  const auto above = std::upper_bound(charge_.begin(), charge_.end(), charge);
  const auto i = static_cast<std::size_t>(above - charge_.begin());
  const double share = (charge - charge_[i - 1]) / (charge_[i] - charge_[i - 1]);
  return fraction_[i - 1] + share * (fraction_[i] - fraction_[i - 1]);
}

std::vector<double> SwingCurve::knots(Span window) const {
  std::vector<double> found{window.low};
  for (const double charge : charge_) {
    if (charge > window.low && charge < window.high) {
      found.push_back(charge);
    }
  }
  if (window.high > window.low) {
    found.push_back(window.high);
  }
  return found;
}

SwingCurve::Extremes SwingCurve::extremes(Span window) const {
  const std::vector<double> candidates = knots(window);
  const auto by_thickness = [this](double a, double b) { return at(a) < at(b); };
  return {*std::min_element(candidates.begin(), candidates.end(), by_thickness),
          *std::max_element(candidates.begin(), candidates.end(), by_thickness)};
}

SwingCurve layer_swing(Chemistry chemistry) {
  std::vector<double> charge = layer_knots();
  std::vector<double> fraction;
  fraction.reserve(charge.size());
  for (const double s : charge) {
    fraction.push_back(layer_fraction(chemistry, s));
  }
  return {std::move(charge), std::move(fraction)};
}

double layer_net(Chemistry chemistry) {
  return layer_fraction(chemistry, 1);
}

SwingStretch swing_stretch(Chemistry chemistry, double net_fraction, double hump_fraction) {
  const double net = layer_net(chemistry);
  if (chemistry != Chemistry::lfp_graphite) {
    return {net_fraction / net, 0};
  }
  // The local peak stands at x = 0.24, the dip at x = 0.5: knots 3 and 5 of the curve.
  constexpr std::size_t peak = 3;
  constexpr std::size_t dip = 5;
  const std::vector<double> charge = layer_knots();
  const double fall =
      layer_fraction(chemistry, charge[peak]) - layer_fraction(chemistry, charge[dip]);
  const double run = charge[dip] - charge[peak];
  // scale layer(1) + tilt = net;  scale fall - tilt run = hump.
  const double scale = (hump_fraction + net_fraction * run) / (fall + net * run);
  return {scale, net_fraction - scale * net};
}

SwingCurve stretched_swing(Chemistry chemistry, double net_fraction, double hump_fraction) {
  std::vector<double> charge = layer_knots();
  std::vector<double> fraction;
  const auto [scale, tilt] = swing_stretch(chemistry, net_fraction, hump_fraction);
  fraction.reserve(charge.size());
  for (const double s : charge) {
    fraction.push_back(scale * layer_fraction(chemistry, s) + tilt * s);
  }
  return {std::move(charge), std::move(fraction)};
}

}  // namespace stackfit
