#pragma once

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "scanproc/core/parallel.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/bins.h"

namespace canewise {

/// What counts as reed: at least `margin_mm` inside the outline.
struct InnerOutline {
  const Outline& outline;
  double margin_mm;
  [[nodiscard]] bool holds(double x_mm, double y_mm) const { return outline.holds(x_mm, y_mm, margin_mm); }
};

/// One side's points as they are summed into bins. Points are in bands of the bins' rows, one band a part, each in the
/// points' order: so every part sums into bins of its own, and the sums do not depend on the number of threads.
struct BinnedPoints {
  using Indices = std::vector<std::uint32_t>;
  const Eigen::Matrix3Xd& points_mm;
  InnerOutline inner;
  std::vector<float> weights;  ///< Empty where the scan does not say how sure it is of each point.
  std::array<std::array<Indices, kParallelParts>, kParallelParts> bands{};  ///< By the part that found them, then band.
};

/// @param u_mm of every point, or empty. A point counts less where its scan says that it is unsure.
[[nodiscard]] BinnedPoints points_by_band(const Eigen::Matrix3Xd& points_mm, const Eigen::VectorXf& u_mm,
                                          const InnerOutline& inner, const Grid& grid);

/// Sums of the points inside the outline for which `use(point, bin row, bin column)` holds.
template <typename Use>
[[nodiscard]] Bins sum_bins(const BinnedPoints& binned, const Grid& grid, const Use& use) {
  Bins bins(grid);
  if (!binned.weights.empty()) bins.points.assign(bins.moments.size(), 0.0F);
  const double inverse = 1.0 / bins.size_mm();
  const auto add = [&](std::uint32_t index) {
    const Eigen::Vector3d p = binned.points_mm.col(static_cast<Eigen::Index>(index));
    const double column = std::floor(p.y() * inverse) + 0.5 * static_cast<double>(bins.columns);
    if (!(column >= 0.0 && column < static_cast<double>(bins.columns))) return;
    const auto r = static_cast<Eigen::Index>(std::floor(p.x() * inverse)), c = static_cast<Eigen::Index>(column);
    if (!use(p, r, c) || !binned.inner.holds(p.x(), p.y())) return;
    const auto bin = static_cast<std::size_t>(r * bins.columns + c);
    if (binned.weights.empty()) {
      bins.moments[bin].add(p.x() - bins.x_mm(r), p.y() - bins.y_mm(c), p.z());
    } else {
      bins.moments[bin].add(p.x() - bins.x_mm(r), p.y() - bins.y_mm(c), p.z(),
                            static_cast<double>(binned.weights[index]));
      bins.points[bin] += 1.0F;
    }
  };
  run_parts([&](std::size_t band) {
    for (const auto& found : binned.bands) {
      for (const std::uint32_t index : found.at(band)) add(index);
    }
  });
  return bins;
}

}  // namespace canewise
