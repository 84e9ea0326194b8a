// SPDX-License-Identifier: GPL-3.0-or-later
//
// What goes into the gaps: films, the kit of shims, pads, and sheets already placed.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "cli/convert_parts.hpp"
#include "cli/data_lines.hpp"
#include "solver/row.hpp"

namespace stackfit::cli {
namespace {

// No sheet is thinner, and so many of them would fill a gap that they could not be counted.
constexpr double thinnest_shim_mm = 0.001;
// As the schema says of a count.
constexpr int most_of_a_pile = 10000;

// "0.8 mm polypropylene": what a pile is called where nobody named it.
std::string plain_name(double thickness_mm, std::optional<SheetMaterial> material) {
  std::string name = fmt::format("{:g} mm", thickness_mm);
  if (!material) return name;
  return name + ' ' + std::string(first_word(sheet_material_words(), *material));
}

SheetInput convert_sheet(const Node& node, const CellRows& rows) {
  SheetInput out;
  out.thickness_mm = node.quantity("thickness", Dimension::length).value_or(0);
  out.material = node.word("material", sheet_material_words());
  out.modulus_mpa = node.quantity("modulus", Dimension::pressure);
  out.slippery_face = node.flag("slippery_face").value_or(false);
  out.outline = convert_outline(node);
  if (const auto where = node.child("where")) out.where = convert_place(*where, rows);
  out.name = node.text("name").value_or(plain_name(out.thickness_mm, out.material));
  return out;
}

KitShim convert_shim(const Node& node, const CellRows& rows) {
  const auto text = node.text();
  if (!text) return {convert_sheet(node, rows), node.whole("count").value_or(0)};
  KitShim shim;
  const auto pile = node.accept(read_shim_pile(*text));
  if (!pile) return shim;
  if (pile->thickness_mm < thinnest_shim_mm) {
    node.problem(fmt::format("a thickness from {:g} mm", thinnest_shim_mm), "check the unit");
  } else if (!node.fits(pile->thickness_mm, Dimension::length)) {
    return shim;
  }
  if (pile->count > most_of_a_pile) {
    node.problem(fmt::format("a thickness x a whole number from 0 to {}", most_of_a_pile));
  }
  shim.sheet.thickness_mm = pile->thickness_mm;
  shim.sheet.material = pile->material;
  shim.sheet.name = plain_name(pile->thickness_mm, pile->material);
  shim.count = pile->count;
  return shim;
}

RubberInput convert_rubber(const Node& rubber) {
  RubberInput out;
  out.e0_mpa = rubber.quantity("e0", Dimension::pressure).value_or(0);
  out.k = rubber.quantity("k", Dimension::ratio).value_or(out.k);
  out.bulk_mpa = rubber.quantity("bulk", Dimension::pressure).value_or(out.bulk_mpa);
  return out;
}

PadInput convert_pad(const Node& node, const CellRows& rows) {
  PadInput out;
  out.thickness_mm = node.quantity("thickness", Dimension::length).value_or(0);
  out.insulates = node.flag("insulates").value_or(false);
  out.outline = convert_outline(node);
  if (const auto where = node.child("where")) out.where = convert_place(*where, rows);
  const auto grade = node.whole("grade");
  const auto foam = node.child("foam");
  const auto rubber = node.child("rubber");
  const int laws = (grade ? 1 : 0) + (foam ? 1 : 0) + (rubber ? 1 : 0);
  if (laws != 1 && !(node.has("grade") && !grade)) {
    node.problem_found(
        laws == 0 ? "a pad of unknown hardness" : "a pad with two laws",
        "one of grade (ASTM D1056, 0 to 5), foam or rubber",
        laws == 0 ? "ask the seller for the D1056 grade, or the stress at 25 %" : "");
  }
  if (foam) out.law = convert_foam(*foam);
  if (rubber) out.law = convert_rubber(*rubber);
  if (grade) out.law = FoamGrade{*grade};
  out.name = node.text("name").value_or(fmt::format("{:g} mm pad", out.thickness_mm));
  return out;
}

// "Wall - 1" and "wall-1" are one gap.
std::string plain_gap(std::string_view written) {
  std::string plain;
  for (std::size_t at = 0; at < written.size(); ++at) {
    const bool dash = written.substr(at).starts_with("\xE2\x80\x93");
    if (written[at] != ' ') plain += dash ? '-' : written[at];
    if (dash) at += 2;
  }
  std::ranges::transform(plain, plain.begin(), [](unsigned char letter) {
    return static_cast<char>(std::tolower(letter));
  });
  return plain;
}

std::string gaps_allowed(const std::vector<std::string>& names, const CellRows& rows) {
  if (rows.cells == 1) return "wall-1 or 1-wall";
  if (rows.rows == 1) {
    return fmt::format("{}, {} ... {}: cells are counted from 1, {} of them", names[0], names[1],
                       names.back(), rows.cells);
  }
  const std::size_t gaps = names.size() / rows.rows;  // of one row
  return fmt::format(
      "{}, {} ... {}, {} ... {}: cells are counted from 1, row after row, {} rows of {}", names[0],
      names[1], names[gaps - 1], names[gaps], names.back(), rows.rows, rows.cells / rows.rows);
}

std::optional<std::string> convert_gap(const Node& node, std::string_view written,
                                       const CellRows& rows) {
  // Without cells there are no gaps to compare with, and the cells were complained of.
  if (rows.cells == 0) return std::nullopt;
  const std::vector<std::string> names = row_gap_names(rows.cells, rows.rows);
  std::string gap = plain_gap(written);
  if (std::ranges::find(names, gap) != names.end()) return gap;
  node.problem_found(fmt::format("the gap \"{}\"", written), gaps_allowed(names, rows));
  return std::nullopt;
}

std::vector<std::string> split_at_commas(std::string_view text) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t comma = std::min(text.find(','), text.size());
    parts.emplace_back(trimmed(text.substr(0, comma)));
    if (comma == text.size()) return parts;
    text.remove_prefix(comma + 1);
  }
}

void check_names(const std::vector<Node>& nodes, const std::vector<KitShim>& kit) {
  std::set<std::string> seen;
  for (std::size_t index = 0; index < kit.size(); ++index) {
    const std::string& name = kit[index].sheet.name;
    if (name.empty() || seen.insert(name).second) continue;
    nodes[index].problem_found(fmt::format("\"{}\" a second time in the kit", name),
                               "a name of its own for each pile",
                               "put like shims in one pile, or name the piles apart");
  }
}

std::vector<OutlinePoint> convert_polygon(const Node& list) {
  std::vector<OutlinePoint> points;
  for (const Node& item : list.items()) {
    const std::vector<Node> pair = item.items();
    if (pair.size() != 2) continue;
    const auto across = pair[0].quantity(Dimension::length, Sign::any);
    const auto up = pair[1].quantity(Dimension::length, Sign::any);
    if (across && up) points.push_back({*across, *up});
  }
  return points;
}

double cross(const OutlinePoint& from, const OutlinePoint& left, const OutlinePoint& right) {
  return (left.x_mm - from.x_mm) * (right.y_mm - from.y_mm) -
         (left.y_mm - from.y_mm) * (right.x_mm - from.x_mm);
}

bool edges_cross(const OutlinePoint& a, const OutlinePoint& b, const OutlinePoint& c,
                 const OutlinePoint& d) {
  return cross(a, b, c) * cross(a, b, d) < 0 && cross(c, d, a) * cross(c, d, b) < 0;
}

// Area zero or edges that cross: no sheet can be cut so.
void check_polygon(const Node& node, const std::vector<OutlinePoint>& points) {
  const std::size_t count = points.size();
  double twice_area = 0;
  bool crossing = false;
  for (std::size_t i = 0; i < count; ++i) {
    const OutlinePoint& from = points[i];
    const OutlinePoint& to = points[(i + 1) % count];
    twice_area += cross({0, 0}, from, to);
    for (std::size_t j = i + 2; j < count; ++j) {
      crossing = crossing || edges_cross(from, to, points[j], points[(j + 1) % count]);
    }
  }
  if (crossing) {
    node.problem("points in order round the sheet, so that no two edges cross");
  } else if (count >= 3 && twice_area == 0) {
    node.problem("points that enclose an area");
  }
}

}  // namespace

FoamTable convert_foam(const Node& foam) {
  FoamTable out;
  out.strain = foam.quantities("strain", Dimension::ratio);
  out.stress_mpa = foam.quantities("stress", Dimension::pressure);
  if (foam.has("strain") && foam.has("stress")) {
    check_table(foam, {"strain", "stress", true, true}, out.strain, out.stress_mpa);
  }
  for (const Node& strain : foam.items("strain")) {
    const auto value = strain.quantity(Dimension::ratio, Sign::any);
    if (value && *value >= 1) {
      strain.problem("a strain below 1 (below 100 %): parts of the pad's thickness");
    }
  }
  return out;
}

Place convert_place(const Node& where, const CellRows& rows) {
  const auto text = where.text();
  if (text) {
    if (const auto word = find_word(place_words(), trimmed(*text))) return {*word, {}};
  }
  Place place{PlaceWord::named_gaps, {}};
  std::set<std::string> seen;
  const auto add = [&](const Node& node, std::string_view written) {
    const auto gap = convert_gap(node, written, rows);
    if (gap && seen.insert(*gap).second) place.gaps.push_back(*gap);
  };
  if (text) {
    for (const std::string& written : split_at_commas(*text)) add(where, written);
  }
  for (const Node& item : where.items()) add(item, item.text().value_or(""));
  return place;
}

std::optional<SheetOutline> convert_outline(const Node& sheet) {
  const auto node = sheet.child("outline");
  if (!node || !node->json().is_object()) return std::nullopt;
  SheetOutline out;
  const bool rectangle = node->has("width") && node->has("height");
  if (rectangle == node->has("points")) {
    node->problem("either width and height, or points");
  }
  out.width_mm = node->quantity("width", Dimension::length).value_or(0);
  out.height_mm = node->quantity("height", Dimension::length).value_or(0);
  out.corner_radius_mm =
      node->quantity("corner_radius", Dimension::length, Sign::not_negative).value_or(0);
  const double shorter = std::min(out.width_mm, out.height_mm);
  if (shorter > 0 && out.corner_radius_mm > shorter / 2) {
    node->child("corner_radius")
        ->problem(fmt::format("a radius up to half the shorter side, {:g} mm", shorter / 2));
  }
  if (const auto points = node->child("points")) {
    out.points = convert_polygon(*points);
    check_polygon(*points, out.points);
  }
  for (const Node& hole : node->items("holes")) {
    out.holes.push_back(convert_polygon(hole));
    check_polygon(hole, out.holes.back());
  }
  return out;
}

std::vector<SheetInput> convert_fixed_sheets(const Node& document, const CellRows& rows) {
  std::vector<SheetInput> sheets;
  for (const Node& node : document.items("fixed_sheets")) {
    sheets.push_back(convert_sheet(node, rows));
  }
  return sheets;
}

std::vector<KitShim> convert_kit(const Node& document, const CellRows& rows) {
  const std::vector<Node> nodes = document.items("kit");
  std::vector<KitShim> kit;
  kit.reserve(nodes.size());
  for (const Node& node : nodes) kit.push_back(convert_shim(node, rows));
  check_names(nodes, kit);
  return kit;
}

std::vector<PadInput> convert_pads(const Node& document, const CellRows& rows) {
  std::vector<PadInput> pads;
  for (const Node& node : document.items("pads")) pads.push_back(convert_pad(node, rows));
  return pads;
}

std::vector<PlacedSheets> convert_placed(const Node& document, const CellRows& rows,
                                         const std::vector<KitShim>& kit) {
  std::vector<PlacedSheets> placed;
  std::set<std::string> seen;
  std::map<std::string, int> used;
  for (const Node& node : document.items("placed")) {
    const auto gap_node = node.child("gap");
    if (!gap_node || !gap_node->text()) continue;
    const auto gap = convert_gap(*gap_node, *gap_node->text(), rows);
    if (!gap) continue;
    if (!seen.insert(*gap).second) gap_node->problem("each gap once");
    PlacedSheets sheets{*gap, {}};
    for (const Node& item : node.items("sheets")) {
      const std::string name = item.text("name").value_or("");
      const auto named = [&](const KitShim& shim) { return shim.sheet.name == name; };
      if (item.has("name") && std::ranges::none_of(kit, named)) {
        item.child("name")->problem("the name of a shim in the kit");
      }
      const int count = item.whole("count").value_or(0);
      const auto shim = std::ranges::find_if(kit, named);
      if (shim != kit.end() && (used[name] += count) > shim->count) {
        item.problem_found(fmt::format("{} of {} placed so far", used[name], name),
                           fmt::format("no more than the kit has: {}", shim->count),
                           "place fewer, or put more of them into the kit");
      }
      sheets.sheets.emplace_back(name, count);
    }
    placed.push_back(std::move(sheets));
  }
  return placed;
}

}  // namespace stackfit::cli
