// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/materials.hpp"

namespace stackfit {
namespace {

constexpr std::string_view callister_density = "Callister, Table B.1 (from memory)";

constexpr Material glass_epoxy{
    "glass-epoxy laminate",
    10000,
    0.2,
    42.7e-6,
    false,
    "E 7 to 14 GPa from memory (Kasen 1980); expansion: NIST cryogenic fit, G-10CR normal, 293 K",
    250,
    1850,
    "data sheets of NEMA FR-4 and G-10 sheet print 1.8 to 1.9 kg/l, from memory"};
constexpr Material polycarbonate{
    "polycarbonate",  2380, 0.37, 68e-6, false, "Callister, Table B.2 (from memory)", 60, 1200,
    callister_density};
constexpr Material polypropylene{
    "polypropylene",  1340, 0.4, 146e-6, false, "Callister, Tables B.2 and B.6", 0, 905,
    callister_density};
constexpr Material pet_film{
    "PET film",
    3450,
    0.38,
    117e-6,
    false,
    "Callister, Tables B.2 and B.6",
    0,
    1390,
    "data sheets of biaxially stretched film print 1.39 to 1.40 kg/l, from memory"};
constexpr Material phenolic_paper{
    "phenolic paper",
    4500,
    0.3,
    122e-6,
    false,
    "E 3 to 6 GPa through thickness, from memory; expansion: Callister, Table B.6",
    0,
    1360,
    "data sheets of phenolic paper laminate print 1.3 to 1.45 kg/l, from memory"};
constexpr Material aluminium{"aluminium", 69000, 0.33,
                             23.6e-6,     true,  "Callister (from memory)",
                             110,         2710,  callister_density};
constexpr Material carbon_steel{"carbon steel",
                                207000,
                                0.30,
                                12e-6,
                                true,
                                "Callister, Table B.2; expansion: handbook tables",
                                235,
                                7850,
                                callister_density};
constexpr Material stainless_steel{"stainless steel 304",     193000, 0.30, 17.2e-6,          true,
                                   "Callister (from memory)", 205,    8000, callister_density};
constexpr Material plywood{"plywood", 8000,  0.1,
                           6e-6,      false, "E 6 to 10 GPa along the sheet, from memory",
                           25,        680,   "birch plywood, 0.6 to 0.75 kg/l, from memory"};

}  // namespace

const Material& material(SheetMaterial which) {
  switch (which) {
    case SheetMaterial::glass_epoxy:
      return glass_epoxy;
    case SheetMaterial::polycarbonate:
      return polycarbonate;
    case SheetMaterial::polypropylene:
      return polypropylene;
    case SheetMaterial::pet_film:
      return pet_film;
    case SheetMaterial::phenolic_paper:
      return phenolic_paper;
    case SheetMaterial::aluminium:
      return aluminium;
    case SheetMaterial::carbon_steel:
      return carbon_steel;
    case SheetMaterial::stainless_steel:
      return stainless_steel;
  }
  return polycarbonate;
}

const Material& material(WallMaterial which) {
  switch (which) {
    case WallMaterial::aluminium:
      return aluminium;
    case WallMaterial::carbon_steel:
      return carbon_steel;
    case WallMaterial::stainless_steel:
      return stainless_steel;
    case WallMaterial::plywood:
      return plywood;
    case WallMaterial::glass_epoxy:
      return glass_epoxy;
    case WallMaterial::polycarbonate:
      return polycarbonate;
  }
  return aluminium;
}

}  // namespace stackfit
