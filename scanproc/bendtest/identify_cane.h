#pragma once

#include <Eigen/Core>
#include <vector>

#include "scanproc/bendtest/deflection.h"
#include "scanproc/bendtest/hanging_place.h"
#include "scanproc/mechanics/cane.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// A known weight on a clamped reed, and what it did.
struct HungWeight {
  LoadSide side = LoadSide::centre;
  HangingPlace place;
  double force_n = 0.0;
  const Deflection& deflection;
};

struct IdentifyInputs {
  const Result& reed;
  std::vector<HungWeight> weights;
  double u_edge_mm = 0.0;
  double edge_mm = 0.0;               ///< The block ends here under the vamp...
  double clamp_mm = 0.0;              ///< ...and from here on the reed is held down.
  CaneState prior;                    ///< What is taken of the cane before.
  double u_force_rel = 0.0;           ///< Of all weights alike.
  double u_x_mm = 0.0, u_y_mm = 0.0;  ///< How well the map lies on the scans.
};

/// What one weight did, as the cane that was found does it.
struct ComputedDeflection {
  Field down_mm;                                    ///< On the result's grid; NaN beyond the block's edge.
  double rms_left_mm = 0.0;                         ///< Of the squares' means, measured less computed.
  double noise_mm = 0.0;                            ///< What the scans' noise lets expect of that.
  double largest_mm = 0.0;                          ///< Of the computed deflection.
  double at_thread_mm = 0.0, u_at_thread_mm = 0.0;  ///< How far the reed went down there, by its own bending.
};

struct IdentifiedCane {
  Cane cane;
  double left_right = 0.0;
  Eigen::Matrix<double, 6, 6> covariance;  ///< As in MeasuredCane.
  std::vector<ComputedDeflection> computed;
  /// Sum of squares of all that is no cane, in standard deviations of its prior: far above their number, and something
  /// else bent the reed.
  double strained = 0.0;
  int nuisances = 0;      ///< Their number.
  double farthest = 0.0;  ///< Of the cane's parts beside the modulus too: standard deviations from the prior.
  double turned_in_clamp_rad = 0.0;  ///< How far the whole vamp turned about the block's edge by itself.
};

/// Finite element model updating: the plate's moduli, gradient and sides are moved until the deflections that it
/// computes lie on those that were measured, with the plate's exact derivatives (adjoint), Gauss-Newton on means over
/// squares of 1.5 mm. Priors hold what the data do not tell. Estimated beside them, each with its prior: what the
/// thickness may be off, how the stock was laid on itself, how far the reed turned in its clamp, where the thread lies,
/// how the loop shares its load, the force, the plate model's own error. Bayesian linear model about the optimum:
/// covariance = (J' R^-1 J + P^-1)^-1.
/// Throws NotMeasurable where too little of the vamp is seen.
[[nodiscard]] IdentifiedCane identify_cane(const IdentifyInputs& inputs);

}  // namespace canewise
