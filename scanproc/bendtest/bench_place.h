#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <optional>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// Where a clamped reed lies in a scan.
struct BenchPlace {
  Eigen::Isometry3d reed_from_scan = Eigen::Isometry3d::Identity();
  double u_x_mm = 0.0, u_y_mm = 0.0;  ///< Standard uncertainty of the tip's apex and of the centreline.
};

struct BenchSearch {
  /// The vamp hangs lower than the result says: height and tilt come from the stock alone.
  bool bent = false;
  std::optional<Eigen::Isometry3d> near = {};  ///< Where it lay in another scan; looked at first.
};

/// Finds a reed that is known from its result among what a bench shows: block, clamp, thread and whatever lies below.
/// First guess: the reed's surface is laid on the scan in every direction and at every place, upright on each plane
/// that the scan shows. Then height and tilt are fitted to the surface, the rest to the tip's edge and the sides of
/// the vamp, which stand in the air.
/// Throws NotMeasurable where the scan does not show this reed.
[[nodiscard]] BenchPlace find_on_bench(const Eigen::Matrix3Xd& points_mm, const Result& reed,
                                       const BenchSearch& search = {});

}  // namespace canewise
