// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/length_order.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "solver/insulation.hpp"

namespace stackfit {
namespace {

constexpr double nm_per_mm = 1e6;
/// Kept clear of both ends of a window [mm], in turn, where a full choice fails at the very end:
/// curves are off by a little, and the box's own heat and stretch change with its length.
constexpr std::array guards_mm{0.03, 0.1, 0.25};

std::string name_of(double thickness_mm) {
  std::string name = std::to_string(std::lround(thickness_mm * 1000));
  name.insert(0, name.size() < 4 ? 4 - name.size() : 0, '0');
  name.insert(name.size() - 3, ".");
  while (name.back() == '0' && name[name.size() - 2] != '.') {
    name.pop_back();
  }
  return name;
}

KitShim sold_sheet(double thickness_mm, int count, std::optional<SheetMaterial> material) {
  KitShim shim;
  shim.sheet.name = name_of(thickness_mm);
  shim.sheet.thickness_mm = thickness_mm;
  shim.sheet.material = material;
  shim.count = count;
  return shim;
}

/// A length near the one that will be ordered: the study there tells all others.
double near_length_mm(const Build& build, double sheets_mm) {
  double length = sheets_mm;
  for (const CellReading& cell : build.cells) {
    length += cell.edge_mm.value_or(
        cell.boards_mm.value_or(cell.middle_mm.value_or(build.cell.thickness.nominal_mm)));
  }
  for (const SheetInput& sheet : build.fixed_sheets) {
    length += sheet.thickness_mm;
  }
  return length;
}

/// Inner length less the shims' total [mm] at which every load that may be met passes.
class Window {
 public:
  void meet(const Study& study, std::size_t kind, int count) {
    std::vector<int> used(study.row().kit.size(), 0);
    used[kind] = count;
    const ShimLoad load = study.load_of(used);
    const std::optional<Span> lengths = length_window(study, load);
    if (!lengths) {
      none_ = true;
      return;
    }
    span_.low = std::max(span_.low, lengths->low - load.thickness_mm);
    span_.high = std::min(span_.high, lengths->high - load.thickness_mm);
  }
  [[nodiscard]] bool open() const { return !none_ && span_.low <= span_.high; }
  [[nodiscard]] double wide_mm() const {
    return none_ ? -std::numeric_limits<double>::infinity() : span_.high - span_.low;
  }
  [[nodiscard]] const Span& span() const { return span_; }

 private:
  bool none_ = false;
  Span span_{-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
};

Build with_kit(Build build, std::vector<KitShim> kit) {
  build.kit = std::move(kit);
  build.placed.clear();
  return build;
}

/// Of each sheet that is sold, as few and as many as any kit for the demand may hold.
Window window_of(const Build& build, const Assumptions& assumptions, const LengthDemand& demand,
                 const std::shared_ptr<WallStore>& store) {
  std::vector<KitShim> sold;
  for (const double thickness : demand.sheets_mm) {
    sold.push_back(sold_sheet(thickness, 1, demand.sheet_material));
  }
  const double thickest = demand.sheets_mm.back();
  const double sheets = static_cast<double>(build.cells.size() + 1) * thickest;
  const Study study(
      at_length(with_kit(build, std::move(sold)), near_length_mm(build, 0.5 * sheets)), assumptions,
      store);
  const int due = sheets_due(study.row());
  const double most = due * thickest + 2 * demand.spread_mm + demand.filler_mm;
  Window window;
  for (std::size_t kind = 0; kind < demand.sheets_mm.size(); ++kind) {
    window.meet(study, kind, due);
    window.meet(study, kind, static_cast<int>(std::ceil(most / demand.sheets_mm[kind])));
  }
  return window;
}

double rounded_to(double length_mm, double step_mm) {
  return std::round(length_mm / step_mm) * step_mm;
}

double greatest_step_mm(const LengthOffer& offer, int due) {
  std::vector<KitKind> kinds;
  for (const KitToBuy& kind : offer.kit) {
    kinds.push_back({to_nm(kind.thickness_mm), kind.count});
  }
  std::int64_t greatest = 0;
  const std::vector<std::int64_t> totals = kit_totals(kinds, due, to_nm(offer.filler_mm));
  for (std::size_t i = 1; i < totals.size(); ++i) {
    if (totals[i - 1] >= to_nm(offer.totals_mm.low) && totals[i] <= to_nm(offer.totals_mm.high)) {
      greatest = std::max(greatest, totals[i] - totals[i - 1]);
    }
  }
  return static_cast<double>(greatest) / nm_per_mm;
}

KitProblem kit_problem(double window, int due, const LengthDemand& demand) {
  KitProblem problem;
  for (const double thickness : demand.sheets_mm) {
    problem.sold_nm.push_back(to_nm(thickness));
  }
  problem.sheets_due = due;
  problem.window_nm = to_nm(window);
  // A whole step of nominals lies in what is served, so one of them can be ordered.
  problem.spread_nm = to_nm(2 * demand.spread_mm + demand.tolerance_mm + demand.step_mm);
  problem.filler_nm = to_nm(demand.filler_mm);
  return problem;
}

/// The smallest kit for a window, and the nominal in the middle of what it serves.
LengthOffer offer_for(const Span& window, int due, const LengthDemand& demand) {
  LengthOffer offer;
  offer.window_mm = window.high - window.low;
  offer.tolerance_mm = demand.tolerance_mm;
  offer.spread_mm = demand.spread_mm;
  offer.filler_mm = demand.filler_mm;
  offer.sheets_due = due;
  const KitProblem problem = kit_problem(offer.window_mm, due, demand);
  const KitChoice choice = smallest_kit(problem);
  if (!choice.found) {
    return offer;
  }
  offer.found = true;
  for (const KitKind& kind : choice.kinds) {
    offer.kit.push_back({static_cast<double>(kind.thickness_nm) / nm_per_mm, kind.count});
  }
  offer.totals_mm = {static_cast<double>(choice.run.least_nm) / nm_per_mm,
                     static_cast<double>(choice.run.most_nm) / nm_per_mm};
  offer.nominal_between = {
      offer.totals_mm.low + window.low + demand.spread_mm,
      offer.totals_mm.high + window.high - demand.spread_mm - demand.tolerance_mm};
  offer.nominal_mm =
      rounded_to(0.5 * (offer.nominal_between.low + offer.nominal_between.high), demand.step_mm);
  offer.greatest_step_mm = greatest_step_mm(offer, due);
  return offer;
}

/// Choices of shims at the corners of the promise: the thickest cells in the shortest box, the
/// thinnest in the longest, and the build's own as ordered.
bool keeps_promise(const Build& build, const Assumptions& assumptions, const LengthDemand& demand,
                   const LengthOffer& offer, const std::shared_ptr<WallStore>& store) {
  const Build stocked = with_kit(build, as_kit(offer, demand.sheet_material));
  const Study base(at_length(stocked, offer.nominal_mm), assumptions, store);
  const double each = demand.spread_mm / static_cast<double>(build.cells.size());
  const auto passes = [&](const Study& study) {
    return demand.in_full ? study.choose().passes : study.can_pass();
  };
  const auto corner = [&](double thicker_mm, double length_mm) {
    return passes(Study(at_length(with_cells_thicker(stocked, base.row(), thicker_mm), length_mm),
                        assumptions, store));
  };
  return passes(base) && corner(each, offer.nominal_mm) &&
         corner(-each, offer.nominal_mm + demand.tolerance_mm);
}

/// What sheets of a kit add for each millimetre of them: kinds that are alike in both are told
/// apart by their thickness alone.
bool alike(const std::vector<RowKind>& kit) {
  return std::all_of(kit.begin(), kit.end(), [&](const RowKind& kind) {
    const RowSheet& one = kind.sheet;
    const RowSheet& first = kit.front().sheet;
    return one.modulus_mpa == first.modulus_mpa && one.area_mm2 == first.area_mm2 &&
           one.outline == first.outline && one.expansion_per_k == first.expansion_per_k;
  });
}

/// One vector of counts for each total of a kit of like sheets; all of them otherwise.
std::vector<std::vector<int>> telling_vectors(const Study& study) {
  std::vector<std::vector<int>> all = study.placeable();
  if (study.row().kit.empty() || !alike(study.row().kit)) {
    return all;
  }
  std::map<std::int64_t, std::vector<int>> by_total;
  for (std::vector<int>& used : all) {
    std::int64_t total = 0;
    for (std::size_t kind = 0; kind < used.size(); ++kind) {
      total += used[kind] * to_nm(study.row().kit[kind].sheet.thickness_mm);
    }
    by_total.emplace(total, std::move(used));
  }
  std::vector<std::vector<int>> telling;
  for (auto& [total, used] : by_total) {
    telling.push_back(std::move(used));
  }
  return telling;
}

}  // namespace

int LengthOffer::sheets() const {
  int sum = 0;
  for (const KitToBuy& kind : kit) {
    sum += kind.count;
  }
  return sum;
}

std::vector<KitShim> as_kit(const LengthOffer& offer, std::optional<SheetMaterial> material) {
  std::vector<KitShim> kit;
  for (const KitToBuy& kind : offer.kit) {
    kit.push_back(sold_sheet(kind.thickness_mm, kind.count, material));
  }
  if (offer.filler_mm > 0) {
    kit.push_back(sold_sheet(offer.filler_mm, 1, material));
    kit.back().sheet.where.word = PlaceWord::ends;
  }
  return kit;
}

Build with_cells_thicker(Build build, const Row& row, double each_mm) {
  for (std::size_t i = 0; i < build.cells.size(); ++i) {
    CellReading& cell = build.cells[i];
    if (row.cells[i].from_data_sheet) {
      cell.edge_mm = row.cells[i].edge_mm;
      cell.charge = row.cells[i].measured_charge;
    }
    for (std::optional<double>* read : {&cell.edge_mm, &cell.middle_mm, &cell.boards_mm}) {
      if (*read) {
        **read += each_mm;
      }
    }
    if (cell.pressed) {
      cell.pressed->thickness_mm += each_mm;
    }
  }
  if (build.row_mm) {
    *build.row_mm += each_mm * static_cast<double>(build.cells.size());
  }
  return build;
}

LengthOffer offer_length(const Build& build, const Assumptions& assumptions,
                         const LengthDemand& demand, const std::shared_ptr<WallStore>& store) {
  const Window window = window_of(build, assumptions, demand, store);
  LengthOffer offer;
  offer.spread_mm = demand.spread_mm;
  offer.tolerance_mm = demand.tolerance_mm;
  offer.window_mm = window.wide_mm();
  if (!window.open()) {
    return offer;
  }
  Findings scratch;
  const Row row = resolve_row(at_length(build, near_length_mm(build, 0)), assumptions, scratch);
  for (const double guard : guards_mm) {
    const Span kept{window.span().low + guard, window.span().high - guard};
    if (kept.low > kept.high) {
      return offer;
    }
    offer = offer_for(kept, sheets_due(row), demand);
    offer.checked = offer.found && keeps_promise(build, assumptions, demand, offer, store);
    if (!offer.found || offer.checked) {
      return offer;
    }
  }
  offer.found = false;
  return offer;
}

int sheets_needed(const LengthOffer& offer, const LengthDemand& demand) {
  const KitChoice choice = smallest_kit(kit_problem(offer.window_mm, offer.sheets_due, demand));
  return choice.found ? choice.sheets() : 0;
}

double window_mm(const Build& build, const Assumptions& assumptions, const LengthDemand& demand,
                 const std::shared_ptr<WallStore>& store) {
  return window_of(build, assumptions, demand, store).wide_mm();
}

std::vector<Span> serving_lengths(const Build& build, const Assumptions& assumptions,
                                  const std::shared_ptr<WallStore>& store) {
  double sheets = 0;
  for (const KitShim& shim : build.kit) {
    sheets += 0.5 * shim.count * shim.sheet.thickness_mm;
  }
  const Study study(at_length(build, near_length_mm(build, sheets)), assumptions, store);
  std::vector<Span> lengths;
  for (const std::vector<int>& used : telling_vectors(study)) {
    if (const auto passing = passing_lengths(study, study.load_of(used))) {
      lengths.push_back(*passing);
    }
  }
  std::vector<Span> kept;
  for (const Span& span : merged(std::move(lengths))) {
    const double guard = guards_mm.front();
    if (span.high - span.low > 2 * guard) {
      kept.push_back({span.low + guard, span.high - guard});
    }
  }
  return kept;
}

}  // namespace stackfit
