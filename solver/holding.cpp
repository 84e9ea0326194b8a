// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/holding.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace stackfit {
namespace {

class Search {
 public:
  Search(const HoldingSearch& search, const std::function<double(double)>& value_at)
      : search_(search), value_at_(value_at) {}

  std::vector<Span> find() {
    for (int i = 0; i <= search_.steps; ++i) {
      const double share = static_cast<double>(i) / search_.steps;
      at(search_.over.low + share * (search_.over.high - search_.over.low));
    }
    for (const double x : search_.also) {
      if (x > search_.over.low && x < search_.over.high) {
        at(x);
      }
    }
    follow_extremes();
    halve_changes();
    return stretches();
  }

 private:
  double at(double x) {
    const auto known = tried_.find(x);
    return known != tried_.end() ? known->second : tried_.emplace(x, value_at_(x)).first->second;
  }

  /// A peak that does not hold between three tries may hide a stretch, a dip that holds a gap.
  void follow_extremes() {
    const std::vector<std::pair<double, double>> tries(tried_.begin(), tried_.end());
    for (std::size_t i = 1; i + 1 < tries.size(); ++i) {
      const double left = tries[i - 1].second;
      const double here = tries[i].second;
      const double right = tries[i + 1].second;
      const bool peak = here < 0 && left < 0 && right < 0 && here >= left && here >= right;
      const bool dip = here >= 0 && left >= 0 && right >= 0 && here <= left && here <= right;
      const bool flat = here == left && here == right;
      if ((peak || dip) && !flat) {
        follow({tries[i - 1].first, tries[i + 1].first}, peak ? 1 : -1);
      }
    }
  }

  void follow(Span in, double sign) {
    constexpr double golden = 0.6180339887498949;
    double low = in.high - golden * (in.high - in.low);
    double high = in.low + golden * (in.high - in.low);
    while (in.high - in.low > search_.end_share * std::abs(in.high)) {
      const double at_low = sign * at(low);
      const double at_high = sign * at(high);
      // A try on the other side of zero is what was looked for: the halving does the rest.
      if (sign > 0 ? std::max(at_low, at_high) >= 0 : std::max(at_low, at_high) > 0) {
        return;
      }
      if (at_low > at_high) {
        in.high = high;
        high = low;
        low = in.high - golden * (in.high - in.low);
      } else {
        in.low = low;
        low = high;
        high = in.low + golden * (in.high - in.low);
      }
    }
  }

  void halve_changes() {
    const std::vector<std::pair<double, double>> tries(tried_.begin(), tried_.end());
    for (std::size_t i = 1; i < tries.size(); ++i) {
      double low = tries[i - 1].first;
      double high = tries[i].first;
      const bool low_holds = tries[i - 1].second >= 0;
      if (low_holds == (tries[i].second >= 0)) {
        continue;
      }
      while (high - low > search_.end_share * std::abs(high)) {
        const double middle = 0.5 * (low + high);
        ((at(middle) >= 0) == low_holds ? low : high) = middle;
      }
    }
  }

  [[nodiscard]] std::vector<Span> stretches() const {
    std::vector<Span> found;
    bool inside = false;
    for (const auto& [x, value] : tried_) {
      if (value >= 0 && inside) {
        found.back().high = x;
      } else if (value >= 0) {
        found.push_back({x, x});
      }
      inside = value >= 0;
    }
    return found;
  }

  const HoldingSearch& search_;
  const std::function<double(double)>& value_at_;
  std::map<double, double> tried_;
};

}  // namespace

std::vector<Span> holding_stretches(const HoldingSearch& search,
                                    const std::function<double(double)>& value_at) {
  return Search(search, value_at).find();
}

Span widest(const std::vector<Span>& stretches) {
  Span found;
  for (const Span& one : stretches) {
    if (one.high - one.low > found.high - found.low || found.high == 0) {
      found = one;
    }
  }
  return found;
}

double shop_figure(Span span) {
  const double width = span.high - span.low;
  const double middle = 0.5 * (span.low + span.high);
  if (!(width > 0)) {
    return middle;
  }
  const double third = width / 3;
  for (double decade = std::pow(10, std::floor(std::log10(std::abs(span.high)))); decade > 0;
       decade /= 10) {
    for (const double factor : {5.0, 2.0, 1.0}) {
      const double step = factor * decade;
      const double rounded = std::round(middle / step) * step;
      if (std::abs(rounded - middle) <= 0.5 * third) {
        return rounded;
      }
    }
  }
  return middle;
}

}  // namespace stackfit
