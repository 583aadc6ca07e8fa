#pragma once

#include <cstddef>
#include <vector>

#include "scanproc/images/grey_image.h"

namespace canewise {

/// One depth a pixel from several frames of a still scene, in stored steps.
struct FusedDepth {
  std::size_t columns = 0, rows = 0;
  std::vector<float> depth;    ///< rows x columns; NaN = no trustworthy depth.
  std::vector<float> u_depth;  ///< Standard uncertainty from frame to frame, with their correlation; NaN for one frame.
  double frame_sd = 0.0;       ///< Median over the pixels of the scatter from frame to frame.
  double frame_correlation = 0;  ///< From one frame to the next; what two neighbouring frames share.
  double step_u = 0.0;           ///< Standard uncertainty from the stored steps that the scatter is too small to blur.
  std::size_t dropped_flying = 0;
};

/// Pixel by pixel: the mean of what lies within three robust standard deviations of the median (never less than a step
/// and a half, so that stored steps average instead of voting), of the pixels seen in at least half of the frames.
/// Dropped as flying are pixels whose scatter is far beyond that of their like, and pixels that hang between a nearer
/// and a farther surface, which a slope does not. Frames are independent only as far as their correlation says. The
/// error that is left of stored steps follows the noise before rounding: of s steps it leaves a ripple whose variance
/// is the sum over k of exp(-4 pi^2 k^2 s^2)/(2 pi^2 k^2) [Widrow2008], 1/12 for none. All frames must be of one size.
/// Throws std::invalid_argument for none.
[[nodiscard]] FusedDepth fuse_depth(const std::vector<DepthImage>& frames);

}  // namespace canewise
