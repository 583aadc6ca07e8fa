#pragma once

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/cloud.h"

namespace canewise {

/// True if the file starts as a PLY file does.
[[nodiscard]] bool looks_like_ply(std::string_view head);

/// Vertices of a PLY file: ascii or binary, either byte order, any scalar types; other properties and elements, lists
/// too, are skipped wherever they stand. Where it has faces, the surface between the vertices too (mesh.h). Source:
/// [Turk1994]. Throws InputError.
[[nodiscard]] Cloud read_ply(const ScanFile& file, double mm_per_unit);

}  // namespace canewise
