// SPDX-License-Identifier: GPL-3.0-or-later
//
// The schema and the tables of words must list the same words: neither may drift.
#include "cli/words.hpp"

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "cli/build_schema.hpp"
#include "tests/catch.hpp"

namespace stackfit::cli {
namespace {

template <class Meaning>
std::vector<std::string> texts(std::span<const Word<Meaning>> words) {
  std::vector<std::string> out;
  for (const Word<Meaning>& word : words) out.emplace_back(word.text);
  return out;
}

}  // namespace

TEST_CASE("words: the schema's lists are the program's") {
  const auto schema = nlohmann::json::parse(build_schema_text);
  const auto listed = [&](const char* pointer) {
    const nlohmann::json::json_pointer path(std::string("/definitions") + pointer + "/enum");
    return schema.at(path).get<std::vector<std::string>>();
  };
  CHECK(listed("/cell/properties/chemistry") == texts(chemistry_words()));
  CHECK(listed("/makers_force/properties/when") == texts(force_when_words()));
  CHECK(listed("/range/properties/applies_to") == texts(applies_to_words()));
  CHECK(listed("/cell/properties/surface") == texts(surface_words()));
  CHECK(listed("/wall_material") == texts(wall_material_words()));
  CHECK(listed("/joint_word") == texts(joint_words()));
  CHECK(listed("/edge_joint_word") == texts(edge_joint_words()));
  CHECK(listed("/end_wall/properties/in_plane") == texts(in_plane_words()));
  CHECK(listed("/rib/properties/along") == texts(rib_along_words()));
  CHECK(listed("/rib/properties/joint") == texts(rib_joint_words()));
  CHECK(listed("/box/properties/lid") == texts(lid_words()));
  CHECK(listed("/box/properties/opens") == texts(opens_words()));
  CHECK(listed("/box/properties/floor") == texts(floor_words()));
  CHECK(listed("/sheet_material") == texts(sheet_material_words()));
  CHECK(listed("/build_step/properties/method") == texts(method_words()));
}

TEST_CASE("words: found whatever the capitals and hyphens") {
  CHECK(find_word(sheet_material_words(), "Glass Epoxy") == SheetMaterial::glass_epoxy);
  CHECK(find_word(opens_words(), "One end wall") == Opens::one_end_wall);
  CHECK_FALSE(find_word(lid_words(), "lid"));
  CHECK(word_list(joint_words()) == "folded, welded or screwed");
  CHECK(first_word(sheet_material_words(), SheetMaterial::polypropylene) == "polypropylene");
}

}  // namespace stackfit::cli
