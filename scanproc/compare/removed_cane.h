#pragma once

#include <Eigen/Core>
#include <functional>

#include "scanproc/compare/difference.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// What came off: the difference, with what the layings-down had to do with it taken off.
struct RemovedCane {
  Difference difference;
  Field u_mm;
  Eigen::MatrixXd root;     ///< Of the covariance of the shapes' sizes, which the fit leaves.
  double clipped_mm = 0.0;  ///< Off the tip.
  double swelling_rel = 0.0, u_swelling_rel = 0.0;
};

/// The shapes are fitted to cane that nobody touched, as compare() says. Throws NotMeasurable where too little of it is
/// seen.
[[nodiscard]] RemovedCane freed_of_layings(Difference difference, const Result& before, const Clip& clip);

/// Mean over cells with everything that is common to them.
struct CellMean {
  double mean_mm = 0.0, u_mm = 0.0, planned_mm = 0.0;
  Eigen::Index cells = 0;
};
using CellTest = std::function<bool(Eigen::Index row, Eigen::Index column)>;
[[nodiscard]] CellMean mean_where(const RemovedCane& removed, const Field& planned_mm, const CellTest& take);
/// Where nothing was planned, or nobody asks.
[[nodiscard]] CellMean mean_where(const RemovedCane& removed, const CellTest& take);

/// Whether the place lies in what was to be scraped or nearer to it than a hand slips.
[[nodiscard]] bool within_slip(const ScrapeStep& step, double x_mm, double y_mm);

}  // namespace canewise
