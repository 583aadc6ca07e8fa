#include "scanproc/mechanics/contact.h"

#include <Eigen/Cholesky>
#include <stdexcept>
#include <vector>

namespace canewise {

Eigen::VectorXd contact_forces(const Eigen::MatrixXd& compliance, const Eigen::VectorXd& depth,
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
  throw std::runtime_error("the contact between reed and mouthpiece was not found");
}

}  // namespace canewise
