#include "scanproc/datum/pads.h"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <optional>

#include "scanproc/core/error.h"
#include "scanproc/core/linear_fit.h"
#include "scanproc/core/statistics.h"
#include "scanproc/datum/clusters.h"
#include "scanproc/datum/consensus.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/points.h"

namespace canewise {
namespace {

constexpr double kPadGap = 1.0;

/// Of parts that lie in one plane: at least three, and not in a row, which would leave the roll open.
bool fix_a_plane(const std::vector<Cluster>& parts) {
  if (parts.size() < 3) return false;
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  for (const auto& part : parts) mean += part.middle / static_cast<double>(parts.size());
  for (const auto& part : parts) scatter += (part.middle - mean) * (part.middle - mean).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(scatter, Eigen::EigenvaluesOnly);
  constexpr double least_spread_mm = 6.0;
  return std::sqrt(solver.eigenvalues()(1)) > least_spread_mm;
}

struct PadsInView {
  Plane plane;
  std::vector<Cluster> pads;
};

/// Small flat parts that stand apart.
std::vector<Cluster> flat_parts(const Eigen::Matrix3Xd& points) {
  constexpr std::size_t fewest_points = 40;
  auto parts = find_clusters(points, kPadGap, fewest_points);
  constexpr double smallest_mm = 1.2, largest_mm = 40.0, flat_mm = 0.15;
  std::erase_if(parts, [&](const Cluster& c) {
    if (c.extent_mm(1) < smallest_mm || c.extent_mm(0) > largest_mm) return true;
    std::vector<double> heights;  // Robust, because stray points hang above and below a pad.
    for (const auto i : c.points) heights.push_back(c.axes.col(2).dot(points.col(i) - c.middle));
    return mad_sigma(heights, median(heights)) > flat_mm;
  });
  return parts;
}

/// Takes the parts that lie in the plane of most points out of `parts`; empty if no plane is left.
std::optional<PadsInView> take_plane(const Eigen::Matrix3Xd& points, std::vector<Cluster>& parts) {
  std::vector<Eigen::Vector3d> own;
  for (const auto& part : parts) {
    const std::size_t step = std::max<std::size_t>(1, part.points.size() / 3000);
    for (std::size_t i = 0; i < part.points.size(); i += step) own.emplace_back(points.col(part.points[i]));
  }
  constexpr double tolerance_mm = 0.1;
  PlaneConsensus one;
  one.most = 1;
  const auto hint = consensus_planes(own, one);
  if (hint.empty()) return std::nullopt;
  constexpr std::size_t fewest = 50;
  const auto found = settle_plane(own, hint.front(), {2.0 * tolerance_mm, 3.0 * tolerance_mm, fewest});
  if (!found) return std::nullopt;
  PadsInView view;
  std::vector<Cluster> rest;
  std::vector<Eigen::Vector3d> of_pads;
  for (auto& part : parts) {
    std::vector<double> heights;
    for (const auto i : part.points) heights.push_back(found->plane.height(points.col(i)));
    if (std::abs(median(heights)) > 3.0 * tolerance_mm) {
      rest.push_back(std::move(part));
      continue;
    }
    // Stray points above or below a pad are none of it.
    std::erase_if(part.points,
                  [&](Eigen::Index i) { return std::abs(found->plane.height(points.col(i))) > found->limit_mm; });
    for (const auto i : part.points) of_pads.emplace_back(points.col(i));
    view.pads.push_back(std::move(part));
  }
  if (view.pads.empty()) return std::nullopt;
  view.plane = total_least_squares(of_pads);
  parts = std::move(rest);
  return view;
}

/// Bend across a reed whose heights are taken upward: negative, because bark and vamp are round.
double bend_across(const std::vector<Eigen::Vector3d>& reed) {
  const auto n = static_cast<Eigen::Index>(reed.size());
  Eigen::MatrixXd design(n, 5);
  Eigen::VectorXd z(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Eigen::Vector3d& p = reed[static_cast<std::size_t>(i)];
    design.row(i) << 1.0, p.x(), p.x() * p.x(), p.y(), p.y() * p.y();
    z(i) = p.z();
  }
  return fit_linear_robust(design, z, 1e-3).coefficients(4);
}

PadsPlane::Pad pad_from(const Eigen::Matrix3Xd& points, const Cluster& patch, const Eigen::Isometry3d& pose) {
  PadsPlane::Pad pad;
  pad.middle = (pose * patch.middle).head<2>();
  pad.along = (pose.linear() * patch.axes.col(0)).head<2>().normalized();
  for (const auto i : patch.points) {
    const Eigen::Vector2d d = pad.in_own_axes(pose * points.col(i)).cwiseAbs();
    pad.half_length_mm = std::max(pad.half_length_mm, d.x());
    pad.half_width_mm = std::max(pad.half_width_mm, d.y());
  }
  return pad;
}

}  // namespace

bool PadsPlane::holds(const Eigen::Vector3d& p) const {
  constexpr double margin_mm = 0.6, near_mm = 0.6;
  if (std::abs(p.z() - height_mm) > near_mm) return false;
  return std::any_of(pads.begin(), pads.end(), [&](const Pad& pad) {
    const Eigen::Vector2d d = pad.in_own_axes(p).cwiseAbs();
    return d.x() < pad.half_length_mm + margin_mm && d.y() < pad.half_width_mm + margin_mm;
  });
}

namespace {

/// Frame of the table below pads in `plane`.
Eigen::Isometry3d table_frame(const Plane& plane, double pads_above_table_mm, bool turned_over) {
  const Eigen::Vector3d normal = turned_over ? -plane.normal : plane.normal;
  const double distance = turned_over ? -plane.distance : plane.distance;
  Eigen::Isometry3d pose = Eigen::Isometry3d::Identity();
  pose.linear() = Eigen::Quaterniond::FromTwoVectors(normal, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  pose.translation() = Eigen::Vector3d(0, 0, pads_above_table_mm - distance);
  return pose;
}

/// Which side is up: the one from which a reed-sized thing is round across. The pads are left out by their boxes, so
/// that the strip of the reed that lies as high stays in. Empty where no reed lies over such a table.
std::optional<Eigen::Isometry3d> table_under_reed(const Eigen::Matrix3Xd& points, const PadsInView& view,
                                                  double pads_above_table_mm) {
  PadsPlane pads;
  pads.height_mm = pads_above_table_mm;
  const Eigen::Isometry3d any_way = table_frame(view.plane, pads_above_table_mm, false);
  for (const auto& patch : view.pads) pads.pads.push_back(pad_from(points, patch, any_way));
  std::vector<Eigen::Vector3d> others;
  constexpr std::size_t sample_size = 60000;
  for (const auto& p : subsample(points, sample_size)) {
    if (!pads.holds(any_way * p)) others.push_back(p);
  }
  for (const bool turned_over : {false, true}) {
    const Eigen::Isometry3d pose = table_frame(view.plane, pads_above_table_mm, turned_over);
    Eigen::Matrix3Xd there(3, static_cast<Eigen::Index>(others.size()));
    for (std::size_t i = 0; i < others.size(); ++i) there.col(static_cast<Eigen::Index>(i)) = pose * others[i];
    constexpr double lowest_mm = -0.4, highest_mm = 6.0;
    keep_points(there, [](const Eigen::Vector3d& p) { return p.z() > lowest_mm && p.z() < highest_mm; });
    constexpr std::size_t fewest = 300;
    for (const auto& cluster : find_clusters(there, 1.5, fewest)) {
      if (!is_reed_sized(cluster)) continue;
      std::vector<Eigen::Vector3d> reed;
      Eigen::Vector3d along = cluster.axes.col(0);
      along.z() = 0;
      along.normalize();
      for (const auto i : cluster.points) {
        const Eigen::Vector3d d = there.col(i) - cluster.middle;
        reed.emplace_back(d.dot(along), d.dot(Eigen::Vector3d(-along.y(), along.x(), 0)), d.z());
      }
      if (bend_across(reed) < 0) return pose;
      break;
    }
  }
  return std::nullopt;
}

}  // namespace

PadsPlane find_pads(const Eigen::Matrix3Xd& points, const Pads& given) {
  auto parts = flat_parts(points);
  std::optional<PadsInView> view;
  std::optional<Eigen::Isometry3d> table;
  bool pads_seen = false;
  // A jig's floor may also show as flat parts in one plane; the pads are those over whose table the reed lies.
  constexpr int most_planes = 5;
  for (int k = 0; k < most_planes && !table; ++k) {
    view = take_plane(points, parts);
    if (!view) break;
    if (!fix_a_plane(view->pads)) continue;
    pads_seen = true;
    table = table_under_reed(points, *view, given.above_table_mm);
  }
  if (!pads_seen) {
    throw NotMeasurable({"pads.not_in_view"});
  }
  if (!table) {
    throw NotMeasurable({"pads.no_reed"});
  }
  PadsPlane pads;
  pads.table_from_scan = *table;
  pads.height_mm = given.above_table_mm;
  std::vector<double> heights;
  for (const auto& patch : view->pads) {
    for (const auto i : patch.points) heights.push_back(view->plane.height(points.col(i)));
  }
  pads.noise_mm = mad_sigma(heights, median(heights));

  // Covariance of the plane from the scatter of block sums [White1980], as for a plate.
  Eigen::Matrix3d normal = Eigen::Matrix3d::Zero(), scatter = Eigen::Matrix3d::Zero();
  for (const auto& patch : view->pads) {
    const PadsPlane::Pad pad = pad_from(points, patch, pads.table_from_scan);
    pads.pads.push_back(pad);
    constexpr double block_mm = 1.0;
    const auto blocks_across = static_cast<std::size_t>(2.0 * pad.half_width_mm / block_mm) + 1;
    const auto blocks_along = static_cast<std::size_t>(2.0 * pad.half_length_mm / block_mm) + 1;
    std::vector<Eigen::Vector3d> sums(blocks_across * blocks_along, Eigen::Vector3d::Zero());
    for (const auto i : patch.points) {
      const Eigen::Vector3d p = pads.table_from_scan * points.col(i);
      const Eigen::Vector3d basis(1.0, p.x(), p.y());
      normal += basis * basis.transpose();
      const Eigen::Vector2d own = pad.in_own_axes(p);
      const auto row = static_cast<std::size_t>((own.x() + pad.half_length_mm) / block_mm);
      const auto column = static_cast<std::size_t>((own.y() + pad.half_width_mm) / block_mm);
      sums[row * blocks_across + column] += (p.z() - pads.height_mm) * basis;
    }
    for (const auto& sum : sums) scatter += sum * sum.transpose();
  }
  const Eigen::Matrix3d inverse = normal.inverse();
  pads.covariance = inverse * scatter * inverse;
  return pads;
}

}  // namespace canewise
