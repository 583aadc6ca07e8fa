#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "scanproc/datum/rim.h"
#include "scanproc/datum/step_edge.h"

namespace canewise {

/// The edge in a strip of samples, by what lies beside the reed.
class EdgeFinder {
 public:
  explicit EdgeFinder(const Backdrop& backdrop) : backdrop_(backdrop) {}
  [[nodiscard]] std::optional<StepEdge> operator()(std::vector<StepSample>& samples, const StepWindow& window) const {
    return sees_plate() ? find_step_edge(samples, window, backdrop_.noise_mm)
                        : find_bare_edge(samples, window, backdrop_.noise_mm);
  }
  [[nodiscard]] bool sees_plate() const { return backdrop_.beside == Beside::plate; }

 private:
  Backdrop backdrop_;
};

/// Neighbouring edge points share raster lines and so errors: the factor by which the residuals' autocorrelation widens
/// the uncertainty of a fit, sqrt(1 + 2 sum of rho_k) over the lags before the first that is not positive. Never
/// below 1.
[[nodiscard]] double correlation_factor(const Eigen::VectorXd& residuals, double sd);

/// Where an edge falls in the gap between two samples is by chance, a twelfth of the gap squared in all. What of that
/// does not show as scatter from station to station, because the raster runs along the edge, all stations share.
[[nodiscard]] double u_of_phase(double gap_mm, double scatter_mm);

}  // namespace canewise
