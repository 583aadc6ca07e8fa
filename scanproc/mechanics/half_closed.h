#pragma once

#include <Eigen/Core>

#include "scanproc/mechanics/reed_on_facing.h"

namespace canewise {

/// What is left of the tip's opening where a reed's stiffness is read.
inline constexpr double kOpeningLeft = 0.5;

/// The part of the tip's edge whose opening counts.
enum class TipPart { left, whole, right };

/// A load, and what it does with no rails there.
struct ClosingLoad {
  const Eigen::VectorXd& load;  ///< 3N forces, 1 N in all.
  const Eigen::VectorXd& free;  ///< 3N displacements.
  TipPart part = TipPart::whole;
};

/// A reed on its rails under a load that leaves `kOpeningLeft` of the opening over a part of the tip.
///
/// Why there: a reed that is so many times as stiff lies on the same stretch of the rails once the load is so many
/// times as large, so that the loads of two reeds are to each other as their stiffness. Under one and the same load the
/// stiffer reed lies on less of the rails, and what it answers to a further load says little of its strength.
struct HalfClosed {
  double force_n = 0.0;
  double stiffness_n_per_mm = 0.0;  ///< The force over the mean deflection of the patch that it is spread over.
  Pressed pressed;
  Eigen::VectorXd moved_mm;  ///< 3N.
  /// 3N: the stiffness' relative change with the plate is adjoint' dK moved, exact with the rails as they answer here.
  Eigen::VectorXd adjoint;
};

/// Throws std::runtime_error if it is not found. With rails that are not reached the stiffness is the free reed's to
/// the last digit.
[[nodiscard]] HalfClosed half_closed(const ReedOnFacing& reed, const Eigen::VectorXd& gap_mm, const ClosingLoad& load);

}  // namespace canewise
