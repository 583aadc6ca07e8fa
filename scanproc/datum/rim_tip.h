#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/datum/rim_edge.h"

namespace canewise {

/// Where the tip is looked for.
struct TipSearch {
  double apex_x_mm, arc_radius_mm, half_width_mm;
};

/// Edge of the tip in columns along x, from left to right; NaN: not seen.
struct TipColumns {
  std::vector<double> y_mm, x_mm;
};

[[nodiscard]] TipColumns find_tip_columns(const std::vector<Eigen::Vector3d>& points,
                                          const Eigen::Isometry3d& frame_from_points, const TipSearch& search,
                                          const EdgeFinder& find_edge);

/// Members as in RimFit.
struct TipArc {
  double apex_x_mm = 0.0, u_apex_x_mm = 0.0;
  double radius_mm = 0.0, u_radius_mm = 0.0;
  double corner_drop_mm = 0.0, u_corner_drop_mm = 0.0;
  double scatter_mm = 0.0;
  bool is_at_limit = false;
  Chip chip = Chip::unclear;
};

/// Half of the reed's width at the tip.
struct HalfWidth {
  double mm, u_mm = 0.0;
};

/// The arc through the middle columns, and how the others lie to it. Throws NotMeasurable where too few were seen.
[[nodiscard]] TipArc fit_arc(const TipColumns& columns, const HalfWidth& half_width, double first_radius_mm);

}  // namespace canewise
