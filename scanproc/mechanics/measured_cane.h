#pragma once

#include <Eigen/Core>
#include <string>

#include "scanproc/core/moisture.h"
#include "scanproc/mechanics/cane.h"

namespace canewise {

/// The cane of one reed as a bend test found it: what stands in place of the assumptions from then on.
struct MeasuredCane {
  Cane cane;
  double left_right = 0.0;  ///< Moduli of the right half over those of the left, less 1.
  /// Of the parts in the order of kCaneParts; relative but for the gradient and the sides. What the test could not tell
  /// has the spread of its assumption.
  Eigen::Matrix<double, 6, 6> covariance = Eigen::Matrix<double, 6, 6>::Zero();
  MoistureState state = MoistureState::unknown;  ///< In which it was bent: wet cane is another cane.
  std::string tested_at;                         ///< ISO 8601, UTC.
};

/// As what a reed is bent with.
[[nodiscard]] CaneState cane_in(const MeasuredCane& measured);

/// Modulus along the fibre so deep under the bark.
[[nodiscard]] double modulus_at(const Cane& cane, double depth_mm);

/// Modulus along the fibre at the depth under the bark where the test knows it best: there it does not depend on the
/// gradient that was found.
struct BestKnownModulus {
  double depth_mm = 0.0;  ///< Under the bark.
  double e_l_mpa = 0.0;
  double u_rel = 0.0;
};
[[nodiscard]] BestKnownModulus best_known_modulus(const MeasuredCane& measured);

}  // namespace canewise
