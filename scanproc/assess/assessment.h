#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scanproc/assess/balance.h"
#include "scanproc/assess/faults.h"
#include "scanproc/assess/features.h"
#include "scanproc/assess/target.h"
#include "scanproc/assess/zones.h"

namespace canewise {

struct ZoneThickness {
  Zone zone;
  ZoneMean thickness;
};

/// What the map says of the reed.
struct Assessment {
  CutFeatures cut;
  ZoneMap zones;
  std::vector<ZoneThickness> zone_thickness;  ///< All 24 half zones.
  Balance balance;
  std::vector<Fault> faults;               ///< Where the sides differ, by cells; verdicts are the zones'.
  std::optional<TargetComparison> target;  ///< Empty where no target fits the instrument.
};

/// The fault that most of a zone's difference belongs to; null where the zone lies in none.
[[nodiscard]] const Fault* fault_of(const Assessment& assessment, const ZoneBalance& zone);

struct AssessInputs {
  const ThicknessMap& map;
  const Aligned& aligned;
  const Instrument& instrument;
  const Target* chosen = nullptr;  ///< The player's target; null compares with the nearest built-in.
  std::string rig = {};            ///< As in compare_with_target.
};

[[nodiscard]] Assessment assess(const AssessInputs& inputs);

}  // namespace canewise
