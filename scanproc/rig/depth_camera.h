#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "scanproc/bytes/settings.h"
#include "scanproc/rig/camera.h"

namespace canewise {

/// A camera whose pixels are depths along its axis.
struct DepthCamera : Camera {
  double depth_unit_mm = 1.0;       ///< Millimetres per stored step.
  std::vector<std::string> frames;  ///< File names; empty: every image of the folder, in the order of their names.
};

/// Reads width, height, fx, fy, cx, cy and, if there, distortion = [k1, k2, p1, p2, k3] from `settings`. Throws
/// InputError with `missing` for a key that is not there: it says where the keys must stand.
[[nodiscard]] Camera camera_from(Settings& settings, const Message& missing);

/// Reads camera.toml or camera.json: the above, and optional depth_unit_mm and frames. Throws InputError.
[[nodiscard]] DepthCamera read_depth_camera(const std::filesystem::path& path);

}  // namespace canewise
