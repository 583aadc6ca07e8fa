#pragma once

#include <algorithm>
#include <cmath>

namespace canewise {

/// As many decimals as a number has that a person stated, at most `most`: 500, 19.98, 0.1.
[[nodiscard]] inline int decimals_of(double stated, int most = 6) {
  constexpr double sixth_digit = 5e-6;
  double scaled = std::abs(stated);
  for (int decimals = 0; decimals < most; ++decimals, scaled *= 10.0) {
    if (std::abs(scaled - std::round(scaled)) <= sixth_digit * scaled) return decimals;
  }
  return most;
}

/// Decimals that tell a found value to at most so many significant digits, without noughts at the end.
[[nodiscard]] inline int significant_decimals(double value, int digits) {
  if (value == 0.0 || !std::isfinite(value)) return 0;
  const int most = std::max(0, digits - 1 - static_cast<int>(std::floor(std::log10(std::abs(value)))));
  for (int decimals = 0; decimals < most; ++decimals) {
    const double power = std::pow(10.0, decimals);
    if (std::abs(std::round(value * power) / power - value) < 0.5 * std::pow(10.0, -most)) return decimals;
  }
  return most;
}

}  // namespace canewise
