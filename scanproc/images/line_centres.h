#pragma once

#include <cstddef>
#include <vector>

#include "scanproc/images/picture.h"

namespace canewise {

/// One point of the line's middle.
struct LineCentre {
  double column = 0.0, row = 0.0;                ///< Pixels, centres at whole numbers.
  double normal_column = 0.0, normal_row = 1.0;  ///< Unit vector across the line.
  double u_px = 0.0;        ///< Standard uncertainty across the line: noise of the picture, speckle, clipping.
  double brightness = 0.0;  ///< Of the smoothed ridge over the background, counts.
  bool clipped = false;     ///< Brighter than the camera can show.
};

struct LineOptions {
  double sigma_px = 2.0;         ///< Width of the line (standard deviation of its profile); the detector smooths by it.
  bool crosses_columns = true;   ///< One centre a column; else one a row.
  double centre_noise_px = 0.0;  ///< Scatter that speckle alone gives the centres.
};

/// What was found, and what was left out and why.
struct FoundLine {
  std::vector<LineCentre> centres;       ///< In the order of columns (or rows).
  double background = 0.0, noise = 0.0;  ///< Median and standard deviation of dark pixels, counts.
  double clipped_share = 0.0;            ///< Of the picture's pixels at full scale.
  std::size_t ambiguous = 0;             ///< Columns with two lines alike: a reflection, which one is unknown.
  std::size_t stray = 0;                 ///< Bright spots that belong to no line.
};

/// Middle of a bright line to a fraction of a pixel, by the ridge detector of [Steger1998]: derivatives of a Gaussian,
/// the principal direction of the Hessian, the root of the first derivative along it. It looks only where a column is
/// brightest, and where it is second brightest. The uncertainty across the line is the picture's noise through the
/// detector, noise / (sqrt(8 pi) sigma^2 |second derivative|) for white noise, plus speckle, plus a quarter of what a
/// uniform law over the clipped stretch gives (the profile is near enough symmetric; an assumption).
[[nodiscard]] FoundLine find_line(const GreyPicture& picture, const LineOptions& options);

/// The line's width, and the way that it runs, from pictures that show it clearly: median over its bright stretches.
/// Throws std::invalid_argument for no picture. `sigma_px` 0: no line found.
struct LineLook {
  double sigma_px = 0.0;
  bool crosses_columns = true;
};
[[nodiscard]] LineLook look_at_line(const std::vector<GreyPicture>& pictures);

}  // namespace canewise
