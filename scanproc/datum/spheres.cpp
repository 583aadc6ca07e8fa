#include "scanproc/datum/spheres.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "scanproc/core/statistics.h"
#include "scanproc/datum/consensus.h"

namespace canewise {
namespace {

using Points = std::vector<Eigen::Vector3d>;

/// Geometric least squares by Gauss-Newton; `normal` becomes the normal matrix of (centre, radius).
Ball refine(const Points& points, Ball ball, Eigen::Matrix4d& normal) {
  constexpr int steps = 8;
  for (int step = 0; step < steps; ++step) {
    normal.setZero();
    Eigen::Vector4d right = Eigen::Vector4d::Zero();
    for (const auto& p : points) {
      const Eigen::Vector3d d = p - ball.centre_mm;
      Eigen::Vector4d slope;
      slope << -d.normalized(), -1.0;
      normal += slope * slope.transpose();
      right -= slope * (d.norm() - ball.radius_mm);
    }
    const Eigen::Vector4d change = normal.ldlt().solve(right);
    ball.centre_mm += change.head<3>();
    ball.radius_mm += change(3);
    if (change.norm() < 1e-10) break;
  }
  return ball;
}

/// Radii to look for.
BallConsensus wanted(std::optional<double> diameter_mm) {
  BallConsensus options;
  constexpr double alike = 0.05;
  if (diameter_mm) options.least_radius_mm = 0.5 * (1.0 - alike) * *diameter_mm;
  if (diameter_mm) options.largest_radius_mm = 0.5 * (1.0 + alike) * *diameter_mm;
  return options;
}

/// Half angle of the cap that holds 95 % of the points, and whether they fill it.
double cap_angle(const Points& points, const Ball& ball) {
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  for (const auto& p : points) mean += (p - ball.centre_mm).normalized();
  mean.normalize();
  std::vector<double> angles;
  for (const auto& p : points)
    angles.push_back(std::acos(std::clamp(mean.dot((p - ball.centre_mm).normalized()), -1.0, 1.0)));
  const auto at = angles.begin() + static_cast<std::ptrdiff_t>(0.95 * static_cast<double>(angles.size()));
  std::nth_element(angles.begin(), at, angles.end());
  return *at;
}

/// Covariance from the scatter of block sums: it holds whatever correlation the noise has inside a block [White1980].
Eigen::Matrix3d centre_covariance(const Points& points, const Ball& ball, const Eigen::Matrix4d& normal) {
  constexpr double block_mm = 1.0;
  std::map<std::array<int, 3>, Eigen::Vector4d> blocks;
  for (const auto& p : points) {
    const Eigen::Vector3d d = p - ball.centre_mm;
    Eigen::Vector4d slope;
    slope << -d.normalized(), -1.0;
    const std::array<int, 3> block{static_cast<int>(std::floor(d.x() / block_mm)),
                                   static_cast<int>(std::floor(d.y() / block_mm)),
                                   static_cast<int>(std::floor(d.z() / block_mm))};
    blocks.try_emplace(block, Eigen::Vector4d::Zero()).first->second += slope * (d.norm() - ball.radius_mm);
  }
  Eigen::Matrix4d scatter = Eigen::Matrix4d::Zero();
  for (const auto& [block, sum] : blocks) scatter += sum * sum.transpose();
  const Eigen::Matrix4d inverse = normal.inverse();
  const Eigen::Matrix4d covariance = inverse * scatter * inverse;
  return covariance.topLeftCorner<3, 3>();
}

/// The best sphere among `points`, whose own points are taken out of the list; empty if none is left.
std::optional<Sphere> take_sphere(Points& points, const BallConsensus& options) {
  constexpr std::size_t fewest = 60;
  constexpr double first_tolerance_mm = 0.15;
  if (points.size() < fewest) return std::nullopt;
  const auto found = consensus_ball(points, options);
  if (!found) return std::nullopt;
  Ball best = *found;
  Sphere sphere;
  Points own;
  Eigen::Matrix4d normal = Eigen::Matrix4d::Zero();
  double limit = 2.0 * first_tolerance_mm;
  constexpr int refits = 6;
  for (int i = 0; i < refits; ++i) {
    own.clear();
    for (const auto& p : points) {
      if (std::abs(best.distance(p)) < limit) own.push_back(p);
    }
    if (own.size() < fewest) return std::nullopt;
    best = refine(own, best, normal);
    std::vector<double> residuals;
    double squares = 0.0;
    for (const auto& p : own) {
      residuals.push_back(best.distance(p));
      squares += square(residuals.back());
    }
    sphere.residual_mm = std::sqrt(squares / static_cast<double>(own.size()));
    limit = std::max(1e-3, 5.0 * mad_sigma(residuals, median(residuals)));
    if (!(best.radius_mm > options.least_radius_mm && best.radius_mm < options.largest_radius_mm)) return std::nullopt;
  }
  sphere.centre_mm = best.centre_mm;
  sphere.radius_mm = best.radius_mm;
  sphere.points = own.size();
  sphere.covariance = centre_covariance(own, best, normal);
  constexpr double smallest_cap_rad = 0.611;  // 35 degrees.
  constexpr double largest_residual_mm = 0.1;
  const bool good = cap_angle(own, best) > smallest_cap_rad && sphere.residual_mm < largest_residual_mm;
  std::size_t inside = 0;  // A patch of another shape has many points beside the sphere that it touches.
  for (const auto& p : points) inside += std::abs(best.distance(p)) < 0.4 * best.radius_mm;
  std::erase_if(points, [&](const Eigen::Vector3d& p) {
    return std::abs(best.distance(p)) < std::max(limit, first_tolerance_mm);
  });
  if (!good || 10 * own.size() < 6 * inside) return Sphere{};  // Taken out, but none.
  return sphere;
}

}  // namespace

std::vector<Sphere> find_spheres(const Eigen::Matrix3Xd& points_mm, const std::vector<Cluster>& parts,
                                 std::optional<double> diameter_mm) {
  std::vector<Sphere> spheres;
  const BallConsensus options = wanted(diameter_mm);
  for (const auto& part : parts) {
    Points points;
    points.reserve(part.points.size());
    for (const auto i : part.points) points.emplace_back(points_mm.col(i));
    constexpr int most_in_a_part = 12;
    for (int k = 0; k < most_in_a_part; ++k) {
      const auto sphere = take_sphere(points, options);
      if (!sphere) break;
      if (sphere->points > 0) spheres.push_back(*sphere);
    }
  }
  std::sort(spheres.begin(), spheres.end(), [](const Sphere& a, const Sphere& b) { return a.points > b.points; });
  return spheres;
}

}  // namespace canewise
