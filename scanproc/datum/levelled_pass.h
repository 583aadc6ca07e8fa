#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "scanproc/core/plane_moments.h"

namespace canewise {

/// A pass seen in its plate's frame (z up), as mean points of half-millimetre cells.
class LevelledPass {
 public:
  /// `points_mm` in the plate's frame.
  LevelledPass(const Eigen::Matrix3Xd& points_mm, double plate_noise_mm);

  struct Cell {
    PlaneMoments moments;  ///< About the cell's middle.
    double low = 1e300, high = -1e300;
  };
  static constexpr double kCell_mm = 0.5;

  [[nodiscard]] double noise_mm() const { return noise_mm_; }
  [[nodiscard]] double reed_above_mm() const { return reed_above_mm_; }
  [[nodiscard]] const std::vector<Eigen::Vector3d>& means() const { return means_; }
  /// Height at a place from the four cells around it; NaN where one of them holds nothing or straddles an edge.
  [[nodiscard]] double height_at(double x_mm, double y_mm) const;
  /// Means of cells that stand above the plate.
  [[nodiscard]] const std::vector<Eigen::Vector3d>& reed() const { return reed_; }

 private:
  double noise_mm_, reed_above_mm_;
  double x_low_ = 0.0, y_low_ = 0.0;
  Eigen::Index rows_ = 0, columns_ = 0;
  std::vector<float> heights_;  ///< NaN: nothing there, or an edge.
  std::vector<Eigen::Vector3d> means_, reed_;
};

/// Cells in common by which two passes are told to be one reed: 60 square millimetres.
constexpr double kFewestPlaces = 250.0;

/// How well two passes agree when the second is moved onto the first.
struct Agreement {
  double share = 0.0;  ///< Of the compared places where one shows reed: how many have the same height.
  double places = 0.0;
  double rms_mm = 0.0;  ///< Of the height differences at those that agree.
  double mean_mm = 0.0;
};
[[nodiscard]] Agreement agreement_of(const LevelledPass& first, const LevelledPass& second,
                                     const Eigen::Isometry3d& first_from_second);
/// Good enough to be one reed in its place.
[[nodiscard]] bool agrees(const Agreement& agreement);

/// True if the heights differ over whole patches of 2 mm by more than the scatter within them explains and by more than
/// 12 micrometres, in more than one patch of thirty: then the two are not one reed.
[[nodiscard]] bool shapes_differ(const LevelledPass& first, const LevelledPass& second,
                                 const Eigen::Isometry3d& first_from_second);

/// True if the second pass can be moved along the plate (one to three millimetres along the reed, half of one across, a
/// degree of turn) without the heights disagreeing much more: then its place was not found but guessed. A fit's own
/// covariance does not show this, because noise and grain tilt the normals that it is made of.
[[nodiscard]] bool slides(const LevelledPass& first, const LevelledPass& second,
                          const Eigen::Isometry3d& first_from_second);

/// The line along which points reach farthest, in the plate's plane.
struct LongAxis {
  Eigen::Vector2d middle = Eigen::Vector2d::Zero();
  Eigen::Vector2d along = Eigen::Vector2d::UnitX();
  double half_length = 0.0;
};
[[nodiscard]] LongAxis long_axis_of(const std::vector<Eigen::Vector3d>& points_mm);

}  // namespace canewise
