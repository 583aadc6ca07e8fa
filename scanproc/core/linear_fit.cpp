#include "scanproc/core/linear_fit.h"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <cmath>
#include <span>
#include <stdexcept>

#include "scanproc/core/statistics.h"

namespace canewise {

LinearFit fit_linear(const Eigen::MatrixXd& design, const Eigen::VectorXd& y, const Eigen::VectorXd& weights) {
  const Eigen::Index n = design.rows();
  const Eigen::Index p = design.cols();
  if (y.size() != n || (weights.size() != 0 && weights.size() != n)) {
    throw std::invalid_argument("fit_linear: design, y and weights must have one row an observation");
  }
  if (n < p || p == 0) throw std::invalid_argument("fit_linear: fewer observations than coefficients");

  Eigen::MatrixXd scaled_design = design;
  Eigen::VectorXd scaled_y = y;
  Eigen::Index used = n;
  if (weights.size() == n) {
    const Eigen::VectorXd root = weights.cwiseMax(0.0).cwiseSqrt();
    scaled_design = root.asDiagonal() * design;
    scaled_y = root.cwiseProduct(y);
    used = (weights.array() > 0.0).count();
  }
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(scaled_design);
  if (qr.rank() < p || used < p) throw std::invalid_argument("fit_linear: the columns are linearly dependent");

  LinearFit fit;
  fit.coefficients = qr.solve(scaled_y);
  // One step of refinement: brings back the digits that a column offset costs.
  fit.coefficients += qr.solve(scaled_y - scaled_design * fit.coefficients);
  fit.degrees_of_freedom = static_cast<int>(used - p);
  fit.covariance = Eigen::MatrixXd::Zero(p, p);
  if (fit.degrees_of_freedom > 0) {
    const double sum_of_squares = (scaled_y - scaled_design * fit.coefficients).squaredNorm();
    fit.residual_sd = std::sqrt(sum_of_squares / fit.degrees_of_freedom);
    const Eigen::MatrixXd r_inverse =
        qr.matrixR().topLeftCorner(p, p).triangularView<Eigen::Upper>().solve(Eigen::MatrixXd::Identity(p, p));
    const Eigen::MatrixXd unit = r_inverse * r_inverse.transpose();
    fit.covariance = square(fit.residual_sd) * (qr.colsPermutation() * unit * qr.colsPermutation().transpose());
  }
  return fit;
}

LinearFit fit_linear_robust(const Eigen::MatrixXd& design, const Eigen::VectorXd& y, double floor_sd) {
  constexpr double tukey_c = 4.685;
  constexpr int max_iterations = 50;
  constexpr double at_rest = 1e-12;
  // Least absolute deviations first (iteratively reweighted), so that the biweight starts inside the right valley.
  LinearFit fit = fit_linear(design, y);
  for (int iteration = 0; iteration < 10; ++iteration) {
    const Eigen::VectorXd residuals = y - design * fit.coefficients;
    const Eigen::VectorXd weights = residuals.cwiseAbs().cwiseMax(std::max(floor_sd, 1e-12)).cwiseInverse();
    fit = fit_linear(design, y, weights);
  }
  Eigen::VectorXd residuals = y - design * fit.coefficients;
  const double sigma =
      std::max(floor_sd, mad_sigma(std::span(residuals.data(), static_cast<std::size_t>(residuals.size())), 0.0));
  for (int iteration = 0; iteration < max_iterations; ++iteration) {
    const Eigen::ArrayXd scaled = residuals.array() / (tukey_c * sigma);
    const Eigen::VectorXd weights = (scaled.abs() < 1.0).select((1.0 - scaled.square()).square(), 0.0);
    const Eigen::VectorXd before = fit.coefficients;
    fit = fit_linear(design, y, weights);
    residuals = y - design * fit.coefficients;
    if ((fit.coefficients - before).cwiseAbs().maxCoeff() < at_rest) break;
  }
  // The weighted fit's own covariance knows nothing of the choice of weights. [Huber2009], eq. (7.81), with the
  // influence psi(r) = r w(r): sum psi^2 / (n - p) over the squared mean of psi'.
  const Eigen::ArrayXd u2 = (residuals.array() / (tukey_c * sigma)).square();
  const Eigen::ArrayXd inside = (u2 < 1.0).cast<double>();
  const Eigen::ArrayXd influence = inside * residuals.array() * (1.0 - u2).square();
  const double slope = std::max(0.05, (inside * (1.0 - u2) * (1.0 - 5.0 * u2)).mean());
  const Eigen::Index p = design.cols();
  fit.degrees_of_freedom = static_cast<int>(design.rows() - p);
  if (fit.degrees_of_freedom > 0) {
    fit.residual_sd = std::sqrt(influence.square().sum() / fit.degrees_of_freedom) / slope;
    fit.covariance =
        square(fit.residual_sd) * (design.transpose() * design).ldlt().solve(Eigen::MatrixXd::Identity(p, p));
  }
  return fit;
}

}  // namespace canewise
