#pragma once

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/mesh.h"

namespace canewise {

/// True if the first lines that are no remarks start with words of the format and one is a vertex.
[[nodiscard]] bool looks_like_obj(std::string_view head);

/// Vertices and faces of a Wavefront OBJ file; faces of more than three corners are cut into a fan; all else is
/// skipped. A file without faces gives triangles of none, only vertices. Throws InputError with the line's number.
[[nodiscard]] Mesh read_obj(const ScanFile& file);

}  // namespace canewise
