#include "scanproc/datum/pads.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/datum/clusters.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/points.h"

namespace canewise {
namespace {

constexpr double kPadGap = 1.0;

/// Patches of a plane that are pads: small, apart, at least three, not in a row. Empty otherwise.
std::vector<Cluster> pads_among(const Eigen::Matrix3Xd& in_plane) {
  constexpr std::size_t fewest_points = 40;
  auto patches = find_clusters(in_plane, kPadGap, fewest_points);
  constexpr double smallest_mm = 2.0, largest_mm = 40.0;
  std::erase_if(patches, [](const Cluster& c) { return c.extent_mm(1) < smallest_mm || c.extent_mm(0) > largest_mm; });
  if (patches.size() < 3) return {};
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  for (const auto& patch : patches) mean += patch.middle / static_cast<double>(patches.size());
  for (const auto& patch : patches) scatter += (patch.middle - mean) * (patch.middle - mean).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(scatter, Eigen::EigenvaluesOnly);
  constexpr double least_spread_mm = 6.0;  // Of the second direction: in a row they leave the roll open.
  return std::sqrt(solver.eigenvalues()(1)) > least_spread_mm ? patches : std::vector<Cluster>{};
}

/// Bend across the thick part of a reed whose heights are taken upward: negative, because bark is round.
double bend_across(const std::vector<Eigen::Vector3d>& reed) {
  const auto n = static_cast<Eigen::Index>(reed.size());
  Eigen::MatrixXd design(n, 4);
  Eigen::VectorXd z(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Eigen::Vector3d& p = reed[static_cast<std::size_t>(i)];
    design.row(i) << 1.0, p.x(), p.y(), p.y() * p.y();
    z(i) = p.z();
  }
  return fit_linear_robust(design, z, 1e-3).coefficients(3);
}

}  // namespace

bool PadsPlane::holds(const Eigen::Vector3d& p) const {
  constexpr double margin_mm = 0.6, near_mm = 0.6;
  if (std::abs(p.z() - height_mm) > near_mm) return false;
  return std::any_of(pads.begin(), pads.end(), [&](const Pad& pad) {
    return p.x() > pad.low.x() - margin_mm && p.x() < pad.high.x() + margin_mm && p.y() > pad.low.y() - margin_mm &&
           p.y() < pad.high.y() + margin_mm;
  });
}

PadsPlane find_pads(const Eigen::Matrix3Xd& points, const Pads& given) {
  constexpr std::size_t sample_size = 60000;
  constexpr double tolerance_mm = 0.1;
  constexpr int most_planes = 5;
  std::vector<Eigen::Vector3d> rest = subsample(points, sample_size);
  FoundPlane plane;
  std::vector<Cluster> patches;
  Eigen::Matrix3Xd in_plane;
  for (int k = 0; k < most_planes && patches.empty(); ++k) {
    const auto found = find_plane(rest, tolerance_mm);
    if (!found) break;
    plane = *found;
    std::vector<Eigen::Index> own;
    for (Eigen::Index i = 0; i < points.cols(); ++i) {
      if (std::abs(plane.plane.height(points.col(i))) < plane.limit_mm) own.push_back(i);
    }
    in_plane.resize(3, static_cast<Eigen::Index>(own.size()));
    for (std::size_t i = 0; i < own.size(); ++i) in_plane.col(static_cast<Eigen::Index>(i)) = points.col(own[i]);
    patches = pads_among(in_plane);
    std::erase_if(rest, [&](const Eigen::Vector3d& p) { return std::abs(plane.plane.height(p)) < 2.0 * tolerance_mm; });
  }
  if (patches.empty()) {
    throw NotMeasurable(
        "no three pads in one plane, apart and not in a row, are in view. Scan the jig so that its pads show, or leave "
        "--datum pads out and lay the reed on a plate.");
  }
  // The patches alone fix the plane: a strip of the reed that happens to lie as high would bend it.
  std::vector<Eigen::Vector3d> pad_points;
  for (const auto& patch : patches) {
    for (const auto i : patch.points) pad_points.emplace_back(in_plane.col(i));
  }
  plane.plane = total_least_squares(pad_points);

  PadsPlane pads;
  pads.noise_mm = plane.sigma_mm;
  pads.height_mm = given.above_table_mm;
  const auto frame = [&](bool turned_over) {
    const Eigen::Vector3d normal = turned_over ? -plane.plane.normal : plane.plane.normal;
    const double distance = turned_over ? -plane.plane.distance : plane.plane.distance;
    Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
    pose.linear() = Eigen::Quaterniond::FromTwoVectors(normal, Eigen::Vector3d::UnitZ()).toRotationMatrix();
    pose.translation() = Eigen::Vector3d(0, 0, given.above_table_mm - distance);
    return pose;
  };
  // Which side is up: the one from which a reed-sized thing is round across.
  bool found = false;
  for (const bool turned_over : {false, true}) {
    const Eigen::Isometry3d pose = frame(turned_over);
    Eigen::Matrix3Xd there(3, static_cast<Eigen::Index>(rest.size()));
    for (std::size_t i = 0; i < rest.size(); ++i) there.col(static_cast<Eigen::Index>(i)) = pose * rest[i];
    constexpr double lowest_mm = -0.4, highest_mm = 6.0;
    keep_points(there, [](const Eigen::Vector3d& p) { return p.z() > lowest_mm && p.z() < highest_mm; });
    constexpr std::size_t fewest = 300;
    for (const auto& cluster : find_clusters(there, 1.5, fewest)) {
      constexpr double least_length_mm = 40.0;  // Its part above the pads' plane is enough.
      if (cluster.extent_mm(0) < least_length_mm) continue;
      std::vector<Eigen::Vector3d> reed;
      Eigen::Vector3d along = cluster.axes.col(0);
      along.z() = 0;
      along.normalize();
      for (const auto i : cluster.points) {
        const Eigen::Vector3d d = there.col(i) - cluster.middle;
        reed.emplace_back(d.dot(along), d.dot(Eigen::Vector3d(-along.y(), along.x(), 0)), d.z());
      }
      if (bend_across(reed) < 0) {
        pads.table_from_scan = pose;
        found = true;
      }
      break;
    }
    if (found) break;
  }
  if (!found) throw NotMeasurable("the pads are in view, but no reed lies above the table between them.");

  // Covariance of the plane from the scatter of block sums [White1980], as for a plate.
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero(), scatter = Eigen::Matrix3d::Zero();
  for (const auto& patch : patches) {
    PadsPlane::Pad pad{Eigen::Vector2d::Constant(1e300), Eigen::Vector2d::Constant(-1e300)};
    Eigen::Matrix3Xd there(3, static_cast<Eigen::Index>(patch.points.size()));
    for (std::size_t i = 0; i < patch.points.size(); ++i) {
      const Eigen::Vector3d p = pads.table_from_scan * in_plane.col(patch.points[i]);
      there.col(static_cast<Eigen::Index>(i)) = p;
      pad.low = pad.low.cwiseMin(p.head<2>());
      pad.high = pad.high.cwiseMax(p.head<2>());
    }
    pads.pads.push_back(pad);
    constexpr double block_mm = 1.0;
    const auto blocks_across = static_cast<std::size_t>((pad.high.y() - pad.low.y()) / block_mm) + 1;
    const auto blocks_along = static_cast<std::size_t>((pad.high.x() - pad.low.x()) / block_mm) + 1;
    std::vector<Eigen::Vector3d> sums(blocks_across * blocks_along, Eigen::Vector3d::Zero());
    for (Eigen::Index i = 0; i < there.cols(); ++i) {
      const Eigen::Vector3d p = there.col(i);
      const Eigen::Vector3d basis(1.0, p.x(), p.y());
      normal += basis * basis.transpose();
      const auto row = static_cast<std::size_t>((p.x() - pad.low.x()) / block_mm);
      const auto column = static_cast<std::size_t>((p.y() - pad.low.y()) / block_mm);
      sums[row * blocks_across + column] += (p.z() - pads.height_mm) * basis;
    }
    for (const auto& sum : sums) scatter += sum * sum.transpose();
  }
  const Eigen::Matrix3d inverse = normal.inverse();
  pads.covariance = inverse * scatter * inverse;
  return pads;
}

}  // namespace canewise
