#include "scanproc/datum/rim_edge.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/statistics.h"

namespace canewise {

double correlation_factor(const Eigen::VectorXd& residuals, double sd) {
  constexpr Eigen::Index longest_lag = 20;
  const Eigen::VectorXd r = residuals.cwiseMin(3.0 * sd).cwiseMax(-3.0 * sd);
  const double squares = r.squaredNorm();
  if (!(squares > 0.0)) return 1.0;
  double sum = 0.0;
  for (Eigen::Index lag = 1; lag <= std::min(longest_lag, r.size() / 3); ++lag) {
    const double rho = r.head(r.size() - lag).dot(r.tail(r.size() - lag)) / squares;
    if (rho <= 0.0) break;
    sum += rho;
  }
  return std::sqrt(1.0 + 2.0 * sum);
}

double u_of_phase(double gap_mm, double scatter_mm) {
  return std::sqrt(std::max(0.0, square(gap_mm) / 12.0 - square(scatter_mm)));
}

}  // namespace canewise
