#include "scanproc/thickness/noise_model.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr Eigen::Index kWindow = 20;  // Bins; 2.5 mm at the default grid.
constexpr Eigen::Index kLag = NoiseModel::kMaxLag;

struct Window {
  Eigen::ArrayXXd residual = Eigen::ArrayXXd::Constant(kWindow, kWindow, std::numeric_limits<double>::quiet_NaN());
  double variance = 0.0;
};

/// Residuals of the bin means about a quadratic surface, or nothing where too few bins hold points.
bool fit_window(const Bins& bins, Eigen::Index row0, Eigen::Index column0, Window& window) {
  using Basis = Eigen::Matrix<double, 6, 1>;
  Eigen::Matrix<double, 6, 6> normal = Eigen::Matrix<double, 6, 6>::Zero();
  Basis right = Basis::Zero();
  int filled = 0;
  const auto basis_at = [](const PlaneMoments& m, Eigen::Index r, Eigen::Index c, double size) {
    const double u = (static_cast<double>(r) - 0.5 * kWindow + 0.5 + m.x / m.n / size) / (0.5 * kWindow);
    const double v = (static_cast<double>(c) - 0.5 * kWindow + 0.5 + m.y / m.n / size) / (0.5 * kWindow);
    Basis basis;
    basis << 1.0, u, v, u * u, u * v, v * v;
    return basis;
  };
  for (Eigen::Index r = 0; r < kWindow; ++r) {
    for (Eigen::Index c = 0; c < kWindow; ++c) {
      const PlaneMoments& m = bins.at(row0 + r, column0 + c);
      if (!(m.n > 0)) continue;
      const Basis basis = basis_at(m, r, c, bins.size_mm());
      normal += basis * basis.transpose();
      right += basis * (m.z / m.n);
      ++filled;
    }
  }
  if (filled < kWindow * kWindow / 5) return false;
  const Basis coefficients = normal.ldlt().solve(right);
  double sum = 0.0;
  for (Eigen::Index r = 0; r < kWindow; ++r) {
    for (Eigen::Index c = 0; c < kWindow; ++c) {
      const PlaneMoments& m = bins.at(row0 + r, column0 + c);
      if (!(m.n > 0)) continue;
      const double residual = m.z / m.n - basis_at(m, r, c, bins.size_mm()).dot(coefficients);
      window.residual(r, c) = residual;
      sum += residual * residual;
    }
  }
  window.variance = sum / (filled - 6);
  return true;
}

/// Residuals of the bins' heights about a quadratic across, row by row, over one strip of columns; NaN where empty.
Eigen::ArrayXXd across_residuals(const Bins& bins, Eigen::Index column0) {
  Eigen::ArrayXXd residuals = Eigen::ArrayXXd::Constant(bins.rows, kWindow, std::numeric_limits<double>::quiet_NaN());
  for (Eigen::Index r = 0; r < bins.rows; ++r) {
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    int filled = 0;
    const auto basis_at = [&](Eigen::Index c) {
      const double v = (static_cast<double>(c) - 0.5 * kWindow + 0.5) / (0.5 * kWindow);
      return Eigen::Vector3d(1.0, v, v * v);
    };
    // Where within its bin a row's points lie is taken out with the surface's own slope, which the row's fit holds.
    for (Eigen::Index c = 0; c < kWindow; ++c) {
      const PlaneMoments& m = bins.at(r, column0 + c);
      if (!(m.n > 0)) continue;
      normal += basis_at(c) * basis_at(c).transpose();
      right += basis_at(c) * (m.z / m.n);
      ++filled;
    }
    if (filled < 3 * kWindow / 4) continue;
    const Eigen::Vector3d fit = normal.ldlt().solve(right);
    for (Eigen::Index c = 0; c < kWindow; ++c) {
      const PlaneMoments& m = bins.at(r, column0 + c);
      if (m.n > 0) residuals(r, c) = m.z / m.n - fit.dot(basis_at(c));
    }
  }
  return residuals;
}

/// Covariance along the fibre by lag, summed over the neighbouring bins across that share a fibre.
class AlongFibre {
 public:
  static constexpr Eigen::Index kFarthest = 64, kStep = 2, kNeighbours = 3;
  void add(const Eigen::ArrayXXd& residuals, double limit) {
    Eigen::ArrayXd beside(residuals.rows());
    for (Eigen::Index c = kNeighbours; c + kNeighbours < residuals.cols(); ++c) {
      for (Eigen::Index r = 0; r < residuals.rows(); ++r) {
        double sum = 0.0, count = 0.0;
        for (Eigen::Index dc = -kNeighbours; dc <= kNeighbours; ++dc) {
          const double other = residuals(r, c + dc);
          if (std::abs(other) < limit) sum += other, count += 1.0;
        }
        beside(r) = count > 0.0 ? sum * (2.0 * kNeighbours + 1.0) / count : std::nan("");
      }
      for (Eigen::Index lag = kLag + 1; lag <= kFarthest; lag += kStep) {
        for (Eigen::Index r = 0; r + lag < residuals.rows(); ++r) {
          const double product = residuals(r, c) * beside(r + lag);
          if (!(std::abs(residuals(r, c)) < limit) || std::isnan(product)) continue;
          sums_(lag) += product, squares_(lag) += product * product, pairs_(lag) += 1.0;
        }
      }
    }
  }
  /// The sum over lags beyond the near ones, on both sides, up to where nothing is left of the covariance.
  void finish(double bin_mm, NoiseModel& model) const {
    // A quadratic takes three of so many values with it.
    const double factor = static_cast<double>(kWindow) / (kWindow - 3.0);
    double total = 0.0;
    Eigen::Index last = 0;
    for (Eigen::Index lag = kLag + 1; lag <= kFarthest; lag += kStep) {
      if (pairs_(lag) < 100.0) break;
      const double mean = sums_(lag) / pairs_(lag);
      // Neighbouring pairs repeat each other: a tenth of them is counted.
      const double u = std::sqrt(squares_(lag) / pairs_(lag) / (0.1 * pairs_(lag)));
      if (mean < u) break;
      total += 2.0 * kStep * factor * mean;
      last = lag;
    }
    model.far_sum_mm2 = total;
    model.far_reach_mm = static_cast<double>(last) * bin_mm;
  }

 private:
  Eigen::ArrayXd sums_ = Eigen::ArrayXd::Zero(kFarthest + 1), squares_ = sums_, pairs_ = sums_;
};

void estimate_far(const Bins& bins, NoiseModel& model) {
  AlongFibre along;
  constexpr double wild = 5.0;
  const double limit = wild * std::sqrt(std::max(1e-12, model.by_lag(0, kLag)));
  for (Eigen::Index column = (bins.columns % kWindow) / 2; column + kWindow <= bins.columns; column += kWindow)
    along.add(across_residuals(bins, column), limit);
  along.finish(bins.size_mm(), model);
}

}  // namespace

double NoiseModel::sum() const {
  double total = 0.0;
  for (Eigen::Index dx = -kMaxLag; dx <= kMaxLag; ++dx) {
    for (Eigen::Index dy = -kMaxLag; dy <= kMaxLag; ++dy) {
      const double share = dx < 0 ? filled_pairs(-dx, -dy + kMaxLag) : filled_pairs(dx, dy + kMaxLag);
      total += share * covariance(dx, dy);
    }
  }
  // Never less than independent bins would give.
  return std::max(total, by_lag(0, kMaxLag));
}

NoiseModel estimate_noise(const Bins& bins) {
  std::vector<Window> windows;
  std::vector<double> variances;
  for (Eigen::Index row = 0; row + kWindow <= bins.rows; row += kWindow) {
    for (Eigen::Index column = (bins.columns % kWindow) / 2; column + kWindow <= bins.columns; column += kWindow) {
      Window window;
      if (!fit_window(bins, row, column, window)) continue;
      variances.push_back(window.variance);
      windows.push_back(std::move(window));
    }
  }
  NoiseModel model;
  if (windows.empty()) return model;
  const double usual = median(variances);
  Eigen::ArrayXXd products = Eigen::ArrayXXd::Zero(kLag + 1, 2 * kLag + 1);
  Eigen::ArrayXXd pairs = products, possible = products;
  for (const Window& window : windows) {
    if (window.variance > 2.5 * usual) continue;
    Eigen::ArrayXXd values = window.residual, filled = Eigen::ArrayXXd::Zero(kWindow, kWindow);
    for (Eigen::Index i = 0; i < values.size(); ++i) {
      const bool has_points = !std::isnan(values(i));
      filled(i) = has_points ? 1.0 : 0.0;
      if (!has_points) values(i) = 0.0;
    }
    for (Eigen::Index dx = 0; dx <= kLag; ++dx) {
      for (Eigen::Index dy = -kLag; dy <= kLag; ++dy) {
        const Eigen::Index n_r = kWindow - dx, n_c = kWindow - std::abs(dy);
        const Eigen::Index c0 = std::max<Eigen::Index>(0, -dy), c1 = std::max<Eigen::Index>(0, dy);
        products(dx, dy + kLag) += (values.block(0, c0, n_r, n_c) * values.block(dx, c1, n_r, n_c)).sum();
        pairs(dx, dy + kLag) += (filled.block(0, c0, n_r, n_c) * filled.block(dx, c1, n_r, n_c)).sum();
        possible(dx, dy + kLag) += static_cast<double>(n_r * n_c);
      }
    }
  }
  const double filled_share = std::max(1e-9, pairs(0, kLag) / possible(0, kLag));
  model.filled_pairs = pairs / possible / filled_share;
  Eigen::ArrayXXd covariance = products / pairs.max(1.0);
  // Far across the fibre the noise is uncorrelated; what is left there is what the surface fits took away.
  double offset = 0.0, count = 0.0;
  for (Eigen::Index dx = 0; dx <= kLag; ++dx) {
    for (Eigen::Index dy = kLag - 2; dy <= kLag; ++dy) {
      for (const Eigen::Index lag : {dy, -dy}) {
        offset += covariance(dx, lag + kLag) * pairs(dx, lag + kLag);
        count += pairs(dx, lag + kLag);
      }
    }
  }
  offset = count > 0.0 ? std::min(0.0, offset / count) : 0.0;
  for (Eigen::Index dx = 0; dx <= kLag; ++dx) {
    for (Eigen::Index dy = -kLag; dy <= kLag; ++dy) {
      const bool far = std::abs(dy) > kLag - 3;
      model.by_lag(dx, dy + kLag) = far ? 0.0 : covariance(dx, dy + kLag) - offset;
    }
  }
  estimate_far(bins, model);
  return model;
}

}  // namespace canewise
