#pragma once

#include <string>

#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// thickness.csv: x_mm,y_mm,thickness_mm,u95_mm; one row a measured cell, from the tip, left to right.
[[nodiscard]] std::string thickness_csv(const ThicknessMap& map);

}  // namespace canewise
