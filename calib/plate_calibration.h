#pragma once

#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/rig/rig.h"
#include "scanproc/words/message.h"

namespace canewise {

/// The way up of a scanner's plate: towards the camera where the rig has one, else the file's +z.
[[nodiscard]] Eigen::Vector3d up_of(const Eigen::Vector3d& plane_normal, double plane_distance, const Rig& rig);

struct PlateCalibration {
  PlateForm found;
  double form_um = 0.0;       ///< Root mean square of the form itself...
  double range_um = 0.0;      ///< ...and from its lowest to its highest tile.
  double noise_um = 0.0;      ///< Of single points about the mapped form.
  double left_over_um = 0.0;  ///< Bow or twist over 60 mm that differs from scan to scan: what remains after the map.
  /// What differs from scan to scan over shorter ways and is alike over about slow_length_mm; NaN for a single scan.
  double slow_um = 0.0, slow_length_mm = 0.0;
  std::size_t scans = 0;
  Messages remarks;
};

/// Form of the empty plate, as used, from scans of nothing else on it (two or more, lifted and wiped between them, tell
/// how well it repeats). Tiles of 2 mm, means without outliers, over the plane through all scans. Throws InputError:
/// something lies on the plate, no plane, scans of plates in different places.
[[nodiscard]] PlateCalibration calibrate_plate(const std::vector<Cloud>& empty_scans, const Rig& rig);

}  // namespace canewise
