#pragma once

#include <Eigen/Core>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "scanproc/words/message.h"

namespace canewise {

/// Half-width of a 95 % interval in standard uncertainties for a normal law with many degrees of freedom.
inline constexpr double kCoverage95 = 1.959963984540054;

/// One line of an uncertainty budget; independent of the other lines.
struct Contribution {
  Message name;
  double standard_uncertainty = 0.0;  ///< In the input's unit.
  double sensitivity = 1.0;           ///< Output unit per input unit.
  double degrees_of_freedom = std::numeric_limits<double>::infinity();

  [[nodiscard]] double in_output_unit() const { return sensitivity * standard_uncertainty; }
};

/// Combined uncertainty of an output.
struct Combined {
  double standard_uncertainty = 0.0;
  double effective_degrees_of_freedom = std::numeric_limits<double>::infinity();
  double coverage_factor = kCoverage95;  ///< Student t for the effective degrees of freedom, rounded down.
  double expanded_uncertainty = 0.0;     ///< coverage_factor * standard_uncertainty.
};

/// By how much Student's law with so many degrees of freedom is wider than the normal one at 95 %. [GUM], G.3.
[[nodiscard]] double students_over_normal(double degrees_of_freedom);

/// Root of the sum of squares of independent contributions, each already in the output's unit. [GUM], eq. (10).
[[nodiscard]] double root_sum_of_squares(std::span<const double> contributions);

/// Law of propagation for independent inputs, [GUM] eq. (10), and the Welch-Satterthwaite formula, [GUM] eq. (G.2b).
/// `confidence` is the two-sided level of the expanded uncertainty, in (0, 1).
[[nodiscard]] Combined combine(std::span<const Contribution> contributions, double confidence = 0.95);

/// Law of propagation for correlated inputs, [GUM] eq. (13): sqrt(c' V c). `covariance` is p x p.
[[nodiscard]] double combined_standard_uncertainty(const Eigen::VectorXd& sensitivities,
                                                   const Eigen::MatrixXd& covariance);

}  // namespace canewise
