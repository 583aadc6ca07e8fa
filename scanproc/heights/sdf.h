#pragma once

#include <string>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/heights/height_map.h"

namespace canewise {

/// True for the first bytes of a surface data file, ASCII or binary, of any known edition.
[[nodiscard]] bool looks_like_sdf(std::string_view head);

/// Reads a surface data file: ISO 25178-71 editions 1.0 and 2.0 and their elder kin, ASCII and binary. Source:
/// [ISO25178-71]. Throws InputError.
[[nodiscard]] HeightMap read_sdf(const ScanFile& file);

enum class SdfEncoding { ascii, binary };

/// Bytes of an edition 1.0 file with float64 heights (edition 2.0 where the grid is too large for 1.0). Reads back
/// bit-equal. The origin is lost: the format has no place for it. Throws std::invalid_argument for an empty grid or
/// a height that the format cannot tell from 'not measured'.
[[nodiscard]] std::string sdf_bytes(const HeightMap& map, SdfEncoding encoding);

}  // namespace canewise
