#include "scanproc/datum/plate.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/error.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {
namespace {

constexpr MessageId kBent = "plate.bent";

[[noreturn]] void no_plane(const std::vector<Eigen::Vector3d>& sample, double tolerance_mm) {
  if (find_plane(sample, tolerance_mm)) throw NotMeasurable(kBent);  // Patches of a plane, but nothing stands on them.
  throw NotMeasurable({"plate.no_plane"});
}

/// A scanner's noise is the same from place to place; a bent surface scatters about a plane and is smooth all the same.
void refuse_what_is_no_plane(const FoundPlane& found, double local_scatter_mm) {
  constexpr double flat_mm = 0.05, share = 0.4;
  if (found.sigma_mm < flat_mm || !(local_scatter_mm < share * found.sigma_mm)) return;
  throw NotMeasurable(kBent);
}

}  // namespace

PlateGuess find_plate(const Eigen::Matrix3Xd& points_mm, const std::optional<Plane>& known) {
  constexpr std::size_t subsample_size = 16000;
  constexpr double widest_mm = 0.2, narrowest_mm = 0.02, of_scatter = 5.0;
  const auto sample = subsample(points_mm, subsample_size);
  if (sample.size() < 100) {
    throw NotMeasurable({"plate.few_points", {{"points", count(sample.size())}}});
  }
  // As narrow as the noise allows, or a thin tip would be taken for plate and tilt it.
  const double scatter_mm = local_scatter(sample);
  const double tolerance_mm =
      std::isnan(scatter_mm) ? widest_mm : std::clamp(of_scatter * scatter_mm, narrowest_mm, widest_mm);
  constexpr double anywhere = std::numeric_limits<double>::infinity();
  const auto found = known ? refit_plane(sample, *known, tolerance_mm)
                           : find_plane(sample, tolerance_mm, anywhere, PlaneWanted::ground);
  if (!found) no_plane(sample, widest_mm);
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
  guess.local_scatter_mm = scatter_mm;
  refuse_what_is_no_plane(*found, scatter_mm);
  guess.plate_share = static_cast<double>(found->inliers) / static_cast<double>(sample.size());
  return guess;
}

Plane plane_of(const PlateGuess& plate) {
  const Eigen::Isometry3d& pose = plate.plate_from_scan;
  return {pose.linear().row(2).transpose(), -pose.translation().z()};
}

}  // namespace canewise
