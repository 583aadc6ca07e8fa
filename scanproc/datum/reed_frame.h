#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <optional>

#include "scanproc/datum/rim.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Points in the frame of what carries the reed: z = 0 is the plate or the table, z up.
struct OnGround {
  Eigen::Matrix3Xd points_mm;
  Eigen::VectorXf u_mm;  ///< As Cloud::u_mm.
  Eigen::Isometry3d ground_from_scan = Eigen::Isometry3d::Identity();
  double noise_mm = 0.0;
  double local_scatter_mm = 0.0;  ///< As PlateGuess::local_scatter_mm; 0: not known.
  double assumed_slow_mm = 0.0;   ///< As Cloud::assumed_slow_mm.
  Beside beside = Beside::plate;
};

/// The reed roughly in its place: x from tip to butt, y right, the apex near 0.
struct RoughReed {
  OnGround ground;  ///< `points_mm`: those near the reed, in the rough frame.
  Eigen::Isometry3d rough_from_ground = Eigen::Isometry3d::Identity();
  RimFit rim;  ///< Where to look first.
  /// The points over a plate that is flat, where the plate's form would hide the tip: edges are looked for in these.
  /// How thick the reed is, is told from the plate's plane all the same.
  std::optional<Eigen::Matrix3Xd> flattened_mm;
  Messages notes;

  [[nodiscard]] bool on_plate() const { return ground.beside == Beside::plate; }
  [[nodiscard]] const Eigen::Matrix3Xd& edge_points_mm() const {
    return flattened_mm ? *flattened_mm : ground.points_mm;
  }
};

/// Finds the reed, keeps what lies near it and looks for its rim once. Throws NotMeasurable where there is not exactly
/// one whole reed, table down, or its sides or its tip cannot be made out.
[[nodiscard]] RoughReed rough_reed(OnGround ground);

/// The reed frame, and what was seen of plate and rim in it.
struct ReedFrame {
  Eigen::Isometry3d reed_from_rough = Eigen::Isometry3d::Identity();
  RimFit rim;             ///< In the reed frame.
  double noise_mm = 0.0;  ///< Of plate points about the plate's plane; what the ground says where no plate is seen.
};

/// Levels by the plate and centres by the rim, in turn, until nothing moves any more. Throws NotMeasurable where too
/// little plate or too little of the rim is seen.
[[nodiscard]] ReedFrame refined_frame(const RoughReed& reed);

}  // namespace canewise
