#include "scanproc/thickness/local_variance.h"

#include <algorithm>
#include <array>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

/// Weights of the bins' means in the least-squares plane's value at the cell's centre.
void estimator_weights(const Footprint& footprint, std::array<double, Footprint::kMost>& weights) {
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

}  // namespace

double local_variance(const Footprint& footprint, const FootprintCovariance& covariance) {
  std::array<double, Footprint::kMost> weights{};
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

}  // namespace canewise
