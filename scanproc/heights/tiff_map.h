#pragma once

#include <optional>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/core/units.h"
#include "scanproc/heights/height_map.h"

namespace canewise {

/// What a TIFF does not say of itself.
struct TiffMapOptions {
  std::optional<LengthUnit> height_unit;  ///< Empty: told by the heights' range.
  std::optional<double> pitch_mm;         ///< Of the pixels; empty: as the file says.
};

/// A TIFF of floating-point heights as a height map. The pixel's pitch comes from the options or from the file's
/// resolution in cm or inches; the heights' unit from the options, or it is the one in which they span what a reed on a
/// plate does. Throws InputError where either cannot be told.
[[nodiscard]] HeightMap read_tiff_map(const ScanFile& file, const TiffMapOptions& options);

}  // namespace canewise
