// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/row_frame.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>
#include <string_view>

#include "solver/materials.hpp"

namespace stackfit {
namespace {

/// Shear modulus of spring steel [MPa]: Shigley's Mechanical Engineering Design, Table 10-5
/// (from memory).
constexpr double spring_shear_mpa = 79300;
/// Young's modulus and Poisson's ratio of disc springs: DIN EN 16984.
constexpr double disc_modulus_mpa = 206000;
constexpr double disc_poisson = 0.3;

Thread thread_of(const std::string& size) {
  double diameter = 0;
  if (size.size() > 1) {
    std::from_chars(size.data() + 1, size.data() + size.size(), diameter);
  }
  const std::optional<Thread> thread = coarse_thread(diameter);
  if (!thread) {
    throw UnusableBuild("no coarse thread \"" + size + "\" is known; M3 to M16 are");
  }
  return *thread;
}

struct Grade {
  std::string_view word;
  PropertyClass is;
};
constexpr std::array<Grade, 8> grades{{{"4.6", PropertyClass::steel_4_6},
                                       {"4.8", PropertyClass::steel_4_8},
                                       {"5.8", PropertyClass::steel_5_8},
                                       {"8.8", PropertyClass::steel_8_8},
                                       {"10.9", PropertyClass::steel_10_9},
                                       {"12.9", PropertyClass::steel_12_9},
                                       {"A2-70", PropertyClass::stainless_a2_70},
                                       {"A4-70", PropertyClass::stainless_a4_70}}};
/// What threaded rod of unsaid grade is taken for: the weakest that is sold.
constexpr Grade grade_when_not_said = grades[1];

Grade grade_of(const Resolution& r, const FrameRods& rods) {
  if (!rods.grade) {
    r.findings.note({"grade of the rods", std::string(grade_when_not_said.word),
                     "not said; the weakest threaded rod that is common"});
    return grade_when_not_said;
  }
  for (const Grade& grade : grades) {
    if (grade.word == *rods.grade) {
      return grade;
    }
  }
  throw UnusableBuild("the grade \"" + *rods.grade + "\" of the rods is not known");
}

bool is_stainless(const Grade& grade) {
  return grade.word.front() == 'A';
}

std::optional<SpringSet> springs_of(const Resolution& r, const Frame& frame) {
  if (!frame.springs) {
    return std::nullopt;
  }
  if (const auto* disc = std::get_if<DiscSprings>(&*frame.springs)) {
    return disc_set(*disc);
  }
  const auto& coil = std::get<HelicalSprings>(*frame.springs);
  const HelicalWire wire{coil.wire_mm, coil.mean_diameter_mm, coil.active_turns,
                         coil.modulus_mpa.value_or(spring_shear_mpa)};
  const double solid = coil.solid_length_mm.value_or(ground_solid_length_mm(wire));
  // A spring whose free length was not said is only limited by its rate here.
  if (!coil.free_length_mm) {
    r.findings.note({"free length of the springs", "solid and four diameters",
                     "not said; the length to set them to rests on it: measure one"});
  }
  const double free = coil.free_length_mm.value_or(solid + 4 * coil.mean_diameter_mm);
  return SpringSet::helical({helical_rate_n_per_mm(wire), free, solid}, {});
}

/// Free length of the row and its sheets: about what the rods span.
double row_length_mm(const Row& row) {
  double length = 0;
  for (const RowCell& cell : row.cells) {
    length += cell.edge_mm;
  }
  for (const RowGap& gap : row.gaps) {
    length += gap.fixed_mm();
  }
  return length;
}

/// All rods are taken to pull alike, which they do only where their middle is the cells'.
void require_centred(const FrameRods& rods) {
  constexpr double centred_mm = 1;
  double x = 0;
  double y = 0;
  for (const RodPosition& rod : rods.at) {
    x += rod.x_mm / static_cast<double>(rods.at.size());
    y += rod.y_mm / static_cast<double>(rods.at.size());
  }
  if (std::hypot(x, y) > centred_mm) {
    throw UnusableBuild("the middle of the frame's rods lies " +
                        std::to_string(std::lround(std::hypot(x, y))) +
                        " mm off the plate's: it would tilt, and the rods pull unequally; set them "
                        "evenly about the middle of the cells");
  }
}

RodSet rods_of(const Resolution& r, const Row& row, double plate_mm, double& expansion_per_k) {
  const Frame& frame = *r.build.frame;
  const Grade grade = grade_of(r, frame.rods);
  const Material& metal =
      material(is_stainless(grade) ? WallMaterial::stainless_steel : WallMaterial::carbon_steel);
  expansion_per_k = metal.expansion_per_k;
  RodSet set;
  set.count = static_cast<int>(frame.rods.at.size());
  set.rod.thread = thread_of(frame.rods.size);
  set.rod.modulus_mpa = metal.modulus_mpa;
  set.rod.proof_stress_mpa = proof_stress_mpa(grade.is);
  constexpr double both = 2;
  set.rod.length_mm = frame.rods.length_mm.value_or(row_length_mm(row) + both * plate_mm);
  if (!frame.rods.length_mm) {
    r.findings.note({"length of the rods between the nuts", "the row and both plates",
                     "not said; it matters little"});
  }
  try {
    set.springs = springs_of(r, frame);
  } catch (const std::invalid_argument& fault) {
    throw UnusableBuild(std::string("the springs of the frame: ") + fault.what());
  }
  if (set.springs && !set.springs->rises_all_the_way()) {
    throw UnusableBuild(
        "the springs of the frame give way before they are flat (cone height over "
        "thickness above 1.4): take flatter ones");
  }
  const double rows = std::max(1, r.build.rows.value_or(1));
  if (frame.force_n) {
    set.force_n = *frame.force_n;
  } else if (row.band.build_target_mpa) {
    set.force_n = rows * *row.band.build_target_mpa * row.face_area_mm2;
  } else {
    set.force_n = rows * 0.5 * (row.band.low_mpa + row.band.high_mpa) * row.face_area_mm2;
    r.findings.note({"force of the frame", "the middle of the band",
                     "neither the frame's force nor a target for assembly was said"});
  }
  const double each = set.force_n / set.count;
  if (set.springs && each > set.springs->force_at(set.springs->rises_up_to_mm()).n) {
    throw UnusableBuild(
        "the springs of the frame reach " +
        std::to_string(std::lround(set.springs->force_at(set.springs->rises_up_to_mm()).n)) +
        " N on each rod, and " + std::to_string(std::lround(each)) +
        " N are asked for: take stronger springs, more in parallel, or a lower force");
  }
  const NutFactor factor{r.assumptions[Assumed::nut_factor],
                         r.assumptions.fraction(Assumed::nut_factor_scatter)};
  if (torque_tells({set.rod.thread, set.rod.proof_stress_mpa, each, factor,
                    frame.rods.prevailing_torque_nmm})) {
    r.findings.note(Assumed::nut_factor);
  }
  return set;
}

}  // namespace

SpringSet disc_set(const DiscSprings& discs) {
  return SpringSet::discs({discs.outer_mm, discs.inner_mm, discs.thickness_mm, discs.cone_height_mm,
                           discs.reduced_thickness_mm, disc_modulus_mpa, disc_poisson},
                          {discs.parallel, discs.series});
}

std::string_view rod_grade_when_not_said() {
  return grade_when_not_said.word;
}

RowBox resolve_frame(const Resolution& r, const Row& row) {
  const Frame& said = *r.build.frame;
  const Material& metal = material(said.plates.material.value_or(wall_when_not_said));
  if (!said.plates.material) {
    r.findings.note({"material of the plates", std::string(metal.name), "not said"});
  }
  if (!said.plates.thickness_mm && !metal.metal) {
    throw UnusableBuild(
        "frame.plates.thickness was not said, and no thickness is usual for plates of " +
        std::string(metal.name) + ": say it, or have stackfit size choose it from what is sold");
  }
  RowBox box;
  box.metal = metal.metal;
  note_yield(r, metal);
  box.walls.width_mm = said.plates.width_mm;
  box.walls.height_mm = said.plates.height_mm;
  WallPlate plate;
  plate.section = {r.take(said.plates.thickness_mm, Assumed::wall_thickness), metal.modulus_mpa,
                   metal.poisson};
  plate.yield_mpa = metal.yield_mpa;
  for (const RodPosition& rod : said.rods.at) {
    plate.rods.push_back(
        {{0.5 * box.walls.width_mm + rod.x_mm, 0.5 * box.walls.height_mm + rod.y_mm}, 0, true});
  }
  require_centred(said.rods);
  box.walls.first = plate;
  box.walls.last = plate;
  box.rods = rods_of(r, row, plate.section.thickness_mm, box.expansion_per_k);
  box.tie_length_mm = box.rods->rod.length_mm;
  place_faces(r, row, 0.5 * box.walls.height_mm, box.walls);
  return box;
}

}  // namespace stackfit
