#pragma once

#include <filesystem>

#include "scanproc/core/units.h"
#include "scanproc/scan/cloud.h"
#include "scanproc/scan/scan_file.h"

namespace canewise {

/// Reads a scan; the format is told by the content, never by the suffix. Throws InputError for a file that is not a
/// known format, is damaged, or holds no finite point.
[[nodiscard]] Cloud read_scan(const ScanFile& file, LengthUnit unit = LengthUnit::mm);

}  // namespace canewise
