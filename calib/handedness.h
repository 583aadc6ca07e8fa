#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/rig/rig.h"
#include "scanproc/words/message.h"

namespace canewise {

/// A reed on the plate with something flat (a strip of card, a coin) laid to its right.
struct Handedness {
  bool mirrored = false;       ///< The rig swaps left and right.
  bool was_corrected = false;  ///< The rig file said so before.
  Eigen::Vector2d mark_mm =
      Eigen::Vector2d::Zero();  ///< Middle of the mark, reed frame, as the rig shows it uncorrected.
  double mark_area_mm2 = 0.0;
  Outline outline;
  std::vector<Eigen::Vector2d> mark_points_mm;  ///< Some of them, for the picture.
  Messages verdict;
};
/// Throws NotMeasurable where there is no reed, no mark, or one on both sides.
[[nodiscard]] Handedness check_handedness(Cloud cloud, Rig rig);

}  // namespace canewise
