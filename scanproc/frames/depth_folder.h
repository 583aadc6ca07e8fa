#pragma once

#include <filesystem>

#include "scanproc/clouds/cloud.h"
#include "scanproc/frames/depth_fusion.h"
#include "scanproc/rig/depth_camera.h"
#include "scanproc/rig/rig.h"

namespace canewise {

/// True if the folder holds a camera file.
[[nodiscard]] bool is_depth_folder(const std::filesystem::path& folder);

/// Points of a folder with camera.toml or camera.json and one or more depth frames of a still scene, fused.
/// x to the right, y down and z away from the camera, millimetres. A rig's depth correction is applied. Throws
/// InputError.
[[nodiscard]] Cloud read_depth_folder(const std::filesystem::path& folder, const Rig* rig = nullptr);

/// A depth camera's folder as it is calibrated from: the camera and its frames made one, in stored steps.
struct DepthFolder {
  DepthCamera camera;
  FusedDepth fused;
  std::size_t frames = 0;
};
[[nodiscard]] DepthFolder fuse_depth_folder(const std::filesystem::path& folder);

/// One digest of the camera file and all frames, in the order that they are used.
[[nodiscard]] std::string depth_folder_sha256(const std::filesystem::path& folder);

}  // namespace canewise
