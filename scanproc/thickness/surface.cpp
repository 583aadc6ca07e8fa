#include "scanproc/thickness/surface.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "scanproc/thickness/cell_planes.h"
#include "scanproc/thickness/footprint.h"
#include "scanproc/thickness/local_variance.h"
#include "scanproc/thickness/noise_model.h"

namespace canewise {
namespace {

constexpr int kFewestBins = 8;
constexpr double kFewestPoints = 6;
constexpr double kOutlierLimit = 5.0;  // Robust standard deviations.

/// A piece of a row or of a column: a cell and so many to either side of it.
struct CellPiece {
  Eigen::Index row, column;
  Eigen::Index along = 0, across = 0;  ///< Rows before and behind; columns to the left and to the right.
};

/// Mean over the piece's measured cells; NaN if none is.
double mean_slope(const Field& slopes, const CellPiece& piece) {
  double sum = 0.0, count = 0.0;
  for (Eigen::Index r = std::max<Eigen::Index>(0, piece.row - piece.along);
       r <= std::min(slopes.rows() - 1, piece.row + piece.along); ++r) {
    for (Eigen::Index c = std::max<Eigen::Index>(0, piece.column - piece.across);
         c <= std::min(slopes.cols() - 1, piece.column + piece.across); ++c) {
      if (std::isnan(slopes(r, c))) continue;
      sum += slopes(r, c);
      count += 1.0;
    }
  }
  return count > 0.0 ? sum / count : std::nan("");
}

/// A plane through a curved surface lies below its crest. The bend is read from the slopes of the neighbours and put
/// back: half the second derivative times the footprint's variance, along and across. The slopes are taken two cells
/// away and averaged over seven, because the bend's own noise would otherwise cost more than the bend.
void correct_curvature(Surface& surface, const Grid& grid) {
  constexpr Eigen::Index away = 2, reach = 3;
  const double cell = grid.cell_mm;
  const double variance_along = square(0.5 * kFootprintAlong * cell) / 12.0,
               variance_across = square(0.5 * kFootprintAcross * cell) / 12.0;
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      if (std::isnan(surface.height_mm(r, c))) continue;
      double bend = 0.0;
      if (r >= away && r + away < grid.rows) {
        const double change = mean_slope(surface.slope_x, {.row = r + away, .column = c, .across = reach}) -
                              mean_slope(surface.slope_x, {.row = r - away, .column = c, .across = reach});
        if (!std::isnan(change)) bend += variance_along * change / (2.0 * away * cell);
      }
      if (c >= away && c + away < grid.columns) {
        const double change = mean_slope(surface.slope_y, {.row = r, .column = c + away, .along = reach}) -
                              mean_slope(surface.slope_y, {.row = r, .column = c - away, .along = reach});
        if (!std::isnan(change)) bend += variance_across * change / (2.0 * away * cell);
      }
      surface.height_mm(r, c) -= static_cast<float>(0.5 * bend);
    }
  }
}

/// A cell counts as measured if its own half-cell bins are not all empty and its footprint holds enough.
bool is_covered(const Bins& bins, const Footprint& footprint, Eigen::Index row, Eigen::Index column) {
  if (footprint.count < kFewestBins || footprint.points < kFewestPoints) return false;
  for (Eigen::Index r = 2 * row - 1; r <= 2 * row + 2; ++r) {
    for (Eigen::Index c = 2 * column; c <= 2 * column + 1; ++c) {
      if (r >= 0 && r < bins.rows && bins.at(r, c).n > 0) return true;
    }
  }
  return false;
}

/// Noise is estimated for points of usual weight; n points of mean weight w have 1/w times its variance.
double variance_factor(const Bins& bins, const Footprint& footprint) {
  if (bins.points.empty()) return 1.0;
  double points = 0.0, weight = 0.0;
  for (const auto& bin : footprint) {
    points += static_cast<double>(bins.points[static_cast<std::size_t>(bin.row * bins.columns + bin.column)]);
    weight += bin.moments->n;
  }
  return std::max(1.0, points / weight);
}

/// Robust standard deviation of single points about their cells' planes.
double point_noise_mm(const BinnedPoints& binned, const CellPlanes& cells) {
  const Grid& grid = cells.grid;
  std::vector<double> sizes;
  const Eigen::Index step = std::max<Eigen::Index>(1, binned.points_mm.cols() / 50000);
  for (Eigen::Index i = 0; i < binned.points_mm.cols(); i += step) {
    const Eigen::Vector3d p = binned.points_mm.col(i);
    const auto row = static_cast<Eigen::Index>(std::floor(p.x() / grid.cell_mm));
    const auto column = static_cast<Eigen::Index>(std::floor(p.y() / grid.cell_mm)) + grid.columns / 2;
    if (row < 0 || column < 0 || row >= grid.rows || column >= grid.columns || !cells.at(row, column).valid) continue;
    if (!binned.inner.holds(p.x(), p.y())) continue;
    sizes.push_back(std::abs(cells.residual_mm(p, row, column)));
  }
  constexpr std::size_t fewest = 100;
  if (sizes.size() < fewest) throw NotMeasurable({"thickness.few_points"});
  return std::max(1e-4, 1.4826 * median(std::move(sizes)));
}

/// The same sums without the points that lie far from their cells' robust planes.
Bins without_outliers(const BinnedPoints& binned, const CellPlanes& cells) {
  return sum_bins(binned, cells.grid, [&](const Eigen::Vector3d& p, Eigen::Index bin_row, Eigen::Index bin_column) {
    const Eigen::Index row = bin_row / 2, column = bin_column / 2;
    const RobustPlane& robust = cells.at(row, column);
    return robust.valid && std::abs(cells.residual_mm(p, row, column)) < robust.limit_mm;
  });
}

double sum_of_points(const Bins& bins) {
  double sum = 0.0;
  for (const auto& m : bins.moments) sum += m.n;
  return sum;
}

/// Least-squares planes over the footprints of all cells inside the outline.
Surface fit_cells(const BinnedPoints& binned, const Bins& clean, const NoiseModel& noise) {
  const Grid& grid = clean.grid;
  const FootprintCovariance covariance(noise);
  Surface surface;
  const float missing = std::numeric_limits<float>::quiet_NaN();
  for (Field* field : {&surface.height_mm, &surface.u_local_mm, &surface.slope_x, &surface.slope_y}) {
    *field = Field::Constant(grid.rows, grid.columns, missing);
  }
  run_parts([&](std::size_t part) {
    for (Eigen::Index row = static_cast<Eigen::Index>(part); row < grid.rows; row += kParallelParts) {
      for (Eigen::Index column = 0; column < grid.columns; ++column) {
        if (!binned.inner.holds(grid.x_mm(row), grid.y_mm(column))) continue;
        const Footprint footprint = footprint_of(clean, row, column);
        if (!is_covered(clean, footprint, row, column)) continue;
        PlaneMoments sums;
        for (const auto& bin : footprint) sums.add_shifted(*bin.moments, bin.dx_mm, bin.dy_mm);
        const LocalPlane plane = sums.fit();
        surface.height_mm(row, column) = static_cast<float>(plane.height);
        surface.slope_x(row, column) = static_cast<float>(plane.slope_x);
        surface.slope_y(row, column) = static_cast<float>(plane.slope_y);
        surface.u_local_mm(row, column) =
            static_cast<float>(std::sqrt(variance_factor(clean, footprint) * local_variance(footprint, covariance)));
      }
    }
  });
  return surface;
}

LocalNoise noise_of(const Surface& surface, const Bins& clean, const NoiseModel& noise) {
  Eigen::Index filled_bins = 0, covered_cells = 0;
  for (Eigen::Index r = 0; r < clean.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < clean.grid.columns; ++c) {
      if (std::isnan(surface.height_mm(r, c))) continue;
      ++covered_cells;
      for (Eigen::Index k = 0; k < 4; ++k) filled_bins += clean.at(2 * r + k / 2, 2 * c + k % 2).n > 0;
    }
  }
  if (covered_cells == 0) throw NotMeasurable({"thickness.no_cell"});
  LocalNoise local;
  local.bin_sd_mm = std::sqrt(std::max(0.0, noise.covariance(0, 0)));
  local.filled_share = static_cast<double>(filled_bins) / (4.0 * static_cast<double>(covered_cells));
  local.covariance_sum_mm2 = noise.sum();
  local.far_sum_mm2 = noise.far_sum_mm2;
  local.far_reach_mm = noise.far_reach_mm;
  return local;
}

}  // namespace

Surface measure_surface(const BinnedPoints& points, const Grid& grid) {
  // First look: robust planes over all points, against which outliers show.
  const Bins all = sum_bins(points, grid, [](const Eigen::Vector3d&, Eigen::Index, Eigen::Index) { return true; });
  CellPlanes cells = cell_planes(all);
  const double point_noise = point_noise_mm(points, cells);
  for (auto& robust : cells.planes) robust.limit_mm = kOutlierLimit * std::hypot(point_noise, robust.scatter_mm);
  // Second look, without the outliers.
  const Bins clean = without_outliers(points, cells);
  const NoiseModel noise = estimate_noise(clean);
  Surface surface = fit_cells(points, clean, noise);
  correct_curvature(surface, grid);
  surface.noise = noise_of(surface, clean, noise);
  surface.point_noise_mm = point_noise;
  const double before = sum_of_points(all);
  surface.outlier_share = before > 0.0 ? 1.0 - sum_of_points(clean) / before : 0.0;
  return surface;
}

}  // namespace canewise
