#include "scanproc/rig/depth_camera.h"

#include <cmath>

namespace canewise {

Camera camera_from(Settings& settings, const Message& missing) {
  Camera camera;
  constexpr double largest_side = 20000, far = 1e6;
  const auto needed = [&](const char* key, double low, double high) {
    const auto value = settings.number(key, low, high);
    if (!value) settings.fail(key, missing);
    return *value;
  };
  const auto side = [&](const char* key) {
    const double value = needed(key, 2, largest_side);
    if (value != std::floor(value)) settings.fail(key, {"depth_camera.no_whole_pixels"});
    return static_cast<std::size_t>(value);
  };
  camera.width = side("width");
  camera.height = side("height");
  camera.fx = needed("fx", 1, far);
  camera.fy = needed("fy", 1, far);
  camera.cx = needed("cx", -far, far);
  camera.cy = needed("cy", -far, far);
  if (const auto d = settings.numbers("distortion", 5, -100.0, 100.0); !d.empty()) {
    camera.k1 = d[0], camera.k2 = d[1], camera.p1 = d[2], camera.p2 = d[3], camera.k3 = d[4];
  }
  return camera;
}

DepthCamera read_depth_camera(const std::filesystem::path& path) {
  Settings settings = Settings::read(path);
  DepthCamera camera;
  static_cast<Camera&>(camera) = camera_from(settings, {"depth_camera.no_key"});
  settings.number_into(camera.depth_unit_mm, "depth_unit_mm", 1e-6, 1e3);
  camera.frames = settings.texts("frames");
  for (const auto& frame : camera.frames) {
    if (frame.empty() || frame.find('/') != std::string::npos || frame.find('\\') != std::string::npos)
      settings.fail("frames", {"depth_camera.frames_elsewhere"});
  }
  settings.refuse_unknown();
  return camera;
}

}  // namespace canewise
