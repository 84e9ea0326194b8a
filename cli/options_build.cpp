// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/options_build.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

#include "cli/data_lines.hpp"
#include "cli/quantity.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

// A nominal thickness worked out from readings is no finer than a data sheet's.
constexpr double nominal_step_mm = 0.1;

struct OptionPath {
  std::string_view path;  ///< beginning of the path
  std::string_view option;
};

constexpr std::array option_paths{
    OptionPath{"measured_charge", "--charge"},
    OptionPath{"cells.", "--cells"},
    OptionPath{"cell.face", "--face"},
    OptionPath{"cell.thickness", "--thickness"},
    OptionPath{"cell.makers_force.when", "--when"},
    OptionPath{"cell.makers_force", "--force"},
    OptionPath{"cell.range", "--range"},
    OptionPath{"box.inner", "--box"},
    OptionPath{"box.end_walls", "--wall"},
    OptionPath{"box.opens", "--opens"},
    OptionPath{"kit.", "--shims"},
};

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> parts;
  while (!text.empty()) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view part = trimmed(text.substr(0, comma));
    if (!part.empty()) parts.emplace_back(part);
    text.remove_prefix(std::min(comma + 1, text.size()));
  }
  return parts;
}

std::string as_json_text(std::string_view text) {
  return nlohmann::json(text).dump();
}

class OptionsReader {
 public:
  explicit OptionsReader(const BuildOptions& options) : options_(options) {}

  OptionsRead read() {
    add("stackfit", "1");
    add_cell();
    add_cells();
    add_text("measured_charge", options_.charge);
    add_list("box.inner.length", options_.box);
    add_text("box.end_walls", options_.wall);
    add_word("box.opens", options_.opens, opens_words());
    add_shims();
    return std::move(out_);
  }

 private:
  void add(std::string path, std::string value) {
    out_.values.push_back({std::move(path), std::move(value)});
  }
  // Quoted, so that "40" stays the text the person typed and is refused with its own words.
  void add_text(std::string path, std::string_view text) {
    if (!text.empty()) add(std::move(path), as_json_text(text));
  }
  // The schema knows one spelling of each word; people type others.
  template <class Meaning>
  void add_word(const std::string& path, std::string_view text,
                std::span<const Word<Meaning>> words) {
    const auto meaning = find_word(words, trimmed(text));
    add_text(path, meaning ? first_word(words, *meaning) : text);
  }
  void add_list(const std::string& path, std::string_view text) {
    const std::vector<std::string> parts = split(text);
    if (parts.size() == 1) add(path, parts[0]);
    if (parts.size() < 2) return;
    for (const std::string& part : parts) add(path + ".+", part);
  }
  void problem(std::string option, std::string_view found, std::string allowed,
               std::string mend = {}) {
    out_.problems.push_back({{std::move(option), 0, 0, ""},
                             fmt::format("\"{}\"", found),
                             std::move(allowed),
                             std::move(mend)});
  }

  void add_cell() {
    if (!options_.face.empty()) add_face();
    if (!options_.thickness.empty()) {
      add_text("cell.thickness", options_.thickness);
    } else {
      add_mean_thickness();
    }
    add_text("cell.makers_force.value", options_.force);
    if (!options_.force.empty())
      add_word("cell.makers_force.when", options_.when, force_when_words());
    add_text("cell.range", options_.range);
  }

  void add_face() {
    const auto face = read_face(options_.face);
    if (!face.ok()) return problem("--face", options_.face, face.allowed, face.mend);
    add("cell.face.width", fmt::format("{}", face.value->width_mm));
    add("cell.face.height", fmt::format("{}", face.value->height_mm));
  }

  // Without the data sheet's line the readings themselves are the best guess at it.
  void add_mean_thickness() {
    double sum = 0;
    int count = 0;
    for (const std::string& part : split(options_.cells)) {
      const auto reading = read_quantity(part, Dimension::length);
      if (!reading.ok()) return;
      sum += *reading.value;
      ++count;
    }
    if (count == 0) return;
    const double nominal = std::round(sum / count / nominal_step_mm) * nominal_step_mm;
    const std::string note = fmt::format(
        "the data sheet's thickness was not given: {:.1f} mm, the mean of the readings, stands for "
        "it (--thickness)",
        nominal);
    add("cell.thickness.nominal", fmt::format("{:.1f}", nominal));
    add("cell.thickness.note", as_json_text(note));
    out_.notes.push_back({{"--cells", 0, 0, "/cell/thickness"}, note});
  }

  void add_cells() {
    if (options_.cells.empty()) return;
    const std::string_view measured = trimmed(options_.measured);
    const bool pressed = measured.starts_with("pressed");
    if (!pressed && std::ranges::find(ways_of_measuring, measured) == ways_of_measuring.end()) {
      return problem("--measured", measured,
                     "how the calipers were held: edge, middle, boards, or \"pressed 240kgf\"");
    }
    std::string_view force = measured.substr(pressed ? std::string_view("pressed").size() : 0);
    int index = 0;
    for (const std::string& part : split(options_.cells)) {
      const std::string cell = fmt::format("cells.{}.", index++);
      if (!pressed) {
        add(cell + std::string(measured), part);
      } else {
        add(cell + "pressed.value", part);
        add_text(cell + "pressed.force", trimmed(force));
      }
    }
  }

  void add_shims() {
    for (const std::string& part : split(options_.shims)) {
      const auto pile = read_shim_pile(part);
      if (!pile.ok()) {
        problem("--shims", part, pile.allowed, pile.mend);
        continue;
      }
      const std::string material =
          pile.value->material ? "" : std::string(trimmed(options_.shim_material));
      add_text("kit.+", material.empty() ? part : fmt::format("{} {}", part, material));
    }
  }

  const BuildOptions& options_;
  OptionsRead out_;
};

}  // namespace

bool BuildOptions::any() const {
  const std::array all{&measured, &cells, &face, &thickness, &force, &when,         &charge,
                       &range,    &box,   &wall, &opens,     &shims, &shim_material};
  return std::ranges::any_of(all, [](const std::string* text) { return !text->empty(); });
}

OptionsRead read_options(const BuildOptions& options) {
  return OptionsReader(options).read();
}

std::string option_of(const std::string& path) {
  const std::string_view whole = path;
  const auto* const found = std::ranges::find_if(option_paths, [&](const OptionPath& entry) {
    return whole.starts_with(entry.path) || (!whole.empty() && entry.path.starts_with(whole));
  });
  return std::string(found == option_paths.end() ? all_options : found->option);
}

}  // namespace stackfit::cli
