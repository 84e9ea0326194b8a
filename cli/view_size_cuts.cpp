// SPDX-License-Identifier: GPL-3.0-or-later
//
// The list of parts to cut, fold, drill or buy.
#include <fmt/format.h>

#include <algorithm>

#include "cli/view_size_parts.hpp"

namespace stackfit::cli {
namespace {

constexpr std::size_t longest_material = 14;

std::string_view plain(CutRemark remark) {
  switch (remark) {
    case CutRemark::none:
    case CutRemark::whole_face:
      return "";
    case CutRemark::sets_inner_length:
      return "sets the length";
    case CutRemark::set_to_inner_length:
      return "set to the length";
    case CutRemark::over_end_walls:
      return "over the ends";
    case CutRemark::over_side_walls:
      return "over the sides";
    case CutRemark::outside_the_walls:
      return "to the outside";
    case CutRemark::flat_before_folding:
      return "flat, before folding";
    case CutRemark::never_longer:
      return "never longer";
    case CutRemark::own_outline:
      return "with its own outline";
    case CutRemark::threaded_all_along:
      return "threaded all along";
    case CutRemark::holes_for_rods:
      return "drilled together";
    case CutRemark::locking:
      return "locking";
    case CutRemark::nested_and_turned_about:
      return "see springs";
  }
  return "";
}

// `428.7 x 194.0 x 3`; what is round has a diameter.
std::string size_of(const CutPart& part) {
  if (part.code == CutCode::nut || part.code == CutCode::washer) {
    return fmt::format("M{:g}", part.diameter_mm);
  }
  if (part.code == CutCode::rod) {
    return fmt::format("M{:g} x {:g}", part.diameter_mm, part.length_mm);
  }
  if (part.diameter_mm > 0) {
    return fmt::format("{:g} across, {:g} thick", part.diameter_mm, part.thickness_mm);
  }
  return fmt::format("{:.1f} x {:.1f} x {:g}", part.length_mm, part.width_mm, part.thickness_mm);
}

std::string tolerance_of(const CutPart& part) {
  if (!part.tolerance) {
    return "";
  }
  return fmt::format("+{:g}/-{:g}", part.tolerance->plus_mm, part.tolerance->minus_mm);
}

}  // namespace

std::string_view part_name(CutCode code) {
  switch (code) {
    case CutCode::end_wall:
      return "end wall";
    case CutCode::side_wall:
      return "side wall";
    case CutCode::floor:
      return "floor";
    case CutCode::lid:
      return "lid";
    case CutCode::folded_blank:
      return "blank, folded";
    case CutCode::shim:
      return "sheet";
    case CutCode::fixed_sheet:
      return "film or sheet";
    case CutCode::filler_plate:
      return "filler plate";
    case CutCode::pad:
      return "pad";
    case CutCode::side_sheet:
      return "side sheet";
    case CutCode::floor_sheet:
      return "floor sheet";
    case CutCode::lid_sheet:
      return "lid sheet";
    case CutCode::frame_plate:
      return "plate";
    case CutCode::rod:
      return "rod";
    case CutCode::nut:
      return "nut";
    case CutCode::washer:
      return "washer";
    case CutCode::disc_spring:
      return "disc spring";
    case CutCode::helical_spring:
      return "spring";
  }
  return "";
}

void write_cut_list(SizePage& page) {
  if (!page.answer.details) {
    return;
  }
  page.lines.blank();
  page.lines.columns(
      {{"PARTS, before paint", 20}, {"", 0}, {"length x width x thick, mm", 24}, {"", 0}, {"", 0}},
      Emphasis::heading);
  for (const CutPart& part : page.answer.details->cuts) {
    const std::string remark(plain(part.remark));
    page.lines.columns({{fmt::format("{:>2}  ", part.count), 4},
                        {std::string(part_name(part.code)) + " ", 14},
                        {size_of(part) + " ", 22},
                        {tolerance_of(part) + " ", 8},
                        {fmt::format("{}{}{}", shortened(part.material, longest_material),
                                     remark.empty() ? "" : ", ", remark),
                         0}});
  }
}

}  // namespace stackfit::cli
