// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/row_ribs.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "solver/materials.hpp"

namespace stackfit {
namespace {

/// To a tenth: `7.5 mm`.
std::string mm(double value) {
  const long tenths = std::lround(10 * value);
  std::string text = std::to_string(tenths / 10);
  if (tenths % 10 != 0) {
    text += '.' + std::to_string(std::abs(tenths % 10));
  }
  return text + " mm";
}

using Along = WallRib::Along;

constexpr double rounding = 1e-9;
/// Between fixed ends a beam's moment changes its sign: the middle part that bends one way is
/// little more than half the span (0.58 of it under an even load).
constexpr double fixed_end_share = 0.5;

Along along_of(const RibInput& said) {
  return said.along == RibAlong::width ? Along::width : Along::height;
}

/// The extent of the wall along the rib, and the one across which it is placed.
double span_mm(Along along, const WallExtent& size) {
  return along == Along::width ? size.width_mm : size.height_mm;
}
double across_mm(Along along, const WallExtent& size) {
  return along == Along::width ? size.height_mm : size.width_mm;
}

bool fixed_at(const std::vector<WallEdgePart>& parts, double at_mm) {
  return std::any_of(parts.begin(), parts.end(), [&](const WallEdgePart& part) {
    return part.support == PlateEdge::fixed && at_mm >= part.from_mm && at_mm <= part.to_mm;
  });
}

bool end_fixed(const WallPlate& wall, const WallRib& rib) {
  const bool flat = rib.along == Along::width;
  return fixed_at(flat ? wall.left : wall.bottom, rib.at_mm) ||
         fixed_at(flat ? wall.right : wall.top, rib.at_mm);
}

/// Half way to the next rib of its direction, or to the wall's edge, on either side.
double share_of_wall_mm(const std::vector<WallRib>& ribs, const WallRib& rib, double across) {
  double before = 0;
  double after = across;
  for (const WallRib& other : ribs) {
    if (other.along == rib.along && other.at_mm < rib.at_mm) {
      before = std::max(before, other.at_mm);
    }
    if (other.along == rib.along && other.at_mm > rib.at_mm) {
      after = std::min(after, other.at_mm);
    }
  }
  return 0.5 * (after - before);
}

void require_place(const RibInput& said, const std::vector<WallRib>& before, double at_mm,
                   double across) {
  if (!(said.thickness_mm > 0 && said.height_mm > 0)) {
    throw UnusableBuild("a rib of an end wall needs a thickness and a height above zero");
  }
  const double half = 0.5 * said.thickness_mm;
  if (!(at_mm >= half && at_mm <= across - half)) {
    throw UnusableBuild("a rib " + mm(said.thickness_mm) + " thick with its middle at " +
                        mm(at_mm) + " lies beyond the edge of the end wall: at is from " +
                        mm(half) + " to " + mm(across - half));
  }
  for (const WallRib& other : before) {
    if (other.along == along_of(said) &&
        std::abs(other.at_mm - at_mm) < half + 0.5 * other.section.thickness_mm) {
      throw UnusableBuild("two ribs of an end wall lie on each other, at " + mm(other.at_mm) +
                          " and " + mm(at_mm) +
                          ": move one, or say one rib of their thickness together");
    }
  }
}

WallRib rib_of(const Resolution& r, const RibInput& said, const Material& metal,
               const WallExtent& size) {
  const Along along = along_of(said);
  const double across = across_mm(along, size);
  if (!said.at_mm) {
    r.findings.note({"place of a rib", "the middle of the wall", "not said"});
  }
  return {along,
          said.at_mm.value_or(0.5 * across),
          {said.thickness_mm, said.height_mm, metal.modulus_mpa, 0},
          metal.yield_mpa};
}

}  // namespace

void stiffen(const Resolution& r, const PlateWall& said, const WallExtent& size, WallPlate& wall) {
  const WallMaterial own = said.material.value_or(wall_when_not_said);
  if (said.second_plate) {
    if (!said.ribs.empty()) {
      throw UnusableBuild(
          "an end wall has ribs or a second plate against it, not both: keep the one that is "
          "there");
    }
    const Material& metal = material(said.second_plate->material.value_or(own));
    wall.second = {said.second_plate->thickness_mm, metal.modulus_mpa, metal.poisson};
    wall.second_yield_mpa = metal.yield_mpa;
    return;
  }
  for (const RibInput& rib : said.ribs) {
    WallRib made = rib_of(r, rib, material(rib.material.value_or(own)), size);
    require_place(rib, wall.ribs, made.at_mm, across_mm(made.along, size));
    wall.ribs.push_back(made);
  }
  for (std::size_t i = 0; i < wall.ribs.size(); ++i) {
    const auto& joint = said.ribs[i].joint;
    if (!joint) {
      r.findings.note({"joint of the ribs", "stitch-welded all along",
                       "not said; a screwed one bends by itself and is softer"});
    }
    if (joint.value_or(RibJoint::welded) == RibJoint::welded) {
      WallRib& rib = wall.ribs[i];
      const double part = r.take({}, Assumed::rib_flange);
      const double span = span_mm(rib.along, size) * (end_fixed(wall, rib) ? fixed_end_share : 1);
      rib.section.flange_mm =
          std::min(part * span, share_of_wall_mm(wall.ribs, rib, across_mm(rib.along, size)));
    }
  }
}

bool ribs_alike(const WallPlate& wall, double width_mm) {
  const auto same = [](double a, double b) { return std::abs(a - b) <= rounding * std::abs(a); };
  const auto has_image = [&](const WallRib& rib) {
    return std::any_of(wall.ribs.begin(), wall.ribs.end(), [&](const WallRib& other) {
      return other.along == Along::height && same(other.at_mm + rib.at_mm, width_mm) &&
             other.section.thickness_mm == rib.section.thickness_mm &&
             other.section.height_mm == rib.section.height_mm &&
             other.section.modulus_mpa == rib.section.modulus_mpa &&
             same(other.section.flange_mm, rib.section.flange_mm);
    });
  };
  return std::all_of(wall.ribs.begin(), wall.ribs.end(), [&](const WallRib& rib) {
    return rib.along == Along::width || has_image(rib);
  });
}

}  // namespace stackfit
