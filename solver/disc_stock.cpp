// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/disc_stock.hpp"

namespace stackfit {
namespace {

constexpr DiscSize discs[] = {
    {'A', 8, 4.2, 0.4, 0.2},      {'A', 10, 5.2, 0.5, 0.25},    {'A', 12.5, 6.2, 0.7, 0.3},
    {'A', 14, 7.2, 0.8, 0.3},     {'A', 16, 8.2, 0.9, 0.35},    {'A', 18, 9.2, 1, 0.4},
    {'A', 20, 10.2, 1.1, 0.45},   {'A', 22.5, 11.2, 1.25, 0.5}, {'A', 25, 12.2, 1.5, 0.55},
    {'A', 28, 14.2, 1.5, 0.65},   {'A', 31.5, 16.3, 1.75, 0.7}, {'B', 8, 4.2, 0.3, 0.25},
    {'B', 10, 5.2, 0.4, 0.3},     {'B', 12.5, 6.2, 0.5, 0.35},  {'B', 14, 7.2, 0.5, 0.4},
    {'B', 16, 8.2, 0.6, 0.45},    {'B', 18, 9.2, 0.7, 0.5},     {'B', 20, 10.2, 0.8, 0.55},
    {'B', 22.5, 11.2, 0.8, 0.65}, {'B', 25, 12.2, 0.9, 0.7},    {'B', 28, 14.2, 1, 0.8},
    {'B', 31.5, 16.3, 1.25, 0.9}, {'C', 8, 4.2, 0.2, 0.25},     {'C', 10, 5.2, 0.25, 0.3},
    {'C', 12.5, 6.2, 0.35, 0.45}, {'C', 14, 7.2, 0.35, 0.45},   {'C', 16, 8.2, 0.4, 0.5},
    {'C', 18, 9.2, 0.45, 0.6},    {'C', 20, 10.2, 0.5, 0.65},   {'C', 22.5, 11.2, 0.6, 0.8},
    {'C', 25, 12.2, 0.7, 0.9},    {'C', 28, 14.2, 0.8, 1},      {'C', 31.5, 16.3, 0.8, 1.05}};

/// Play of a disc on its guide: 0.2 mm up to a hole of 16 mm, 0.3 mm above, by DIN 2093 (from
/// memory); the upper end lets the standard holes pass and no larger ones.
constexpr double least_play_mm = 0.2;
constexpr double most_play_mm = 0.4;
constexpr double rounding_mm = 1e-9;

constexpr double pi = 3.14159265358979323846;
constexpr double steel_g_per_mm3 = 7.85e-3;

}  // namespace

std::span<const DiscSize> disc_stock() {
  return discs;
}

bool disc_suits(const DiscSize& disc, double thread_mm) {
  const double play = disc.inner_mm - thread_mm;
  return play >= least_play_mm - rounding_mm && play <= most_play_mm + rounding_mm;
}

double disc_mass_g(const DiscSize& disc) {
  const double ring = pi / 4 * (disc.outer_mm * disc.outer_mm - disc.inner_mm * disc.inner_mm);
  return steel_g_per_mm3 * ring * disc.thickness_mm;
}

DiscSprings springs_of(const DiscSize& disc, int parallel, int series) {
  return {disc.outer_mm, disc.inner_mm, disc.thickness_mm, disc.cone_height_mm, {},
          parallel,      series};
}

}  // namespace stackfit
