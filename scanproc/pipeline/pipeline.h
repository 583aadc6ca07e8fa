#pragma once

#include <filesystem>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "scanproc/assess/target.h"
#include "scanproc/core/progress.h"
#include "scanproc/core/units.h"
#include "scanproc/mechanics/bend_reed.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/rig/rig.h"
#include "scanproc/scrape/plan_scrape.h"
#include "scanproc/thickness/measure_thickness.h"
#include "scanproc/words/message.h"

namespace canewise {

struct MeasureInputs {
  std::vector<std::filesystem::path> scans;  ///< Of one reed, except for measure_each.
  Rig rig;
  std::optional<Target> target;
  Player player;
  /// What a bend test found of this reed. Throws UsageError if it was bent in another state of moisture.
  std::optional<MeasuredCane> cane;
};

struct MeasureOptions {
  std::optional<LengthUnit> unit;  ///< Empty: millimetres, or another unit if only that one can be meant.
  std::optional<double> pitch_mm;  ///< Of a TIFF height map's pixels.
  std::optional<DatumMode> datum;  ///< Empty: told by what the scans show.
  bool whole =
      false;  ///< For calibration: with what no file holds (the map's common effects and slopes, the rig's own).
  bool laid_anew = false;  ///< Somebody lifted the reed and laid it down again from scan to scan.
  double table_tolerance_um = kTableTolerance_um;
  std::string instrument;  ///< Empty: told by the reed's size.
  MoistureState state = MoistureState::unknown;
  ThicknessOptions thickness;
  BendOptions bending;
  PlanOptions plan;
};

/// From the scans of one reed to its result, one stage after the other. Throws Error (see core/error.h) or Cancelled.
[[nodiscard]] Result measure(const MeasureInputs& inputs, const MeasureOptions& options = {},
                             const Progress& progress = {}, const std::stop_token& stop = {});

/// One of several reeds of a scan: its result, or why it could not be measured.
struct OneOfSeveral {
  std::optional<Result> result;
  Message refusal;
};

/// Every whole reed of one scan on a plate, from left to right as seen with the first one's tip up. Throws as above
/// where the scan as a whole cannot be measured.
[[nodiscard]] std::vector<OneOfSeveral> measure_each(const MeasureInputs& inputs, const MeasureOptions& options = {},
                                                     const Progress& progress = {}, const std::stop_token& stop = {});

}  // namespace canewise
