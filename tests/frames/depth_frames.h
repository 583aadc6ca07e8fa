#pragma once

#include <cstddef>
#include <cstdint>

#include "scanproc/images/grey_image.h"
#include "scanproc/rig/depth_camera.h"

namespace canewise::test {

/// A real camera with a strong lens: the left one of the calibration images that OpenCV publishes with its result
/// (left_intrinsics.yml, handbook D2).
inline DepthCamera published_camera() {
  DepthCamera camera;
  camera.width = 640;
  camera.height = 480;
  camera.fx = camera.fy = 535.91573396;
  camera.cx = 342.28315473;
  camera.cy = 235.57082910;
  camera.k1 = -0.26637261;
  camera.k2 = -0.03858890;
  camera.p1 = 0.00178319;
  camera.p2 = -0.00028122;
  camera.k3 = 0.23839153;
  return camera;
}

inline DepthImage constant(std::size_t columns, std::size_t rows, std::uint16_t value) {
  DepthImage image;
  image.columns = columns;
  image.rows = rows;
  image.values.assign(columns * rows, value);
  return image;
}

}  // namespace canewise::test
