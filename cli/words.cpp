// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/words.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace stackfit::cli {
namespace {

constexpr std::array chemistry_table{
    Word<Chemistry>{"LFP", Chemistry::lfp_graphite},
    Word<Chemistry>{"LFP/graphite", Chemistry::lfp_graphite},
    Word<Chemistry>{"LiFePO4", Chemistry::lfp_graphite},
    Word<Chemistry>{"NMC", Chemistry::nmc_graphite},
    Word<Chemistry>{"NMC/graphite", Chemistry::nmc_graphite},
};
constexpr std::array force_when_table{
    Word<ForceWhen>{"assembly", ForceWhen::assembly},
    Word<ForceWhen>{"always", ForceWhen::always},
    Word<ForceWhen>{"never above", ForceWhen::never_above},
    Word<ForceWhen>{"not said", ForceWhen::not_said},
};
constexpr std::array applies_to_table{
    Word<RangeAppliesTo>{"use", RangeAppliesTo::use},
    Word<RangeAppliesTo>{"assembly", RangeAppliesTo::assembly},
};
constexpr std::array surface_table{
    Word<CellSurface>{"bare can", CellSurface::bare_can},
    Word<CellSurface>{"film", CellSurface::film},
    Word<CellSurface>{"not said", CellSurface::not_said},
};
constexpr std::array wall_material_table{
    Word<WallMaterial>{"aluminium", WallMaterial::aluminium},
    Word<WallMaterial>{"aluminum", WallMaterial::aluminium},
    Word<WallMaterial>{"steel", WallMaterial::carbon_steel},
    Word<WallMaterial>{"carbon steel", WallMaterial::carbon_steel},
    Word<WallMaterial>{"stainless steel", WallMaterial::stainless_steel},
    Word<WallMaterial>{"stainless", WallMaterial::stainless_steel},
    Word<WallMaterial>{"plywood", WallMaterial::plywood},
    Word<WallMaterial>{"glass-epoxy", WallMaterial::glass_epoxy},
    Word<WallMaterial>{"polycarbonate", WallMaterial::polycarbonate},
};
// "open" comes last: a whole wall cannot be.
constexpr std::array edge_joint_table{
    Word<WallJoint>{"folded", WallJoint::folded},
    Word<WallJoint>{"welded", WallJoint::welded},
    Word<WallJoint>{"screwed", WallJoint::screwed},
    Word<WallJoint>{"open", WallJoint::open},
};
constexpr std::array rib_along_table{
    Word<RibAlong>{"width", RibAlong::width},
    Word<RibAlong>{"height", RibAlong::height},
};
constexpr std::array rib_joint_table{
    Word<RibJoint>{"welded", RibJoint::welded},
    Word<RibJoint>{"screwed", RibJoint::screwed},
};
constexpr std::array in_plane_table{
    Word<InPlane>{"free", InPlane::free},
    Word<InPlane>{"held", InPlane::held},
};
constexpr std::array lid_table{
    Word<Lid>{"none", Lid::none},
    Word<Lid>{"loose", Lid::loose},
    Word<Lid>{"screwed", Lid::screwed},
    Word<Lid>{"not said", Lid::not_said},
};
constexpr std::array opens_table{
    Word<Opens>{"one end wall", Opens::one_end_wall},
    Word<Opens>{"both", Opens::both_end_walls},
    Word<Opens>{"both end walls", Opens::both_end_walls},
    Word<Opens>{"none", Opens::none},
    Word<Opens>{"not said", Opens::not_said},
};
constexpr std::array floor_table{
    Word<Floor>{"insulated", Floor::insulated},
    Word<Floor>{"bare", Floor::bare},
    Word<Floor>{"not said", Floor::not_said},
};
constexpr std::array sheet_material_table{
    Word<SheetMaterial>{"polypropylene", SheetMaterial::polypropylene},
    Word<SheetMaterial>{"PP", SheetMaterial::polypropylene},
    Word<SheetMaterial>{"glass-epoxy", SheetMaterial::glass_epoxy},
    Word<SheetMaterial>{"polycarbonate", SheetMaterial::polycarbonate},
    Word<SheetMaterial>{"PET film", SheetMaterial::pet_film},
    Word<SheetMaterial>{"PET", SheetMaterial::pet_film},
    Word<SheetMaterial>{"phenolic paper", SheetMaterial::phenolic_paper},
    Word<SheetMaterial>{"aluminium", SheetMaterial::aluminium},
    Word<SheetMaterial>{"aluminum", SheetMaterial::aluminium},
    Word<SheetMaterial>{"steel", SheetMaterial::carbon_steel},
    Word<SheetMaterial>{"carbon steel", SheetMaterial::carbon_steel},
    Word<SheetMaterial>{"stainless steel", SheetMaterial::stainless_steel},
    Word<SheetMaterial>{"stainless", SheetMaterial::stainless_steel},
};
constexpr std::array method_table{
    Word<BuildMethod>{"hand", BuildMethod::hand},
    Word<BuildMethod>{"end wall last", BuildMethod::end_wall_last},
    Word<BuildMethod>{"clamp", BuildMethod::clamp},
    Word<BuildMethod>{"walls spread", BuildMethod::walls_spread},
};
constexpr std::array place_table{
    Word<PlaceWord>{"every gap", PlaceWord::every_gap},
    Word<PlaceWord>{"ends", PlaceWord::ends},
    Word<PlaceWord>{"between cells", PlaceWord::between_cells},
};

char plain_letter(char letter) {
  const char joined = letter == '-' || letter == '_' ? ' ' : letter;
  return static_cast<char>(std::tolower(static_cast<unsigned char>(joined)));
}

}  // namespace

std::span<const Word<Chemistry>> chemistry_words() {
  return chemistry_table;
}
std::span<const Word<ForceWhen>> force_when_words() {
  return force_when_table;
}
std::span<const Word<RangeAppliesTo>> applies_to_words() {
  return applies_to_table;
}
std::span<const Word<CellSurface>> surface_words() {
  return surface_table;
}
std::span<const Word<WallMaterial>> wall_material_words() {
  return wall_material_table;
}
std::span<const Word<WallJoint>> joint_words() {
  return std::span(edge_joint_table).first(edge_joint_table.size() - 1);
}
std::span<const Word<WallJoint>> edge_joint_words() {
  return edge_joint_table;
}
std::span<const Word<InPlane>> in_plane_words() {
  return in_plane_table;
}
std::span<const Word<RibAlong>> rib_along_words() {
  return rib_along_table;
}
std::span<const Word<RibJoint>> rib_joint_words() {
  return rib_joint_table;
}
std::span<const Word<Lid>> lid_words() {
  return lid_table;
}
std::span<const Word<Opens>> opens_words() {
  return opens_table;
}
std::span<const Word<Floor>> floor_words() {
  return floor_table;
}
std::span<const Word<SheetMaterial>> sheet_material_words() {
  return sheet_material_table;
}
std::span<const Word<BuildMethod>> method_words() {
  return method_table;
}
std::span<const Word<PlaceWord>> place_words() {
  return place_table;
}

bool same_words(std::string_view left, std::string_view right) {
  return std::ranges::equal(left, right, {}, plain_letter, plain_letter);
}

}  // namespace stackfit::cli
