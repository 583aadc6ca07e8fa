#pragma once

#include <Eigen/Core>

#include "scanproc/thickness/bins.h"

namespace canewise {

/// Autocovariance of the bin means about a smooth surface, by lag, for a scan whose noise is alike everywhere.
struct NoiseModel {
  static constexpr Eigen::Index kMaxLag = 8;
  /// (lag along x) x (lag across y + kMaxLag); mm^2. Lags of opposite sign are equal: covariance(dx, dy) takes care.
  Eigen::MatrixXd by_lag = Eigen::MatrixXd::Zero(kMaxLag + 1, 2 * kMaxLag + 1);
  Eigen::MatrixXd filled_pairs = Eigen::MatrixXd::Zero(kMaxLag + 1, 2 * kMaxLag + 1);  ///< Share of pairs with points.

  [[nodiscard]] double covariance(Eigen::Index dx, Eigen::Index dy) const {
    if (dx < 0) return covariance(-dx, -dy);
    if (dx > kMaxLag || dy > kMaxLag || dy < -kMaxLag) return 0.0;
    return by_lag(dx, dy + kMaxLag);
  }
  /// Sum over all lags, weighted by how often both bins hold points.
  [[nodiscard]] double sum() const;

  /// What is correlated along the fibre over more than kMaxLag bins: its share of the sum over all lags, and how far it
  /// reaches. Zero where nothing is.
  double far_sum_mm2 = 0.0, far_reach_mm = 0.0;
};

/// Estimates the autocovariance in windows of 2.5 mm about their own quadratic surface. What the surface fit takes
/// away is solved for (`covariance_from_residuals`). Windows with other features (shoulder, chips)
/// stand out by their scatter and are left out. Fibre is longer than such a window: at long lags along the reed it is
/// told from the reed's shape by what a quadratic across leaves of each row, because a shape goes on from fibre to
/// fibre.
[[nodiscard]] NoiseModel estimate_noise(const Bins& bins);

}  // namespace canewise
