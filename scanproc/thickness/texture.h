#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise {

/// sqrt(ln 2 / pi): makes the Gaussian filter pass half of a wave as long as its nesting index. [ISO16610-61].
inline constexpr double kGaussianAlpha = 0.46971863934982566;

/// Weight of the profile Gaussian filter at distance x, both in millimetres; integrates to 1. [ISO16610-21].
[[nodiscard]] double gaussian_weight(double x_mm, double nesting_mm);
/// Amplitude share of a wave that the filtered surface keeps: 2^-(nesting/wavelength)^2. [ISO16610-21], [ISO16610-61].
[[nodiscard]] double gaussian_transmission(double wavelength_mm, double nesting_mm);

/// Areal Gaussian filter [ISO16610-61] on a regular grid (rows step_x, columns step_y apart). NaN cells carry no
/// weight; at edges and holes the weights are renormalised. The kernel is cut at one nesting index to each side.
[[nodiscard]] Eigen::ArrayXXd gaussian_filter(const Eigen::ArrayXXd& z, double step_x_mm, double step_y_mm,
                                              double nesting_mm);

/// Height parameters of a surface about its mean, [ISO25178-2]; NaN cells are left out.
struct ArealParameters {
  double sa = 0, sq = 0, ssk = 0, sku = 0, sp = 0, sv = 0, sz = 0;
};
[[nodiscard]] ArealParameters areal_parameters(const Eigen::ArrayXXd& z);

/// Texture of one patch of the vamp at the scan's own point spacing. Holds the scanner's noise too.
struct Texture {
  double x_mm = 0, y_mm = 0;  ///< Middle of the patch.
  double step_mm = 0;
  ArealParameters s_f;  ///< Form (a quadratic surface) removed. Millimetres.
  ArealParameters s_l;  ///< And waves longer than 0.8 mm removed.
};
inline constexpr double kNesting_mm = 0.8;

/// A patch of 4 x 2.5 mm about (x, y). Empty if the scan is too coarse for a 0.8 mm filter or the patch has holes.
[[nodiscard]] std::optional<Texture> measure_texture(const Aligned& aligned, const ThicknessMap& map, double x_mm,
                                                     double y_mm);

/// One patch a side, in the middle of each half of the vamp; fewer where the scan shows too little.
[[nodiscard]] std::vector<Texture> vamp_texture(const Aligned& aligned, const ThicknessMap& map, double vamp_length_mm);

}  // namespace canewise
