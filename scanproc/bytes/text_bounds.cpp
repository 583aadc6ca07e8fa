#include "scanproc/bytes/text_bounds.h"

#include <algorithm>

namespace canewise {

std::uint64_t TextParts::document_bytes() const {
  // With what memory managers add, and half as much again where lists grow.
  constexpr std::uint64_t container_bytes = 64, key_bytes = 120, value_bytes = 24;
  return container_bytes * containers + key_bytes * keys + value_bytes * values;
}

TextParts parts_of(std::string_view text) {
  TextParts parts;
  std::uint64_t dots = 0;
  for (const char c : text) {
    switch (c) {
      case '.':
        ++dots;
        continue;
      case '[':
      case '{':
        ++parts.containers;
        break;
      case ':':
      case '=':
        ++parts.keys;
        break;
      case ',':
        ++parts.values;
        break;
      case '\n':
        break;
      default:
        continue;
    }
    parts.longest_path = std::max(parts.longest_path, dots);
    dots = 0;
  }
  parts.longest_path = std::max(parts.longest_path, dots);
  return parts;
}

}  // namespace canewise
