#pragma once

#include <Eigen/Core>
#include <algorithm>

namespace canewise {

/// The autocovariance of noise from that of its residuals about a quadratic surface, in square windows of `kWindow`
/// bins: what the fits take away is linear in the covariance, E[p] = A c, so that c is solved for. With M = I - Q Q'
/// for the fit's orthonormal basis Q, the residuals' covariance is M C M; basis and lags are products of one in each
/// direction, hence so is every entry of A.
struct WindowLags {
  static constexpr Eigen::Index kWindow = 20;    ///< Bins; 2.5 mm at the default grid.
  static constexpr Eigen::Index kMax = 8;        ///< Farthest lag that is looked at...
  static constexpr Eigen::Index kMaxAcross = 5;  ///< ...and across the fibre, at which noise is correlated.
};

/// What windows show, by lag: (kMax + 1) x (2 kMax + 1), lag along x by lag across + kMax.
struct ResidualLags {
  static Eigen::ArrayXXd none() { return Eigen::ArrayXXd::Zero(WindowLags::kMax + 1, 2 * WindowLags::kMax + 1); }
  Eigen::ArrayXXd products = none();  ///< Mean products of residuals.
  Eigen::ArrayXXd leverage = none();  ///< Mean of Q Q' over the same pairs: larger where windows have gaps.
  Eigen::ArrayXXd pairs = none();     ///< Of bins that both hold points.
  Eigen::ArrayXXd possible = none();  ///< Pairs of bins.
  [[nodiscard]] double filled_share() const {
    return std::max(1e-9, pairs(0, WindowLags::kMax) / possible(0, WindowLags::kMax));
  }
};

/// The covariance in the same places; zero beyond kMaxAcross, and from the ring of lags on that shows none. What is
/// alike even kMaxAcross apart is left out: slow error, which is counted from the plate.
[[nodiscard]] Eigen::ArrayXXd covariance_from_residuals(const ResidualLags& lags);

}  // namespace canewise
