// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/options_build.hpp"

#include <string>

#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

namespace stackfit::cli {
namespace {

BuildOptions example() {
  BuildOptions options;
  options.measured = "edge";
  options.cells = "63.5,63.8,63.4,64.0";
  options.face = "152x188";
  options.force = "240kgf";
  options.when = "assembly";
  options.charge = "40%";
  options.box = "258mm";
  options.wall = "3mm aluminium";
  options.opens = "One end wall";
  options.shims = "0.8x14,0.5x12";
  options.shim_material = "polypropylene";
  return options;
}

ReadBuild read(const BuildOptions& options) {
  return read_build({"", read_options(options).values, {}});
}

}  // namespace

TEST_CASE("options: a build without a file") {
  const OptionsRead options = read_options(example());
  CHECK(options.problems.empty());
  REQUIRE(options.notes.size() == 1);
  CHECK_THAT(options.notes[0].text, Catch::Matchers::ContainsSubstring("63.7 mm"));
  const ReadBuild built = read(example());
  INFO(testing::all_of(built));
  REQUIRE(built.build);
  const Build& build = *built.build;
  CHECK(build.cells.size() == 4);
  CHECK(build.cells[3].edge_mm == 64.0);
  CHECK(build.cell.thickness.nominal_mm == Catch::Approx(63.7));
  CHECK(build.cell.makers_force->when == ForceWhen::assembly);
  CHECK(build.measured_charge->charge == Catch::Approx(0.4));
  CHECK(build.box.inner_length_mm == std::vector<double>{258});
  CHECK(build.box.opens == Opens::one_end_wall);
  CHECK(build.kit.size() == 2);
  CHECK(build.kit[1].sheet.material == SheetMaterial::polypropylene);
  CHECK(built.files.empty());
}

TEST_CASE("options: the other ways to say it") {
  BuildOptions options = example();
  options.measured = "pressed 240kgf";
  options.thickness = "63.4±0.6 mm 30-40% 240kgf";
  options.range = "50-150kPa";
  options.box = "258,257.8,258.2";
  const ReadBuild built = read(options);
  INFO(testing::all_of(built));
  REQUIRE(built.build);
  CHECK(built.build->cells[0].pressed->force_n == Catch::Approx(240 * 9.80665));
  CHECK(built.build->cell.range->high_mpa == Catch::Approx(0.15));
  CHECK(built.build->box.inner_length_mm.size() == 3);
  CHECK(read_options(options).notes.empty());
}

TEST_CASE("options: problems name the option") {
  BuildOptions options = example();
  options.cells = "63.5,abc,63.4,64.0";
  options.thickness = "63.5";
  options.charge = "40";
  options.box = "";
  const ReadBuild built = read(options);
  INFO(testing::all_of(built));
  CHECK(testing::problem_at(built, "/cells/1/edge").place.file == "--cells");
  CHECK(testing::problem_at(built, "/measured_charge").place.file == "--charge");
  CHECK(testing::problem_at(built, "/box/inner").mend == "give --box");
  options = example();
  options.measured = "";
  options.face = "152";
  options.shims = "0.8";
  const OptionsRead refused = read_options(options);
  REQUIRE(refused.problems.size() == 3);
  CHECK(refused.problems[0].place.file == "--face");
  CHECK(refused.problems[1].place.file == "--measured");
  CHECK(refused.problems[2].place.file == "--shims");
  CHECK_FALSE(BuildOptions{}.any());
  CHECK(options.any());
}

}  // namespace stackfit::cli
