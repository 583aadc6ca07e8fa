#include "scanproc/thickness/noise_model.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "scanproc/core/statistics.h"
#include "scanproc/thickness/window_lags.h"

namespace canewise {
namespace {

constexpr Eigen::Index kWindow = WindowLags::kWindow;
constexpr Eigen::Index kLag = NoiseModel::kMaxLag;
static_assert(kLag == WindowLags::kMax);

struct Window {
  Eigen::ArrayXXd residual = Eigen::ArrayXXd::Constant(kWindow, kWindow, std::numeric_limits<double>::quiet_NaN());
  double variance = 0.0;
  std::array<Eigen::ArrayXXd, 6> basis;  ///< The fit's, orthonormal over the bins that hold points; 0 in the others.
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
  window.basis.fill(Eigen::ArrayXXd::Zero(kWindow, kWindow));
  const Eigen::LLT<Eigen::Matrix<double, 6, 6>> root(normal);
  for (Eigen::Index r = 0; r < kWindow; ++r) {
    for (Eigen::Index c = 0; c < kWindow; ++c) {
      const PlaneMoments& m = bins.at(row0 + r, column0 + c);
      if (!(m.n > 0)) continue;
      const Basis orthonormal = root.matrixL().solve(basis_at(m, r, c, bins.size_mm()));
      for (std::size_t k = 0; k < 6; ++k) window.basis.at(k)(r, c) = orthonormal(static_cast<Eigen::Index>(k));
    }
  }
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

ResidualLags lags_of(const std::vector<Window>& windows) {
  ResidualLags lags;
  Eigen::ArrayXXd products = lags.products, leverage = lags.leverage;
  const bool has_gaps =
      std::any_of(windows.begin(), windows.end(), [](const Window& window) { return window.residual.hasNaN(); });
  for (const Window& window : windows) {
    const Eigen::ArrayXXd filled = (!window.residual.isNaN()).cast<double>();
    const Eigen::ArrayXXd values = window.residual.isNaN().select(0.0, window.residual);
    for (Eigen::Index dx = 0; dx <= kLag; ++dx) {
      for (Eigen::Index dy = -kLag; dy <= kLag; ++dy) {
        const Eigen::Index n_r = kWindow - dx, n_c = kWindow - std::abs(dy);
        const Eigen::Index c0 = std::max<Eigen::Index>(0, -dy), c1 = std::max<Eigen::Index>(0, dy);
        const auto pair_up = [&](const Eigen::ArrayXXd& field) {
          return (field.block(0, c0, n_r, n_c) * field.block(dx, c1, n_r, n_c)).sum();
        };
        products(dx, dy + kLag) += pair_up(values);
        lags.pairs(dx, dy + kLag) += pair_up(filled);
        lags.possible(dx, dy + kLag) += static_cast<double>(n_r * n_c);
        if (!has_gaps) continue;
        for (const auto& term : window.basis) leverage(dx, dy + kLag) += pair_up(term);
      }
    }
  }
  lags.products = products / lags.pairs.max(1.0);
  lags.leverage = leverage / lags.pairs.max(1.0);
  return lags;
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
  std::erase_if(windows, [&](const Window& window) { return window.variance > 2.5 * usual; });
  const ResidualLags seen = lags_of(windows);
  model.filled_pairs = (seen.pairs / seen.possible / seen.filled_share()).matrix();
  model.by_lag = covariance_from_residuals(seen).matrix();
  estimate_far(bins, model);
  return model;
}

}  // namespace canewise
