#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "scanproc/clouds/cloud.h"
#include "scanproc/core/progress.h"
#include "scanproc/images/line_centres.h"
#include "scanproc/rig/rig.h"

namespace canewise {

/// Centres of one frame as points on the sheet, with their standard uncertainties.
struct FrameProfile {
  std::vector<Eigen::Vector3d> points_mm;
  std::vector<float> u_mm;
  std::size_t clipped = 0, ambiguous = 0, stray = 0, without_depth = 0;
};
[[nodiscard]] FrameProfile profile_of(const GreyPicture& frame, const Rig& rig);

/// Points of a folder of laser-line frames, one for every step of the stage: the camera's axes at the first frame.
/// scan.toml in the folder may say travel_per_frame_mm and frames. Throws InputError: no line in most frames, frames of
/// another size than the rig's camera, no way between frames.
[[nodiscard]] Cloud read_laser_folder(const std::filesystem::path& folder, const Rig& rig, const Progress& progress);

/// One digest of scan.toml, if there, and all frames.
[[nodiscard]] std::string laser_folder_sha256(const std::filesystem::path& folder);

}  // namespace canewise
