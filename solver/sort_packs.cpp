// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sort_packs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numeric>

#include "solver/length_order.hpp"
#include "solver/signs.hpp"

namespace stackfit {
namespace {

constexpr double um_per_mm = 1000;
constexpr double mah_per_ah = 1000;
/// Kept clear of the ends of the lengths that a kit serves [mm], in turn, where a plan near an end
/// fails in full: lengths are told by a row of usual cells, and packs differ from it in domes.
constexpr std::array kept_clear_mm{0.0, 0.1, 0.25};

std::string counted_cells(std::size_t count) {
  return std::to_string(count) + (count == 1 ? " cell" : " cells");
}

bool swollen(const CellCondition& cell) {
  return std::any_of(cell.spoken.begin(), cell.spoken.end(), [](const RuleSpoken& spoken) {
    return spoken.rule == CellRule::swelling || spoken.rule == CellRule::thick_at_highest;
  });
}

/// Rules that tell of the cell, not of what was left unsaid.
bool has_spoken_rule(const CellCondition& cell) {
  return std::any_of(cell.spoken.begin(), cell.spoken.end(), [](const RuleSpoken& spoken) {
    return spoken.rule != CellRule::signs_not_said &&
           spoken.rule != CellRule::swelling_not_measured &&
           spoken.rule != CellRule::thickness_not_measured;
  });
}

/// The pile alone, as `check` takes it.
Build without_box(Build pile) {
  pile.box = {};
  pile.frame.reset();
  pile.series.reset();
  pile.parallel.reset();
  pile.row_mm.reset();
  pile.rows.reset();
  return pile;
}

/// A rigid box for cells of which nothing but their thickness is wanted.
Build any_box(Build pile) {
  constexpr FaceSize any_face{100, 100, 0.0};
  constexpr PressureRange any_range{0.01, 0.1, RangeAppliesTo::use};
  pile = without_box(std::move(pile));
  if (pile.cell.face.width_mm <= 0) {
    const bool pressed = std::any_of(pile.cells.begin(), pile.cells.end(),
                                     [](const CellReading& cell) { return bool(cell.pressed); });
    if (pressed) {
      throw UnusableBuild(
          "some cells were read pressed: how much that squeezed them hangs on their face; give "
          "--face, such as --face 152x188");
    }
    pile.cell.face = any_face;
  }
  if (!pile.cell.makers_force) {
    pile.cell.range = any_range;
  }
  pile.cell.can.reset();
  pile.box.inner_length_mm = {1};
  pile.box.end_walls = RigidWall{};
  return pile;
}

class PackSorter {
 public:
  PackSorter(const Build& pile, const SortAsked& asked, const Assumptions& assumptions)
      : pile_(pile), asked_(asked), assumptions_(assumptions) {}

  SortAnswer answer() {
    check_build();
    set_aside();
    take_capacities();
    measure();
    if (asked_.box) {
      find_lengths();
    }
    sort();
    note_assumed();
    return std::move(answer_);
  }

 private:
  void check_build() {
    answer_.title = pile_.title;
    answer_.packs_asked = asked_.packs;
    answer_.cells_each = asked_.cells_each;
    answer_.pile = pile_.cells.size();
    for (const CellReading& cell : pile_.cells) {
      answer_.ids.push_back(cell.id);
    }
    if (!asked_.box) {
      return;
    }
    answer_.has_box = true;
    answer_.is_frame = asked_.box->frame.has_value();
    if (asked_.box->rows.value_or(1) > 1) {
      throw UnusableBuild(
          "the build has several rows side by side, and sort fills one row for "
          "each pack: give a build of one row, and as many packs as there are rows");
    }
  }

  void set_aside() {
    const CheckAnswer check =
        answer_check(without_box(pile_), {asked_.today, {}, false, {}}, assumptions_);
    answer_.nominal_mm = check.nominal_mm;
    answer_.nominal_from = check.nominal_from;
    answer_.assumed = check.assumed;
    std::erase_if(answer_.assumed, [](Assumed id) {
      return id == Assumed::check_interval || id == Assumed::watch_interval;
    });
    for (std::size_t i = 0; i < check.cells.size(); ++i) {
      const CellCondition& cell = check.cells[i];
      if (cell.verdict == CellVerdict::set_aside || swollen(cell)) {
        answer_.aside.push_back(cell);
        continue;
      }
      kept_.push_back(i);
      answer_.signs_not_said +=
          signs_in(pile_.cells[i].signs.value_or("")) == Signs::not_said ? 1U : 0U;
      if (has_spoken_rule(cell)) {
        answer_.watched.push_back(cell);
      }
    }
    const auto needed =
        static_cast<std::size_t>(asked_.packs) * static_cast<std::size_t>(asked_.cells_each);
    if (kept_.size() < needed) {
      refuse_too_few(needed);
    }
  }

  [[noreturn]] void refuse_too_few(std::size_t needed) const {
    std::string aside;
    for (const CellCondition& cell : answer_.aside) {
      aside += (aside.empty() ? "" : ", ") + cell.id;
    }
    const std::string of = answer_.aside.empty() ? "the pile holds " + counted_cells(kept_.size())
                                                 : "of " + counted_cells(pile_.cells.size()) + " " +
                                                       std::to_string(kept_.size()) +
                                                       " can be sorted (set aside: " + aside + ")";
    throw UnusableBuild(of + ", but " + std::to_string(asked_.packs) + " packs of " +
                        std::to_string(asked_.cells_each) + " need " + std::to_string(needed) +
                        ": ask for fewer or smaller packs, or add cells to the table");
  }

  void take_capacities() {
    std::vector<std::string> without;
    for (const std::size_t i : kept_) {
      if (!pile_.cells[i].capacity_ah) {
        without.push_back(pile_.cells[i].id);
      }
    }
    answer_.by_capacity = without.empty();
    if (!without.empty() && without.size() < kept_.size()) {
      throw UnusableBuild("a capacity is given for " +
                          std::to_string(kept_.size() - without.size()) + " of " +
                          counted_cells(kept_.size()) + ", and not for cell " + without.front() +
                          ": give it for every cell, or for none");
    }
  }

  /// Every kept cell's free thickness at one charge and temperature, in whole micrometres.
  void measure() {
    Build all = asked_.box ? *asked_.box : any_box(pile_);
    if (asked_.box) {
      all = pack_build(*asked_.box, pile_, kept_);
      // Sheets in named gaps, and what was placed, belong to a row of another number of cells.
      all.fixed_sheets.clear();
      all.pads.clear();
      all.kit.clear();
    } else {
      all.cell.thickness.nominal_mm = answer_.nominal_mm;
      all.cells = pack_build(all, pile_, kept_).cells;
    }
    const Row row = resolve_row(all, assumptions_, measuring_);
    answer_.at_charge = row.build_charge;
    for (const RowCell& cell : row.cells) {
      const double swing = row.swing.at(row.build_charge) - row.swing.at(cell.measured_charge);
      const double heat =
          row.expansion_per_k * (row.build_temperature_c - cell.measured_temperature_c);
      free_mm_.push_back(cell.free_mm + row.nominal_mm * (swing + heat));
      answer_.charges_differ =
          answer_.charges_differ || std::abs(cell.measured_charge - row.build_charge) > 1e-9;
      heats_differ_ = heats_differ_ || heat != 0;
    }
    for (std::size_t k = 0; k < kept_.size(); ++k) {
      const CellReading& cell = pile_.cells[kept_[k]];
      problem_.cells.push_back({cell.id, std::llround(free_mm_[k] * um_per_mm),
                                std::llround(cell.capacity_ah.value_or(0) * mah_per_ah)});
    }
    problem_.packs = asked_.packs;
    problem_.cells_each = asked_.cells_each;
    problem_.by_capacity = answer_.by_capacity;
  }

  /// Cells of middling thickness: what a usual pack is made of.
  [[nodiscard]] std::vector<std::size_t> usual_cells() const {
    std::vector<std::size_t> order(kept_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      const SortCell& x = problem_.cells[a];
      const SortCell& y = problem_.cells[b];
      return x.thickness_um != y.thickness_um ? x.thickness_um < y.thickness_um
                                              : id_before(x.id, y.id);
    });
    const auto each = static_cast<std::size_t>(asked_.cells_each);
    const auto from = static_cast<std::ptrdiff_t>((order.size() - each) / 2);
    return {order.begin() + from, order.begin() + from + asked_.cells_each};
  }

  /// A longer row in the box is the same to it as the usual row in a shorter box.
  void find_lengths() {
    std::vector<std::size_t> cells;
    double usual_mm = 0;
    for (const std::size_t k : usual_cells()) {
      cells.push_back(kept_[k]);
      usual_mm += free_mm_[k];
    }
    const Build usual = pack_build(*asked_.box, pile_, cells);
    if (answer_.is_frame) {
      return;
    }
    Findings scratch;
    const double inner_mm = resolve_row(usual, assumptions_, scratch).box.inner_length_mm;
    for (const Span& inner : serving_lengths(usual, assumptions_, store_)) {
      answer_.served_mm.push_back(
          {usual_mm + inner_mm - inner.high, usual_mm + inner_mm - inner.low});
    }
    std::reverse(answer_.served_mm.begin(), answer_.served_mm.end());
  }

  [[nodiscard]] std::vector<LengthSpanUm> served_um(double clear_mm) const {
    std::vector<LengthSpanUm> spans;
    for (const Span& span : answer_.served_mm) {
      const LengthSpanUm kept{std::llround(std::ceil((span.low + clear_mm) * um_per_mm)),
                              std::llround(std::floor((span.high - clear_mm) * um_per_mm))};
      if (kept.low <= kept.high) {
        spans.push_back(kept);
      }
    }
    return spans;
  }

  void sort() {
    if (!asked_.box || answer_.is_frame) {
      take(sort_cells(problem_), 0);
      return;
    }
    for (const double clear_mm : kept_clear_mm) {
      problem_.shimmable = served_um(clear_mm);
      SortResult sorted = sort_cells(problem_);
      if (clear_mm > 0 && sorted.shims != SortShims::all) {
        return;
      }
      const int before = answer_.packs.empty() ? -1 : answer_.passing();
      SortAnswer kept = answer_;
      take(std::move(sorted), clear_mm);
      if (answer_.passing() <= before) {
        answer_ = std::move(kept);
      }
      if (answer_.passing() == asked_.packs || answer_.shims != SortShims::all) {
        return;
      }
    }
  }

  void take(SortResult sorted, double clear_mm) {
    answer_.shims = sorted.shims;
    answer_.spread_mah = sorted.spread_mah;
    answer_.difference_um = sorted.difference_um;
    answer_.best = sorted.proven();
    answer_.kept_clear_mm = clear_mm;
    answer_.packs.clear();
    for (const std::vector<std::size_t>& pack : sorted.packs) {
      answer_.packs.push_back(described(pack));
    }
    answer_.left_over.clear();
    for (const std::size_t k : sorted.left_over) {
      answer_.left_over.push_back(kept_[k]);
    }
  }

  [[nodiscard]] SortedPack described(const std::vector<std::size_t>& places) {
    SortedPack pack;
    for (const std::size_t k : places) {
      pack.cells.push_back(kept_[k]);
      pack.row_um += problem_.cells[k].thickness_um;
      if (answer_.by_capacity) {
        const double ah = *pile_.cells[kept_[k]].capacity_ah;
        const Span so_far = pack.capacity_ah.value_or(Span{ah, ah});
        pack.capacity_ah = Span{std::min(so_far.low, ah), std::max(so_far.high, ah)};
      }
    }
    if (asked_.box) {
      const auto& spans = problem_.shimmable;
      pack.length_serves =
          !spans || std::any_of(spans->begin(), spans->end(), [&](const LengthSpanUm& span) {
            return pack.row_um >= span.low && pack.row_um <= span.high;
          });
      pack.plan = planned(pack.cells);
    }
    return pack;
  }

  [[nodiscard]] PackPlan planned(const std::vector<std::size_t>& cells) {
    const Study study(pack_build(*asked_.box, pile_, cells), assumptions_, store_);
    const ShimPlan chosen = study.choose();
    PackPlan plan;
    plan.found = chosen.found;
    plan.passes = chosen.found && chosen.passes;
    plan.proven = chosen.proven;
    plan.used = chosen.used;
    plan.counts = chosen.counts;
    if (chosen.found) {
      const ShimLoad load = study.load_of(chosen.used);
      const PlanPressures pressures = study.model().evaluate(load, RowModel::By::full_solution);
      plan.shims_mm = load.thickness_mm;
      plan.lowest = pressures.lowest;
      plan.highest = pressures.highest;
    }
    if (answer_.kit.empty()) {
      take_kit(study);
    }
    return plan;
  }

  void take_kit(const Study& study) {
    for (const RowKind& kind : study.row().kit) {
      answer_.kit.push_back(kind.sheet.name);
      answer_.kit_mm.push_back(kind.sheet.thickness_mm);
    }
    for (const RowGap& gap : study.row().gaps) {
      answer_.gaps.push_back(gap.name);
    }
    answer_.band = study.row().band;
    packing_ = study.findings();
  }

  void note_assumed() {
    const auto add = [&](Assumed id) {
      if (std::find(answer_.assumed.begin(), answer_.assumed.end(), id) == answer_.assumed.end()) {
        answer_.assumed.push_back(id);
      }
    };
    for (const Assumed id : asked_.box ? packing_.assumed : measuring_.assumed) {
      const bool of_swing = id == Assumed::swing_net || id == Assumed::swing_hump;
      const bool of_dome = id == Assumed::dome_slack || id == Assumed::dome_exponent ||
                           id == Assumed::dome_when_not_measured;
      if (asked_.box || of_dome || (of_swing && answer_.charges_differ) ||
          (id == Assumed::expansion && heats_differ_)) {
        add(id);
      }
    }
    answer_.assumed_words = packing_.words;
  }

  const Build& pile_;
  const SortAsked& asked_;
  const Assumptions& assumptions_;
  SortAnswer answer_;
  std::vector<std::size_t> kept_;  ///< places in the pile
  std::vector<double> free_mm_;    ///< of the kept, as all below
  SortProblem problem_;
  bool heats_differ_ = false;
  Findings measuring_;
  Findings packing_;
  std::shared_ptr<WallStore> store_ = std::make_shared<WallStore>();
};

}  // namespace

int SortAnswer::passing() const {
  return static_cast<int>(std::count_if(packs.begin(), packs.end(), [](const SortedPack& pack) {
    return !pack.plan || pack.plan->passes;
  }));
}

bool SortAnswer::all_pass() const {
  return passing() == static_cast<int>(packs.size());
}

bool SortAnswer::any_sign() const {
  return std::any_of(aside.begin(), aside.end(),
                     [](const CellCondition& cell) { return cell.shows_sign; });
}

Build pack_build(const Build& box, const Build& pile, const std::vector<std::size_t>& cells) {
  Build build = box;
  build.cells.clear();
  const std::vector<CellReading> all = cells_with_charges(pile);
  for (const std::size_t place : cells) {
    build.cells.push_back(all[place]);
  }
  build.row_mm.reset();
  build.placed.clear();
  return build;
}

SortAnswer answer_sort(const Build& pile, const SortAsked& asked, const Assumptions& assumptions) {
  return PackSorter(pile, asked, assumptions).answer();
}

}  // namespace stackfit
