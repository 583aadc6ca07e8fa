#pragma once

#include <Eigen/Geometry>
#include <filesystem>
#include <vector>

#include "scanproc/datum/pose_graph.h"
#include "scanproc/datum/shape_registration.h"

namespace canewise {

/// What joins passes in different poses with Open3D: functions of a library of our own, canewise_joining.so, that is
/// loaded when they are first asked for. The command starts and measures one scan without them.
struct JoiningPart {
  const char* version;  ///< Of canewise; another one's value types may differ.
  std::vector<ShapeFit> (*fits_by_shape)(const LevelledPass& first, const LevelledPass& second);
  std::vector<Eigen::Isometry3d> (*even_out)(const std::vector<Eigen::Isometry3d>& places,
                                             const std::vector<PoseLink>& links);
};

/// The part beside this program's file, or in the library folder of its installation; stays loaded. Throws Error with
/// the places looked at where it is in none of them, cannot be loaded, or belongs to another version.
[[nodiscard]] const JoiningPart& joining_part();

/// The same, from the first of these files that is there.
[[nodiscard]] const JoiningPart& load_joining_part(const std::vector<std::filesystem::path>& files);

}  // namespace canewise
