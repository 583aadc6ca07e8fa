#include "scanproc/thickness/measure_thickness.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/thickness/bins.h"
#include "scanproc/thickness/components.h"
#include "scanproc/thickness/noise_model.h"
#include "scanproc/words/decimals.h"

namespace canewise {
namespace {

// Footprint of a cell, in half-cell bins: three cells along, two across, centred on the cell.
constexpr Eigen::Index kAlong = 6, kAcross = 4;
constexpr int kFewestBins = 8;
constexpr double kFewestPoints = 6;
constexpr double kOutlierLimit = 5.0;  // Robust standard deviations.

struct FootprintBin {
  const PlaneMoments* moments;
  double dx_mm, dy_mm;       ///< Bin centre from the cell's centre.
  Eigen::Index row, column;  ///< Of the bin.
};

struct Footprint {
  std::array<FootprintBin, kAlong * kAcross> bins;
  std::size_t count = 0;
  double points = 0.0;
  [[nodiscard]] auto begin() const { return bins.begin(); }
  [[nodiscard]] auto end() const { return bins.begin() + static_cast<std::ptrdiff_t>(count); }
};

Footprint footprint_of(const Bins& bins, Eigen::Index row, Eigen::Index column) {
  Footprint footprint;
  const double x = bins.grid.x_mm(row), y = bins.grid.y_mm(column);
  const Eigen::Index row0 = 2 * row + 1 - kAlong / 2, column0 = 2 * column + 1 - kAcross / 2;
  for (Eigen::Index r = std::max<Eigen::Index>(0, row0); r < std::min(bins.rows, row0 + kAlong); ++r) {
    for (Eigen::Index c = std::max<Eigen::Index>(0, column0); c < std::min(bins.columns, column0 + kAcross); ++c) {
      const PlaneMoments& m = bins.at(r, c);
      if (!(m.n > 0)) continue;
      footprint.bins.at(footprint.count++) = {&m, bins.x_mm(r) - x, bins.y_mm(c) - y, r, c};
      footprint.points += m.n;
    }
  }
  return footprint;
}

double choose_cell_mm(double spacing_mm) {
  // A footprint of 6 cell^2 must hold about ten points.
  for (const double cell : {0.25, 0.5, 1.0}) {
    if (6.0 * cell * cell >= 10.0 * spacing_mm * spacing_mm) return cell;
  }
  constexpr double coarsest_mm = 0.7;
  throw NotMeasurable({"thickness.coarse", {{"spacing", mm(spacing_mm, 2)}, {"coarsest", mm(coarsest_mm, 1)}}});
}

/// How much each point counts: less where its scan says that it is unsure. Empty where the scan does not say.
std::vector<float> weights_of(const Eigen::VectorXf& u_mm) {
  std::vector<float> weights;
  if (u_mm.size() == 0) return weights;
  const Eigen::Index step = std::max<Eigen::Index>(1, u_mm.size() / 50000);
  std::vector<double> sizes;
  for (Eigen::Index i = 0; i < u_mm.size(); i += step) sizes.push_back(u_mm(i));
  const auto usual = static_cast<float>(std::max(1e-6, median(std::move(sizes))));
  constexpr float least = 1e-3F;
  weights.reserve(static_cast<std::size_t>(u_mm.size()));
  for (Eigen::Index i = 0; i < u_mm.size(); ++i) {
    const float ratio = usual / std::max(u_mm(i), 1e-9F);
    weights.push_back(std::clamp(ratio * ratio, least, 1.0F));
  }
  return weights;
}

/// The points by bands of the bins' rows, one band a part, each in the points' order: so every part sums into bins of
/// its own, and the sums do not depend on the number of threads.
struct RowBands {
  using Indices = std::vector<std::uint32_t>;
  std::array<std::array<Indices, kParallelParts>, kParallelParts> found;  ///< By the part that found them, then band.
};

RowBands bands_of(const Eigen::Matrix3Xd& points, const Bins& bins) {
  RowBands bands;
  const double inverse = 1.0 / bins.size_mm(), rows = static_cast<double>(bins.rows);
  parallel_parts(static_cast<std::size_t>(points.cols()), [&](std::size_t part, std::size_t begin, std::size_t end) {
    auto& found = bands.found.at(part);
    for (auto& indices : found) indices.reserve((end - begin) / kParallelParts + (end - begin) / 64);
    for (std::size_t i = begin; i < end; ++i) {
      const double row = std::floor(points(0, static_cast<Eigen::Index>(i)) * inverse);
      if (!(row >= 0.0 && row < rows)) continue;
      const auto band = static_cast<std::size_t>(row) * kParallelParts / static_cast<std::size_t>(bins.rows);
      found.at(band).push_back(static_cast<std::uint32_t>(i));
    }
  });
  return bands;
}

template <typename Use>
void add_points(const Eigen::Matrix3Xd& points, const RowBands& bands, const std::vector<float>& weights,
                const Outline& outline, double margin_mm, Bins& bins, const Use& use) {
  if (!weights.empty()) bins.points.assign(bins.moments.size(), 0.0F);
  const double inverse = 1.0 / bins.size_mm();
  const auto add = [&](std::uint32_t index) {
    const auto i = static_cast<Eigen::Index>(index);
    const double x = points(0, i), y = points(1, i), z = points(2, i);
    const double column = std::floor(y * inverse) + 0.5 * static_cast<double>(bins.columns);
    if (!(column >= 0.0 && column < static_cast<double>(bins.columns))) return;
    const auto r = static_cast<Eigen::Index>(std::floor(x * inverse)), c = static_cast<Eigen::Index>(column);
    if (!use(x, y, z, r, c) || !outline.holds(x, y, margin_mm)) return;
    const auto bin = static_cast<std::size_t>(r * bins.columns + c);
    if (weights.empty()) {
      bins.moments[bin].add(x - bins.x_mm(r), y - bins.y_mm(c), z);
    } else {
      bins.moments[bin].add(x - bins.x_mm(r), y - bins.y_mm(c), z, static_cast<double>(weights[index]));
      bins.points[bin] += 1.0F;
    }
  };
  run_parts([&](std::size_t band) {
    for (const auto& found : bands.found) {
      for (const std::uint32_t index : found.at(band)) add(index);
    }
  });
}

/// Plane that few wild bins cannot pull, with the scatter of bins about it.
struct RobustPlane {
  LocalPlane plane;
  double scatter_mm = 0.0;
  double limit_mm = 0.0;  ///< Points farther from the plane are outliers.
  bool valid = false;
};

RobustPlane robust_plane(const Footprint& footprint) {
  RobustPlane robust;
  if (footprint.count < 4) return robust;
  std::array<double, kAlong * kAcross> weight{}, deviations{}, sorted{};
  weight.fill(1.0);
  constexpr int iterations = 6;
  for (int iteration = 0; iteration < iterations; ++iteration) {
    PlaneMoments sums;
    std::size_t k = 0;
    for (const auto& bin : footprint) {
      const PlaneMoments& m = *bin.moments;
      const double w = weight.at(k++) * std::min(m.n, 4.0);
      const double x = bin.dx_mm + m.x / m.n, y = bin.dy_mm + m.y / m.n, z = m.z / m.n;
      sums.n += w, sums.x += w * x, sums.y += w * y, sums.z += w * z;
      sums.xx += w * x * x, sums.xy += w * x * y, sums.yy += w * y * y, sums.xz += w * x * z, sums.yz += w * y * z;
    }
    robust.plane = sums.fit();
    k = 0;
    double largest = 0.0;
    for (const auto& bin : footprint) {
      const PlaneMoments& m = *bin.moments;
      deviations.at(k) = std::abs(m.z / m.n - robust.plane.height - robust.plane.slope_x * (bin.dx_mm + m.x / m.n) -
                                  robust.plane.slope_y * (bin.dy_mm + m.y / m.n));
      largest = std::max(largest, deviations.at(k++));
    }
    sorted = deviations;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(footprint.count / 2);
    std::nth_element(sorted.begin(), middle, sorted.begin() + static_cast<std::ptrdiff_t>(footprint.count));
    robust.scatter_mm = std::max(1e-4, 1.4826 * *middle);
    constexpr double nothing_wild = 4.0;
    if (largest < nothing_wild * robust.scatter_mm) break;
    for (k = 0; k < footprint.count; ++k) {
      const double s = deviations.at(k) / robust.scatter_mm;
      weight.at(k) = iteration < 3 ? 1.0 / std::max(s, 0.3) : s < 6.0 ? square(1.0 - square(s / 6.0)) : 0.0;
    }
  }
  robust.valid = true;
  return robust;
}

/// Weights of the bins' means in the least-squares plane's value at the cell's centre.
void estimator_weights(const Footprint& footprint, std::array<double, kAlong * kAcross>& weights) {
  double n = 0, x = 0, y = 0;
  for (const auto& bin : footprint) {
    const PlaneMoments& m = *bin.moments;
    n += m.n, x += m.x + m.n * bin.dx_mm, y += m.y + m.n * bin.dy_mm;
  }
  const double mx = x / n, my = y / n;
  double sxx = 1e-12, sxy = 0, syy = 1e-12;
  for (const auto& bin : footprint) {
    const PlaneMoments& m = *bin.moments;
    const double dx = bin.dx_mm + m.x / m.n - mx, dy = bin.dy_mm + m.y / m.n - my;
    sxx += m.n * dx * dx, sxy += m.n * dx * dy, syy += m.n * dy * dy;
  }
  const double determinant = sxx * syy - sxy * sxy;
  // Value at the centre = mean - slope . (mean position); each slope is linear in the bins' means.
  const double gx = -(mx * syy - my * sxy) / determinant, gy = -(my * sxx - mx * sxy) / determinant;
  std::size_t k = 0;
  for (const auto& bin : footprint) {
    const PlaneMoments& m = *bin.moments;
    const double dx = bin.dx_mm + m.x / m.n - mx, dy = bin.dy_mm + m.y / m.n - my;
    weights.at(k++) = m.n * (1.0 / n + gx * dx + gy * dy);
  }
}

/// The noise model's covariances at the lags that occur within a footprint, for quick reading.
class FootprintCovariance {
 public:
  explicit FootprintCovariance(const NoiseModel& noise) {
    for (Eigen::Index dx = 0; dx < kAlong; ++dx) {
      for (Eigen::Index dy = 1 - kAcross; dy < kAcross; ++dy) values_.at(index(dx, dy)) = noise.covariance(dx, dy);
    }
  }
  /// dx >= 0.
  [[nodiscard]] double at(Eigen::Index dx, Eigen::Index dy) const { return values_[index(dx, dy)]; }

 private:
  static std::size_t index(Eigen::Index dx, Eigen::Index dy) {
    return static_cast<std::size_t>(dx * (2 * kAcross - 1) + dy + kAcross - 1);
  }
  static constexpr auto kLags = kAlong * (2 * kAcross - 1);
  std::array<double, kLags> values_{};
};

double local_variance(const Footprint& footprint, const FootprintCovariance& covariance) {
  std::array<double, kAlong * kAcross> weights{};
  estimator_weights(footprint, weights);
  double variance = 0.0, independent = 0.0;
  for (std::size_t i = 0; i < footprint.count; ++i) {
    const FootprintBin& a = footprint.bins[i];
    independent += square(weights[i]) * covariance.at(0, 0);
    // Bins are listed row by row: the later row is never lower.
    for (std::size_t j = i + 1; j < footprint.count; ++j) {
      const FootprintBin& b = footprint.bins[j];
      variance += 2.0 * weights[i] * weights[j] * covariance.at(b.row - a.row, b.column - a.column);
    }
  }
  return std::max(independent + variance, 0.3 * independent);
}

/// Heights of one side of the reed over the grid.
struct Surface {
  Field height_mm, u_local_mm, slope_x, slope_y;  ///< NaN = not measured.
  LocalNoise noise;
  double point_noise_mm = 0.0, outlier_share = 0.0;
};

/// Mean over the measured cells of a column piece (or row piece) beside a cell; NaN if none is.
double mean_slope(const Field& slopes, Eigen::Index row, Eigen::Index column, Eigen::Index along_reach,
                  Eigen::Index across_reach) {
  double sum = 0.0, count = 0.0;
  for (Eigen::Index r = std::max<Eigen::Index>(0, row - along_reach);
       r <= std::min(slopes.rows() - 1, row + along_reach); ++r) {
    for (Eigen::Index c = std::max<Eigen::Index>(0, column - across_reach);
         c <= std::min(slopes.cols() - 1, column + across_reach); ++c) {
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
  const double variance_along = square(0.5 * kAlong * cell) / 12.0,
               variance_across = square(0.5 * kAcross * cell) / 12.0;
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      if (std::isnan(surface.height_mm(r, c))) continue;
      double bend = 0.0;
      if (r >= away && r + away < grid.rows) {
        const double change =
            mean_slope(surface.slope_x, r + away, c, 0, reach) - mean_slope(surface.slope_x, r - away, c, 0, reach);
        if (!std::isnan(change)) bend += variance_along * change / (2.0 * away * cell);
      }
      if (c >= away && c + away < grid.columns) {
        const double change =
            mean_slope(surface.slope_y, r, c + away, reach, 0) - mean_slope(surface.slope_y, r, c - away, reach, 0);
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

Surface measure_surface(const Eigen::Matrix3Xd& points, const Eigen::VectorXf& u_mm, const Outline& outline,
                        const Grid& grid, double margin_mm) {
  Surface surface;
  const std::vector<float> weights = weights_of(u_mm);
  // First look: robust planes over all points, against which outliers show.
  Bins all(grid);
  const RowBands bands = bands_of(points, all);
  add_points(points, bands, weights, outline, margin_mm, all,
             [](double, double, double, Eigen::Index, Eigen::Index) { return true; });
  std::vector<RobustPlane> planes(static_cast<std::size_t>(grid.rows * grid.columns));
  const auto plane_at = [&](Eigen::Index row, Eigen::Index column) -> RobustPlane& {
    return planes[static_cast<std::size_t>(row * grid.columns + column)];
  };
  run_parts([&](std::size_t part) {
    for (Eigen::Index row = static_cast<Eigen::Index>(part); row < grid.rows; row += kParallelParts) {
      for (Eigen::Index column = 0; column < grid.columns; ++column) {
        plane_at(row, column) = robust_plane(footprint_of(all, row, column));
      }
    }
  });
  const auto residual = [&](double x, double y, double z, Eigen::Index row, Eigen::Index column) {
    const RobustPlane& robust = plane_at(row, column);
    return z - robust.plane.height - robust.plane.slope_x * (x - grid.x_mm(row)) -
           robust.plane.slope_y * (y - grid.y_mm(column));
  };
  std::vector<double> sizes;
  const Eigen::Index step = std::max<Eigen::Index>(1, points.cols() / 50000);
  for (Eigen::Index i = 0; i < points.cols(); i += step) {
    const double x = points(0, i), y = points(1, i);
    const auto row = static_cast<Eigen::Index>(std::floor(x / grid.cell_mm));
    const auto column = static_cast<Eigen::Index>(std::floor(y / grid.cell_mm)) + grid.columns / 2;
    if (row < 0 || column < 0 || row >= grid.rows || column >= grid.columns || !plane_at(row, column).valid) continue;
    if (!outline.holds(x, y, margin_mm)) continue;
    sizes.push_back(std::abs(residual(x, y, points(2, i), row, column)));
  }
  if (sizes.size() < 100) {
    throw NotMeasurable({"thickness.few_points"});
  }
  surface.point_noise_mm = std::max(1e-4, 1.4826 * median(std::move(sizes)));

  // Second look: the same sums without the outliers.
  for (auto& robust : planes) robust.limit_mm = kOutlierLimit * std::hypot(surface.point_noise_mm, robust.scatter_mm);
  Bins clean(grid);
  add_points(points, bands, weights, outline, margin_mm, clean,
             [&](double x, double y, double z, Eigen::Index bin_row, Eigen::Index bin_column) {
               const Eigen::Index row = bin_row / 2, column = bin_column / 2;
               const RobustPlane& robust = plane_at(row, column);
               return robust.valid && std::abs(residual(x, y, z, row, column)) < robust.limit_mm;
             });
  double before = 0.0, after = 0.0;
  for (const auto& m : all.moments) before += m.n;
  for (const auto& m : clean.moments) after += m.n;
  surface.outlier_share = before > 0.0 ? 1.0 - after / before : 0.0;

  const NoiseModel noise = estimate_noise(clean);
  const FootprintCovariance covariance(noise);
  const float missing = std::numeric_limits<float>::quiet_NaN();
  for (Field* field : {&surface.height_mm, &surface.u_local_mm, &surface.slope_x, &surface.slope_y}) {
    *field = Field::Constant(grid.rows, grid.columns, missing);
  }
  run_parts([&](std::size_t part) {
    for (Eigen::Index row = static_cast<Eigen::Index>(part); row < grid.rows; row += kParallelParts) {
      for (Eigen::Index column = 0; column < grid.columns; ++column) {
        if (!outline.holds(grid.x_mm(row), grid.y_mm(column), margin_mm)) continue;
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
  correct_curvature(surface, grid);

  Eigen::Index filled_bins = 0, covered_cells = 0;
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      if (std::isnan(surface.height_mm(r, c))) continue;
      ++covered_cells;
      for (Eigen::Index k = 0; k < 4; ++k) filled_bins += clean.at(2 * r + k / 2, 2 * c + k % 2).n > 0;
    }
  }
  if (covered_cells == 0) throw NotMeasurable({"thickness.no_cell"});
  surface.noise.bin_sd_mm = std::sqrt(std::max(0.0, noise.covariance(0, 0)));
  surface.noise.filled_share = static_cast<double>(filled_bins) / (4.0 * static_cast<double>(covered_cells));
  surface.noise.covariance_sum_mm2 = noise.sum();
  surface.noise.far_sum_mm2 = noise.far_sum_mm2;
  surface.noise.far_reach_mm = noise.far_reach_mm;
  return surface;
}

/// The cane between the top and the table, each measured by itself.
void take_table_away(Surface& top, const Surface& table) {
  top.height_mm -= table.height_mm;  // NaN where either is missing.
  top.slope_x -= table.slope_x;
  top.slope_y -= table.slope_y;
  top.u_local_mm = (top.u_local_mm.square() + table.u_local_mm.square()).sqrt();
  const float missing = std::numeric_limits<float>::quiet_NaN();
  for (Field* field : {&top.u_local_mm, &top.slope_x, &top.slope_y})
    *field = top.height_mm.isNaN().select(missing, *field);
  top.noise.bin_sd_mm = std::hypot(top.noise.bin_sd_mm, table.noise.bin_sd_mm);
  // Both sums are over bins that hold points, of which the two sides may have unlike shares.
  top.noise.covariance_sum_mm2 += table.noise.covariance_sum_mm2 * top.noise.filled_share / table.noise.filled_share;
  top.noise.far_sum_mm2 += table.noise.far_sum_mm2 * top.noise.filled_share / table.noise.filled_share;
  top.noise.far_reach_mm = std::max(top.noise.far_reach_mm, table.noise.far_reach_mm);
  top.point_noise_mm = std::hypot(top.point_noise_mm, table.point_noise_mm);
  top.outlier_share = std::max(top.outlier_share, table.outlier_share);
}

/// The slow error of the scanner: what the plate beside the reed shows of it, at least the prior; what is assumed of
/// scans of this kind where no plate shows it.
void add_smooth(const Aligned& aligned, const Priors& priors, ThicknessMap& map) {
  map.noise.smooth_mm = mm_from_um(priors.smooth_um);
  map.noise.smooth_length_mm = priors.smooth_length_mm;
  // The plate shows it beside the reed, not on it, in a few of its waves, and they may run in stripes.
  constexpr double elsewhere = 1.25;
  // By what is left of either in the mean over a zone, some three millimetres wide.
  constexpr double zone_mm = 3.0;
  const auto in_zone = [](double sd_mm, double length_mm) { return sd_mm * length_mm / (length_mm + zone_mm); };
  if (aligned.slow.seen && in_zone(elsewhere * aligned.slow.sd_mm, aligned.slow.length_mm) >
                               in_zone(map.noise.smooth_mm, map.noise.smooth_length_mm)) {
    map.noise.smooth_mm = elsewhere * aligned.slow.sd_mm;
    map.noise.smooth_length_mm = aligned.slow.length_mm;
  } else if (!aligned.slow.seen) {
    map.noise.smooth_mm = std::max(map.noise.smooth_mm, aligned.assumed_slow_mm);
  }
  if (map.noise.smooth_mm > 0.0) {
    map.u_local_mm = (map.u_local_mm.square() + static_cast<float>(square(map.noise.smooth_mm))).sqrt();
  }
}

}  // namespace

double variance_of_mean(const LocalNoise& noise, double cells, double length_mm, double width_mm) {
  const double bins = cells * noise.bins_per_cell * noise.filled_share;
  // Of what reaches farther than the region is long, the region holds a part.
  const double far_share = noise.far_reach_mm > 0.0 ? length_mm / (length_mm + 0.5 * noise.far_reach_mm) : 0.0;
  const auto alike = [&](double size_mm) { return noise.smooth_length_mm / (noise.smooth_length_mm + size_mm); };
  return (noise.covariance_sum_mm2 + far_share * noise.far_sum_mm2) / bins +
         square(noise.smooth_mm) * alike(length_mm) * alike(width_mm);
}

void validate(const ThicknessOptions& options) {
  if (!(options.cell_mm == 0.0 || (options.cell_mm >= 0.05 && options.cell_mm <= 2.0))) {
    throw UsageError({"thickness.cell", {{"given", number(options.cell_mm, decimals_of(options.cell_mm))}}});
  }
  if (!(options.edge_margin_mm >= 0.0 && options.edge_margin_mm <= 1.0)) {
    throw UsageError(
        {"thickness.edge_margin", {{"given", number(options.edge_margin_mm, decimals_of(options.edge_margin_mm))}}});
  }
}

ThicknessMap measure_thickness(const Aligned& aligned, const Priors& priors, const ThicknessOptions& options) {
  validate(options);
  ThicknessMap map;
  Grid& grid = map.grid;
  grid.cell_mm = options.cell_mm > 0.0 ? options.cell_mm : choose_cell_mm(aligned.spacing_mm);
  const double widest =
      std::max(aligned.outline.half_width_mm(0.0), aligned.outline.half_width_mm(aligned.outline.length_mm));
  grid.rows = static_cast<Eigen::Index>(std::ceil(aligned.outline.length_mm / grid.cell_mm));
  grid.columns = 2 * static_cast<Eigen::Index>(std::ceil(widest / grid.cell_mm));

  Surface surface = measure_surface(aligned.points_mm, aligned.u_mm, aligned.outline, grid, options.edge_margin_mm);
  if (aligned.datum == DatumMode::two_sided) {
    const Surface table = measure_surface(aligned.underside_mm, {}, aligned.outline, grid, options.edge_margin_mm);
    map.table_mm = table.height_mm;
    map.u_table_mm = table.u_local_mm;
    map.table_covariance_sum_mm2 = table.noise.covariance_sum_mm2 / table.noise.filled_share;
    take_table_away(surface, table);
  }
  map.thickness_mm = std::move(surface.height_mm);
  map.u_local_mm = std::move(surface.u_local_mm);
  map.slope_x = std::move(surface.slope_x);
  map.slope_y = std::move(surface.slope_y);
  map.noise = surface.noise;
  map.point_noise_mm = surface.point_noise_mm;
  map.outlier_share = surface.outlier_share;
  add_smooth(aligned, priors, map);
  map.common = common_effects(map, aligned, priors);
  Field variance = map.u_local_mm.square();
  for (const auto& effect : map.common) variance += effect.shift_mm.square();
  map.u_mm = variance.sqrt();
  return map;
}

}  // namespace canewise
