#include "scanproc/datum/plate.h"

#include <algorithm>
#include <string>

#include "scanproc/core/error.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {
namespace {

[[noreturn]] void no_plane() {
  throw NotMeasurable(
      "the points lie on one line or in one spot, so there is no plate and no reed in this scan. "
      "Scan the reed table-down on a flat, matt plate with some plate in view on all sides.");
}

}  // namespace

PlateGuess find_plate(const Eigen::Matrix3Xd& points_mm) {
  constexpr std::size_t subsample_size = 16000;
  constexpr double tolerance_mm = 0.2;
  const auto sample = subsample(points_mm, subsample_size);
  if (sample.size() < 100) {
    throw NotMeasurable("holds only " + std::to_string(sample.size()) +
                        " points; a reed needs thousands. Scan with a finer step.");
  }
  const auto found = find_plane(sample, tolerance_mm);
  if (!found) no_plane();
  Plane best = found->plane;

  // Up is the side with more points off the plate: a scanner sees nothing below an opaque plate.
  std::size_t above = 0, below = 0;
  const double off = std::max(0.25, 6.0 * found->sigma_mm);
  for (const auto& p : sample) {
    above += best.height(p) > off;
    below += best.height(p) < -off;
  }
  if (below > above) {
    best.normal = -best.normal;
    best.distance = -best.distance;
  }
  PlateGuess guess;
  guess.plate_from_scan.linear() =
      Eigen::Quaterniond::FromTwoVectors(best.normal, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  guess.plate_from_scan.translation() = Eigen::Vector3d(0, 0, -best.distance);
  guess.noise_mm = found->sigma_mm;
  guess.plate_share = static_cast<double>(found->inliers) / static_cast<double>(sample.size());
  return guess;
}

}  // namespace canewise
