// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/words_chance.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include "cli/text_lines.hpp"

namespace stackfit::cli {
namespace {

// Digits that binary fractions lose: 0.29 x 100 is 28.999..., and reads 29.
constexpr double dust = 1e-9;
// From here on thousandths tell more than hundredths.
constexpr double fine_from = 0.99;
constexpr double most_thousandths = 999;

struct InputWords {
  ChanceInput input;
  std::string_view code;
  std::string_view plain;
};

using In = ChanceInput;
// In the order of ChanceInput, none left out: checked below.
constexpr std::array inputs{
    InputWords{In::calipers_common, "calipers_common", "calipers, wrong on every cell"},
    InputWords{In::calipers_each, "calipers_each", "calipers, reading by reading"},
    InputWords{In::lot_thickness, "lot_thickness", "thickness of unmeasured cells"},
    InputWords{In::measured_charge, "measured_charge", "charge when measured"},
    InputWords{In::measured_temperature, "measured_temperature", "warmth when measured"},
    InputWords{In::box_length, "box_length", "inside length of the box"},
    InputWords{In::shim_thickness, "shim_thickness", "thickness of shims"},
    InputWords{In::squeeze_a, "squeeze_a", "softness of the cells"},
    InputWords{In::swing_net, "swing_net", "swing, empty to full"},
    InputWords{In::swing_hump, "swing_hump", "swing, peak to dip"},
    InputWords{In::growth, "growth", "growth with age"},
    InputWords{In::growth_under_load, "growth_under_load", "growth under load"},
    InputWords{In::expansion, "expansion", "swelling with warmth"},
    InputWords{In::friction, "friction", "friction on sheets"},
    InputWords{In::friction_slip_film, "friction_slip_film", "friction on slip film"},
    InputWords{In::edge_fixity, "edge_fixity", "joint of the end walls"},
    InputWords{In::wall_thickness, "wall_thickness", "thickness of the walls"},
    InputWords{In::dome_slack, "dome_slack", "slack of the domes"},
    InputWords{In::dome_exponent, "dome_exponent", "shape of the domes"},
    InputWords{In::foam_relaxation, "foam_relaxation", "foam: stress it keeps"},
    InputWords{In::foam_set, "foam_set", "foam: what it does not regain"},
    InputWords{In::frame_force, "frame_force", "force of the rods"},
    InputWords{In::rim_band, "rim_band", "width of the cans' rims"},
    InputWords{In::rim_buckling, "rim_buckling", "load the rims bear"},
    InputWords{In::model_margin, "model_margin", "what the model leaves out, m"},
};

struct MeasuringWords {
  Measuring measure;
  std::string_view code;
  std::string_view plain;
};

using Do = Measuring;
constexpr std::array measurings{
    MeasuringWords{Do::press_test, "press_test", "a press test of one cell"},
    MeasuringWords{Do::count_charge, "count_charge", "counting the cells' Ah down from full"},
    MeasuringWords{Do::box_length, "box_length", "five readings of the box inside, to 0.2 mm,"},
    MeasuringWords{Do::row_length, "row_length", "one reading of the whole row between boards"},
    MeasuringWords{Do::shim_stack, "shim_stack", "all shims of a kind read in one stack"},
    MeasuringWords{Do::swing_test, "swing_test", "one cell read between boards from empty to full"},
    MeasuringWords{Do::pull_test, "pull_test", "pulling a cell over a sheet with a spring scale"},
    MeasuringWords{Do::wall_bow, "wall_bow", "reading the wall's bow at a known force"},
};

constexpr bool in_order() {
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    if (inputs[i].input != static_cast<ChanceInput>(i)) {
      return false;
    }
  }
  for (std::size_t i = 0; i < measurings.size(); ++i) {
    if (measurings[i].measure != static_cast<Measuring>(i)) {
      return false;
    }
  }
  return inputs.back().input == In::model_margin && measurings.back().measure == Do::wall_bow;
}
static_assert(in_order(), "the words stand in the order of their enumerators");

double thousandths(double chance) {
  return std::min(std::floor(chance * 1000 + dust), most_thousandths);
}

int hundredths(double chance) {
  return static_cast<int>(std::floor(chance * 100 + dust));
}

// `71`, or with a tenth where two chances would read alike without.
struct TwoChances {
  std::string before;
  std::string after;
  std::string_view of;
};
TwoChances both_figures(double before, double after) {
  if (std::max(before, after) < fine_from) {
    return {fmt::format("{}", hundredths(before)), fmt::format("{}", hundredths(after)), "100"};
  }
  return {fmt::format("{:.0f}", thousandths(before)), fmt::format("{:.0f}", thousandths(after)),
          "1000"};
}

double printed_as(const ChanceOf& chance) {
  return chance.more_than.value_or(chance.chance);
}

// Part of the gain may be had by choosing the shims again with nothing measured: not counted.
double before(const Worth& worth, const ChanceOf& now) {
  return std::max(printed_as(now), worth.chance_before);
}

}  // namespace

std::string_view code(ChanceInput value) {
  return inputs[static_cast<std::size_t>(value)].code;
}

std::string_view code(Measuring value) {
  return measurings[static_cast<std::size_t>(value)].code;
}

std::string_view plain(ChanceInput value) {
  return inputs[static_cast<std::size_t>(value)].plain;
}

std::string name_of(const InputShare& share) {
  std::string text(plain(share.input));
  if (!share.where.empty()) {
    text += " " + printable(share.where);
  }
  return text;
}

std::string chance_text(double chance) {
  if (chance >= fine_from) {
    return fmt::format("{:.0f} in 1000", thousandths(chance));
  }
  const int whole = hundredths(chance);
  return whole > 0 ? fmt::format("{} in 100", whole) : "less than 1 in 100";
}

std::string chance_text(const ChanceOf& chance) {
  if (chance.more_than) {
    return fmt::format("more than {:.0f} in 1000", thousandths(*chance.more_than));
  }
  return chance_text(chance.chance);
}

bool likelier_not(double chance) {
  constexpr double even = 0.5;
  return chance < even;
}

std::string_view likelihood(double chance) {
  constexpr double near_certain = 0.95;
  constexpr double likely = 0.75;
  constexpr double hardly = 0.05;
  if (chance >= near_certain) {
    return "very likely inside";
  }
  if (chance >= likely) {
    return "likely inside";
  }
  if (!likelier_not(chance)) {
    return "rather inside than not";
  }
  return chance >= hardly ? "rather NOT inside" : "hardly inside";
}

std::string share_text(double share) {
  const double hundred = share * 100;
  constexpr double whole_from = 10;
  constexpr double least = 0.1;
  if (hundred >= whole_from) {
    return fmt::format("{:.0f}", hundred);
  }
  return hundred >= least ? fmt::format("{:.1f}", hundred) : "under 0.1";
}

bool raises(const Worth& worth, const ChanceOf& now) {
  const TwoChances figures = both_figures(before(worth, now), worth.chance_after);
  return worth.chance_after > before(worth, now) && figures.before != figures.after;
}

std::string sentence(const Worth& worth, const ChanceOf& now, bool in_full) {
  const std::string_view what = measurings[static_cast<std::size_t>(worth.measure)].plain;
  if (!raises(worth, now)) {
    return fmt::format("{} would hardly change the chance", what);
  }
  const TwoChances figures = both_figures(before(worth, now), worth.chance_after);
  const std::string change =
      fmt::format("from {} to {} in {}", figures.before, figures.after, figures.of);
  return in_full ? fmt::format("{} would raise the chance {} (shims chosen again by what it reads)",
                               what, change)
                 : fmt::format("{} {}", what, change);
}

}  // namespace stackfit::cli
