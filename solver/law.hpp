// SPDX-License-Identifier: GPL-3.0-or-later
//
// One part's law: how far it is squeezed at a pressure, its slope, its stored energy, its limit.
//
// For: cells, sheets and pads in a row. Every law is zero at zero and strictly rising, so a row
// of them has one equilibrium. A new material is one class here and one line in the reader.
// Not for: linear give of walls (a number in mm/N is enough, series.hpp).
#pragma once

#include <memory>
#include <vector>

namespace stackfit {

/// Strain is squeeze over the part's own reference thickness, compression positive.
class SqueezeLaw {
 public:
  SqueezeLaw() = default;
  virtual ~SqueezeLaw() = default;
  SqueezeLaw(const SqueezeLaw&) = delete;
  SqueezeLaw& operator=(const SqueezeLaw&) = delete;
  SqueezeLaw(SqueezeLaw&&) = delete;
  SqueezeLaw& operator=(SqueezeLaw&&) = delete;

  struct Strain {
    double value = 0;
    double per_mpa = 0;  ///< slope d strain / d pressure [1/MPa], positive
  };
  /// Strain at a pressure >= 0 [MPa].
  [[nodiscard]] virtual Strain strain_at(double pressure_mpa) const = 0;
  /// Pressure [MPa] at a strain >= 0; the inverse of strain_at.
  [[nodiscard]] virtual double pressure_at(double strain) const = 0;
  /// Energy stored per reference volume [MPa = N mm/mm^3] at a strain >= 0; convex.
  [[nodiscard]] virtual double energy_at(double strain) const = 0;
  /// Pressure [MPa] up to which the law rests on data; beyond it goes on along its tangent.
  [[nodiscard]] virtual double known_up_to_mpa() const = 0;
  /// Pressures [MPa], rising, between which the slope changes at most by a factor of two, over
  /// the stretch where the law bends too sharply for a table of even steps.
  [[nodiscard]] virtual std::vector<double> bends_mpa() const { return {}; }
};

using LawPtr = std::shared_ptr<const SqueezeLaw>;

/// p = E eps. Hard sheets, and rubber by its effective modulus.
class LinearLaw final : public SqueezeLaw {
 public:
  /// Throws std::invalid_argument unless modulus and limit are positive.
  explicit LinearLaw(double modulus_mpa, double known_up_to_mpa);
  [[nodiscard]] Strain strain_at(double pressure_mpa) const override;
  [[nodiscard]] double pressure_at(double strain) const override;
  [[nodiscard]] double energy_at(double strain) const override;
  [[nodiscard]] double known_up_to_mpa() const override { return known_up_to_mpa_; }

 private:
  double modulus_mpa_;
  double known_up_to_mpa_;
};

/// p = A (exp(B eps) - 1) up to a pressure, then along the tangent there: a cell.
class ExponentialLaw final : public SqueezeLaw {
 public:
  struct Constants {
    double a_mpa = 0;
    double b = 0;
    double tangent_above_mpa = 0;
  };
  /// Throws std::invalid_argument unless all constants are positive.
  explicit ExponentialLaw(const Constants& constants);
  [[nodiscard]] Strain strain_at(double pressure_mpa) const override;
  [[nodiscard]] double pressure_at(double strain) const override;
  [[nodiscard]] double energy_at(double strain) const override;
  [[nodiscard]] double known_up_to_mpa() const override { return constants_.tangent_above_mpa; }

 private:
  Constants constants_;
  double tangent_strain_;  ///< strain where the tangent takes over
  double tangent_mpa_;     ///< its slope
};

/// Monotone cubic (PCHIP, Fritsch & Carlson 1980) through a table of pressure against strain,
/// on along a tangent no softer than the last secant: foams, and press tests given as a table.
class TableLaw final : public SqueezeLaw {
 public:
  /// Both columns rise strictly from (0, 0), two or more points. Two make a straight line; of
  /// three the first piece is halved, since PCHIP needs four. Throws std::invalid_argument
  /// otherwise.
  TableLaw(std::vector<double> strain, std::vector<double> pressure_mpa);
  [[nodiscard]] Strain strain_at(double pressure_mpa) const override;
  [[nodiscard]] double pressure_at(double strain) const override;
  [[nodiscard]] double energy_at(double strain) const override;
  [[nodiscard]] double known_up_to_mpa() const override { return pressure_mpa_.back(); }

 private:
  struct Segment;
  [[nodiscard]] Segment segment(std::size_t index) const;

  std::vector<double> strain_;
  std::vector<double> pressure_mpa_;
  std::vector<double> slope_mpa_;   ///< d pressure / d strain at each point
  std::vector<double> energy_mpa_;  ///< stored up to each point
  double tangent_mpa_ = 0;
};

/// Another law at a share of its pressure: a foam after it has relaxed. The part of the squeeze
/// it does not regain is lost free thickness and is booked by the row, not here.
class RelaxedLaw final : public SqueezeLaw {
 public:
  /// Throws std::invalid_argument unless 0 < share <= 1.
  RelaxedLaw(LawPtr fresh, double share);
  [[nodiscard]] Strain strain_at(double pressure_mpa) const override;
  [[nodiscard]] double pressure_at(double strain) const override;
  [[nodiscard]] double energy_at(double strain) const override;
  [[nodiscard]] double known_up_to_mpa() const override;

 private:
  LawPtr fresh_;
  double share_;
};

}  // namespace stackfit
