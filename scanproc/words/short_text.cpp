#include "scanproc/words/short_text.h"

#include <cstddef>
#include <cstdint>

namespace canewise {

Argument short_text(std::string_view from_outside) {
  std::size_t end = 80;
  if (from_outside.size() <= end) return text(from_outside);
  const auto is_within_character = [&] { return (static_cast<std::uint8_t>(from_outside[end]) & 0xC0U) == 0x80U; };
  while (end > 76 && is_within_character()) --end;
  return printable(from_outside.substr(0, end)) + "...";
}

}  // namespace canewise
