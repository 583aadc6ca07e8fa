#pragma once

#include <string>
#include <vector>

#include "scanproc/rig/rig_calibration.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Chart of individual values with limits from moving ranges ([ISO7870-2]): mean +- 2.66 times the mean moving range of
/// the first values (at most 20 set the limits, never the newest once there are enough without it).
struct CheckChart {
  std::vector<double> values_um;
  double mean_um = 0.0, low_um = 0.0, high_um = 0.0;
  double sd_um = 0.0;     ///< Mean moving range / 1.128.
  std::size_t base = 0;   ///< Values that set the limits.
  std::vector<bool> out;  ///< Beyond the limits, or the eighth in a row on one side of the mean.
};
inline constexpr std::size_t kFewestChecks = 5;
[[nodiscard]] CheckChart chart_of(const std::vector<double>& values_um);

enum class Drift { none, reed, rig, cannot_tell };
struct DriftVerdict {
  Drift drift = Drift::cannot_tell;
  Messages sentence;
};
/// Whether a reed's change (um, with its standard uncertainty) between two moments is its own: only if the piece that
/// does not change was scanned by then and stayed put. `checks` in their order, the newest belonging to the later scan.
[[nodiscard]] DriftVerdict judge_drift(double change_um, double u_um, const std::vector<double>& checks_um);

}  // namespace canewise
