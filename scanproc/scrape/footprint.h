#pragma once

#include <vector>

#include "scanproc/scrape/scrape_plan.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// What a tool makes of a place with sharp borders, and how far a hand misses it. Invented defaults.
struct Footprint {
  double tool_width_mm =
      4.0;                  ///< Across the fibre. Nothing narrower can be cut, but where the tool hangs over the rim.
  double edge_mm = 0.35;    ///< Over so much a cut fades out at its sides...
  double run_out_mm = 1.0;  ///< ...and where strokes start and end.
  double slip_mm = 0.7;     ///< Standard deviation of where a cut comes to lie, both directions together.

  /// So far from a place's border a cut is still felt if the hand slips by `slip_mm` that way...
  [[nodiscard]] double reach_along_mm() const { return slip_mm + 0.5 * run_out_mm; }
  [[nodiscard]] double reach_across_mm() const { return slip_mm + 0.5 * edge_mm; }
  /// ...and at the tip, where everything lies within millimetres, if it slips by half of that.
  [[nodiscard]] double reach_to_tip_mm() const { return 0.5 * slip_mm + 0.5 * run_out_mm; }
};

/// The share of its depth that a place takes off each cell.
struct CutShare {
  std::vector<Eigen::Index> cells;  ///< Column-major, as a Field lies in memory.
  std::vector<float> share;         ///< 0 to 1.
};
/// Expected over the hand's slips: soft at every border.
[[nodiscard]] CutShare expected_cut(const Grid& grid, const std::vector<PlanPoint>& polygon,
                                    const Footprint& footprint = {});

}  // namespace canewise
