#pragma once

#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// Bilinear; NaN where a corner that counts was not measured.
[[nodiscard]] double thickness_at(const ThicknessMap& map, double x_mm, double y_mm);

}  // namespace canewise
