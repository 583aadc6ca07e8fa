#pragma once

#include <Eigen/Core>

#include "scanproc/bendtest/bench_view.h"

namespace canewise {

/// How far the reed went down under a load, laid on the stock behind the clamp, which does not bend.
struct Deflection {
  Grid grid;
  Field down_mm;  ///< NaN where either scan shows nothing.
  Field u_mm;     ///< Standard uncertainty of a cell by itself.
  /// Covariance of what laying the stock on itself leaves: height (mm), slope along and slope across, at the tip.
  Eigen::Matrix3d laid = Eigen::Matrix3d::Zero();
  /// What laying the stock on itself makes of a slide of 1 mm along and across: height, slope along, slope across. The
  /// bark falls to both sides, so that a slide across looks like a roll.
  Eigen::Vector3d by_slide_along = Eigen::Vector3d::Zero(), by_slide_across = Eigen::Vector3d::Zero();
  double u_along_mm = 0.0, u_across_mm = 0.0;  ///< How well one scan lies on the other along and across the reed.
  double stock_turned_mm = 0.0;  ///< How far the stock itself moved against the block; NaN where no block is seen.
  double slid_mm = 0.0;          ///< How far the reed slid forwards over the block.
  double u_slid_mm = 0.0;
  bool same_place = false;  ///< The scanner saw both from the same place, so that its own slow errors cancel.
};

/// Slope of the reed's surface along and across over a square of so many cells; NaN where it was not measured.
[[nodiscard]] Eigen::Vector2d slope_over(const ThicknessMap& map, Eigen::Index row, Eigen::Index column,
                                         Eigen::Index cells);

/// Throws NotMeasurable where too little of the stock is seen in both.
[[nodiscard]] Deflection deflection_between(const BenchView& free, const BenchView& loaded, const Result& reed);

}  // namespace canewise
