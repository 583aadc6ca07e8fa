#pragma once

#include <cmath>

namespace canewise {

/// As many decimals as a number has that a person stated, up to six digits: 500, 19.98, 0.1.
[[nodiscard]] inline int decimals_of(double stated) {
  constexpr int most = 6;
  constexpr double sixth_digit = 5e-6;
  double scaled = std::abs(stated);
  for (int decimals = 0; decimals < most; ++decimals, scaled *= 10.0) {
    if (std::abs(scaled - std::round(scaled)) <= sixth_digit * scaled) return decimals;
  }
  return most;
}

}  // namespace canewise
