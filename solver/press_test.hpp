// SPDX-License-Identifier: GPL-3.0-or-later
//
// The squeeze law of a cell from a press test: thickness between boards under several loads.
//
// For: A, B and the free thickness by weighted least squares, with their joint 95 % region.
// Not for: what a band of pressures asks of the law, outliers, the way back (press_result.hpp), or
// reading a table (cli/press_csv.hpp).
//
// The law is that of a cell, p = A (exp(B squeeze / nominal) - 1), so that the thickness is
//     free - nominal / B * ln(1 + p / A).
// Parameters are free thickness, ln A and ln B. Below `loads_that_stand_alone` loads the assumed
// law's spans of ln A and ln B join the sum of squares as two readings would.
//
// The law is bent in A and B, so the joint region is that of the likelihood ratio: all (A, B, free)
// whose sum of squares exceeds the least one by at most the quantile (chi-square of 3 parameters
// where the reading error is known, 3 s^2 F where it is estimated). Contract, tested: it covers
// the truth in 95 % of trials. Spans of one figure are its profile, with one parameter's quantile.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "solver/assumptions.hpp"
#include "solver/build.hpp"

namespace stackfit {

struct PressReading {
  double pressure_mpa = 0;  ///< force over the whole face
  double thickness_mm = 0;  ///< between the boards, mean over the face
};

struct PressTest {
  std::vector<PressReading> loading;    ///< in any order; several at one load are welcome
  std::vector<PressReading> unloading;  ///< on the way back; not fitted
  double nominal_mm = 0;
  std::optional<double> reading_error_mm;  ///< standard uncertainty of one reading, where said
};

/// The readings of the way up that were taken at one load.
struct PressLoad {
  double pressure_mpa = 0;            ///< mean of the readings
  double thickness_mm = 0;            ///< mean of the readings
  std::vector<std::size_t> readings;  ///< of PressTest::loading
};
/// Rising by pressure; loads closer than a hundredth of the highest are one.
[[nodiscard]] std::vector<PressLoad> press_loads(const PressTest& test);

/// Three figures are fitted, so four loads are the fewest that say anything of the law's shape.
inline constexpr std::size_t loads_that_stand_alone = 4;

enum class PressFaultCode : std::uint8_t {
  too_few_loads,  ///< fewer than two
  rises,          ///< thicker under more force, beyond the reading error
  no_give         ///< the thickness does not fall with force, beyond the reading error
};
/// Why readings cannot be fitted.
struct PressFault {
  PressFaultCode code = PressFaultCode::too_few_loads;
  std::size_t before = 0;   ///< rises: a reading of the lower load
  std::size_t reading = 0;  ///< rises: a reading of the load that is too thick
  double size_mm = 0;       ///< rises: by how much
  std::size_t loads = 0;    ///< how many there are
};
[[nodiscard]] std::vector<PressFault> press_faults(const PressTest& test,
                                                   const Assumptions& assumptions);

/// The three fitted figures.
struct PressLaw {
  double free_mm = 0;
  double a_mpa = 0;
  double b = 0;
};
enum class PressFigure : std::uint8_t { free_mm, a_mpa, b };

enum class ErrorSource : std::uint8_t { assumed, said, residuals };

/// How the search for the least sum of squares ended.
enum class PressFitEnd : std::uint8_t {
  converged,
  straight,  ///< the readings bend so little that any larger A does as well
  steep,     ///< they bend so sharply that any smaller A does as well
  cap_reached
};

/// A 95 % span; an open end is one the readings do not set.
struct PressSpan {
  Span span;
  bool open_low = false;
  bool open_high = false;
};

class PressFit {
 public:
  /// Throws std::invalid_argument where press_faults() finds any.
  PressFit(PressTest test, const Assumptions& assumptions);

  [[nodiscard]] const PressTest& test() const { return test_; }
  [[nodiscard]] const std::vector<PressLoad>& loads() const { return loads_; }
  [[nodiscard]] const PressLaw& law() const { return law_; }
  [[nodiscard]] PressFitEnd end() const { return end_; }
  [[nodiscard]] bool prior_used() const { return prior_.has_value(); }
  /// Standard uncertainty of one reading [mm], and where it is from.
  [[nodiscard]] double reading_error_mm() const { return error_mm_; }
  [[nodiscard]] ErrorSource error_source() const { return error_source_; }
  /// The residuals are larger than the error that was said or assumed allows (one in a thousand).
  [[nodiscard]] bool scatters() const { return scatters_; }
  /// Readings less fitted figures; negative under a prior with few readings.
  [[nodiscard]] int degrees_of_freedom() const;

  /// Thickness by the law under a pressure.
  [[nodiscard]] double thickness_at(double pressure_mpa) const;
  /// Reading less law, in the order of PressTest::loading.
  [[nodiscard]] std::vector<double> residuals_mm() const;
  /// d thickness / d (free, ln A, ln B) at a pressure.
  [[nodiscard]] Eigen::Vector3d slopes_at(double pressure_mpa) const;
  /// Of (free [mm], ln A, ln B).
  [[nodiscard]] const Eigen::Matrix3d& covariance() const { return covariance_; }

  /// Sum of squares (with the prior's part) at any law, less the least one [mm^2].
  [[nodiscard]] double excess_mm2(const PressLaw& law) const;
  /// What the excess may reach in a 95 % region of `figures` figures at once [mm^2].
  [[nodiscard]] double quantile_mm2(int figures) const;
  [[nodiscard]] bool joint_region_holds(const PressLaw& law) const {
    return excess_mm2(law) <= quantile_mm2(3);
  }
  /// Of one figure, by its profile.
  [[nodiscard]] PressSpan span_of(PressFigure figure) const;
  /// Half width of a 95 % span, in standard deviations: normal, or Student's.
  [[nodiscard]] double coverage_factor() const;

 private:
  struct Prior {
    Eigen::Vector2d mean;       ///< of ln A, ln B
    Eigen::Vector2d deviation;  ///< standard deviations
  };
  struct Squares;
  using Free = std::array<bool, 3>;
  struct Minimum;

  void take_prior(const Assumptions& assumptions);
  void take_error();
  [[nodiscard]] Squares squares_at(const Eigen::Vector3d& at) const;
  [[nodiscard]] Eigen::Vector3d start() const;
  [[nodiscard]] Eigen::Vector3d within(Eigen::Vector3d at) const;
  [[nodiscard]] Free not_held(const Squares& squares, const Eigen::Vector3d& at, Free free) const;
  [[nodiscard]] Minimum minimise(Eigen::Vector3d at, Free free) const;
  [[nodiscard]] bool at_end(const Eigen::Vector3d& at, bool high) const;

  PressTest test_;
  std::vector<PressLoad> loads_;
  double stated_error_mm_;
  ErrorSource error_source_;
  std::optional<Prior> prior_;
  Eigen::Vector3d best_ = Eigen::Vector3d::Zero();
  double least_mm2_ = 0;
  PressLaw law_;
  PressFitEnd end_ = PressFitEnd::cap_reached;
  double error_mm_ = 0;
  bool scatters_ = false;
  Eigen::Matrix3d covariance_ = Eigen::Matrix3d::Zero();
};

}  // namespace stackfit
