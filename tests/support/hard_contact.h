#pragma once

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <stdexcept>
#include <vector>

namespace canewise::test {

/// Forces >= 0 at places where a body may touch a rigid one: with the compliance C (n x n, symmetric positive definite)
/// and the depth d by which each place would sink in without contact, C f >= d, f >= 0 and f . (C f - d) = 0.
/// Sinking in by less than 1e-8 of the largest depth is let pass, more where rounding needs it. `start` says which
/// places touched last (n flags, may be empty) and is left as it now is. Block pivoting, and where that turns in
/// circles single pivots by the least index, which end for every positive definite C. Source: [Murty1974],
/// [Judice1994].
inline Eigen::VectorXd contact_forces(const Eigen::MatrixXd& compliance, const Eigen::VectorXd& depth,
                                      Eigen::Array<bool, Eigen::Dynamic, 1>& start) {
  const Eigen::Index n = depth.size();
  if (start.size() != n) start.setConstant(n, false);
  Eigen::VectorXd force(n);
  // Where a body lies flush it carries no force, and rounding alone decides on touching; so much is let pass.
  double slack = 1e-8 * depth.cwiseAbs().maxCoeff(), slack_force = 1e-8;
  constexpr int pivots_of_one_slack = 300;
  Eigen::Index fewest = n + 1;
  int patience = 8;
  constexpr int most_pivots = 3000;
  for (int pivot = 0; pivot < most_pivots; ++pivot) {
    std::vector<Eigen::Index> touching;
    for (Eigen::Index i = 0; i < n; ++i)
      if (start(i)) touching.push_back(i);
    force.setZero();
    if (!touching.empty()) {
      const Eigen::VectorXd part = compliance(touching, touching).llt().solve(depth(touching));
      for (std::size_t k = 0; k < touching.size(); ++k) force(touching[k]) = part(static_cast<Eigen::Index>(k));
    }
    constexpr double most_slack = 1e-5;  // Of the greatest depth; a state that needs more is none.
    if (pivot % pivots_of_one_slack == pivots_of_one_slack - 1 && slack_force < 0.5 * most_slack) {
      slack *= 10.0;
      slack_force *= 10.0;
    }
    const double least = -slack_force * force.cwiseAbs().maxCoeff();
    const Eigen::VectorXd gap = compliance * force - depth;
    std::vector<Eigen::Index> wrong;
    for (Eigen::Index i = 0; i < n; ++i)
      if (start(i) ? force(i) < least : gap(i) < -slack) wrong.push_back(i);
    if (wrong.empty()) return force.cwiseMax(0.0);
    const auto count = static_cast<Eigen::Index>(wrong.size());
    if (count < fewest) {
      fewest = count;
      patience = 8;
    } else if (patience > 0) {
      --patience;
    }
    if (patience == 0) {
      start(wrong.front()) = !start(wrong.front());
    } else {
      for (const auto i : wrong) start(i) = !start(i);
    }
  }
  throw std::runtime_error("hard contact was not found");
}

}  // namespace canewise::test
