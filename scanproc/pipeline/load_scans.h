#pragma once

#include <filesystem>
#include <future>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/core/progress.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/rig/rig.h"
#include "scanproc/words/message.h"

namespace canewise {

struct LoadOptions {
  std::optional<LengthUnit> unit;  ///< Empty: as the file says, or millimetres, or another if only that can be meant.
  std::optional<double> pitch_mm;  ///< Of a TIFF height map's pixels.
  const Rig* rig = nullptr;        ///< For frames of a laser line or a depth camera; not owned.
  Progress progress = {};
};

/// Scans in millimetres with what is to be recorded of their files.
struct LoadedScans {
  std::vector<Cloud> clouds;
  std::vector<ScanSource> sources;  ///< Without digests until finish().
  Messages notes;

  /// Waits for the digests, which are computed meanwhile.
  void finish();
  std::vector<std::future<std::string>> digests;
};

/// Reads every scan. Throws InputError, or NotMeasurable where no unit makes sense.
[[nodiscard]] LoadedScans load_scans(const std::vector<std::filesystem::path>& paths, const LoadOptions& options);

}  // namespace canewise
