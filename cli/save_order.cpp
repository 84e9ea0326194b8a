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

// Only what the order settled: what else was said of the wall stays as it was written. A wall said
// in one line is written out in its parts.
Json wall_json(const Json& said, const PlateWall& plate) {
  Json wall = said.is_object() ? said : Json::object();
  if (!said.is_object() && plate.material) {
    wall["material"] = first_word(wall_material_words(), *plate.material);
  }
  if (plate.joint && !plate.edges) {
    wall["joint"] = first_word(joint_words(), *plate.joint);
  }
  if (plate.thickness_mm) {
    wall["thickness"] = *plate.thickness_mm;
  }
  return wall;
}

const PlateWall* plate_of(const std::optional<EndWallInput>& wall) {
  return wall ? std::get_if<PlateWall>(&*wall) : nullptr;
}

void set_walls(Json& box, const Build& ordered) {
  const PlateWall* first = plate_of(ordered.box.end_walls);
  const PlateWall* last = plate_of(ordered.box.last_end_wall);
  const bool unlike = box.contains("end_walls") && box["end_walls"].is_array();
  if (first == nullptr || !first->thickness_mm || (unlike && last == nullptr)) {
    return;  // as it was said
  }
  const Json said = box.contains("end_walls") ? box["end_walls"] : Json();
  const auto said_of = [&](std::size_t which) { return said.is_array() ? said[which] : said; };
  if (last == nullptr) {
    box["end_walls"] = wall_json(said_of(0), *first);
  } else {
    box["end_walls"] = {wall_json(said_of(0), *first), wall_json(said_of(1), *last)};
  }
}

void set_box(Json& document, const Build& ordered) {
  Json& box = object_at(document, "box");
  Json& inner = object_at(box, "inner");
  inner["length"] = ordered.box.inner_length_mm.front();
  inner["width"] = *ordered.box.inner_width_mm;
  inner["height"] = *ordered.box.inner_height_mm;
  set_walls(box, ordered);
  if (ordered.box.opens == Opens::one_end_wall) {
    box["opens"] = first_word(opens_words(), ordered.box.opens);
  }
}

void set_frame(Json& document, const Frame& ordered) {
  Json& frame = object_at(document, "frame");
  object_at(frame, "plates")["thickness"] = *ordered.plates.thickness_mm;
  object_at(frame, "rods")["size"] = ordered.rods.size;
  if (ordered.force_n) {
    frame["force"] = fmt::format("{:.12g} N", *ordered.force_n);
  }
  const auto* disc = ordered.springs ? std::get_if<DiscSprings>(&*ordered.springs) : nullptr;
  if (disc == nullptr) {
    return;
  }
  Json one = {{"outer", disc->outer_mm},
              {"inner", disc->inner_mm},
              {"thickness", disc->thickness_mm},
              {"cone_height", disc->cone_height_mm}};
  if (disc->reduced_thickness_mm) {
    one["reduced_thickness"] = *disc->reduced_thickness_mm;
  }
  frame["springs"] = {{"disc", one}, {"parallel", disc->parallel}, {"series", disc->series}};
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

// What the order put in beside shims: a pad, plates at the ends.
void add_pads(Json& document, const SizeAnswer& answer) {
  if (answer.pad) {
    const PadOffer& offered = *answer.pad;
    Json pad = {{"where", offered.both_ends ? "ends" : "wall-1"},
                {"name", "pad"},
                {"thickness", offered.thickness_mm}};
    if (offered.table) {
      Json stress = Json::array();
      for (const double mpa : offered.table->stress_mpa) {
        stress.push_back(fmt::format("{:.12g} MPa", mpa));
      }
      pad["foam"] = {{"strain", offered.table->strain}, {"stress", stress}};
    } else {
      pad["grade"] = offered.grade;
    }
    if (!document.contains("pads")) {
      document["pads"] = Json::array();
    }
    document["pads"].push_back(std::move(pad));
  }
  if (answer.end_plate_mm > 0) {
    const SheetInput& plate = answer.as_ordered.fixed_sheets.back();
    if (!document.contains("fixed_sheets")) {
      document["fixed_sheets"] = Json::array();
    }
    Json one = {{"where", "ends"},
                {"name", plate.name},
                {"thickness", plate.thickness_mm},
                {"material", first_word(sheet_material_words(), *plate.material)}};
    if (plate.outline) {
      one["outline"] = {{"width", plate.outline->width_mm}, {"height", plate.outline->height_mm}};
    }
    document["fixed_sheets"].push_back(std::move(one));
  }
}

}  // namespace

Json ordered_document(const ReadBuild& read, const SizeAnswer& answer, std::string_view date) {
  const Build& ordered = answer.as_ordered;
  Json document = read.document;
  document.erase("placed");
  if (ordered.frame) {
    set_frame(document, *ordered.frame);
  } else {
    set_box(document, ordered);
  }
  document["kit"] = kit_json(ordered);
  add_pads(document, answer);
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
