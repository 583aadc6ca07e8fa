#pragma once

#include <string>
#include <vector>

#include "scanproc/frames/depth_folder.h"
#include "scanproc/rig/rig.h"
#include "scanproc/words/message.h"

namespace canewise {

/// A depth camera's look at the flat plate from one distance.
struct PlateView {
  std::string name;
  DepthFolder folder;
};

struct DepthCalibration {
  DepthCorrection found;
  double before_um = 0.0;  ///< Root mean square of a tile's error, uncorrected...
  double after_um = 0.0;  ///< ...and of single distances left out and foretold by the others; NaN for fewer than three.
  struct View {
    std::string name;
    double depth_mm = 0.0, tilt_deg = 0.0, noise_um = 0.0, error_um = 0.0;
  };
  std::vector<View> views;
  Message advice;  ///< How many frames to take.
};

/// Depth errors of each part of the picture and their growth with depth, from frames of one flat plate at two or more
/// distances: at each, the tiles' distances along the axis from the plane through all. Noise from frame to frame and
/// its memory give the number of frames beyond which the error that stays (half of the tiles' scatter left) rules.
/// Throws InputError: one distance only, a plate that fills too little of the picture, different sizes.
[[nodiscard]] DepthCalibration calibrate_depth(const std::vector<PlateView>& views);

}  // namespace canewise
