// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dome_reading.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "geometry/flatness.hpp"
#include "solver/dome_fit.hpp"

namespace stackfit {
namespace {

/// One face and, where it was measured by points, its plane at the middle.
struct Measured {
  FaceDome face;
  double offset_mm = 0;
};

Measured by_points(const Resolution& r, const std::vector<FacePoint>& points) {
  const FaceSize& size = r.build.cell.face;
  const Assumption& exponent = assumption(Assumed::dome_exponent);
  const DomeFitResult result =
      fit_dome(points, {size.width_mm / 2, size.height_mm / 2},
               {r.assumptions[Assumed::dome_exponent], {exponent.low, exponent.high}});
  if (!result.fit) {
    throw std::invalid_argument("points that do not tell a dome");
  }
  const DomeFit& fit = *result.fit;
  Measured out;
  out.offset_mm = fit.offset_mm;
  out.face.by = DomeBy::points;
  out.face.dome_mm = fit.face_dome_mm;
  out.face.error_mm = fit.face_dome_error_mm;
  out.face.exponent = fit.exponent;
  out.face.exponent_error = fit.exponent_error;
  out.face.exponent_assumed = !fit.exponent_is_fitted();
  out.face.exponent_from = fit.exponent_from;
  out.face.residual_mm = fit.residual_mm;
  out.face.points_used = static_cast<int>(fit.used);
  for (const OutlyingPoint& off : fit.outliers) {
    out.face.outliers.push_back(
        {static_cast<int>(off.index) + 1, points[off.index], off.residual_mm});
  }
  return out;
}

std::optional<Measured> measure(const Resolution& r, const CellReading& reading, bool front) {
  const std::vector<FacePoint> points = outward_points(reading.points, front);
  const auto& gap = front ? reading.straightedge.front_mm : reading.straightedge.back_mm;
  std::optional<Measured> out;
  if (!points.empty()) {
    out = by_points(r, points);
  } else if (gap) {
    out.emplace();
    out->face.by = DomeBy::straightedge;
    out->face.dome_mm = *gap;
  }
  if (out) {
    out->face.front = front;
  }
  return out;
}

/// One exponent for both faces: the better known weighs more.
void take_exponent(const Resolution& r, CellDome& dome) {
  double sum = 0;
  double weights = 0;
  for (const FaceDome& face : dome.faces) {
    if (face.by == DomeBy::points && !face.exponent_assumed) {
      // Readings without noise know it exactly; so do two such faces.
      constexpr double least_error = 1e-6;
      const double error = std::max(face.exponent_error, least_error);
      sum += face.exponent / (error * error);
      weights += 1 / (error * error);
    }
  }
  dome.exponent_assumed = !(weights > 0);
  dome.exponent = weights > 0 ? sum / weights : r.assumptions[Assumed::dome_exponent];
}

/// Standard error of both faces together; a face taken from the other doubles that one's.
std::optional<double> error_of(const CellDome& dome) {
  double squares = 0;
  for (const FaceDome& face : dome.faces) {
    if (face.by != DomeBy::points) {
      return std::nullopt;
    }
    squares += face.error_mm * face.error_mm;
  }
  return (dome.one_face ? 2 : 1) * std::sqrt(squares);
}

/// A face's points as they were given, without those that are off.
std::vector<geometry::SpacePoint> points_used(const FacePoints& points, const FaceDome& face) {
  std::vector<geometry::SpacePoint> used;
  int number = 0;
  for (const FacePoint& p : face.front ? points.front : points.back) {
    ++number;
    if (std::none_of(face.outliers.begin(), face.outliers.end(),
                     [&](const OutlyingReading& off) { return off.number == number; })) {
      used.push_back({p.x_mm, p.y_mm, p.z_mm});
    }
  }
  return used;
}

void warn_of_outliers(const Resolution& r, const std::string& id, const FaceDome& face) {
  for (const OutlyingReading& off : face.outliers) {
    r.findings.warn({WarningCode::dome_point_off, id + (face.front ? ", front" : ", back"), -1,
                     off.residual_mm, static_cast<double>(off.number), face.residual_mm});
  }
}

}  // namespace

std::vector<FacePoint> outward_points(const FacePoints& points, bool front) {
  std::vector<FacePoint> out = front ? points.front : points.back;
  if (points.common_z && !front) {
    for (FacePoint& p : out) {
      p = {-p.x_mm, p.y_mm, -p.z_mm};
    }
  }
  return out;
}

double dome_beyond_edge_mm(const CellDome& dome) {
  double sum = 0;
  for (const FaceDome& face : dome.faces) {
    sum += std::max(0.0, face.dome_mm);
  }
  return (dome.one_face ? 2 : 1) * sum;
}

std::optional<MeasuredDome> measured_dome(const Resolution& r, const std::string& id,
                                          const CellReading& reading) {
  const std::optional<Measured> front = measure(r, reading, true);
  const std::optional<Measured> back = measure(r, reading, false);
  if (!front && !back) {
    return std::nullopt;
  }
  MeasuredDome out;
  out.dome.one_face = !front || !back;
  for (const std::optional<Measured>& side : {front, back}) {
    if (side) {
      out.dome.faces.push_back(side->face);
      out.dome.by = std::max(out.dome.by, side->face.by);
      out.height_mm += (out.dome.one_face ? 2 : 1) * side->face.dome_mm;
      warn_of_outliers(r, id, side->face);
    }
  }
  take_exponent(r, out.dome);
  out.dome.error_mm = error_of(out.dome);
  if (reading.points.common_z && front && back) {
    out.edge_mm = front->offset_mm + back->offset_mm;
  }
  return out;
}

CellDome with_flatness(CellDome dome, const FacePoints& points) {
  std::vector<std::vector<geometry::SpacePoint>> faces;
  for (FaceDome& face : dome.faces) {
    faces.push_back(points_used(points, face));
    face.flatness_mm = geometry::flatness_mm(faces.back());
  }
  if (points.common_z && faces.size() == 2) {
    dome.boards_mm = geometry::envelope_thickness_mm(faces.front(), faces.back());
  }
  return dome;
}

}  // namespace stackfit
