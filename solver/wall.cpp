// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/wall.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <stdexcept>
#include <unsupported/Eigen/KroneckerProduct>

namespace stackfit {
namespace {

/// Terms a direction. A dozen give the give of a wall to 1e-4.
constexpr Eigen::Index terms = 12;
/// Gauss points that integrate products of two basis polynomials exactly (degree <= 2 * 15).
using Gauss = boost::math::quadrature::gauss<double, 20>;

/// One polynomial basis on [0, 1] and its derivatives at a point.
struct Basis {
  Eigen::Array<double, terms, 1> f, d1, d2;
};

/// Power of the factor t that makes an edge's functions vanish as its support asks.
int edge_power(EdgeSupport support) {
  switch (support) {
    case EdgeSupport::fixed:
      return 2;
    case EdgeSupport::held:
      return 1;
    case EdgeSupport::free:
      return 0;
  }
  return 0;
}

/// Value and first two derivatives, multiplied by the product rule.
struct Jet {
  double v = 0, d1 = 0, d2 = 0;
};
Jet operator*(const Jet& a, const Jet& b) {
  return {a.v * b.v, a.d1 * b.v + a.v * b.d1, a.d2 * b.v + 2 * a.d1 * b.d1 + a.v * b.d2};
}

Basis basis_at(double t, EdgeSupport low, EdgeSupport high) {
  const Jet up{t, 1, 0};
  const Jet down{1 - t, -1, 0};
  Jet factor{1, 0, 0};
  for (int i = 0; i < edge_power(low); ++i) {
    factor = factor * up;
  }
  for (int i = 0; i < edge_power(high); ++i) {
    factor = factor * down;
  }
  const Jet x{2 * t - 1, 2, 0};
  Jet previous{0, 0, 0};
  Jet legendre{1, 0, 0};
  Basis basis;
  for (Eigen::Index n = 0; n < terms; ++n) {
    const Jet term = factor * legendre;
    basis.f[n] = term.v;
    basis.d1[n] = term.d1;
    basis.d2[n] = term.d2;
    // Bonnet's recursion: (n + 1) P_{n+1} = (2 n + 1) x P_n - n P_{n-1}.
    const Jet ahead = x * legendre;
    const auto order = static_cast<double>(n);
    const double a = (2 * order + 1) / (order + 1);
    const double b = order / (order + 1);
    const Jet next{a * ahead.v - b * previous.v, a * ahead.d1 - b * previous.d1,
                   a * ahead.d2 - b * previous.d2};
    previous = legendre;
    legendre = next;
  }
  return basis;
}

using Matrix = Eigen::Matrix<double, terms, terms>;

/// Part of a direction, as shares of the plate's length.
struct Part {
  double low = 0;
  double high = 1;
};

/// Integrals of products of the basis over a part, in the plate's own length.
struct Products {
  Matrix ff = Matrix::Zero();
  Matrix d1d1 = Matrix::Zero();
  Matrix d2d2 = Matrix::Zero();
  Matrix d2f = Matrix::Zero();
};

template <typename Visit>
void gauss_points(double low, double high, const Visit& visit) {
  const double half = 0.5 * (high - low);
  for (std::size_t i = 0; i < Gauss::abscissa().size(); ++i) {
    const double offset = half * Gauss::abscissa()[i];
    const double weight = half * Gauss::weights()[i];
    visit(low + half + offset, weight);
    visit(low + half - offset, weight);
  }
}

Products products(double length, const Part& part, EdgeSupport low, EdgeSupport high) {
  Products sum;
  gauss_points(part.low, part.high, [&](double t, double weight) {
    const Basis basis = basis_at(t, low, high);
    const Eigen::Matrix<double, terms, 1> f = basis.f;
    const Eigen::Matrix<double, terms, 1> d1 = basis.d1 / length;
    const Eigen::Matrix<double, terms, 1> d2 = basis.d2 / (length * length);
    const double w = weight * length;
    sum.ff += w * f * f.transpose();
    sum.d1d1 += w * d1 * d1.transpose();
    sum.d2d2 += w * d2 * d2.transpose();
    sum.d2f += w * d2 * f.transpose();
  });
  return sum;
}

/// Mean of each basis function over a part.
Eigen::Matrix<double, terms, 1> mean_over(const Part& part, EdgeSupport low, EdgeSupport high) {
  Eigen::Matrix<double, terms, 1> mean = Eigen::Matrix<double, terms, 1>::Zero();
  gauss_points(part.low, part.high, [&](double t, double weight) {
    mean += (weight / (part.high - part.low)) * basis_at(t, low, high).f.matrix();
  });
  return mean;
}

Eigen::VectorXd outer(const Eigen::Matrix<double, terms, 1>& x,
                      const Eigen::Matrix<double, terms, 1>& y) {
  Eigen::VectorXd product(terms * terms);
  for (Eigen::Index i = 0; i < terms; ++i) {
    product.segment(i * terms, terms) = x[i] * y;
  }
  return product;
}

void require_usable(const RectangularPlate& plate, const LoadPatch& patch) {
  if (!(plate.width_mm > 0) || !(plate.height_mm > 0) || !(plate.thickness_mm > 0) ||
      !(plate.modulus_mpa > 0)) {
    throw std::invalid_argument("a wall needs a width, height, thickness and modulus above zero");
  }
  if (!(patch.x_low_mm >= 0) || !(patch.x_high_mm <= plate.width_mm) || !(patch.y_low_mm >= 0) ||
      !(patch.y_high_mm <= plate.height_mm) || !(patch.x_low_mm < patch.x_high_mm) ||
      !(patch.y_low_mm < patch.y_high_mm)) {
    throw std::invalid_argument("the pressed face does not lie on the wall");
  }
  // Rigid motions 1, x, y are excluded by one fixed edge, or by two held ones.
  const PlateEdges& e = plate.edges;
  int fixed = 0;
  int held = 0;
  for (const EdgeSupport edge : {e.left, e.right, e.bottom, e.top}) {
    fixed += edge == EdgeSupport::fixed ? 1 : 0;
    held += edge == EdgeSupport::held ? 1 : 0;
  }
  if (fixed == 0 && held < 2) {
    throw std::invalid_argument("nothing holds the wall in place");
  }
}

/// Bending energy 1/2 c'Kc of w = sum c_ij f_i(x) g_j(y), in units of D.
Eigen::MatrixXd bending(const Products& x, const Products& y, double poisson) {
  Eigen::MatrixXd k(terms * terms, terms * terms);
  for (Eigen::Index i = 0; i < terms; ++i) {
    for (Eigen::Index m = 0; m < terms; ++m) {
      k.block(i * terms, m * terms, terms, terms) =
          x.d2d2(i, m) * y.ff + x.ff(i, m) * y.d2d2 +
          poisson * (x.d2f(i, m) * y.d2f.transpose() + x.d2f(m, i) * y.d2f) +
          2 * (1 - poisson) * x.d1d1(i, m) * y.d1d1;
    }
  }
  return k;
}

}  // namespace

double plate_stiffness_n_mm(const RectangularPlate& plate) {
  const double t = plate.thickness_mm;
  return plate.modulus_mpa * t * t * t / (12 * (1 - plate.poisson * plate.poisson));
}

PlateGive plate_give(const RectangularPlate& plate, const LoadPatch& patch,
                     double row_stiffness_mpa_per_mm) {
  require_usable(plate, patch);
  const PlateEdges& e = plate.edges;
  const Part across{patch.x_low_mm / plate.width_mm, patch.x_high_mm / plate.width_mm};
  const Part up{patch.y_low_mm / plate.height_mm, patch.y_high_mm / plate.height_mm};
  const double area = (patch.x_high_mm - patch.x_low_mm) * (patch.y_high_mm - patch.y_low_mm);
  const Products x = products(plate.width_mm, {0, 1}, e.left, e.right);
  const Products y = products(plate.height_mm, {0, 1}, e.bottom, e.top);
  const Eigen::VectorXd load =  // mean of each shape over the patch
      outer(mean_over(across, e.left, e.right), mean_over(up, e.bottom, e.top));
  const Eigen::VectorXd middle =
      outer(basis_at(0.5, e.left, e.right).f.matrix(), basis_at(0.5, e.bottom, e.top).f.matrix());
  Eigen::MatrixXd stiffness = plate_stiffness_n_mm(plate) * bending(x, y, plate.poisson);
  if (row_stiffness_mpa_per_mm > 0) {
    const Eigen::MatrixXd on_x = products(plate.width_mm, across, e.left, e.right).ff;
    const Eigen::MatrixXd on_y = products(plate.height_mm, up, e.bottom, e.top).ff;
    stiffness += row_stiffness_mpa_per_mm * Eigen::kroneckerProduct(on_x, on_y);
  }
  // One newton of even pressure p0; where the row springs back, less than that arrives.
  const Eigen::VectorXd shape = stiffness.ldlt().solve(load);
  const double mean = load.dot(shape);
  const double arrives = 1 - row_stiffness_mpa_per_mm * area * mean;
  return {mean / arrives, middle.dot(shape) / arrives};
}

}  // namespace stackfit
