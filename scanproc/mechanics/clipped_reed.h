#pragma once

namespace canewise {

/// A reed's stiffness under the lip and thickness at the tip after clipping.
struct ClippedReed {
  double clip_mm = 0.0;
  double stiffness_lip_n_per_mm = 0.0;
  double stiffness_ratio = 1.0;  ///< To the unclipped reed.
  double tip_thickness_mm = 0.0;
};

}  // namespace canewise
