#pragma once

#include <filesystem>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "scanproc/assess/target.h"
#include "scanproc/core/progress.h"
#include "scanproc/core/units.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/scan/rig.h"
#include "scanproc/scrape/plan_scrape.h"
#include "scanproc/thickness/measure_thickness.h"

namespace canewise {

struct MeasureInputs {
  std::filesystem::path scan;
  Rig rig;
  std::optional<Target> target;
  Player player;
};

struct MeasureOptions {
  std::optional<LengthUnit> unit;  ///< Empty: millimetres, or another unit if only that one can be meant.
  std::string instrument;          ///< Empty: told by the reed's size.
  MoistureState state = MoistureState::unknown;
  ThicknessOptions thickness;
  PlanOptions plan;
};

/// From a scan to a result, one stage after the other. Throws Error (see core/error.h) or Cancelled.
[[nodiscard]] Result measure(const MeasureInputs& inputs, const MeasureOptions& options = {},
                             const Progress& progress = {}, const std::stop_token& stop = {});

}  // namespace canewise
