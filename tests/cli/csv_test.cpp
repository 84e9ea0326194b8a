// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/csv.hpp"

#include <string>

#include "cli/cells_csv.hpp"
#include "tests/catch.hpp"

namespace stackfit::cli {
namespace {

Csv csv_of(std::string text) {
  return read_csv(check_text("t.csv", std::move(text)));
}
CellsTable cells_of(std::string text) {
  return read_cells_table(check_text("t.csv", std::move(text)));
}

}  // namespace

TEST_CASE("csv: separators, quotes, line ends, empty lines") {
  const Csv csv = csv_of(
      "\xEF\xBB\xBF"
      "a,b,c\r\n1, two ,\"x,\"\"y\"\"\"\r\n\r\n,,\r\n4,5,6");
  CHECK(csv.problems.empty());
  CHECK(csv.separator == ',');
  REQUIRE(csv.header.size() == 3);
  REQUIRE(csv.rows.size() == 2);
  CHECK(csv.rows[0][1].text == "two");
  CHECK(csv.rows[0][2].text == "x,\"y\"");
  CHECK(csv.rows[1][2].text == "6");
  CHECK(csv.rows[1][0].line == 5);
  CHECK(csv.rows[0][1].column == 4);
  CHECK(csv_of("a;b\n1;2").separator == ';');
  CHECK(csv_of("a\tb\n1\t2").rows[0][1].text == "2");
  // The header's separator, also where lines end in a lone carriage return; and what stands in
  // quotes parts nothing.
  CHECK(csv_of("a,b\r1,\"x;y\"\r").rows[0][1].text == "x;y");
  CHECK(csv_of("a,b\n\"x;y\",2\n").rows[0][0].text == "x;y");
}

TEST_CASE("csv: what cannot be read") {
  CHECK(csv_of("").problems.size() == 1);
  CHECK(csv_of("a,b\n\"x,1").problems.size() == 1);
  CHECK(csv_of("a,b\n\"x\"y,1").problems.size() == 1);
  const Csv wide = csv_of("a,b\n1,2,3\n");
  REQUIRE(wide.problems.size() == 1);
  CHECK(wide.problems[0].place.line == 2);
  CHECK(wide.problems[0].place.column == 5);
  // Spreadsheets leave empty fields behind; they are no fields.
  CHECK(csv_of("a,b\n1,2,,\n").problems.empty());
}

TEST_CASE("csv: cells with units in the header or in the fields") {
  for (const char* header : {"id,edge (mm),charge", "id,edge [mm],charge", "id,edge_mm,charge",
                             "ID,Edge mm,Charge", "id,edge,charge"}) {
    INFO(header);
    const CellsTable table = cells_of(std::string(header) + "\nA,58.4,38 %\nB,58.5 mm,38 %\n");
    CHECK(table.problems.empty());
    REQUIRE(table.cells.size() == 2);
    CHECK(table.cells[0]["id"] == "A");
    CHECK(table.cells[1]["edge"] == "58.5 mm");
    CHECK(table.cells[0]["charge"] == "38 %");
    CHECK(table.places.value("/1/edge").line == 3);
  }
  CHECK(cells_of("id,edge (in)\nA,2.3\n").cells[0]["edge"] == "2.3 in");
  CHECK(cells_of("id,edge\nA,58.4\n").cells[0]["edge"] == 58.4);
}

TEST_CASE("csv: the decimal comma goes with the semicolon only") {
  const CellsTable semicolon = cells_of("id;edge (mm)\nA;58,4\n");
  CHECK(semicolon.cells[0]["edge"] == "58.4 mm");
  const CellsTable comma = cells_of("id,edge (mm)\nA,\"58,4\"\n");
  CHECK(comma.cells[0]["edge"] == "58,4");  // refused later, with its own words
}

TEST_CASE("csv: pressed readings take two columns, blanks are left out") {
  const CellsTable table = cells_of(
      "id,pressed (mm),pressed_force (kgf),middle,signs\nA,58.1,100,,none\nB,58.2,100,?,\n");
  CHECK(table.problems.empty());
  CHECK(table.cells[0]["pressed"]["value"] == "58.1 mm");
  CHECK(table.cells[0]["pressed"]["force"] == "100 kgf");
  CHECK_FALSE(table.cells[0].contains("middle"));
  CHECK_FALSE(table.cells[1].contains("signs"));
}

TEST_CASE("csv: unknown and doubled columns are named") {
  const CellsTable table = cells_of("id,egde (mm),edge,edge (in)\nA,1,2,3\n");
  REQUIRE(table.problems.size() == 2);
  CHECK(table.problems[0].place.column == 4);
  CHECK_THAT(table.problems[0].mend, Catch::Matchers::ContainsSubstring("\"edge\""));
  CHECK_THAT(table.problems[1].found, Catch::Matchers::ContainsSubstring("second column"));
  CHECK(cells_of("id,edge\n").problems.size() == 1);
  CHECK(read_cells_table(check_text("t.csv", "PK\x03\x04")).problems.size() == 1);
}

}  // namespace stackfit::cli
