// SPDX-License-Identifier: GPL-3.0-or-later
//
// The build sheet's script prints quantities again in other units. tests/page/figures.json is what
// both are held to: this test to what Figures prints, tests/page/script_test.mjs the script.
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "cli/figures.hpp"
#include "tests/catch.hpp"

using namespace stackfit::cli;

namespace {

// One line of the table: letter, unit chosen, value in the program's unit, text.
std::string printed(char letter, const std::string& unit, double value) {
  const UnitChoiceRead read = read_unit_choice(unit);
  REQUIRE(read.problem.empty());
  const Figures figures(read.choice);
  switch (letter) {
    case 'P':
      return figures.pressure(value);
    case 'C':
      return figures.companion_number(value);
    case 'F':
      return figures.force(value);
    case 'L':
      return figures.length(value);
    case 'D':
      return figures.thickness(value);
    case 'T':
      return figures.temperature(value);
    default:
      return "no such letter";
  }
}

}  // namespace

TEST_CASE("the page's table of figures is what C++ prints") {
  std::ifstream file(STACKFIT_FIXTURES_DIR "/../tests/page/figures.json");
  const auto table = nlohmann::json::parse(file);
  CHECK(table.size() > 600);
  for (const auto& line : table) {
    const std::string letter = line.at(0);
    const std::string unit = line.at(1);
    const double value = line.at(2);
    const std::string text = line.at(3);
    INFO(letter << " in " << unit << ": " << value);
    CHECK(printed(letter.at(0), unit, value) == text);
  }
}
