#pragma once

#include <vector>

#include "scanproc/assess/zones.h"

namespace canewise {

/// Groups of cells that hang together by their sides, as column-major indices. Uses `cells` up.
[[nodiscard]] std::vector<std::vector<Eigen::Index>> connected_groups(CellMask& cells);

}  // namespace canewise
