// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/frame_closing.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/band.hpp"

namespace stackfit {
namespace {

/// Forces that are tabulated, over those of the band: below and above nothing holds anyway.
constexpr double lowest_over_band = 0.2;
constexpr double highest_over_band = 2;
constexpr int tabulated = 160;
constexpr int halvings = 60;

}  // namespace

FrameClosing::FrameClosing(const Study& study, const ShimLoad& load) : band_(study.row().band) {
  const Row& row = study.row();
  if (!row.box.rods || row.box.rods->springs) {
    throw std::invalid_argument("only a clamp frame with rods alone shows how its row closes");
  }
  area_mm2_ = row.face_area_mm2;
  const RowColumns columns(row, study.store());
  const double low = lowest_over_band * band_.low_mpa * area_mm2_;
  const double high = highest_over_band * band_.high_mpa * area_mm2_;
  const double rod_mm_per_n = rod_give_mm_per_n(row.box.rods->rod) / row.box.rods->count;
  for (int i = 0; i <= tabulated; ++i) {
    // Even steps of the logarithm: cells stiffen about as fast as that.
    const double force = low * std::pow(high / low, static_cast<double>(i) / tabulated);
    const double longer_mm = columns.interference_mm({}, load, force);
    // The interference is taken up by row and plates, and by what the rods give to it.
    force_.push_back(force);
    closing_.push_back(longer_mm - rod_mm_per_n * force);
  }
  const double first = closing_.front();
  for (double& closing : closing_) {
    closing -= first;
  }
  const SwingCurve::Extremes charge = row.swing.extremes(row.use_charge);
  change_mm_ = {HUGE_VAL, -HUGE_VAL};
  for (const double temperature : {row.use_temperature_c.low, row.use_temperature_c.high}) {
    for (const double loss : {row.use_capacity_loss.low, row.use_capacity_loss.high}) {
      for (const double at : {charge.charge_lowest, charge.charge_highest}) {
        const double change = study.model().interference_mm({at, temperature, loss}, load);
        change_mm_ = {std::min(change_mm_.low, change), std::max(change_mm_.high, change)};
      }
    }
  }
}

double FrameClosing::closing_mm(double force_n) const {
  const auto above = std::upper_bound(force_.begin() + 1, force_.end() - 1, force_n);
  const auto i = static_cast<std::size_t>(above - force_.begin());
  const double share = (force_n - force_[i - 1]) / (force_[i] - force_[i - 1]);
  return closing_[i - 1] + share * (closing_[i] - closing_[i - 1]);
}

/// What the row grows is taken up by the rods' extension and by its own closing.
double FrameClosing::force_n(const TieLaw& tie, double built_n, double change_mm) const {
  const double closed = closing_mm(built_n);
  const auto left_over = [&](double extension_mm) {
    return extension_mm + closing_mm(tie.force_at(extension_mm).n) - closed - change_mm;
  };
  double low = std::min(0.0, change_mm);
  double high = std::max(0.0, change_mm);
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (left_over(middle) > 0 ? high : low) = middle;
  }
  return tie.force_at(0.5 * (low + high)).n;
}

FrameClosing::Forces FrameClosing::forces(const RodSet& rods) const {
  const TieLaw tie = TieLaw::rods(rods);
  return {rods.force_n, force_n(tie, rods.force_n, change_mm_.low),
          force_n(tie, rods.force_n, change_mm_.high)};
}

double FrameClosing::margin(const Forces& forces) const {
  const double built = forces.built_n / area_mm2_;
  const double in_use =
      band_margin(band_, {forces.lowest_n / area_mm2_, forces.highest_n / area_mm2_});
  if (band_.build_low_mpa && band_.build_high_mpa) {
    BandResult at_build = band_;
    at_build.low_mpa = *band_.build_low_mpa;
    at_build.high_mpa = *band_.build_high_mpa;
    return std::min(in_use, band_margin(at_build, {built, built}));
  }
  return std::min(in_use,
                  (band_.high_mpa - band_.judged(built)) / (band_.high_mpa - band_.low_mpa));
}

}  // namespace stackfit
