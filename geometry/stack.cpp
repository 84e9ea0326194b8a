// SPDX-License-Identifier: GPL-3.0-or-later
#include "geometry/stack.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace stackfit::geometry {
namespace {

bool is_length(double mm) {
  return std::isfinite(mm) && mm >= 0;
}

void require_lengths(const StackLengths& lengths) {
  if (lengths.cell_mm.empty()) {
    throw std::invalid_argument("a row needs a cell");
  }
  if (lengths.sheet_mm.size() != lengths.cell_mm.size() + 1) {
    throw std::invalid_argument("a row has one more gap than cells");
  }
  if (!std::all_of(lengths.cell_mm.begin(), lengths.cell_mm.end(), is_length) ||
      !std::all_of(lengths.sheet_mm.begin(), lengths.sheet_mm.end(), is_length) ||
      !is_length(lengths.inner_length_mm)) {
    throw std::invalid_argument("a length in the row is finite and not below zero");
  }
}

double middle_mm(const PlacedPart& part) {
  return (part.from_mm + part.to_mm) / 2;
}

}  // namespace

StackLayout lay_out(const StackLengths& lengths) {
  require_lengths(lengths);
  StackLayout layout;
  double z_mm = 0;
  const auto place = [&z_mm](double length_mm) {
    const PlacedPart part{.from_mm = z_mm, .to_mm = z_mm + length_mm};
    z_mm = part.to_mm;
    return part;
  };
  for (std::size_t i = 0; i < lengths.cell_mm.size(); ++i) {
    layout.gaps.push_back(place(lengths.sheet_mm[i]));
    layout.cells.push_back(place(lengths.cell_mm[i]));
  }
  layout.gaps.push_back(place(lengths.sheet_mm.back()));
  layout.free_length_mm = z_mm;
  layout.interference_mm = z_mm - lengths.inner_length_mm;
  for (std::size_t i = 0; i + 1 < layout.cells.size(); ++i) {
    layout.terminal_spacing_mm.push_back(middle_mm(layout.cells[i + 1]) -
                                         middle_mm(layout.cells[i]));
  }
  return layout;
}

}  // namespace stackfit::geometry
