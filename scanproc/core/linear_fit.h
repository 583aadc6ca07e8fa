#pragma once

#include <Eigen/Core>

namespace canewise {

/// Result of a linear least-squares fit y = design * coefficients + noise.
struct LinearFit {
  Eigen::VectorXd coefficients;  ///< p values.
  Eigen::MatrixXd covariance;    ///< p x p, symmetric; already scaled by residual_sd squared.
  double residual_sd = 0.0;      ///< Square root of (weighted) residual sum of squares over degrees of freedom.
  int degrees_of_freedom = 0;    ///< n - p; 0 leaves covariance and residual_sd zero.
};

/// Least squares by Householder QR with column pivoting (no normal equations, so that badly scaled columns keep their
/// digits). `design` is n x p, `y` n, `weights` n (>= 0) or empty for equal weights.
/// Throws std::invalid_argument if shapes differ, n < p, or the columns are linearly dependent.
[[nodiscard]] LinearFit fit_linear(const Eigen::MatrixXd& design, const Eigen::VectorXd& y,
                                   const Eigen::VectorXd& weights = {});

/// The same made robust: Tukey's biweight with c = 4.685 (95 % efficient for normal noise) on the scale of the median
/// absolute deviation, iterated until the coefficients are at rest; covariance and residual_sd allow for the weights.
/// Source: [Huber2009], sections 4.8, 7.6 and 7.8.
/// `floor_sd` keeps the scale from collapsing where most residuals are exactly equal.
[[nodiscard]] LinearFit fit_linear_robust(const Eigen::MatrixXd& design, const Eigen::VectorXd& y, double floor_sd);

}  // namespace canewise
