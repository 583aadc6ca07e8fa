#pragma once

#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "scanproc/bendtest/hanging_place.h"
#include "scanproc/bendtest/identify_cane.h"
#include "scanproc/bendtest/tap_witness.h"
#include "scanproc/clouds/cloud.h"
#include "scanproc/core/progress.h"
#include "scanproc/mechanics/measured_cane.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// A scan of the clamped reed with the weight on it.
struct LoadedBench {
  Cloud cloud;
  LoadSide side = LoadSide::centre;
  std::optional<double> at_mm;  ///< Where the thread lies, from the tip; empty: as the scan shows it.
};

struct BendTestInputs {
  const Result& reed;  ///< Of the same reed, measured as usual: its thickness.
  Cloud free;
  std::optional<Cloud> free_again = {};  ///< After the weight: what has not come back crept.
  std::vector<LoadedBench> loaded;       ///< One to three.
  std::optional<HeardTaps> tap = {};     ///< Of the reed as it is clamped, without a weight.
  double mass_g = 0.0;
  MoistureState state = MoistureState::unknown;
};

struct BendTestOptions {
  double u_mass_rel = 0.01;              ///< Of the mass, alike in all scans.
  std::optional<double> stands_over_mm;  ///< From the tip to the block's edge; empty: as the scans show it.
};
void validate(const BendTestInputs& inputs, const BendTestOptions& options);

/// One weight, as it was measured and computed.
struct BentBy {
  LoadSide side = LoadSide::centre;
  double at_mm = 0.0, u_at_mm = 0.0;
  bool at_was_seen = false;
  Field measured_mm, u_mm, computed_mm;             ///< Downwards, on the result's grid; NaN where not seen.
  double at_thread_mm = 0.0, u_at_thread_mm = 0.0;  ///< Under the hook, or in the middle of the loop.
  double rms_left_mm = 0.0;                         ///< Measured less computed.
};

/// What bending one reed by known weights tells of its cane.
struct BendTest {
  std::string tested_at;  ///< ISO 8601, UTC.
  ReedName reed;
  std::string measured_at;                  ///< Of the result that the thickness is from.
  Measured stock_height_mm, butt_width_mm;  ///< Of that result: what no scraping changes...
  Eigen::ArrayXXd relative_thickness_mm;    ///< ...and what scraping makes thinner, never thicker.
  double mass_g = 0.0;
  double edge_mm = 0.0, clamp_mm = 0.0;
  Grid grid;
  MeasuredCane cane;
  std::array<bool, kCaneParts.size()> told{};  ///< In the order of kCaneParts: the data say more than the assumption.
  std::vector<BentBy> weights;
  std::optional<double> crept_mm;  ///< How much lower the vamp stayed beside the thread, if it was scanned again.
  std::optional<TapWitness> tap;
  Messages sentence;  ///< What was learned.
  Messages remarks;
};

/// Throws NotMeasurable with the reason where the scans do not show a reed that was bent by its weight alone: other
/// reed, scans swapped or alike, slipped, loose, thread somewhere else. Throws UsageError for impossible inputs.
[[nodiscard]] BendTest bend_test(BendTestInputs inputs, const BendTestOptions& options = {},
                                 const Progress& progress = {}, const std::stop_token& stop = {});

}  // namespace canewise
