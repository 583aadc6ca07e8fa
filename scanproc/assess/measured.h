#pragma once

namespace canewise {

/// A number with its standard uncertainty; NaN where the scan does not show it.
struct Measured {
  double value = 0.0;
  double u = 0.0;
};

}  // namespace canewise
