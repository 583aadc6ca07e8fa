#pragma once

#include <optional>

#include "scanproc/bendtest/bench_place.h"
#include "scanproc/thickness/surface.h"

namespace canewise {

/// What one scan shows of a reed that is clamped on a block, in the reed's frame and on its result's grid. Where the
/// result says nothing, nothing is looked at.
struct BenchView {
  BenchPlace place;
  Surface surface;       ///< Heights of the reed; the clamp is left out.
  double edge_mm = 0.0;  ///< Where the block ends under the vamp, from the tip: as it shows, or as the bar over it.
  bool edge_was_seen = false;
  double u_edge_mm = 0.0;                         ///< Its standard uncertainty.
  double edge_skew = 0.0;                         ///< How far the edge runs back per millimetre to the right.
  double clamp_from_mm = 0.0, clamp_to_mm = 0.0;  ///< Between these the clamp hides the stock.
  double block_mm = 0.0;           ///< Height of the block's top beside the stock; NaN where none is seen.
  Eigen::Matrix3Xd tip_points_mm;  ///< The points of the front part, reed frame: the thread is looked for there.
};

/// Throws NotMeasurable where the scan shows no such reed, no clamp, or too little of the stock behind it.
[[nodiscard]] BenchView view_bench(const Eigen::Matrix3Xd& points_mm, const Result& reed,
                                   const BenchSearch& search = {});

/// Part of the stock that both scans are laid on each other by.
inline constexpr double kStockSeen_mm = 8.0;

}  // namespace canewise
