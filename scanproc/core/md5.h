#pragma once

#include <span>
#include <string>

namespace canewise {

/// 32 lower-case hex digits. For check sums that a file format asks for; no protection against forgery.
[[nodiscard]] std::string md5(std::span<const char> bytes);

}  // namespace canewise
