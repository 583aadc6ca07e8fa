#pragma once

#include <cmath>

namespace canewise {

/// z = height + slope_x * x + slope_y * y, about the origin that the moments were taken from.
struct LocalPlane {
  double height = 0.0;
  double slope_x = 0.0;
  double slope_y = 0.0;
};

/// Sums from which a plane is fitted, so that no point needs to be kept. Coordinates must be taken from a nearby
/// origin: the normal equations then lose no digits that matter.
struct PlaneMoments {
  double n = 0, x = 0, y = 0, z = 0, xx = 0, xy = 0, yy = 0, xz = 0, yz = 0, zz = 0;

  void add(double px, double py, double pz) {
    n += 1;
    x += px;
    y += py;
    z += pz;
    xx += px * px;
    xy += px * py;
    yy += py * py;
    xz += px * pz;
    yz += py * pz;
    zz += pz * pz;
  }

  /// The same for a point that counts `weight` times.
  void add(double px, double py, double pz, double weight) {
    n += weight;
    x += weight * px;
    y += weight * py;
    z += weight * pz;
    xx += weight * px * px;
    xy += weight * px * py;
    yy += weight * py * py;
    xz += weight * px * pz;
    yz += weight * py * pz;
    zz += weight * pz * pz;
  }

  /// Adds another cell's sums, whose origin lies at (dx, dy) in this one's coordinates.
  void add_shifted(const PlaneMoments& o, double dx, double dy) {
    n += o.n;
    x += o.x + o.n * dx;
    y += o.y + o.n * dy;
    z += o.z;
    xx += o.xx + 2 * dx * o.x + o.n * dx * dx;
    xy += o.xy + dx * o.y + dy * o.x + o.n * dx * dy;
    yy += o.yy + 2 * dy * o.y + o.n * dy * dy;
    xz += o.xz + dx * o.z;
    yz += o.yz + dy * o.z;
    zz += o.zz;
  }

  /// Least-squares plane. Where the points do not fix a slope (a line of points, or a single one) the slope is the
  /// smallest that fits, through a ridge of 1e-9 of the trace.
  [[nodiscard]] LocalPlane fit() const {
    if (!(n > 0)) return {std::nan(""), 0.0, 0.0};
    const double mx = x / n, my = y / n, mz = z / n;
    const double cxx = xx - n * mx * mx, cxy = xy - n * mx * my, cyy = yy - n * my * my;
    const double cxz = xz - n * mx * mz, cyz = yz - n * my * mz;
    const double ridge = 1e-9 * (cxx + cyy) + 1e-150;  // Its square is no nought either.
    const double a = cxx + ridge, b = cyy + ridge;
    const double determinant = a * b - cxy * cxy;
    const double slope_x = (cxz * b - cyz * cxy) / determinant;
    const double slope_y = (cyz * a - cxz * cxy) / determinant;
    return {mz - slope_x * mx - slope_y * my, slope_x, slope_y};
  }

  /// Sum of squared residuals about `plane`.
  [[nodiscard]] double residual_sum(const LocalPlane& p) const {
    return zz + p.height * p.height * n + p.slope_x * p.slope_x * xx + p.slope_y * p.slope_y * yy -
           2 * (p.height * z + p.slope_x * xz + p.slope_y * yz) +
           2 * (p.height * (p.slope_x * x + p.slope_y * y) + p.slope_x * p.slope_y * xy);
  }
};

}  // namespace canewise
