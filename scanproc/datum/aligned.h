#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/words/message.h"

namespace canewise {

/// A straight side of the reed: y = offset + slope * x.
struct SideLine {
  double offset_mm = 0.0;
  double slope = 0.0;
  double u_offset_mm = 0.0;  ///< Standard uncertainty of y at the middle of the fitted stretch.
  double scatter_mm = 0.0;   ///< Standard deviation of the edge points about the line.
  [[nodiscard]] double at(double x_mm) const { return offset_mm + slope * x_mm; }
};

/// Whether a piece is missing from the tip's edge.
enum class Chip { whole, chipped, unclear };

/// The reed's rim in the reed frame.
struct Outline {
  SideLine left, right;    ///< left.at(x) < 0 < right.at(x).
  double length_mm = 0.0;  ///< Apex to butt along the centreline.
  double u_length_mm = 0.0;
  double tip_arc_radius_mm = 0.0;  ///< Of the circle through the middle of the tip's edge.
  double u_tip_arc_radius_mm = 0.0;
  double corner_drop_mm = 0.0;  ///< How far the edge falls behind that circle at 0.9 of the half width: roundness.
  double u_corner_drop_mm = 0.0;
  std::vector<double> tip_edge_mm;  ///< x of the tip's edge at y = tip_edge_first_y_mm + k * tip_edge_step_mm.
  double tip_edge_first_y_mm = 0.0;
  double tip_edge_step_mm = 0.25;
  bool chipped = false;       ///< Surely; see chip_unclear.
  bool chip_unclear = false;  ///< The scan cannot tell whether it is.
  bool shadowed_left = false, shadowed_right = false;

  [[nodiscard]] double half_width_mm(double x_mm) const { return 0.5 * (right.at(x_mm) - left.at(x_mm)); }
  [[nodiscard]] double tip_edge_at(double y_mm) const;
  /// At least `margin_mm` inside the rim.
  [[nodiscard]] bool holds(double x_mm, double y_mm, double margin_mm = 0.0) const;
};

/// How it is known where the table is.
enum class DatumMode { plate, pads, two_sided };
inline constexpr std::array kDatumModes{DatumMode::plate, DatumMode::pads, DatumMode::two_sided};
[[nodiscard]] constexpr std::string_view name_of(DatumMode mode) {
  return mode == DatumMode::plate ? "plate" : mode == DatumMode::pads ? "pads" : "two-sided";
}

/// Standard uncertainties of the reed frame's parameters.
struct FrameUncertainty {
  double x_mm = 0.0;  ///< Of the apex along the centreline.
  double y_mm = 0.0;  ///< Of the centreline at `pivot_x_mm`, where it is independent of yaw.
  double yaw_rad = 0.0;
  double pivot_x_mm = 0.0;
  double scale_rel = 0.0;  ///< Relative, of every length, from the rig's prior.
  /// Covariance of the datum's height (mm), slope along x and slope along y, at the frame's origin: of the plate's or
  /// the pads' plane, or of the underside's place under the top.
  Eigen::Matrix3d plate_plane = Eigen::Matrix3d::Zero();
};

/// Where the plate was seen, in blocks, so that the effect of its form on the plane can be worked out.
struct PlateBlock {
  double x_mm, y_mm, points;
};

/// What the plate's heights share over a millimetre and more beside its plane: the scanner's slow error.
struct SlowError {
  bool seen = false;       ///< There was enough plate to look for it.
  double sd_mm = 0.0;      ///< Beside a quadratic form.
  double length_mm = 0.0;  ///< Over which it is about the same.
  static constexpr double kReach_mm = 30.0;
  /// Bow along, bow across and twist that the plate clearly shows, at kReach_mm from the reed's middle; 0: none. The
  /// scanner's or the plate's own: nobody can tell from one scan.
  std::array<double, 3> form_mm{};
};

/// How two or more scans were brought together. What is left of it counts in the uncertainty.
struct Registration {
  Message method;            ///< For people: 'four spheres', 'shape of reed and plate'.
  bool one_pose = false;     ///< Reed and scanner stood still in between.
  double residual_mm = 0.0;  ///< Root mean square of what was made to agree.
  /// Covariance of the second scan's place: shift x, y, z (mm), turn about x, y, z (rad), in the reed frame.
  Eigen::Matrix<double, 6, 6> covariance = Eigen::Matrix<double, 6, 6>::Zero();
};

/// A scan brought into the reed frame.
struct Aligned {
  DatumMode datum = DatumMode::plate;
  Eigen::Matrix3Xd points_mm;  ///< 3 x N, reed frame; the points inside the outline. Exact duplicates are gone.
  Eigen::VectorXf u_mm;        ///< N standard uncertainties that the points came with, or empty; see Cloud.
  Eigen::Isometry3d reed_from_scan = Eigen::Isometry3d::Identity();
  Outline outline;
  FrameUncertainty uncertainty;
  std::vector<PlateBlock> plate_blocks;
  Eigen::Matrix3Xd underside_mm;  ///< Two-sided only: 3 x M, reed frame; the table's points inside the outline.
  double plate_noise_mm = 0.0;    ///< Standard deviation of single points about the plane of the plate, pads or table.
  SlowError slow;
  /// Standard uncertainty that neighbouring heights share and their scatter does not show; see Cloud.
  double height_step_u_mm = 0.0;
  /// Slow error that scans of this kind have where the plate does not show it; see Cloud.
  double assumed_slow_mm = 0.0;
  std::optional<Registration> registration;
  double spacing_mm = 0.0;  ///< Root of the area that a point stands for, on the reed.
  std::size_t duplicate_points = 0;
  Messages notes;  ///< Remarks for people: clutter left out, a shadowed side, a chipped tip.
};

}  // namespace canewise
