// SPDX-License-Identifier: GPL-3.0-or-later
//
// How well figures are known, from the file to the build; and what cannot be said so.
#include <string>
#include <utility>
#include <vector>

#include "cli/blank_form.hpp"
#include "tests/catch.hpp"
#include "tests/cli/read_helper.hpp"

using namespace stackfit;
using namespace stackfit::cli;
using namespace stackfit::cli::testing;
using Catch::Approx;

namespace {

ReadBuild with(const std::string& key, const std::string& value) {
  return read_text(plain_build, {{"uncertainty." + key, value}});
}

const std::vector<std::string> lengths = {"calipers", "calipers_each", "box_length", "row"};
const std::vector<std::string> shares = {"charge", "shims",     "softness", "swing",
                                         "growth", "expansion", "friction", "frame_force"};

}  // namespace

TEST_CASE("uncertainty: every key in its unit, and none where nothing is said") {
  const ReadBuild read = read_text(plain_build, {{"uncertainty.calipers", "0.02"},
                                                 {"uncertainty.calipers_each", "0.05 mm"},
                                                 {"uncertainty.charge", "8 %"},
                                                 {"uncertainty.box_length", "1/64 in"},
                                                 {"uncertainty.row", "0.3 mm"},
                                                 {"uncertainty.shims", "3 %"},
                                                 {"uncertainty.softness", "25 %"},
                                                 {"uncertainty.swing", "10 %"},
                                                 {"uncertainty.growth", "60 %"},
                                                 {"uncertainty.expansion", "20 %"},
                                                 {"uncertainty.friction", "40 %"},
                                                 {"uncertainty.frame_force", "5 %"}});
  INFO(all_of(read));
  REQUIRE(read.build);
  const Uncertainty& u = read.build->uncertainty;
  CHECK(u.calipers_mm == Approx(0.02));
  CHECK(u.calipers_each_mm == Approx(0.05));
  CHECK(u.charge == Approx(0.08));
  CHECK(u.box_length_mm == Approx(25.4 / 64));
  CHECK(u.row_mm == Approx(0.3));
  CHECK(u.shims == Approx(0.03));
  CHECK(u.softness == Approx(0.25));
  CHECK(u.swing == Approx(0.1));
  CHECK(u.growth == Approx(0.6));
  CHECK(u.expansion == Approx(0.2));
  CHECK(u.friction == Approx(0.4));
  CHECK(u.frame_force == Approx(0.05));

  const Uncertainty none = read_text(plain_build).build.value().uncertainty;
  CHECK_FALSE(none.calipers_mm);
  CHECK_FALSE(none.charge);
  CHECK_FALSE(none.frame_force);
}

TEST_CASE("uncertainty: nothing off at all may be said") {
  CHECK(with("softness", "0 %").build.value().uncertainty.softness == 0);
  CHECK(with("calipers", "0").build.value().uncertainty.calipers_mm == 0);
}

TEST_CASE("uncertainty: wrong units and values are named at their place") {
  const auto refused = [](const std::string& key, const std::string& value) {
    const ReadBuild read = with(key, value);
    INFO(key << " = " << value << ": " << all_of(read));
    CHECK_FALSE(read.build);
    CHECK_FALSE(problem_at(read, "/uncertainty/" + key).allowed.empty());
  };
  for (const std::string& key : lengths) {
    for (const char* wrong : {"5 %", "-0.1 mm", "2 kPa", "\"some\"", "[1]"}) refused(key, wrong);
  }
  for (const std::string& key : shares) {
    for (const char* wrong : {"0.2 mm", "-5 %", "3 K", "\"much\"", "{}"}) refused(key, wrong);
  }
}

TEST_CASE("uncertainty: an unknown key is told with the nearest one") {
  const ReadBuild read = with("caliper", "0.02");
  CHECK_FALSE(read.build);
  CHECK(holds(all_of(read), "calipers"));
}

TEST_CASE("uncertainty: the blank form has a line for every key") {
  const std::string form = blank_form_table();
  for (const std::vector<std::string>& keys : {lengths, shares}) {
    for (const std::string& key : keys) {
      INFO(key);
      CHECK(holds(form, "uncertainty." + key + ","));
    }
  }
}
