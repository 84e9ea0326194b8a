// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/plan/glpk/integer_program.hpp"

#include <glpk.h>

#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

namespace plan_checks {
namespace {

/// All that enters is whole and below some thousands: GLPK's own tolerances are 1e-5 to 1e-7.
std::int64_t whole_number(double value) {
  constexpr double tolerance = 1e-4;
  const double nearest = std::round(value);
  if (std::abs(value - nearest) > tolerance) {
    throw std::runtime_error("GLPK: " + std::to_string(value) + " should be whole");
  }
  return std::llround(nearest);
}

}  // namespace

Linear& Linear::add(const Linear& other, std::int64_t times) {
  for (const auto& [column, factor] : other.terms) {
    terms[column] += factor * times;
  }
  constant += other.constant * times;
  return *this;
}

void IntegerProgram::Free::operator()(glp_prob* program) const {
  glp_delete_prob(program);
}

IntegerProgram::IntegerProgram() : program_(glp_create_prob()) {
  glp_term_out(GLP_OFF);
  glp_set_obj_dir(program_.get(), GLP_MIN);
}

Linear IntegerProgram::whole(std::int64_t least, std::int64_t most) {
  const int column = glp_add_cols(program_.get(), 1);
  glp_set_col_kind(program_.get(), column, GLP_IV);
  glp_set_col_bnds(program_.get(), column, least == most ? GLP_FX : GLP_DB,
                   static_cast<double>(least), static_cast<double>(most));
  return {{{column, 1}}, 0};
}

void IntegerProgram::at_least(const Linear& sum, std::int64_t least) {
  std::vector<int> columns{0};  // GLPK counts from one
  std::vector<double> factors{0};
  for (const auto& [column, factor] : sum.terms) {
    columns.push_back(column);
    factors.push_back(static_cast<double>(factor));
  }
  const int row = glp_add_rows(program_.get(), 1);
  glp_set_mat_row(program_.get(), row, static_cast<int>(columns.size()) - 1, columns.data(),
                  factors.data());
  glp_set_row_bnds(program_.get(), row, GLP_LO, static_cast<double>(least - sum.constant), 0);
}

std::optional<std::int64_t> IntegerProgram::least(const Linear& objective) {
  for (int column = 1; column <= glp_get_num_cols(program_.get()); ++column) {
    glp_set_obj_coef(program_.get(), column, 0);
  }
  for (const auto& [column, factor] : objective.terms) {
    glp_set_obj_coef(program_.get(), column, static_cast<double>(factor));
  }
  glp_iocp how;
  glp_init_iocp(&how);
  how.presolve = GLP_ON;
  how.msg_lev = GLP_MSG_OFF;
  const int status = glp_intopt(program_.get(), &how);
  if (status == GLP_ENOPFS || (status == 0 && glp_mip_status(program_.get()) == GLP_NOFEAS)) {
    return std::nullopt;
  }
  if (status != 0 || glp_mip_status(program_.get()) != GLP_OPT) {
    throw std::runtime_error("GLPK gave up: " + std::to_string(status));
  }
  return value(objective);
}

std::int64_t IntegerProgram::settle(const Linear& objective) {
  const std::optional<std::int64_t> found = least(objective);
  if (!found) {
    throw std::runtime_error("GLPK: a level that must have a solution has none");
  }
  at_most(objective, *found);
  return *found;
}

std::int64_t IntegerProgram::value(const Linear& sum) const {
  std::int64_t value = sum.constant;
  for (const auto& [column, factor] : sum.terms) {
    value += factor * whole_number(glp_mip_col_val(program_.get(), column));
  }
  return value;
}

}  // namespace plan_checks
