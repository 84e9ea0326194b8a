// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/plate.hpp"

#include <Eigen/SparseCholesky>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "solver/many_loads.hpp"
#include "solver/plate_ribs.hpp"
#include "solver/plate_stiffness.hpp"
#include "solver/plate_supports.hpp"

namespace stackfit {
namespace {

using Sparse = Eigen::SparseMatrix<double>;

void require_sizes(const PlateSection& section) {
  const bool sound = section.thickness_mm > 0 && std::isfinite(section.thickness_mm) &&
                     section.modulus_mpa > 0 && std::isfinite(section.modulus_mpa);
  if (!sound) {
    throw std::invalid_argument("a plate's thickness and modulus must be positive");
  }
  // Within these the bending energy is positive.
  if (!(section.poisson > -1 && section.poisson < 1)) {
    throw std::invalid_argument("a plate's Poisson's ratio must lie between -1 and 1");
  }
}

void require_triangles(const geometry::Mesh& mesh) {
  if (mesh.triangles.empty()) {
    throw std::invalid_argument("a plate needs a mesh with triangles");
  }
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (!(dkt::area_mm2(corners_of(mesh, t)) > 0)) {
      throw std::invalid_argument("every triangle of a plate must run counterclockwise");
    }
  }
}

/// Both plates bend alike. Isotropic ones together are one more isotropic plate: the stiffnesses
/// add, and so do the parts D nu that couple the two directions.
dkt::Bending bending_of(const PlateSection& section, const PlateBacking& backing) {
  if (!backing.second) {
    return {section.stiffness_n_mm(), section.poisson};
  }
  const double one = section.stiffness_n_mm();
  const double other = backing.second->stiffness_n_mm();
  return {one + other, (one * section.poisson + other * backing.second->poisson) / (one + other)};
}

}  // namespace

double PlateSection::stiffness_n_mm() const {
  return modulus_mpa * thickness_mm * thickness_mm * thickness_mm / (12 * (1 - poisson * poisson));
}

double default_edge_mm(double plate_area_mm2) {
  constexpr double triangles = 2000;
  // Triangles of geometry::triangulate have, in the mean, this part of the greatest edge squared;
  // were they all equilateral and of that edge it would be sqrt(3)/4.
  constexpr double mean_area = 0.2;
  return std::sqrt(plate_area_mm2 / triangles / mean_area);
}

struct Plate::Parts {
  geometry::Mesh mesh;
  PlateSection section;
  PlateSupports supports;
  PlateBacking backing;
  Sparse stiffness;
  Sparse columns;  ///< unknowns = columns * free unknowns
  Eigen::SimplicialLDLT<Sparse> factor;
};

Plate::Plate(geometry::Mesh mesh, const PlateSection& section, const PlateSupports& supports,
             const PlateBacking& backing)
    : parts_(std::make_unique<Parts>()) {
  require_sizes(section);
  if (backing.second) {
    require_sizes(*backing.second);
  }
  require_triangles(mesh);
  FreeUnknowns free = free_unknowns(mesh, supports);
  parts_->mesh = std::move(mesh);
  parts_->section = section;
  parts_->supports = supports;
  parts_->backing = backing;
  parts_->columns.swap(free.columns);  // Eigen 3.4 has no move for it
  parts_->stiffness = plate_stiffness(parts_->mesh, bending_of(section, backing));
  for (const PlateRib& rib : backing.ribs) {
    add_rib(parts_->stiffness, parts_->mesh, rib);
  }
  Sparse supported = parts_->stiffness;
  supported.diagonal() += free.springs_n_per_mm;
  parts_->factor.compute(parts_->columns.transpose() * supported * parts_->columns);
  if (parts_->factor.info() != Eigen::Success || !(parts_->factor.vectorD().array() > 0).all()) {
    throw std::invalid_argument("the plate is free to move, or all but free");
  }
}

Plate::~Plate() = default;
Plate::Plate(Plate&&) noexcept = default;
Plate& Plate::operator=(Plate&&) noexcept = default;

const geometry::Mesh& Plate::mesh() const {
  return parts_->mesh;
}

const PlateSection& Plate::section() const {
  return parts_->section;
}

const PlateSupports& Plate::supports() const {
  return parts_->supports;
}

const PlateBacking& Plate::backing() const {
  return parts_->backing;
}

Eigen::Index Plate::unknowns() const {
  return parts_->stiffness.rows();
}

const Sparse& Plate::stiffness() const {
  return parts_->stiffness;
}

Eigen::MatrixXd Plate::solve(const Eigen::MatrixXd& loads) const {
  if (loads.rows() != unknowns()) {
    throw std::invalid_argument("a load on a plate needs three figures for each node");
  }
  const Eigen::MatrixXd free_loads = parts_->columns.transpose() * loads;
  const Eigen::MatrixXd free_deflections = solve_many(parts_->factor, free_loads);
  return parts_->columns * free_deflections;
}

}  // namespace stackfit
