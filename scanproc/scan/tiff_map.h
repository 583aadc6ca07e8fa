#pragma once

#include "scanproc/scan/height_map.h"
#include "scanproc/scan/read_scan.h"

namespace canewise {

/// A TIFF of floating-point heights as a height map. The pixel's pitch comes from the options or from the file's
/// resolution in cm or inches; the heights' unit from the options, or it is the one in which they span what a reed on a
/// plate does. Throws InputError where either cannot be told.
[[nodiscard]] HeightMap read_tiff_map(const ScanFile& file, const ReadOptions& options);

}  // namespace canewise
