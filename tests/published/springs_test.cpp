// SPDX-License-Identifier: GPL-3.0-or-later
//
// Disc springs of DIN EN 16983 (disc_springs.csv), and springs, threads and rods
// (springs_and_rods.csv); both tables name their sources.
#include <array>
#include <cmath>
#include <cstdio>
#include <string>

#include "solver/springs.hpp"
#include "solver/threads.hpp"
#include "solver/tie.hpp"
#include "tests/catch.hpp"
#include "tests/published/csv.hpp"

using namespace stackfit;

namespace {

DiscSpring disc_of(const published::Row& row) {
  DiscSpring disc;
  disc.outer_diameter_mm = published::number(row, "De");
  disc.inner_diameter_mm = published::number(row, "Di");
  disc.thickness_mm = published::number(row, "t");
  disc.cone_height_mm = published::number(row, "h0");
  if (!published::text(row, "t_reduced").empty()) {
    disc.reduced_thickness_mm = published::number(row, "t_reduced");
  }
  disc.modulus_mpa = 206000;
  disc.poisson = 0.3;
  return disc;
}

double one_disc_force_n(const published::Row& row) {
  return SpringSet::discs(disc_of(row), {1, 1}).force_at(published::number(row, "s")).n;
}

/// One unit in the third figure of a number.
double third_figure(double value) {
  return std::pow(10, std::floor(std::log10(value)) - 2);
}

/// Half a unit in the last figure printed.
double half_of_last_figure(const std::string& printed) {
  const std::size_t point = printed.find('.');
  return point == std::string::npos
             ? 0.5
             : 0.5 * std::pow(10, -static_cast<double>(printed.size() - point - 1));
}

// NIST SP 811 (2008), B.8; exact.
constexpr double inch_mm = 25.4;
constexpr double lbf_n = 4.4482216152605;
constexpr double psi_mpa = 6894.757293168361e-6;

double helical_rate(const std::string& inputs) {
  HelicalWire wire;
  double modulus = 0;
  if (std::sscanf(inputs.c_str(), "d=%lfin D=%lfin Na=%lf G=%lfMpsi", &wire.wire_mm,
                  &wire.mean_diameter_mm, &wire.active_coils, &modulus) == 4) {
    wire.wire_mm *= inch_mm;
    wire.mean_diameter_mm *= inch_mm;
    wire.shear_modulus_mpa = 1e6 * modulus * psi_mpa;
    return helical_rate_n_per_mm(wire) / (lbf_n / inch_mm);
  }
  REQUIRE(std::sscanf(inputs.c_str(), "d=%lfmm D=%lfmm n=%lf G=%lfMPa", &wire.wire_mm,
                      &wire.mean_diameter_mm, &wire.active_coils, &wire.shear_modulus_mpa) == 4);
  return helical_rate_n_per_mm(wire);
}

double torque_for_tension(const std::string& inputs) {
  double force = 0;
  double diameter = 0;
  NutFactor factor;
  REQUIRE(std::sscanf(inputs.c_str(), "F=%lflbf d=%lfin K=%lf", &force, &diameter, &factor.k) == 3);
  // The pitch has no part in T = K d F.
  return torque_n_mm({diameter * inch_mm, 1}, factor, force * lbf_n) / (lbf_n * inch_mm);
}

double tension_from_torque(const std::string& inputs) {
  double torque = 0;
  Thread thread{0, 1};
  NutFactor factor;
  REQUIRE(std::sscanf(inputs.c_str(), "T=%lfN.m d=%lfmm K=%lf", &torque, &thread.diameter_mm,
                      &factor.k) == 3);
  return force_of_torque_n(thread, factor, 1000 * torque);
}

double rod_stretch(const std::string& inputs) {
  double force = 0;
  Rod rod;
  rod.thread = {6, 1};
  rod.proof_stress_mpa = 225;
  REQUIRE(std::sscanf(inputs.c_str(), "F=%lfN L=%lfmm E=%lfMPa d=%lfmm plain", &force,
                      &rod.length_mm, &rod.modulus_mpa, &rod.plain_diameter_mm) == 4);
  rod.plain_length_mm = rod.length_mm;
  return force * rod_give_mm_per_n(rod);
}

Thread thread_named(const std::string& name) {
  double diameter = 0;
  REQUIRE(std::sscanf(name.c_str(), "M%lf", &diameter) == 1);
  const auto thread = coarse_thread(diameter);
  REQUIRE(thread);
  return *thread;
}

double stress_area(const std::string& inputs) {
  Thread as_printed;
  REQUIRE(std::sscanf(inputs.c_str(), "M%lfx%lf", &as_printed.diameter_mm, &as_printed.pitch_mm) ==
          2);
  CHECK(thread_named(inputs).pitch_mm == as_printed.pitch_mm);
  return stress_area_mm2(as_printed);
}

double computed(const std::string& quantity, const std::string& inputs) {
  if (quantity == "helical_rate") return helical_rate(inputs);
  if (quantity == "torque_for_tension") return torque_for_tension(inputs);
  if (quantity == "tension_from_torque") return tension_from_torque(inputs);
  if (quantity == "rod_stretch") return rod_stretch(inputs);
  if (quantity == "stress_area") return stress_area(inputs);
  if (quantity == "proof_load_8.8") {
    return proof_load_n(thread_named(inputs), proof_stress_mpa(PropertyClass::steel_8_8));
  }
  FAIL("no such quantity: " + quantity);
  return 0;
}

}  // namespace

TEST_CASE("disc springs have the forces of DIN EN 16984 to the printed digits") {
  int checked = 0;
  for (const auto& row : published::read_table("disc_springs.csv")) {
    INFO(published::text(row, "series") << " " << published::text(row, "De"));
    const double expected = published::number(row, "F_formula");
    CHECK(std::abs(one_disc_force_n(row) - expected) <=
          half_of_last_figure(published::text(row, "F_formula")) * (1 + 1e-6));
    ++checked;
  }
  CHECK(checked == 56);
}

TEST_CASE("and those of the tables of DIN EN 16983, which print three figures") {
  for (const auto& row : published::read_table("disc_springs.csv")) {
    INFO(published::text(row, "series") << " " << published::text(row, "De"));
    const double table = published::number(row, "F_table");
    // Rounded to three figures: the furthest is off by 0.496 of the third.
    CHECK(std::abs(one_disc_force_n(row) - table) <= 0.5 * third_figure(table));
  }
}

TEST_CASE("springs, threads and rods meet their published figures") {
  int checked = 0;
  int with_digits = 0;
  for (const auto& row : published::read_table("springs_and_rods.csv")) {
    const std::string quantity = published::text(row, "quantity");
    INFO(quantity << " " << published::text(row, "inputs"));
    const double value = computed(quantity, published::text(row, "inputs"));
    const std::string& printed = published::text(row, "value");
    const double expected = published::number(row, "value");
    // Proof loads are printed with three figures and not always rounded up: M6 of 8.8 is 11672
    // here.
    const double within =
        quantity == "proof_load_8.8" ? third_figure(expected) : half_of_last_figure(printed);
    CHECK(std::abs(value - expected) <= within);
    const std::string& source = published::text(row, "source");
    const std::size_t gives = source.find("gives ");
    if (gives != std::string::npos) {  // the formula's own figure, with more digits
      const std::string digits = source.substr(gives + 6);
      CHECK(std::abs(value - std::stod(digits)) <= half_of_last_figure(digits));
      ++with_digits;
    }
    ++checked;
  }
  CHECK(checked == 11);
  CHECK(with_digits == 5);
}

// ISO 898-1, tables of stress areas and proof loads for coarse threads, as read in two public
// copies that agree.
TEST_CASE("stress areas and proof loads of ISO 898-1, coarse threads") {
  struct Line {
    double diameter, area;
    std::array<double, 6> proof_n;  // 4.6, 4.8, 5.8, 8.8, 10.9, 12.9
  };
  const std::array<Line, 11> table{{
      {3, 5.03, {1130, 1560, 1910, 2920, 4180, 4880}},
      {3.5, 6.78, {1530, 2100, 2580, 3940, 5630, 6580}},
      {4, 8.78, {1980, 2720, 3340, 5100, 7290, 8520}},
      {5, 14.2, {3200, 4400, 5400, 8230, 11800, 13800}},
      {6, 20.1, {4520, 6230, 7640, 11600, 16700, 19500}},
      {7, 28.9, {6500, 8960, 11000, 16800, 24000, 28000}},
      {8, 36.6, {8240, 11400, 13900, 21200, 30400, 35500}},
      {10, 58.0, {13000, 18000, 22000, 33700, 48100, 56300}},
      {12, 84.3, {19000, 26100, 32000, 48900, 70000, 81800}},
      {14, 115, {25900, 35600, 43700, 66700, 95500, 112000}},
      {16, 157, {35300, 48700, 59700, 91000, 130000, 152000}},
  }};
  const std::array<PropertyClass, 6> classes{PropertyClass::steel_4_6,  PropertyClass::steel_4_8,
                                             PropertyClass::steel_5_8,  PropertyClass::steel_8_8,
                                             PropertyClass::steel_10_9, PropertyClass::steel_12_9};
  CHECK(coarse_threads().size() == table.size());
  for (const Line& line : table) {
    INFO("M" << line.diameter);
    const auto thread = coarse_thread(line.diameter);
    REQUIRE(thread);
    CHECK(std::abs(stress_area_mm2(*thread) - line.area) <= 0.5 * third_figure(line.area));
    for (std::size_t i = 0; i < classes.size(); ++i) {
      INFO("class " << i);
      const double proof = proof_load_n(*thread, proof_stress_mpa(classes.at(i)));
      // Some are computed from the rounded area and cut off rather than rounded.
      const double from_area = proof * 0.5 * third_figure(line.area) / line.area;
      CHECK(std::abs(proof - line.proof_n.at(i)) <= third_figure(line.proof_n.at(i)) + from_area);
    }
  }
}
