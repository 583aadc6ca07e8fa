#include "scanproc/datum/spheres.h"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <random>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

using Points = std::vector<Eigen::Vector3d>;

struct Ball {
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();
  double radius = 0.0;
  [[nodiscard]] double distance(const Eigen::Vector3d& p) const { return (p - centre).norm() - radius; }
};

/// Algebraic fit: |p|^2 = 2 c.p + (r^2 - |c|^2), linear in its unknowns. Good as a start.
std::optional<Ball> algebraic(const Points& points) {
  const auto n = static_cast<Eigen::Index>(points.size());
  if (n < 4) return std::nullopt;
  Eigen::MatrixXd design(n, 4);
  Eigen::VectorXd right(n);
  const Eigen::Vector3d origin = points.front();
  for (Eigen::Index i = 0; i < n; ++i) {
    const Eigen::Vector3d p = points[static_cast<std::size_t>(i)] - origin;
    design.row(i) << 2.0 * p.transpose(), 1.0;
    right(i) = p.squaredNorm();
  }
  const Eigen::Vector4d x = design.colPivHouseholderQr().solve(right);
  const double r2 = x(3) + x.head<3>().squaredNorm();
  if (!(r2 > 0.0)) return std::nullopt;
  return Ball{origin + x.head<3>(), std::sqrt(r2)};
}

/// Geometric least squares by Gauss-Newton; `normal` becomes the normal matrix of (centre, radius).
Ball refine(const Points& points, Ball ball, Eigen::Matrix4d& normal) {
  constexpr int steps = 8;
  for (int step = 0; step < steps; ++step) {
    normal.setZero();
    Eigen::Vector4d right = Eigen::Vector4d::Zero();
    for (const auto& p : points) {
      const Eigen::Vector3d d = p - ball.centre;
      Eigen::Vector4d slope;
      slope << -d.normalized(), -1.0;
      normal += slope * slope.transpose();
      right -= slope * (d.norm() - ball.radius);
    }
    const Eigen::Vector4d change = normal.ldlt().solve(right);
    ball.centre += change.head<3>();
    ball.radius += change(3);
    if (change.norm() < 1e-10) break;
  }
  return ball;
}

bool has_usual_radius(const Ball& ball, std::optional<double> diameter_mm) {
  if (diameter_mm) return std::abs(2.0 * ball.radius - *diameter_mm) < 0.05 * *diameter_mm;
  return ball.radius >= 1.0 && ball.radius <= 20.0;
}

/// Half angle of the cap that holds 95 % of the points, and whether they fill it.
double cap_angle(const Points& points, const Ball& ball) {
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  for (const auto& p : points) mean += (p - ball.centre).normalized();
  mean.normalize();
  std::vector<double> angles;
  for (const auto& p : points)
    angles.push_back(std::acos(std::clamp(mean.dot((p - ball.centre).normalized()), -1.0, 1.0)));
  const auto at = angles.begin() + static_cast<std::ptrdiff_t>(0.95 * static_cast<double>(angles.size()));
  std::nth_element(angles.begin(), at, angles.end());
  return *at;
}

/// Covariance from the scatter of block sums: it holds whatever correlation the noise has inside a block [White1980].
Eigen::Matrix3d centre_covariance(const Points& points, const Ball& ball, const Eigen::Matrix4d& normal) {
  constexpr double block_mm = 1.0;
  std::map<std::array<int, 3>, Eigen::Vector4d> blocks;
  for (const auto& p : points) {
    const Eigen::Vector3d d = p - ball.centre;
    Eigen::Vector4d slope;
    slope << -d.normalized(), -1.0;
    const std::array<int, 3> block{static_cast<int>(std::floor(d.x() / block_mm)),
                                   static_cast<int>(std::floor(d.y() / block_mm)),
                                   static_cast<int>(std::floor(d.z() / block_mm))};
    blocks.try_emplace(block, Eigen::Vector4d::Zero()).first->second += slope * (d.norm() - ball.radius);
  }
  Eigen::Matrix4d scatter = Eigen::Matrix4d::Zero();
  for (const auto& [block, sum] : blocks) scatter += sum * sum.transpose();
  const Eigen::Matrix4d inverse = normal.inverse();
  const Eigen::Matrix4d covariance = inverse * scatter * inverse;
  return covariance.topLeftCorner<3, 3>();
}

/// The best sphere among `points`, whose own points are taken out of the list; empty if none is left.
std::optional<Sphere> take_sphere(Points& points, std::optional<double> diameter_mm, std::mt19937_64& random) {
  constexpr std::size_t fewest = 60, neighbours = 40;
  constexpr int hypotheses = 60;
  constexpr double first_tolerance_mm = 0.15, neighbourhood_mm = 4.0;
  if (points.size() < fewest) return std::nullopt;
  std::uniform_int_distribution<std::size_t> pick(0, points.size() - 1);
  const std::size_t step = std::max<std::size_t>(1, points.size() / 4000);
  Ball best;
  std::size_t best_count = 0;
  for (int hypothesis = 0; hypothesis < hypotheses; ++hypothesis) {
    const Eigen::Vector3d seed = points[pick(random)];
    Points near;
    for (int k = 0; k < 2000 && near.size() < neighbours; ++k) {
      const Eigen::Vector3d& p = points[pick(random)];
      if ((p - seed).norm() < neighbourhood_mm) near.push_back(p);
    }
    const auto ball = algebraic(near);
    if (!ball || !has_usual_radius(*ball, diameter_mm)) continue;
    std::size_t count = 0;
    for (std::size_t i = 0; i < points.size(); i += step)
      count += std::abs(ball->distance(points[i])) < first_tolerance_mm;
    if (count > best_count) best_count = count, best = *ball;
  }
  if (best_count == 0) return std::nullopt;
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
    if (!has_usual_radius(best, diameter_mm)) return std::nullopt;
  }
  sphere.centre_mm = best.centre;
  sphere.radius_mm = best.radius;
  sphere.points = own.size();
  sphere.covariance = centre_covariance(own, best, normal);
  constexpr double smallest_cap_rad = 0.611;  // 35 degrees.
  constexpr double largest_residual_mm = 0.1;
  const bool good = cap_angle(own, best) > smallest_cap_rad && sphere.residual_mm < largest_residual_mm;
  std::size_t inside = 0;  // A patch of another shape has many points beside the sphere that it touches.
  for (const auto& p : points) inside += std::abs(best.distance(p)) < 0.4 * best.radius;
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
  std::mt19937_64 random(3);
  for (const auto& part : parts) {
    Points points;
    points.reserve(part.points.size());
    for (const auto i : part.points) points.emplace_back(points_mm.col(i));
    constexpr int most_in_a_part = 12;
    for (int k = 0; k < most_in_a_part; ++k) {
      const auto sphere = take_sphere(points, diameter_mm, random);
      if (!sphere) break;
      if (sphere->points > 0) spheres.push_back(*sphere);
    }
  }
  std::sort(spheres.begin(), spheres.end(), [](const Sphere& a, const Sphere& b) { return a.points > b.points; });
  return spheres;
}

}  // namespace canewise
