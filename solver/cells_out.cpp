// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/cells_out.hpp"

#include <algorithm>
#include <utility>

namespace stackfit {
namespace {

bool is_out(const CellPlaces& out, std::size_t place) {
  return std::binary_search(out.begin(), out.end(), place);
}

/// A reading of the whole row holds the cells that come out too: what it corrected is written
/// into the single readings, and it is dropped.
void take_row_reading_apart(Build& build, const Row& row) {
  if (!build.row_mm) {
    return;
  }
  for (std::size_t i = 0; i < build.cells.size(); ++i) {
    const RowCell& cell = row.cells[i];
    CellReading& reading = build.cells[i];
    const bool domed = cell.dome_measured || cell.dome_mm != 0;
    // Pressed readings count by their free thickness, which is the mean over the face.
    reading.edge_mm = reading.pressed ? cell.free_mm : cell.edge_mm;
    reading.boards_mm.reset();
    reading.pressed.reset();
    reading.middle_mm =
        domed ? std::optional<double>{cell.edge_mm + cell.dome_mm} : std::optional<double>{};
  }
  build.row_mm.reset();
}

/// For each gap of the row as it stands, the gap of the shorter row that it becomes a part of.
std::vector<std::size_t> merged_gaps(std::size_t cells, const CellPlaces& out) {
  std::vector<std::size_t> becomes;
  std::size_t now = 0;
  for (std::size_t gap = 0; gap <= cells; ++gap) {
    becomes.push_back(now);
    now += gap < cells && !is_out(out, gap) ? 1U : 0U;
  }
  return becomes;
}

bool lies_in(const Place& place, std::size_t gap, const std::vector<std::string>& names) {
  const bool at_end = gap == 0 || gap + 1 == names.size();
  switch (place.word) {
    case PlaceWord::every_gap:
      return true;
    case PlaceWord::ends:
      return at_end;
    case PlaceWord::between_cells:
      return !at_end;
    case PlaceWord::named_gaps:
      return std::find(place.gaps.begin(), place.gaps.end(), names[gap]) != place.gaps.end();
  }
  return false;
}

/// Moves what lies in gaps of the row as it stands into those of the shorter row.
class Merger {
 public:
  Merger(std::size_t cells, const CellPlaces& out)
      : before_(gap_names(cells)),
        after_(gap_names(cells - out.size())),
        becomes_(merged_gaps(cells, out)) {}

  /// Fixed sheets and pads: two that come to lie in one gap stay two.
  template <typename Fixed>
  [[nodiscard]] std::vector<Fixed> fixed(const std::vector<Fixed>& inputs) const {
    std::vector<Fixed> moved;
    for (const Fixed& input : inputs) {
      std::vector<std::size_t> pieces(after_.size(), 0);
      for (std::size_t gap = 0; gap < before_.size(); ++gap) {
        pieces[becomes_[gap]] += lies_in(input.where, gap, before_) ? 1U : 0U;
      }
      const std::size_t most = *std::max_element(pieces.begin(), pieces.end());
      for (std::size_t piece = 0; piece < most; ++piece) {
        Fixed one = input;
        one.where = named(pieces, piece);
        moved.push_back(std::move(one));
      }
    }
    return moved;
  }

  [[nodiscard]] Place allowed(const Place& place) const {
    if (place.word == PlaceWord::every_gap) {
      return place;
    }
    std::vector<std::size_t> pieces(after_.size(), 0);
    for (std::size_t gap = 0; gap < before_.size(); ++gap) {
      pieces[becomes_[gap]] += lies_in(place, gap, before_) ? 1U : 0U;
    }
    return named(pieces, 0);
  }

  [[nodiscard]] std::vector<PlacedSheets> placed(const std::vector<PlacedSheets>& inputs) const {
    std::vector<PlacedSheets> moved;
    for (const PlacedSheets& input : inputs) {
      const auto gap = std::find(before_.begin(), before_.end(), input.gap);
      if (gap == before_.end()) {
        continue;
      }
      const std::size_t now = becomes_[static_cast<std::size_t>(gap - before_.begin())];
      moved.push_back({after_[now], input.sheets});
    }
    return moved;
  }

  [[nodiscard]] std::vector<int> merged() const {
    std::vector<int> merged(after_.size(), 0);
    for (const std::size_t gap : becomes_) {
      ++merged[gap];
    }
    return merged;
  }

  [[nodiscard]] const std::string& after(std::size_t old_gap) const {
    return after_[becomes_[old_gap]];
  }

 private:
  [[nodiscard]] Place named(const std::vector<std::size_t>& pieces, std::size_t piece) const {
    Place place{PlaceWord::named_gaps, {}};
    for (std::size_t gap = 0; gap < after_.size(); ++gap) {
      if (pieces[gap] > piece) {
        place.gaps.push_back(after_[gap]);
      }
    }
    return place;
  }

  std::vector<std::string> before_;
  std::vector<std::string> after_;
  std::vector<std::size_t> becomes_;
};

SheetInput block_in(const std::string& gap, double thickness_mm) {
  SheetInput block;
  block.name = "block";
  block.thickness_mm = thickness_mm;
  block.material = SheetMaterial::glass_epoxy;
  block.where = {PlaceWord::named_gaps, {gap}};
  return block;
}

std::vector<std::string> names_on_the_bench(std::size_t cells, const CellPlaces& out) {
  std::vector<std::string> names;
  std::string before = "wall";
  for (std::size_t place = 0; place < cells; ++place) {
    if (!is_out(out, place)) {
      names.push_back(before + "-" + std::to_string(place + 1));
      before = std::to_string(place + 1);
    }
  }
  names.push_back(before + "-wall");
  return names;
}

}  // namespace

Build with_like_cells(const Build& build, const Row& row, const CellPlaces& out) {
  Build like = build;
  take_row_reading_apart(like, row);
  double edges = 0;
  std::size_t kept = 0;
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    if (is_out(out, i)) {
      continue;
    }
    // All at the row's own charge, or a cell read full would count as thicker than it is.
    const RowCell& cell = row.cells[i];
    edges += cell.edge_mm +
             row.nominal_mm * (row.swing.at(row.build_charge) - row.swing.at(cell.measured_charge));
    ++kept;
  }
  for (const std::size_t place : out) {
    CellReading cell;
    cell.id = "like " + row.cells[place].id;
    cell.edge_mm = edges / static_cast<double>(kept);
    cell.middle_mm = cell.edge_mm;
    cell.charge = row.build_charge;
    cell.signs = "none";
    like.cells[place] = std::move(cell);
  }
  return like;
}

WithBlocks with_blocks(const Build& build, const Row& row, const CellPlaces& out) {
  const std::size_t cells = build.cells.size();
  const Merger merger(cells, out);
  WithBlocks made;
  made.block_mm = row.nominal_mm;
  made.gaps_merged = merger.merged();
  made.gap_names = names_on_the_bench(cells, out);
  Build& shorter = made.build;
  shorter = build;
  take_row_reading_apart(shorter, row);
  for (auto place = out.rbegin(); place != out.rend(); ++place) {
    shorter.cells.erase(shorter.cells.begin() + static_cast<std::ptrdiff_t>(*place));
  }
  // A cell without a name is called by its place: that name it keeps.
  std::size_t kept = 0;
  for (std::size_t place = 0; place < cells; ++place) {
    if (!is_out(out, place)) {
      shorter.cells[kept++].id = row.cells[place].id;
    }
  }
  shorter.fixed_sheets = merger.fixed(build.fixed_sheets);
  shorter.pads = merger.fixed(build.pads);
  shorter.placed = merger.placed(build.placed);
  for (KitShim& shim : shorter.kit) {
    shim.sheet.where = merger.allowed(shim.sheet.where);
  }
  for (const std::size_t place : out) {
    shorter.fixed_sheets.push_back(block_in(merger.after(place), made.block_mm));
  }
  shorter.series.reset();
  return made;
}

}  // namespace stackfit
