#pragma once

#include <cstddef>

#include "calib/touch.h"

namespace canewise {

/// The reed that was touched, as the scan shows it.
struct TouchedReed {
  const Aligned& aligned;
  const ThicknessMap& map;
};

/// One reading held against the scan; `which` counts from 1, for refusals. Throws UsageError: a place off the reed, too
/// few points, a reading that is no thickness there.
[[nodiscard]] TouchPlace place_of(const TouchedReed& reed, const TouchReading& reading, const TouchTool& tool,
                                  std::size_t which);

}  // namespace canewise
