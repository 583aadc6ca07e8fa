#pragma once

#include <functional>

#include "scanproc/rig/rig_calibration.h"

namespace canewise {

/// A camera with one of its parameters a step higher, and a step lower.
struct CamerasBeside {
  Camera higher, lower;
};
[[nodiscard]] CamerasBeside cameras_beside(const Camera& camera, int parameter, double step);

/// How three numbers that are found with a camera change with its parameters: central differences over one standard
/// uncertainty of each parameter.
[[nodiscard]] ByCamera derivative_by_camera(const CalibratedCamera& camera,
                                            const std::function<Eigen::Vector3d(const Camera&)>& found_with);

}  // namespace canewise
