// SPDX-License-Identifier: GPL-3.0-or-later
//
// The parts of a clamp frame: drilled plates, rods, nuts, washers, springs.
#include <cmath>
#include <stdexcept>

#include "solver/cut_list.hpp"
#include "solver/fasteners.hpp"

namespace stackfit {
namespace {

int spring_sets(const FrameToCut& cut) {
  if (!cut.rods.springs) {
    return 0;
  }
  return cut.rods.ends == SpringEnds::both ? 2 : 1;
}

CutPart plates(const FrameToCut& cut, const Fastener& thread) {
  const FramePlates& said = cut.frame.plates;
  if (!(said.width_mm > 0) || !(said.height_mm > 0) || !(cut.plate_mm > 0)) {
    throw std::invalid_argument("the plates of a frame have sizes above zero");
  }
  CutPart part;
  part.code = CutCode::frame_plate;
  part.count = 2;
  part.length_mm = said.width_mm;
  part.width_mm = said.height_mm;
  part.thickness_mm = cut.plate_mm;
  part.material = std::string(material(cut.plate_material).name);
  part.remark = CutRemark::holes_for_rods;
  const double half = 0.5 * thread.medium_hole_mm;
  for (const RodPosition& rod : cut.frame.rods.at) {
    if (std::abs(rod.x_mm) + half >= 0.5 * said.width_mm ||
        std::abs(rod.y_mm) + half >= 0.5 * said.height_mm) {
      throw std::invalid_argument("a rod's hole lies beyond the edge of the frame's plate");
    }
    part.holes.push_back({rod.x_mm, rod.y_mm, thread.medium_hole_mm});
  }
  return part;
}

double nut_height_mm(const FrameToCut& cut, const Fastener& thread) {
  const bool locking = cut.frame.rods.prevailing_torque_nmm.has_value();
  return thread.nut_mm + (locking ? lock_nut_higher * thread.diameter_mm : 0);
}

double rod_length_mm(const FrameToCut& cut, const Fastener& thread) {
  const int sets = spring_sets(cut);
  const double springs = sets > 0 ? sets * cut.rods.springs->free_length_mm() : 0;
  const double length = cut.row_mm + 2 * cut.plate_mm + springs + (2 + sets) * thread.washer_mm +
                        2 * nut_height_mm(cut, thread) +
                        2 * pitches_beyond_nut * cut.rods.rod.thread.pitch_mm;
  // A length that is a whole step but for rounding is not raised by another one.
  constexpr double rounding = 1e-9;
  return rod_length_step_mm * std::ceil(length / rod_length_step_mm - rounding);
}

CutPart springs(const FrameToCut& cut, int on_rods) {
  CutPart part;
  part.remark = CutRemark::none;
  part.length_mm = cut.rods.springs->free_length_mm();
  part.count = on_rods;
  part.material = "spring steel";
  if (!cut.frame.springs) {
    throw std::invalid_argument("the springs of a frame are described where its rods have them");
  }
  if (const auto* disc = std::get_if<DiscSprings>(&*cut.frame.springs)) {
    part.code = CutCode::disc_spring;
    part.count *= disc->parallel * disc->series;
    part.length_mm = disc->thickness_mm + disc->cone_height_mm;
    part.thickness_mm = disc->thickness_mm;
    part.diameter_mm = disc->outer_mm;
    part.remark = CutRemark::nested_and_turned_about;
    return part;
  }
  const auto& coil = std::get<HelicalSprings>(*cut.frame.springs);
  part.code = CutCode::helical_spring;
  part.thickness_mm = coil.wire_mm;
  part.diameter_mm = coil.mean_diameter_mm + coil.wire_mm;
  return part;
}

CutPart bought(CutCode code, int count, const Fastener& thread) {
  CutPart part;
  part.code = code;
  part.count = count;
  part.diameter_mm = thread.diameter_mm;
  part.material = "steel";
  return part;
}

}  // namespace

std::vector<CutPart> frame_parts(const FrameToCut& cut) {
  const std::optional<Fastener> thread = fastener(cut.rods.rod.thread.diameter_mm);
  const int rods = static_cast<int>(cut.frame.rods.at.size());
  if (!thread) {
    throw std::invalid_argument("nuts and holes are known for the threads M3 to M16");
  }
  if (rods < 1 || !(cut.row_mm > 0)) {
    throw std::invalid_argument("a frame has rods and a row of a length above zero");
  }
  CutPart rod = bought(CutCode::rod, rods, *thread);
  rod.length_mm = rod_length_mm(cut, *thread);
  rod.tolerance = CutTolerance{rod_length_step_mm, 0};
  rod.remark = CutRemark::threaded_all_along;
  CutPart nut = bought(CutCode::nut, 2 * rods, *thread);
  nut.thickness_mm = nut_height_mm(cut, *thread);
  nut.remark = cut.frame.rods.prevailing_torque_nmm ? CutRemark::locking : CutRemark::none;
  CutPart washer = bought(CutCode::washer, (2 + spring_sets(cut)) * rods, *thread);
  washer.thickness_mm = thread->washer_mm;
  std::vector<CutPart> parts{plates(cut, *thread), rod, nut, washer};
  if (spring_sets(cut) > 0) {
    parts.push_back(springs(cut, spring_sets(cut) * rods));
  }
  return parts;
}

}  // namespace stackfit
