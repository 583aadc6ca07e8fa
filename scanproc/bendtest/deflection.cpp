#include "scanproc/bendtest/deflection.h"

#include <Eigen/Dense>
#include <cmath>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"

namespace canewise {

Eigen::Vector2d slope_over(const ThicknessMap& map, Eigen::Index row, Eigen::Index column, Eigen::Index cells) {
  const auto thickness = [&](Eigen::Index r, Eigen::Index c) { return static_cast<double>(map.thickness_mm(r, c)); };
  const Eigen::Index last = cells - 1, half = cells / 2;
  return Eigen::Vector2d(thickness(row + last, column + half) - thickness(row, column + half),
                         thickness(row + half, column + last) - thickness(row + half, column)) /
         (static_cast<double>(last) * map.grid.cell_mm);
}

Deflection deflection_between(const BenchView& free, const BenchView& loaded, const Result& reed) {
  Deflection d;
  d.grid = reed.map.grid;
  d.down_mm = free.surface.height_mm - loaded.surface.height_mm;
  d.u_mm = (free.surface.u_local_mm.square() + loaded.surface.u_local_mm.square()).sqrt();

  // Means over squares: neighbouring cells share noise, squares hardly do.
  const double clamp_end = std::max(free.clamp_to_mm, loaded.clamp_to_mm) + 1.0, last = reed.outline.length_mm - 1.5;
  constexpr double square_mm = 1.5;
  const auto cells = std::max<Eigen::Index>(2, std::lround(square_mm / d.grid.cell_mm));
  std::vector<Eigen::Vector3d> squares;
  std::vector<Eigen::Vector2d> slopes;
  for (Eigen::Index r = 0; r + cells <= d.grid.rows; r += cells) {
    if (d.grid.x_mm(r) < clamp_end || d.grid.x_mm(r + cells - 1) > last) continue;
    for (Eigen::Index c = 0; c + cells <= d.grid.columns; c += cells) {
      const double mean = static_cast<double>(d.down_mm.block(r, c, cells, cells).mean());  // NaN if one is missing.
      const Eigen::Vector2d slope = slope_over(reed.map, r, c, cells);
      if (!std::isfinite(mean) || !slope.allFinite()) continue;
      squares.emplace_back(0.5 * (d.grid.x_mm(r) + d.grid.x_mm(r + cells - 1)),
                           0.5 * (d.grid.y_mm(c) + d.grid.y_mm(c + cells - 1)), mean);
      slopes.push_back(slope);
    }
  }
  constexpr std::size_t fewest = 12;
  if (squares.size() < fewest) {
    throw NotMeasurable(
        {"bendtest.little_stock", {{"seen", mm(std::max(0.0, last - clamp_end))}, {"needed", mm(kStockSeen_mm)}}});
  }
  Eigen::MatrixXd design(static_cast<Eigen::Index>(squares.size()), 3);
  Eigen::VectorXd down(design.rows());
  for (Eigen::Index k = 0; k < design.rows(); ++k) {
    const Eigen::Vector3d& s = squares[static_cast<std::size_t>(k)];
    design.row(k) << 1.0, s.x(), s.y();
    down(k) = s.z();
  }
  const LinearFit plane = fit_linear_robust(design, down, 1e-5);
  d.laid = plane.covariance;
  Eigen::MatrixXd by_slide(design.rows(), 2);
  for (Eigen::Index k = 0; k < design.rows(); ++k) by_slide.row(k) = slopes[static_cast<std::size_t>(k)];
  const Eigen::MatrixXd planes = design.colPivHouseholderQr().solve(by_slide);
  d.by_slide_along = planes.col(0);
  d.by_slide_across = planes.col(1);
  for (Eigen::Index c = 0; c < d.grid.columns; ++c)
    for (Eigen::Index r = 0; r < d.grid.rows; ++r)
      d.down_mm(r, c) -= static_cast<float>(plane.coefficients(0) + plane.coefficients(1) * d.grid.x_mm(r) +
                                            plane.coefficients(2) * d.grid.y_mm(c));
  // Both frames lie on the stock as well as the first look could tell; the plane is what it missed.
  const double middle = 0.5 * (clamp_end + last);
  d.stock_turned_mm = (loaded.block_mm - free.block_mm) + plane.coefficients(0) + plane.coefficients(1) * middle;
  // Like with like: the block's edge where both scans show it, else the bar.
  const bool edges = free.edge_was_seen && loaded.edge_was_seen;
  d.slid_mm = edges ? free.edge_mm - loaded.edge_mm : free.clamp_from_mm - loaded.clamp_from_mm;
  constexpr double u_bar_mm = 0.1;  // Rows of the map.
  d.u_slid_mm = std::sqrt((edges ? square(free.u_edge_mm) + square(loaded.u_edge_mm) : 2.0 * square(u_bar_mm)) +
                          square(free.place.u_x_mm) + square(loaded.place.u_x_mm));
  d.u_along_mm = std::hypot(free.place.u_x_mm, loaded.place.u_x_mm);
  d.u_across_mm = std::hypot(free.place.u_y_mm, loaded.place.u_y_mm);
  const Eigen::Isometry3d moved = free.place.reed_from_scan * loaded.place.reed_from_scan.inverse();
  constexpr double still_mm = 0.5, still_rad = 0.01;
  d.same_place = moved.translation().norm() < still_mm && Eigen::AngleAxisd(moved.linear()).angle() < still_rad;
  return d;
}

}  // namespace canewise
