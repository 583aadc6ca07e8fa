#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>

#include "scanproc/clouds/cloud.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/datum/ties.h"
#include "scanproc/rig/rig.h"

namespace canewise {

/// Top and underside of one reed in the frame of the top's scan.
struct BothSides {
  Eigen::Matrix3Xd top_mm, underside_mm;
  std::optional<TiedMotion>
      tie;  ///< Of the underside's scan onto the top's. Empty: they came in one (a closed surface).
  double height_step_u_mm = 0.0, assumed_slow_mm = 0.0;  ///< See Cloud.
};

/// Brings two scans of one reed, one from each side, together by the spheres or the corner block that both show. Which
/// of them shows the table is told by its flatness. Throws NotMeasurable where the places in view do not fix all six
/// degrees of freedom (a reed's own sides say nothing of the height), or fix them in more than one way.
[[nodiscard]] BothSides join_sides(Cloud first, Cloud second, const Rig& rig);

/// The two sides of a closed surface, told by the direction of its normals. Throws NotMeasurable for another thing.
[[nodiscard]] BothSides sides_of(const Cloud& closed, const Rig& rig);

}  // namespace canewise
