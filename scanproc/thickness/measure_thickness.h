#pragma once

#include "scanproc/datum/aligned.h"
#include "scanproc/rig/rig.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

struct ThicknessOptions {
  double cell_mm = 0.0;         ///< Grid step; 0: 0.25 mm, or coarser where the scan has too few points for it.
  double edge_margin_mm = 0.1;  ///< Points and cell centres nearer to the rim are left out: half of them may be air.
};
void validate(const ThicknessOptions& options);

/// Least-squares plane over a footprint of three cells along the fibre and two across (0.75 x 0.5 mm), outliers removed
/// against a robust fit; its value at the cell's centre. The uncertainty follows [GUM]: local noise from the scan's own
/// autocovariance through the estimator's weights, plus the common effects of priors, plane and frame.
/// Throws NotMeasurable where the scan is too coarse for any cell.
[[nodiscard]] ThicknessMap measure_thickness(const Aligned& aligned, const Priors& priors,
                                             const ThicknessOptions& options = {});

}  // namespace canewise
