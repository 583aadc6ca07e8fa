#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/records.h"

namespace canewise {

struct PlyProperty {
  std::string name;
  ScalarType type = ScalarType::float32;
  bool is_list = false;
  ScalarType count_type = ScalarType::uint8;  ///< Of a list: a whole number's.
};

struct PlyElement {
  std::string name;
  std::uint64_t count = 0;
  std::vector<PlyProperty> properties;

  [[nodiscard]] bool has_list() const;
  /// Bytes of one record in a binary body if every list in it is empty: exactly its size where it has no list.
  [[nodiscard]] std::size_t least_bytes() const;
};

enum class PlyEncoding { ascii, little_endian, big_endian };

/// What a PLY file says of itself. Source: [Turk1994].
struct PlyHeader {
  PlyEncoding encoding = PlyEncoding::ascii;
  std::vector<PlyElement> elements;  ///< In the body's order.
  std::size_t body_offset = 0;
};

/// Throws InputError for a header that is none, with the line.
[[nodiscard]] PlyHeader read_ply_header(const ScanFile& file);

}  // namespace canewise
