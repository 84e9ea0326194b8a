// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/frame_rods.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

#include "solver/row_frame.hpp"
#include "solver/threads.hpp"

namespace stackfit {
namespace {

/// Holes: ISO 273, medium. Nuts: ISO 4032, greatest height. Washers: ISO 7089. All from memory.
constexpr std::array<RodParts, 7> parts_table{{{5, 5.5, 4.7, 1.0},
                                               {6, 6.6, 5.2, 1.6},
                                               {8, 9, 6.8, 1.6},
                                               {10, 11, 8.4, 2.0},
                                               {12, 13.5, 10.8, 2.5},
                                               {14, 15.5, 12.8, 2.5},
                                               {16, 17.5, 14.8, 3.0}}};
/// First choice of ISO 262 (from memory): what is sold everywhere.
constexpr std::array<double, 6> threads_sold{5, 6, 8, 10, 12, 16};

constexpr double threads_beyond_nut = 2;  // common practice
constexpr double length_step_mm = 5;

double proof_of(const Row& row, double thread_mm) {
  return proof_load_n(*coarse_thread(thread_mm), row.box.rods->rod.proof_stress_mpa);
}

/// What follows from the thread. One that is said may be such that no nut stands in the table.
void describe(const Row& row, RodOrder& rods) {
  rods.proof_load_n = proof_of(row, rods.thread_mm);
  rods.proof_share = rods.greatest_each_n / rods.proof_load_n;
  const auto* const parts =
      std::find_if(parts_table.begin(), parts_table.end(),
                   [&](const RodParts& p) { return p.thread_mm == rods.thread_mm; });
  if (parts != parts_table.end()) {
    rods.hole_mm = parts->hole_mm;
    rods.nut_height_mm = parts->nut_mm;
    rods.washer_mm = parts->washer_mm;
  }
}

double thread_of(const std::string& size) {
  double diameter = 0;
  if (size.size() > 1) {
    std::from_chars(size.data() + 1, size.data() + size.size(), diameter);
  }
  return diameter;
}

}  // namespace

RodParts rod_parts(double thread_mm) {
  const auto* const found =
      std::find_if(parts_table.begin(), parts_table.end(),
                   [&](const RodParts& p) { return p.thread_mm == thread_mm; });
  if (found == parts_table.end()) {
    throw std::invalid_argument("no nut and washer are known for this thread");
  }
  return *found;
}

std::string thread_name(double thread_mm) {
  return "M" + std::to_string(std::lround(thread_mm));
}

double rod_length_mm(const RodParts& parts, double between_nuts_mm) {
  constexpr double ends = 2;
  const double pitch = coarse_thread(parts.thread_mm)->pitch_mm;
  const double whole =
      between_nuts_mm + ends * (parts.washer_mm + parts.nut_mm + threads_beyond_nut * pitch);
  return std::ceil(whole / length_step_mm) * length_step_mm;
}

bool rods_stand_clear(const Build& build, double thread_mm) {
  const double half = 0.5 * thread_mm;
  const FaceSize& face = build.cell.face;
  const double radius = face.corner_radius_mm.value_or(0);
  const FramePlates& plates = build.frame->plates;
  return std::all_of(
      build.frame->rods.at.begin(), build.frame->rods.at.end(), [&](const RodPosition& rod) {
        const double x = std::abs(rod.x_mm);
        const double y = std::abs(rod.y_mm);
        const double across = std::max(0.0, x - (0.5 * face.width_mm - radius));
        const double up = std::max(0.0, y - (0.5 * face.height_mm - radius));
        return std::hypot(across, up) - radius >= half && x + half <= 0.5 * plates.width_mm &&
               y + half <= 0.5 * plates.height_mm;
      });
}

RodOrder size_rods(const Build& build, const Row& row, double force_n) {
  RodOrder out;
  const FrameRods& said = build.frame->rods;
  out.count = static_cast<int>(said.at.size());
  out.grade_assumed = !said.grade;
  out.grade = said.grade.value_or(std::string(rod_grade_when_not_said()));
  out.greatest_each_n = force_n / out.count;
  const auto holds = [&](double thread_mm) {
    return rods_stand_clear(build, thread_mm) &&
           out.greatest_each_n <= rod_proof_share * proof_of(row, thread_mm);
  };
  const auto* const smallest = std::find_if(threads_sold.begin(), threads_sold.end(), holds);
  out.smallest_mm = smallest == threads_sold.end() ? 0 : *smallest;
  out.thread_mm = out.smallest_mm;
  if (!said.size.empty()) {
    out.said_mm = thread_of(said.size);
    out.said_holds = holds(*out.said_mm);
    out.thread_mm = out.said_holds ? *out.said_mm : out.smallest_mm;
  }
  if (out.thread_mm > 0) {
    describe(row, out);
  }
  return out;
}

std::optional<RodOrder> next_thicker(const Build& build, const Row& row, const RodOrder& rods) {
  const auto* const thicker =
      std::find_if(threads_sold.begin(), threads_sold.end(),
                   [&](double thread_mm) { return thread_mm > rods.thread_mm; });
  if (thicker == threads_sold.end() || !rods_stand_clear(build, *thicker)) {
    return std::nullopt;
  }
  RodOrder out = rods;
  out.thread_mm = *thicker;
  describe(row, out);
  return out;
}

}  // namespace stackfit
