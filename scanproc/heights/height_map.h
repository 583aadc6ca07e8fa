#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Not measured.
inline constexpr double kNoHeight = std::numeric_limits<double>::quiet_NaN();

/// Heights over a regular grid, as a surface-metrology file holds them.
struct HeightMap {
  std::size_t columns = 0;  ///< Along x.
  std::size_t rows = 0;     ///< Along y.
  double step_x_mm = 0.0, step_y_mm = 0.0;
  double origin_x_mm = 0.0, origin_y_mm = 0.0;
  std::vector<double> z_mm;  ///< rows x columns, x fastest; kNoHeight where not measured.
  std::string format;
  Messages notes;
};

/// One point a measured node; z must be finite or NaN.
[[nodiscard]] Cloud cloud_from(const HeightMap& map);

}  // namespace canewise
