// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/picture_gives.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "cli/figures.hpp"
#include "cli/picture_parts.hpp"
#include "cli/picture_scale.hpp"

namespace stackfit::cli {
namespace {

constexpr double bar_left = 8;
constexpr double bar_right = picture_width - 8;
constexpr double bar_top = 34;
constexpr double bar_height = 26;

struct Part {
  std::string name;
  double mm = 0;
  SvgFill fill = SvgFill::cell;
};

std::vector<Part> parts_of(const PlanResult& plan) {
  constexpr double least_mm = 0.005;  // what would be written as nothing is left out
  std::vector<Part> parts;
  const auto add = [&](std::string name, double mm, SvgFill fill) {
    if (mm >= least_mm) parts.push_back({std::move(name), mm, fill});
  };
  add("cells", plan.cells_give_mm, SvgFill::cell);
  add("pads", plan.pads_give_mm, SvgFill::pad);
  add("sheets", plan.sheets_give_mm, SvgFill::sheet);
  add(plan.frame ? "plates, rods" : "walls", plan.walls_give_mm, SvgFill::metal);
  return parts;
}

double sum_of(const std::vector<Part>& parts) {
  double sum = 0;
  for (const Part& part : parts) sum += part.mm;
  return sum;
}

std::string in_words(const std::vector<Part>& parts) {
  const Figures figures;
  if (parts.empty()) return "Nothing is pressed as built: nothing gives.";
  std::string text = fmt::format("As built the row is {} too long, and gives it up like this: ",
                                 figures.length(sum_of(parts)));
  for (std::size_t i = 0; i < parts.size(); ++i) {
    text += fmt::format("{}{} {}", i == 0 ? "" : ", ", parts[i].name, figures.length(parts[i].mm));
  }
  return text + ".";
}

// The whole, as a dimension line over the bar.
void draw_sum(SvgWriter& svg, double sum_mm) {
  constexpr double y = 22;
  for (const double x : {bar_left, bar_right}) svg.line({x, y - 5}, {x, bar_top}, SvgLine::thin);
  svg.line({bar_left, y}, {bar_right, y}, SvgLine::thin);
  draw_tip(svg, {bar_left, y}, Pointing::left);
  draw_tip(svg, {bar_right, y}, Pointing::right);
  write(svg, {picture_width / 2, y - 6}, fmt::format("too long by {}", Figures().length(sum_mm)),
        {.anchor = SvgAnchor::middle});
}

void draw_part(SvgWriter& svg, const Part& part, const SvgBox& box) {
  svg.rect(box, {SvgLine::thin, part.fill},
           {"", fmt::format("{}: {}", part.name, Figures().length(part.mm))});
  if (part.fill == SvgFill::pad) svg.rect(box, {SvgLine::none, SvgFill::hatch});
}

void write_parts(SvgWriter& svg, const std::vector<Part>& parts,
                 const std::vector<double>& middles) {
  constexpr double label_width = 96;
  constexpr double bar_bottom = bar_top + bar_height;
  constexpr double label_top = bar_bottom + 14;
  const std::vector<double> xs =
      kept_apart(middles, label_width, label_width / 2, picture_width - label_width / 2);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    svg.line({middles[i], bar_bottom}, {xs[i], label_top - 2}, SvgLine::thin);
    write(svg, {xs[i], label_top + 10}, parts[i].name, {.anchor = SvgAnchor::middle, .bold = true});
    write(svg, {xs[i], label_top + 10 + text_line}, Figures().length(parts[i].mm),
          {.anchor = SvgAnchor::middle});
  }
}

}  // namespace

std::string who_gives(const PlanResult& plan, const std::string& id) {
  const std::vector<Part> parts = parts_of(plan);
  const double sum = sum_of(parts);
  SvgWriter svg({picture_width, 112, "Who gives", in_words(parts), id, {}});
  if (parts.empty()) {
    svg.rect({bar_left, bar_top, bar_right - bar_left, bar_height},
             {SvgLine::hidden, SvgFill::none});
    write(svg, {picture_width / 2, bar_top + bar_height / 2 + half_letter},
          "Nothing is pressed as built", {.anchor = SvgAnchor::middle});
    return std::move(svg).finish();
  }
  svg.define_hatch(4);
  draw_sum(svg, sum);
  std::vector<double> middles;
  double x = bar_left;
  for (const Part& part : parts) {
    const double width = (bar_right - bar_left) * part.mm / sum;
    draw_part(svg, part, {x, bar_top, width, bar_height});
    middles.push_back(x + width / 2);
    x += width;
  }
  write_parts(svg, parts, middles);
  return std::move(svg).finish();
}

}  // namespace stackfit::cli
