#include "calib/by_camera.h"

#include <algorithm>
#include <cmath>

namespace canewise {

CamerasBeside cameras_beside(const Camera& camera, int parameter, double step) {
  CamerasBeside beside{camera, camera};
  auto changed = camera.parameters();
  changed(parameter) += step;
  beside.higher.set_parameters(changed);
  changed(parameter) -= 2.0 * step;
  beside.lower.set_parameters(changed);
  return beside;
}

ByCamera derivative_by_camera(const CalibratedCamera& camera,
                              const std::function<Eigen::Vector3d(const Camera&)>& found_with) {
  ByCamera derivative;
  for (int k = 0; k < Camera::kParameters; ++k) {
    const double step = std::max(1e-9, std::sqrt(camera.covariance(k, k)));
    const CamerasBeside beside = cameras_beside(camera.camera, k, step);
    derivative.col(k) = (found_with(beside.higher) - found_with(beside.lower)) / (2.0 * step);
  }
  return derivative;
}

}  // namespace canewise
