#pragma once

#include <cstdint>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/mesh.h"

namespace canewise {

/// True for an ASCII STL's first words, or a file whose length is that of a binary STL with the count it states.
[[nodiscard]] bool looks_like_stl(std::string_view head, std::uint64_t file_size);

/// Triangles of an STL file, ASCII or binary; the normals in the file are not used. Throws InputError.
[[nodiscard]] Mesh read_stl(const ScanFile& file);

}  // namespace canewise
