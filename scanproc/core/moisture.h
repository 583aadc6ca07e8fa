#pragma once

#include <cstdint>
#include <string_view>

namespace canewise {

/// Cane swells and softens on wetting: only like is compared with like.
enum class MoistureState : std::uint8_t { unknown, dry, wet };
[[nodiscard]] constexpr std::string_view name_of(MoistureState state) {
  return state == MoistureState::dry ? "dry" : state == MoistureState::wet ? "wet" : "unknown";
}

}  // namespace canewise
