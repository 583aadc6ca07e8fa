#pragma once

#include <Eigen/Core>

namespace canewise {

/// Forces >= 0 at places where a body may touch a rigid one: with the compliance C (n x n, symmetric positive definite)
/// and the depth d by which each place would sink in without contact, C f >= d, f >= 0 and f . (C f - d) = 0.
/// Sinking in by less than 1e-8 of the largest depth is let pass, more where rounding needs it. `start` says which
/// places touched last (n flags, may be empty) and is left as it now is. Block pivoting, and where that turns in
/// circles single pivots by the least index, which end for every positive definite C. Source: [Murty1974],
/// [Judice1994].
[[nodiscard]] Eigen::VectorXd contact_forces(const Eigen::MatrixXd& compliance, const Eigen::VectorXd& depth,
                                             Eigen::Array<bool, Eigen::Dynamic, 1>& start);

}  // namespace canewise
