#include "scanproc/datum/two_sided.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <numeric>
#include <set>

#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
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
  Eigen::Matrix3Xd reed_mm;
  std::vector<Cluster> others;
  Eigen::Matrix3Xd points_mm;
  double flatness_mm = 0.0;  ///< Scatter of the reed's points about their best plane.
};

ScannedSide side_from(Cloud cloud, const Rig& rig, const char* which) {
  ScannedSide side;
  side.points_mm = std::move(cloud.points_mm);
  (void)drop_duplicates(side.points_mm);
  if (rig.mirrored) side.points_mm.row(0) = -side.points_mm.row(0);
  constexpr std::size_t fewest = 60;
  auto clusters = find_clusters(side.points_mm, kGap, fewest);
  const auto reed = std::find_if(clusters.begin(), clusters.end(), [](const Cluster& c) { return is_reed_sized(c); });
  if (reed == clusters.end()) {
    throw NotMeasurable(
        std::string("in the ") + which +
        " of the two scans nothing of a reed's size stands apart. For a two-sided scan the reed must be "
        "held clear of its carrier, at least 2 mm all round.");
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

/// How far two ways put the reed apart.
double difference(const TiedMotion& a, const TiedMotion& b, const Eigen::Matrix3Xd& reed) {
  const Eigen::Vector3d low = reed.rowwise().minCoeff(), high = reed.rowwise().maxCoeff();
  double largest = 0.0;
  for (const double x : {low.x(), high.x()}) {
    for (const double y : {low.y(), high.y()}) {
      const Eigen::Vector3d p(x, y, 0.5 * (low.z() + high.z()));
      largest = std::max(largest, (a.first_from_second * p - b.first_from_second * p).norm());
    }
  }
  return largest;
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

/// The faces seen from below are those opposite to the ones seen from above, an edge away.
std::vector<TiedMotion> candidates_by_block(const BlockCorner& top, const BlockCorner& under, const Carrier& carrier) {
  std::vector<TiedMotion> candidates;
  std::array<std::size_t, 3> edge_of{0, 1, 2}, face_of{0, 1, 2};
  do {
    std::sort(face_of.begin(), face_of.end());
    do {
      Eigen::Matrix3d to, from;
      Eigen::Vector3d opposite = top.corner_mm;
      for (std::size_t k = 0; k < 3; ++k) {
        to.col(static_cast<Eigen::Index>(k)) = -top.normals.at(k);
        from.col(static_cast<Eigen::Index>(k)) = under.normals.at(face_of.at(k));
        opposite -= carrier.block_edges_mm->at(edge_of.at(k)) * top.normals.at(k);
      }
      const Eigen::Matrix3d turn = to * from.transpose();
      if (turn.determinant() < 0) continue;  // A mirror image is no motion.
      TiedMotion candidate;
      candidate.first_from_second.linear() = turn;
      candidate.first_from_second.translation() = opposite - turn * under.corner_mm;
      candidate.residual_mm = std::hypot(top.residual_mm, under.residual_mm);
      candidate.method = "a corner block";
      // The corner's shift, and the turn as far places that fix nothing else: a turn about one normal moves two of
      // them.
      constexpr double lever_mm = 1000.0;
      const double u_turn = std::hypot(top.u_turn_rad, under.u_turn_rad) * lever_mm * std::sqrt(2.0);
      candidate.ties.push_back({opposite, top.covariance + turn * under.covariance * turn.transpose() +
                                              Eigen::Matrix3d::Identity() * square(mm_from_um(carrier.u_size_um))});
      for (std::size_t k = 0; k < 3; ++k) {
        candidate.ties.push_back(
            {opposite + lever_mm * top.normals.at(k), Eigen::Matrix3d::Identity() * square(u_turn)});
      }
      candidates.push_back(std::move(candidate));
    } while (std::next_permutation(face_of.begin(), face_of.end()));
  } while (std::next_permutation(edge_of.begin(), edge_of.end()));
  return candidates;
}

BothSides joined(const TiedMotion& candidate, ScannedSide top, ScannedSide underside) {
  BothSides sides;
  sides.top_mm = std::move(top.reed_mm);
  sides.underside_mm = std::move(underside.reed_mm);
  transform_in_place(sides.underside_mm, candidate.first_from_second);
  sides.ties = candidate.ties;
  sides.method = candidate.method;
  sides.residual_mm = candidate.residual_mm;
  return sides;
}

}  // namespace

BothSides join_sides(Cloud first, Cloud second, const Rig& rig) {
  const double step_u_mm = std::max(first.height_step_u_mm, second.height_step_u_mm);
  ScannedSide top = side_from(std::move(first), rig, "first"), underside = side_from(std::move(second), rig, "second");
  if (top.flatness_mm < underside.flatness_mm) std::swap(top, underside);
  const auto top_spheres = find_spheres(top.points_mm, top.others, rig.carrier.sphere_diameter_mm);
  const auto under_spheres = find_spheres(underside.points_mm, underside.others, rig.carrier.sphere_diameter_mm);
  std::vector<TiedMotion> candidates = match_spheres(top_spheres, under_spheres);
  std::size_t most = 0;
  for (const auto& c : candidates) most = std::max(most, c.ties.size());
  std::erase_if(candidates, [&](const TiedMotion& c) { return c.ties.size() < most; });
  if (candidates.empty() && rig.carrier.block_edges_mm) {
    const auto above = find_block(top.points_mm, top.others, *rig.carrier.block_edges_mm);
    const auto below = find_block(underside.points_mm, underside.others, *rig.carrier.block_edges_mm);
    if (above && below) candidates = candidates_by_block(*above, *below, rig.carrier);
  }
  if (candidates.empty()) {
    throw NotMeasurable(
        "the two sides cannot be put together: three spheres of one arrangement, not in a row, must show in both scans "
        "(" +
        std::to_string(top_spheres.size()) + " were found in one, " + std::to_string(under_spheres.size()) +
        " in the other), or a corner block whose edges the rig file gives. The reed's own sides leave its thickness "
        "undetermined: they do not fix the height. Fix spheres to the carrier, or scan the reed on a plate.");
  }
  std::erase_if(candidates, [&](const TiedMotion& c) { return !makes_a_reed(c, top, underside); });
  if (candidates.empty()) {
    throw NotMeasurable(
        "the two scans' spheres or blocks fit together, but then top and underside make no reed. Scan one and the same "
        "reed from both sides, and leave it, the spheres and the block where they are in between.");
  }
  std::sort(candidates.begin(), candidates.end(),
            [](const TiedMotion& a, const TiedMotion& b) { return a.residual_mm < b.residual_mm; });
  for (const auto& other : candidates) {
    constexpr double same_mm = 0.5;
    if (difference(candidates.front(), other, underside.reed_mm) > same_mm) {
      throw NotMeasurable(
          "the two sides fit together in more than one way: the spheres' arrangement, or the block, looks alike after "
          "a "
          "turn. Use spheres at unlike distances, or a block with unlike edges.");
    }
  }
  BothSides sides = joined(candidates.front(), std::move(top), std::move(underside));
  sides.height_step_u_mm = step_u_mm;
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
  sides.method = "one closed surface";
  std::vector<Eigen::Index> top, underside;
  for (Eigen::Index i = 0; i < normals.cols(); ++i) {
    constexpr float table_at_least = 0.94F, top_at_most = -0.25F;  // 20 degrees off; up to 75 degrees steep.
    const float along = normals.col(i).dot(down);
    if (along > table_at_least) underside.push_back(i);
    if (along < top_at_most) top.push_back(i);
  }
  if (top.empty() || underside.empty()) throw NotMeasurable("the closed surface has no two sides. Is it a whole reed?");
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
