#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace canewise {

/// Cane swells and softens on wetting: only like is compared with like.
enum class MoistureState : std::uint8_t { unknown, dry, wet };
inline constexpr std::array kMoistureStates{MoistureState::unknown, MoistureState::dry, MoistureState::wet};
[[nodiscard]] constexpr std::string_view name_of(MoistureState state) {
  return state == MoistureState::dry ? "dry" : state == MoistureState::wet ? "wet" : "unknown";
}
/// The state of that name, if it is one.
[[nodiscard]] constexpr std::optional<MoistureState> moisture_from(std::string_view name) {
  for (const MoistureState state : kMoistureStates) {
    if (name == name_of(state)) return state;
  }
  return std::nullopt;
}

}  // namespace canewise
