#pragma once

#include <cstdint>
#include <string_view>

namespace canewise {

/// What a JSON or TOML text is made of, counted before a library makes a document of it: that takes up to a hundred
/// bytes for three of the text. Signs inside texts and remarks count too, so these are upper bounds.
struct TextParts {
  std::uint64_t containers = 0;    ///< Lists and tables.
  std::uint64_t keys = 0;          ///< Named values.
  std::uint64_t values = 0;        ///< In lists and tables.
  std::uint64_t longest_path = 0;  ///< Dots of the key that has most: TOML makes a table of each.

  /// About the bytes of the document.
  [[nodiscard]] std::uint64_t document_bytes() const;
};
[[nodiscard]] TextParts parts_of(std::string_view text);

}  // namespace canewise
