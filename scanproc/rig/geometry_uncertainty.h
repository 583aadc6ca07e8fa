#pragma once

#include "scanproc/rig/rig.h"

namespace canewise {

/// What the uncertainties of camera, plane of light and stage together do to a scan of a laser line.
struct GeometryUncertainty {
  double height_rel = 0.0;  ///< Standard uncertainty of heights over the plate, relative.
  double length_rel = 0.0;  ///< The same of lengths along the stage.
  double width_rel = 0.0;   ///< Across it.
  double form_um = 0.0;     ///< Of a flat plate's heights about its own plane, root mean square over a reed's place.
  double skew_um = 0.0;     ///< Left against right at 3 mm height, 6 mm off the middle.
};

/// Linear propagation ([GUM], eq. 13) through the reconstruction itself: a flat plate and a level 3 mm above it, as
/// wide and long as a reed, are projected by the rig and reconstructed by the rig moved along each principal direction
/// of its covariance. The rig must have camera, plane and stage; NaN where they do not let such a scene be seen.
[[nodiscard]] GeometryUncertainty propagate_geometry(const Rig& rig);

}  // namespace canewise
