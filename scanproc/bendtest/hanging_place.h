#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "scanproc/bendtest/bench_view.h"

namespace canewise {

/// Which rail carries the load; `centre`: a loop over both, each with half of it.
enum class LoadSide { left, centre, right };
inline constexpr std::array kLoadSides{LoadSide::left, LoadSide::centre, LoadSide::right};
[[nodiscard]] constexpr std::string_view name_of(LoadSide side) {
  return side == LoadSide::left ? "left" : side == LoadSide::right ? "right" : "centre";
}

/// Where a thread lies over the vamp.
struct HangingPlace {
  double at_mm = 0.0;  ///< From the tip, in the middle of what was seen of it.
  double u_mm = 0.0;
};

/// The thread's ridge over the reed, as a scan with the load shows it; empty where none stands out.
[[nodiscard]] std::optional<HangingPlace> find_thread(const BenchView& loaded, const Result& reed, LoadSide side);

}  // namespace canewise
