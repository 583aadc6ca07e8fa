#pragma once

#include <optional>
#include <string_view>

namespace canewise {

[[nodiscard]] constexpr double um_from_mm(double mm) { return mm * 1000.0; }
[[nodiscard]] constexpr double mm_from_um(double um) { return um / 1000.0; }

/// Length unit of a scan file. Inside the program everything is in millimetres.
enum class LengthUnit { mm, um, m, in };

[[nodiscard]] constexpr double mm_per(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::um:
      return 1e-3;
    case LengthUnit::m:
      return 1e3;
    case LengthUnit::in:
      return 25.4;
    case LengthUnit::mm:
      break;
  }
  return 1.0;
}

[[nodiscard]] constexpr std::string_view name_of(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::um:
      return "um";
    case LengthUnit::m:
      return "m";
    case LengthUnit::in:
      return "in";
    case LengthUnit::mm:
      break;
  }
  return "mm";
}

/// Empty when the name is none of mm, um, m, in.
[[nodiscard]] constexpr std::optional<LengthUnit> length_unit_from(std::string_view name) {
  for (const LengthUnit unit : {LengthUnit::mm, LengthUnit::um, LengthUnit::m, LengthUnit::in}) {
    if (name == name_of(unit)) return unit;
  }
  return std::nullopt;
}

}  // namespace canewise
