// SPDX-License-Identifier: GPL-3.0-or-later
//
// `sort`: a pile of measured cells into several packs, each to be shimmed by a kit of its own.
//
// For: the whole answer, as numbers and codes. Cells that show signs, are swollen, or are set
// aside by any other rule of condition.hpp never come into a pack. With a build (its box, kit and
// kind of cell serve for every pack) rows are kept within the lengths that its kit serves, and
// every pack's plan is chosen and held in full. Without one only the rows' lengths are evened.
// Not for: the sorting as such (sort_cells.hpp), words (cli/view_sort.hpp).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "solver/check.hpp"
#include "solver/sort_cells.hpp"
#include "solver/study.hpp"

namespace stackfit {

struct SortAsked {
  int packs = 1;
  int cells_each = 1;
  Day today;                 ///< on which the cells were measured
  std::optional<Build> box;  ///< one pack's build; its own cells are not used
};

/// The shims of a pack, and what they lead to.
struct PackPlan {
  bool found = false;                    ///< the hard rules of the kit can be kept at all
  bool passes = false;                   ///< by a full solution
  bool proven = true;                    ///< the kit was gone through
  std::vector<int> used;                 ///< of each kind of the kit
  std::vector<std::vector<int>> counts;  ///< [gap][kind]
  double shims_mm = 0;
  StateResult lowest;
  StateResult highest;
};

struct SortedPack {
  std::vector<std::size_t> cells;   ///< places in the pile, by id
  std::int64_t row_um = 0;          ///< free, without sheets, all cells at one charge
  bool length_serves = true;        ///< a length that the kit serves
  std::optional<Span> capacity_ah;  ///< weakest and strongest cell
  std::optional<PackPlan> plan;     ///< with a build
};

struct SortAnswer {
  std::string title;
  int packs_asked = 0;
  int cells_each = 0;
  std::size_t pile = 0;                ///< cells in it
  std::vector<std::string> ids;        ///< of the pile
  std::vector<CellCondition> aside;    ///< never in a pack
  std::vector<CellCondition> watched;  ///< in packs or left over, with a rule that spoke
  std::size_t signs_not_said = 0;
  double nominal_mm = 0;
  NominalFrom nominal_from = NominalFrom::nothing;
  bool by_capacity = false;
  double at_charge = 0;  ///< the charge rows are told at
  bool charges_differ = false;
  SortShims shims = SortShims::all;
  SortFigure spread_mah;
  SortFigure difference_um;
  bool best = false;  ///< proven
  std::vector<SortedPack> packs;
  std::vector<std::size_t> left_over;  ///< places in the pile
  bool has_box = false;
  bool is_frame = false;         ///< a clamp frame: any length serves
  std::vector<Span> served_mm;   ///< row lengths that the kit serves; rising
  double kept_clear_mm = 0;      ///< of their ends, where a plan at the very end failed
  std::vector<std::string> kit;  ///< its names
  std::vector<double> kit_mm;
  std::vector<std::string> gaps;
  BandResult band;
  std::vector<Assumed> assumed;
  std::vector<AssumedWord> assumed_words;

  [[nodiscard]] int passing() const;
  [[nodiscard]] bool all_pass() const;
  [[nodiscard]] bool any_sign() const;
};

/// `pile` holds the cells, and of their kind what is known. Throws UnusableBuild, with a sentence,
/// where too few cells are left, some capacities are missing, or the build has several rows.
[[nodiscard]] SortAnswer answer_sort(const Build& pile, const SortAsked& asked,
                                     const Assumptions& assumptions = {});

/// One pack of the answer as a build, its shims placed.
[[nodiscard]] Build pack_build(const Build& box, const Build& pile,
                               const std::vector<std::size_t>& cells);

}  // namespace stackfit
