#include "scanproc/datum/two_sided.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string_view>
#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/datum/block_tie.h"
#include "scanproc/datum/clusters.h"
#include "scanproc/datum/corner_block.h"
#include "scanproc/datum/plane_search.h"
#include "scanproc/datum/points.h"
#include "scanproc/datum/spheres.h"
#include "scanproc/datum/ties.h"

namespace canewise {
namespace {

constexpr double kGap = 1.0;  // Parts of a scan are farther apart.

/// One scan's parts: its reed, and what else stands apart.
struct ScannedSide {
  std::string_view name;  ///< 'first' or 'second'.
  Eigen::Matrix3Xd reed_mm;
  std::vector<Cluster> others;
  Eigen::Matrix3Xd points_mm;
  double flatness_mm = 0.0;  ///< Scatter of the reed's points about their best plane.
};

ScannedSide side_from(Cloud cloud, const Rig& rig, std::string_view which) {
  ScannedSide side;
  side.name = which;
  side.points_mm = std::move(cloud.points_mm);
  (void)drop_duplicates(side.points_mm);
  if (rig.mirrored) side.points_mm.row(0) = -side.points_mm.row(0);
  constexpr std::size_t fewest = 60;
  auto clusters = find_clusters(side.points_mm, kGap, fewest);
  const auto reed = std::find_if(clusters.begin(), clusters.end(), [](const Cluster& c) { return is_reed_sized(c); });
  if (reed == clusters.end()) {
    throw NotMeasurable({"sides.no_reed_apart", {{"scan", word(which)}}});
  }
  side.reed_mm.resize(3, static_cast<Eigen::Index>(reed->points.size()));
  for (std::size_t i = 0; i < reed->points.size(); ++i)
    side.reed_mm.col(static_cast<Eigen::Index>(i)) = side.points_mm.col(reed->points[i]);
  clusters.erase(reed);
  side.others = std::move(clusters);
  std::vector<double> heights;
  const auto sample = subsample(side.reed_mm, 20000);
  const Plane plane = total_least_squares(sample);
  for (const auto& p : sample) heights.push_back(plane.height(p));
  side.flatness_mm = mad_sigma(heights, median(heights));
  return side;
}

/// Two ways put the reed apart by more than either is uncertain: not two names of one way.
bool are_apart(const TiedMotion& a, const TiedMotion& b, const Eigen::Matrix3Xd& reed) {
  const Eigen::Vector3d low = reed.rowwise().minCoeff(), high = reed.rowwise().maxCoeff();
  for (const double x : {low.x(), high.x()}) {
    for (const double y : {low.y(), high.y()}) {
      const Eigen::Vector3d p(x, y, 0.5 * (low.z() + high.z())), at = a.first_from_second * p;
      const PlaceCovariance there = in_frame(a.covariance, Eigen::Isometry3d(Eigen::Translation3d(-at)));
      constexpr double least_mm = 0.02, sure = 4.0;
      if ((at - b.first_from_second * p).norm() > least_mm + sure * std::sqrt(there.topLeftCorner<3, 3>().trace()))
        return true;
    }
  }
  return false;
}

/// A reed comes of it: the top lies over the underside, edge over edge, 0.1 mm high at one end and some millimetres at
/// the other. Rough on purpose: it tells ways apart that differ by a turn or a swap, never by micrometres.
bool makes_a_reed(const TiedMotion& candidate, const ScannedSide& top, const ScannedSide& underside) {
  const auto under = subsample(underside.reed_mm, 4000);
  std::vector<Eigen::Vector3d> moved;
  moved.reserve(under.size());
  for (const auto& p : under) moved.push_back(candidate.first_from_second * p);
  Plane plane = total_least_squares(moved);
  const auto over = subsample(top.reed_mm, 4000);
  double up = 0.0;
  for (const auto& p : over) up += plane.height(p);
  if (up < 0) plane = {-plane.normal, -plane.distance};
  std::vector<double> heights;
  for (const auto& p : over) heights.push_back(plane.height(p));
  std::sort(heights.begin(), heights.end());
  const double low = heights[heights.size() / 50], high = heights[heights.size() - 1 - heights.size() / 50];
  if (low < -0.3 || low > 0.6 || high < 1.5 || high > 5.0) return false;
  // Edge over edge: cells of 1.5 mm that one side fills and the other does not.
  const Eigen::Vector3d u = plane.normal.unitOrthogonal(), v = plane.normal.cross(u);
  const auto cells = [&](const std::vector<Eigen::Vector3d>& points) {
    constexpr double cell_mm = 1.5;
    std::set<std::pair<int, int>> set;
    for (const auto& p : points)
      set.emplace(static_cast<int>(std::floor(u.dot(p) / cell_mm)), static_cast<int>(std::floor(v.dot(p) / cell_mm)));
    return set;
  };
  const auto a = cells(over), b = cells(moved);
  std::size_t common = 0;
  for (const auto& cell : a) common += b.contains(cell);
  constexpr double alike = 0.75;
  return static_cast<double>(common) > alike * static_cast<double>(a.size() + b.size() - common);
}

/// By how much the two outlines miss each other at the reed's ends and sides, at most. The reed's side walls are seen
/// from above and from below, and so tell ways apart that differ along or across it.
double outlines_miss(const TiedMotion& candidate, const ScannedSide& top, const ScannedSide& underside) {
  constexpr std::size_t sample = 20000;
  const auto over = subsample(top.reed_mm, sample), under = subsample(underside.reed_mm, sample);
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  for (const auto& p : over) middle += p / static_cast<double>(over.size());
  for (const auto& p : over) scatter += (p - middle) * (p - middle).transpose();
  const Eigen::Matrix3d axes = Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(scatter).eigenvectors();
  double worst = 0.0;
  for (const Eigen::Index axis : {Eigen::Index{1}, Eigen::Index{2}}) {
    std::vector<double> a, b;
    for (const auto& p : over) a.push_back(axes.col(axis).dot(p));
    for (const auto& p : under) b.push_back(axes.col(axis).dot(candidate.first_from_second * p));
    std::sort(a.begin(), a.end());
    std::sort(b.begin(), b.end());
    constexpr std::size_t one_of = 300;  // Strays.
    worst = std::max({worst, std::abs(a[a.size() / one_of] - b[b.size() / one_of]),
                      std::abs(a[a.size() - 1 - a.size() / one_of] - b[b.size() - 1 - b.size() / one_of])});
  }
  return worst;
}

/// What ties the two scans: every way, and what to say where there is none.
struct Ties {
  std::vector<TiedMotion> ways;
  Message problem;
  Messages of_blocks;  ///< Further sentences.
};

Ties ties_between(const ScannedSide& top, const ScannedSide& underside, const Rig& rig) {
  const auto above = find_spheres(top.points_mm, top.others, rig.carrier.sphere_diameter_mm);
  const auto below = find_spheres(underside.points_mm, underside.others, rig.carrier.sphere_diameter_mm);
  Ties ties{match_spheres(above, below), {}, {}};
  std::size_t most = 0;
  for (const auto& way : ties.ways) most = std::max(most, way.ties);
  std::erase_if(ties.ways, [&](const TiedMotion& way) { return way.ties < most; });
  if (!ties.ways.empty()) return ties;
  const auto too_few = [&](std::string_view block) {
    return Message{"sides.too_few_spheres",
                   {{"block", word(block)},
                    {"top", word(top.name)},
                    {"on_top", count(above.size())},
                    {"on_underside", count(below.size())}}};
  };
  if (!rig.carrier.block_edges_mm) {
    ties.problem = too_few("none");
    return ties;
  }
  ties.problem = too_few("given");
  const BlockSearch one = find_block(top.points_mm, top.others, *rig.carrier.block_edges_mm);
  const BlockSearch other = find_block(underside.points_mm, underside.others, *rig.carrier.block_edges_mm);
  if (one.block && other.block) {
    ties.ways = match_blocks(*one.block, *other.block,
                             {*rig.carrier.block_edges_mm, mm_from_um(rig.carrier.u_size_um), rig.priors.scale_rel});
    if (ties.ways.empty()) ties.of_blocks.push_back({"sides.block_differs"});
    return ties;
  }
  for (const auto& [side, search] : {std::pair{&top, &one}, std::pair{&underside, &other}}) {
    if (!search->block)
      ties.of_blocks.push_back({"sides.no_block", {{"scan", word(side->name)}, {"why", part(search->problem)}}});
  }
  return ties;
}

}  // namespace

BothSides join_sides(Cloud first, Cloud second, const Rig& rig) {
  const double step_u_mm = std::max(first.height_step_u_mm, second.height_step_u_mm);
  const double slow_mm = std::max(first.assumed_slow_mm, second.assumed_slow_mm);
  ScannedSide top = side_from(std::move(first), rig, "first"), underside = side_from(std::move(second), rig, "second");
  if (top.flatness_mm < underside.flatness_mm) std::swap(top, underside);
  auto [ways, problem, of_blocks] = ties_between(top, underside, rig);
  if (ways.empty()) {
    throw NotMeasurable(
        {"sides.not_together",
         {{"why", part(problem)}, {"has_more", word(of_blocks.empty() ? "no" : "yes")}, {"more", of_blocks}}});
  }
  std::erase_if(ways, [&](const TiedMotion& way) { return !makes_a_reed(way, top, underside); });
  if (ways.empty()) {
    throw NotMeasurable({"sides.no_reed"});
  }
  double least_miss = 1e300;
  for (const auto& way : ways) least_miss = std::min(least_miss, outlines_miss(way, top, underside));
  constexpr double clearly_mm = 0.4;
  std::erase_if(ways,
                [&](const TiedMotion& way) { return outlines_miss(way, top, underside) > least_miss + clearly_mm; });
  std::stable_sort(ways.begin(), ways.end(),
                   [](const TiedMotion& a, const TiedMotion& b) { return a.residual_mm < b.residual_mm; });
  for (const auto& other : ways) {
    if (!are_apart(ways.front(), other, underside.reed_mm)) continue;
    throw NotMeasurable({"sides.several_ways"});
  }
  BothSides sides;
  sides.top_mm = std::move(top.reed_mm);
  sides.underside_mm = std::move(underside.reed_mm);
  transform_in_place(sides.underside_mm, ways.front().first_from_second);
  sides.tie = std::move(ways.front());
  sides.height_step_u_mm = step_u_mm;
  sides.assumed_slow_mm = slow_mm;
  return sides;
}

BothSides sides_of(const Cloud& closed, const Rig& rig) {
  const Eigen::Matrix3Xf& normals = closed.normals;
  // The table is the largest flat face: the direction with the most normals about it. Its candidates are the normals.
  const Eigen::Index step = std::max<Eigen::Index>(1, normals.cols() / 400);
  const Eigen::Index score_step = std::max<Eigen::Index>(1, normals.cols() / 20000);
  Eigen::Vector3f down = Eigen::Vector3f::UnitZ();
  Eigen::Index most = -1;
  for (Eigen::Index i = 0; i < normals.cols(); i += step) {
    constexpr float within_three_degrees = 0.9986F;
    Eigen::Index count = 0;
    for (Eigen::Index k = 0; k < normals.cols(); k += score_step)
      count += normals.col(k).dot(normals.col(i)) > within_three_degrees;
    if (count > most) most = count, down = normals.col(i);
  }
  BothSides sides;
  std::vector<Eigen::Index> top, underside;
  for (Eigen::Index i = 0; i < normals.cols(); ++i) {
    constexpr float table_at_least = 0.94F, top_at_most = -0.25F;  // 20 degrees off; up to 75 degrees steep.
    const float along = normals.col(i).dot(down);
    if (along > table_at_least) underside.push_back(i);
    if (along < top_at_most) top.push_back(i);
  }
  if (top.empty() || underside.empty()) throw NotMeasurable({"sides.none_in_closed"});
  sides.top_mm.resize(3, static_cast<Eigen::Index>(top.size()));
  sides.underside_mm.resize(3, static_cast<Eigen::Index>(underside.size()));
  for (std::size_t i = 0; i < top.size(); ++i)
    sides.top_mm.col(static_cast<Eigen::Index>(i)) = closed.points_mm.col(top[i]);
  for (std::size_t i = 0; i < underside.size(); ++i)
    sides.underside_mm.col(static_cast<Eigen::Index>(i)) = closed.points_mm.col(underside[i]);
  if (rig.mirrored) {
    sides.top_mm.row(0) = -sides.top_mm.row(0);
    sides.underside_mm.row(0) = -sides.underside_mm.row(0);
  }
  return sides;
}

}  // namespace canewise
