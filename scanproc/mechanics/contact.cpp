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
  // What rounding can do to a depth.
  const double slack = 1e-12 * (1.0 + depth.cwiseAbs().maxCoeff());
  Eigen::Index fewest = n + 1;
  int patience = 8;
  constexpr int most_pivots = 20000;
  for (int pivot = 0; pivot < most_pivots; ++pivot) {
    std::vector<Eigen::Index> touching;
    for (Eigen::Index i = 0; i < n; ++i)
      if (start(i)) touching.push_back(i);
    force.setZero();
    if (!touching.empty()) {
      const Eigen::VectorXd part = compliance(touching, touching).llt().solve(depth(touching));
      for (std::size_t k = 0; k < touching.size(); ++k) force(touching[k]) = part(static_cast<Eigen::Index>(k));
    }
    const Eigen::VectorXd gap = compliance * force - depth;
    std::vector<Eigen::Index> wrong;
    for (Eigen::Index i = 0; i < n; ++i)
      if (start(i) ? force(i) < 0.0 : gap(i) < -slack) wrong.push_back(i);
    if (wrong.empty()) return force;
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
