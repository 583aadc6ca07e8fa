#pragma once

#include <span>
#include <string>
#include <string_view>

namespace canewise {

/// Two lower-case digits a byte.
[[nodiscard]] inline std::string hex_of(std::span<const unsigned char> bytes) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string text;
  for (const unsigned char byte : bytes) {
    text += digits[byte >> 4U];
    text += digits[byte & 15U];
  }
  return text;
}

}  // namespace canewise
