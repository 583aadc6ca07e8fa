#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <vector>

namespace canewise {

/// Median (mean of the middle two for an even count); NaN for no values. Takes a copy because it reorders.
[[nodiscard]] inline double median(std::vector<double> values) {
  if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  if (values.size() % 2 == 1) return *middle;
  return 0.5 * (*middle + *std::max_element(values.begin(), middle));
}

/// Standard deviation from the median absolute deviation about `centre`; 1.4826 makes it consistent for a normal law.
[[nodiscard]] inline double mad_sigma(std::span<const double> values, double centre) {
  std::vector<double> deviations;
  deviations.reserve(values.size());
  for (const double value : values) deviations.push_back(std::abs(value - centre));
  return 1.4826 * median(std::move(deviations));
}

[[nodiscard]] inline double square(double value) { return value * value; }

}  // namespace canewise
