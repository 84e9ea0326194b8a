// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fasteners.hpp"

#include <algorithm>
#include <iterator>

namespace stackfit {
namespace {

// Nuts and washers from memory. ISO 4032 and ISO 7089 have no M7: its nut is DIN 934's, its washer
// that of the older DIN 125.
constexpr Fastener fasteners[] = {
    {3, 3.4, 2.4, 0.5, 7},     {3.5, 3.9, 2.8, 0.5, 8},  {4, 4.5, 3.2, 0.8, 9},
    {5, 5.5, 4.7, 1.0, 10},    {6, 6.6, 5.2, 1.6, 12},   {7, 7.6, 5.5, 1.6, 14},
    {8, 9.0, 6.8, 1.6, 16},    {10, 11.0, 8.4, 2.0, 20}, {12, 13.5, 10.8, 2.5, 24},
    {14, 15.5, 12.8, 2.5, 28}, {16, 17.5, 14.8, 3.0, 30}};

}  // namespace

std::optional<Fastener> fastener(double thread_mm) {
  const auto* const found =
      std::find_if(std::begin(fasteners), std::end(fasteners),
                   [&](const Fastener& f) { return f.diameter_mm == thread_mm; });
  return found == std::end(fasteners) ? std::nullopt : std::optional(*found);
}

}  // namespace stackfit
