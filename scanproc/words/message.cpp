#include "scanproc/words/message.h"

#include <fmt/format.h>
#include <unicode/utf8.h>

namespace canewise {

Argument word(std::string_view key) {
  std::string name(key);
  // A pattern's select takes neither.
  for (char& c : name) {
    if (c == ' ' || c == '-') c = '_';
  }
  return Word{std::move(name)};
}
Argument count(std::size_t n) { return static_cast<std::int64_t>(n); }
Argument number(double value, int decimals) { return Number{value, decimals}; }
Argument um(double micrometres, int decimals) { return Length{micrometres, Length::Unit::um, decimals}; }
Argument signed_um(double micrometres, int decimals) { return Length{micrometres, Length::Unit::um, decimals, true}; }
Argument mm(double millimetres, int decimals) { return Length{millimetres, Length::Unit::mm, decimals}; }
Argument text(std::string_view from_outside) { return printable(from_outside); }
Argument part(Message message) { return Messages{std::move(message)}; }

std::string printable(std::string_view from_outside) {
  std::string out;
  const auto* bytes = reinterpret_cast<const std::uint8_t*>(from_outside.data());
  const auto size = static_cast<std::int32_t>(from_outside.size());
  for (std::int32_t at = 0; at < size;) {
    const std::int32_t begin = at;
    UChar32 code = 0;
    U8_NEXT(bytes, at, size, code);
    const auto length = static_cast<std::size_t>(at - begin);
    // Also what turns the direction of writing, behind which a name may hide.
    const bool turns = code == 0x061c || (code >= 0x200e && code <= 0x200f) || (code >= 0x202a && code <= 0x202e) ||
                       (code >= 0x2066 && code <= 0x2069) || code == 0x2028 || code == 0x2029;
    if (code < 0 || code < 0x20 || (code >= 0x7f && code < 0xa0) || turns) {
      for (std::size_t k = 0; k < length; ++k)
        out += fmt::format("\\x{:02x}", static_cast<std::uint8_t>(from_outside[static_cast<std::size_t>(begin) + k]));
    } else {
      out += from_outside.substr(static_cast<std::size_t>(begin), length);
    }
  }
  return out;
}

}  // namespace canewise
