#pragma once

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/cloud.h"

namespace canewise {

[[nodiscard]] bool looks_like_pcd(std::string_view head);

/// Points of a PCD 0.7 file: ascii, binary, or binary_compressed (LZF). The viewpoint is not applied: it moves the
/// whole scan, and the pose is found from the plate anyway. Source: [PCD07]. Throws InputError.
[[nodiscard]] Cloud read_pcd(const ScanFile& file, double mm_per_unit);

}  // namespace canewise
