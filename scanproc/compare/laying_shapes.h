#pragma once

#include <vector>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// What may differ between two layings-down of one reed, as fields over the grid of the scan before: each for one
/// standard deviation of its prior in both scans together, mm of thickness lost.
struct LayingShapes {
  std::vector<Field> fields;   ///< The first is swelling, which is a gain: hence its sign.
  double swelling_spread = 0;  ///< Relative.
};

/// `planned_mm`: what was to come off each cell.
[[nodiscard]] LayingShapes laying_shapes(const Result& before, const Result& after, const Field& planned_mm);

}  // namespace canewise
