#pragma once

#include <string>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/heights/height_map.h"

namespace canewise {

/// True for a zip archive; whether a surface is in it shows when it is opened.
[[nodiscard]] bool looks_like_x3p(std::string_view head);

/// Reads an X3P file of any kind (matrix, profile list, point list; incremental or absolute axes; heights of every
/// type, in a binary member or in the XML; validity member), with its check sums. Source: [ISO25178-72]. Throws
/// InputError.
[[nodiscard]] Cloud read_x3p(const ScanFile& file);

/// The same for a matrix with incremental x and y, which alone is a height map. Throws InputError for other files.
[[nodiscard]] HeightMap read_x3p_map(const ScanFile& file);

/// What an X3P file says of its making.
struct X3pOrigin {
  std::string date;  ///< ISO 8601, UTC.
  std::string comment;
};

/// Bytes of an X3P file with float64 heights in metres, missing ones as NaN. Heights that are single-precision numbers
/// of millimetres read back as the same single-precision numbers. Throws std::invalid_argument for an empty grid.
[[nodiscard]] std::string x3p_bytes(const HeightMap& map, const X3pOrigin& origin);

}  // namespace canewise
