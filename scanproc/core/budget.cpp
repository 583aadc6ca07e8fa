#include "scanproc/core/budget.h"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace canewise {

double students_over_normal(double degrees_of_freedom) {
  constexpr double upper = 0.975;
  return boost::math::quantile(boost::math::students_t(degrees_of_freedom), upper) / kCoverage95;
}

double root_sum_of_squares(std::span<const double> contributions) {
  double sum = 0.0;
  for (const double value : contributions) sum += value * value;
  return std::sqrt(sum);
}

Combined combine(std::span<const Contribution> contributions, double confidence) {
  std::vector<double> values;
  values.reserve(contributions.size());
  double fourth_powers_over_dof = 0.0;
  for (const auto& contribution : contributions) {
    const double value = contribution.in_output_unit();
    values.push_back(value);
    if (std::isfinite(contribution.degrees_of_freedom)) {
      fourth_powers_over_dof += std::pow(value, 4) / contribution.degrees_of_freedom;
    }
  }
  Combined combined;
  combined.standard_uncertainty = root_sum_of_squares(values);
  if (fourth_powers_over_dof > 0.0) {
    combined.effective_degrees_of_freedom = std::pow(combined.standard_uncertainty, 4) / fourth_powers_over_dof;
  }
  // The t table is entered with the degrees of freedom rounded down: [GUM], G.4.1 note 1 and H.1.6.
  const double dof = std::max(1.0, std::floor(std::min(combined.effective_degrees_of_freedom, 1e9)));
  combined.coverage_factor = boost::math::quantile(boost::math::students_t(dof), 0.5 * (1.0 + confidence));
  combined.expanded_uncertainty = combined.coverage_factor * combined.standard_uncertainty;
  return combined;
}

double combined_standard_uncertainty(const Eigen::VectorXd& sensitivities, const Eigen::MatrixXd& covariance) {
  return std::sqrt(std::max(0.0, sensitivities.dot(covariance * sensitivities)));
}

}  // namespace canewise
