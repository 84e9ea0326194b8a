// SPDX-License-Identifier: GPL-3.0-or-later
//
// How far the figures of a build may be off.
#include "cli/convert_parts.hpp"

namespace stackfit::cli {

Uncertainty convert_uncertainty(const Node& uncertainty) {
  const auto length = [&](std::string_view key) {
    return uncertainty.quantity(key, Dimension::length, Sign::not_negative);
  };
  const auto share = [&](std::string_view key) {
    return uncertainty.quantity(key, Dimension::percent, Sign::not_negative);
  };
  Uncertainty out;
  out.calipers_mm = length("calipers");
  out.calipers_each_mm = length("calipers_each");
  out.charge = share("charge");
  out.box_length_mm = length("box_length");
  out.row_mm = length("row");
  out.shims = share("shims");
  out.softness = share("softness");
  out.swing = share("swing");
  out.growth = share("growth");
  out.expansion = share("expansion");
  out.friction = share("friction");
  out.frame_force = share("frame_force");
  return out;
}

}  // namespace stackfit::cli
