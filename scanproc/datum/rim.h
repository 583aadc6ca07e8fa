#pragma once

#include <Eigen/Geometry>
#include <vector>

#include "scanproc/datum/aligned.h"

namespace canewise {

/// What a scan shows beside the reed: the plate that it lies on, or nothing (a jig, a carrier).
enum class Beside { plate, nothing };

/// What the reed's edges stand out from.
struct Backdrop {
  double noise_mm = 0.0;  ///< Standard deviation of single points.
  Beside beside = Beside::plate;
};

/// Points near the reed's rim, in a frame that is close to the reed frame, kept small so that the frame can be refined
/// again and again.
struct RimPoints {
  std::vector<Eigen::Vector3d> left, right, tip, butt;
};

/// What one look at the rim says, in the frame that it was looked at in.
struct RimFit {
  SideLine left, right;
  bool shadowed_left = false, shadowed_right = false;
  double pivot_x_mm = 0.0;  ///< Middle of the stretch of the side fits.
  double u_centre_y_mm = 0.0, u_yaw_rad = 0.0;
  double apex_x_mm = 0.0, u_apex_x_mm = 0.0;
  double arc_radius_mm = 0.0, u_arc_radius_mm = 0.0;
  double butt_x_mm = 0.0, u_butt_x_mm = 0.0;
  double corner_drop_mm = 0.0, u_corner_drop_mm = 0.0;
  double tip_scatter_mm = 0.0;  ///< Standard deviation of the tip's edge points about the arc.
  std::vector<double> tip_columns_y_mm, tip_columns_x_mm;
  bool arc_is_at_limit = false;  ///< The tip's curvature is beyond any reed's.
  Chip chip = Chip::unclear;
};

/// First side lines from what stands clearly above the plate; good to a few tenths of a millimetre.
[[nodiscard]] std::pair<SideLine, SideLine> rough_sides(const Eigen::Matrix3Xd& points_mm, double length_mm,
                                                        double threshold_mm);
/// First station of the tip's edge, from the middle strip.
[[nodiscard]] double rough_tip(const Eigen::Matrix3Xd& points_mm, const Backdrop& backdrop);

/// Robust fits of sides, tip arc and butt. `previous` says where to look. Throws NotMeasurable where a part of the rim
/// cannot be made out.
[[nodiscard]] RimFit fit_rim(const RimPoints& points, const Eigen::Isometry3d& frame_from_points,
                             const RimFit& previous, const Backdrop& backdrop);

}  // namespace canewise
