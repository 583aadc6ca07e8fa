#pragma once

#include <Eigen/Core>
#include <array>
#include <cstddef>

#include "scanproc/thickness/footprint.h"
#include "scanproc/thickness/noise_model.h"

namespace canewise {

/// The noise model's covariances at the lags that occur within a footprint, for quick reading.
class FootprintCovariance {
 public:
  explicit FootprintCovariance(const NoiseModel& noise) {
    for (Eigen::Index dx = 0; dx < kFootprintAlong; ++dx) {
      for (Eigen::Index dy = 1 - kFootprintAcross; dy < kFootprintAcross; ++dy)
        values_.at(index(dx, dy)) = noise.covariance(dx, dy);
    }
  }
  /// dx >= 0.
  [[nodiscard]] double at(Eigen::Index dx, Eigen::Index dy) const { return values_[index(dx, dy)]; }

 private:
  static std::size_t index(Eigen::Index dx, Eigen::Index dy) {
    return static_cast<std::size_t>(dx * (2 * kFootprintAcross - 1) + dy + kFootprintAcross - 1);
  }
  static constexpr auto kLags = kFootprintAlong * (2 * kFootprintAcross - 1);
  std::array<double, kLags> values_{};
};

/// Variance in mm^2 of a least-squares plane's height at the cell's centre.
[[nodiscard]] double local_variance(const Footprint& footprint, const FootprintCovariance& covariance);

}  // namespace canewise
