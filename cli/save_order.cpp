// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/save_order.hpp"

#include <fmt/format.h>

#include <variant>

#include "cli/pretty_json.hpp"
#include "cli/save_build.hpp"
#include "cli/whole_file.hpp"
#include "cli/words.hpp"

namespace stackfit::cli {
namespace {

using Json = nlohmann::ordered_json;

Json& object_at(Json& document, std::string_view key) {
  Json& value = document[std::string(key)];
  if (!value.is_object()) {
    value = Json::object();
  }
  return value;
}

// Only what the order settled: what else was said of the wall stays as it was written.
void set_wall(Json& box, const Build& ordered) {
  const auto* plate =
      ordered.box.end_walls ? std::get_if<PlateWall>(&*ordered.box.end_walls) : nullptr;
  if (plate == nullptr || !plate->thickness_mm ||
      (box.contains("end_walls") && box["end_walls"].is_array())) {
    return;
  }
  // A wall said in one line is written out in its parts.
  const bool in_line = box.contains("end_walls") && box["end_walls"].is_string();
  Json& wall = object_at(box, "end_walls");
  if (in_line && plate->material) {
    wall["material"] = first_word(wall_material_words(), *plate->material);
  }
  if (in_line && plate->joint) {
    wall["joint"] = first_word(joint_words(), *plate->joint);
  }
  wall["thickness"] = *plate->thickness_mm;
}

Json kit_json(const Build& ordered) {
  Json kit = Json::array();
  for (const KitShim& shim : ordered.kit) {
    Json one = {
        {"name", shim.sheet.name}, {"thickness", shim.sheet.thickness_mm}, {"count", shim.count}};
    if (shim.sheet.material) {
      one["material"] = first_word(sheet_material_words(), *shim.sheet.material);
    }
    if (shim.sheet.where.word == PlaceWord::ends) {
      one["where"] = first_word(place_words(), PlaceWord::ends);
    }
    kit.push_back(std::move(one));
  }
  return kit;
}

}  // namespace

Json ordered_document(const ReadBuild& read, const SizeAnswer& answer, std::string_view date) {
  const Build& ordered = answer.as_ordered;
  Json document = read.document;
  document.erase("placed");
  Json& box = object_at(document, "box");
  Json& inner = object_at(box, "inner");
  inner["length"] = ordered.box.inner_length_mm.front();
  inner["width"] = *ordered.box.inner_width_mm;
  inner["height"] = *ordered.box.inner_height_mm;
  set_wall(box, ordered);
  if (ordered.box.opens == Opens::one_end_wall) {
    box["opens"] = first_word(opens_words(), ordered.box.opens);
  }
  document["kit"] = kit_json(ordered);
  const std::string said = document.contains("note") && document["note"].is_string()
                               ? document["note"].get<std::string>() + "\n"
                               : std::string();
  document["note"] = said + fmt::format("Box and kit as ordered, written by stackfit on {}.", date);
  return document;
}

void save_ordered(const std::string& path, const ReadBuild& read, const SizeAnswer& answer) {
  write_whole_file(path, pretty_json(ordered_document(read, answer, today())), read.files);
}

}  // namespace stackfit::cli
