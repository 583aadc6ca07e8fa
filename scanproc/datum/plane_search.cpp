#include "scanproc/datum/plane_search.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "scanproc/core/statistics.h"

namespace canewise {

/// Every point has the same chance, whatever the order along lines; the choice depends on the index alone.
std::vector<Eigen::Vector3d> subsample(const Eigen::Matrix3Xd& points, std::size_t wanted) {
  std::vector<Eigen::Vector3d> chosen;
  const auto n = static_cast<std::size_t>(points.cols());
  chosen.reserve(std::min(n, wanted + 1024));
  if (n <= wanted) {
    for (Eigen::Index i = 0; i < points.cols(); ++i) chosen.emplace_back(points.col(i));
    return chosen;
  }
  const double step = static_cast<double>(n) / static_cast<double>(wanted);
  std::mt19937_64 random(1);
  std::uniform_real_distribution<double> jitter(0.0, step);
  for (std::size_t k = 0; k < wanted; ++k) {
    const auto i = std::min(n - 1, static_cast<std::size_t>(static_cast<double>(k) * step + jitter(random)));
    chosen.emplace_back(points.col(static_cast<Eigen::Index>(i)));
  }
  return chosen;
}

Plane total_least_squares(const std::vector<Eigen::Vector3d>& points) {
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();
  for (const auto& p : points) mean += p;
  mean /= static_cast<double>(points.size());
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  for (const auto& p : points) scatter += (p - mean) * (p - mean).transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(scatter);
  Plane plane;
  plane.normal = solver.eigenvectors().col(0);
  plane.distance = plane.normal.dot(mean);
  return plane;
}

namespace {

/// Sample consensus: the plane through three points that scores best.
std::optional<Plane> consensus_plane(const std::vector<Eigen::Vector3d>& points, double tolerance_mm,
                                     PlaneWanted wanted) {
  constexpr std::size_t scored_size = 3000;
  // Of a small plate three points come together rarely.
  const int hypotheses = wanted == PlaneWanted::ground ? 900 : 300;
  if (points.size() < 3) return std::nullopt;
  std::mt19937_64 random(2);
  std::uniform_int_distribution<std::size_t> pick(0, points.size() - 1);
  Plane best;
  double best_score = 0.0;
  const std::size_t score_step = std::max<std::size_t>(1, points.size() / scored_size);
  for (int hypothesis = 0; hypothesis < hypotheses; ++hypothesis) {
    const Eigen::Vector3d& a = points[pick(random)];
    const Eigen::Vector3d& b = points[pick(random)];
    const Eigen::Vector3d& c = points[pick(random)];
    const Eigen::Vector3d cross = (b - a).cross(c - a);
    constexpr double least_sine =
        1e-4;  // Relative, so that one far stray point does not make all triangles look small.
    if (!(cross.norm() > least_sine * (b - a).norm() * (c - a).norm())) continue;
    Plane plane;
    plane.normal = cross.normalized();
    plane.distance = plane.normal.dot(a);
    double count = 0.0, above = 0.0, below = 0.0;
    for (std::size_t i = 0; i < points.size(); i += score_step) {
      const double height = plane.height(points[i]);
      count += std::abs(height) < tolerance_mm;
      above += height > 2.0 * tolerance_mm;
      below += height < -2.0 * tolerance_mm;
    }
    // What lies under the ground is stray; three such points outweigh one of its own.
    constexpr double against = 3.0;
    const double score = wanted == PlaneWanted::ground ? count - against * std::min(above, below) : count;
    if (score > best_score) {
      best_score = score;
      best = plane;
    }
  }
  if (best_score < 10.0) return std::nullopt;
  return best;
}

}  // namespace

std::optional<FoundPlane> find_plane(const std::vector<Eigen::Vector3d>& points, double tolerance_mm,
                                     double farthest_mm, PlaneWanted wanted) {
  const auto near = consensus_plane(points, tolerance_mm, wanted);
  return near ? refit_plane(points, *near, tolerance_mm, farthest_mm) : std::nullopt;
}

std::optional<FoundPlane> refit_plane(const std::vector<Eigen::Vector3d>& points, const Plane& near,
                                      double tolerance_mm, double farthest_mm) {
  Plane best = near;
  std::vector<double> residuals;
  std::vector<Eigen::Vector3d> inliers;
  double limit = 2.0 * tolerance_mm;
  double sigma = tolerance_mm;
  constexpr int refits = 8;
  constexpr double smallest_sigma_mm = 2e-4;
  for (int i = 0; i < refits; ++i) {
    inliers.clear();
    for (const auto& p : points) {
      if (std::abs(best.height(p)) < limit) inliers.push_back(p);
    }
    if (inliers.size() < 50) return std::nullopt;
    best = total_least_squares(inliers);
    residuals.clear();
    for (const auto& p : inliers) residuals.push_back(best.height(p));
    sigma = std::max(smallest_sigma_mm, mad_sigma(residuals, median(residuals)));
    limit = std::min(farthest_mm, std::max(5.0 * sigma, 1e-3));
  }
  return FoundPlane{best, sigma, limit, inliers.size()};
}

double local_scatter(const std::vector<Eigen::Vector3d>& points) {
  constexpr std::size_t enough = 6000, places = 60, neighbours = 14;
  std::vector<Eigen::Vector3d> few;
  for (std::size_t i = 0; i < points.size(); i += std::max<std::size_t>(1, points.size() / enough))
    few.push_back(points[i]);
  if (few.size() < 2 * neighbours) return std::nan("");
  std::vector<double> deviations, distances(few.size());
  std::vector<std::size_t> order(few.size());
  const std::size_t step = std::max<std::size_t>(1, few.size() / places);
  for (std::size_t k = step / 2; k < few.size(); k += step) {
    for (std::size_t i = 0; i < few.size(); ++i) distances[i] = (few[i] - few[k]).squaredNorm();
    std::iota(order.begin(), order.end(), 0U);
    std::nth_element(order.begin(), order.begin() + neighbours, order.end(),
                     [&](std::size_t a, std::size_t b) { return distances[a] < distances[b]; });
    std::vector<Eigen::Vector3d> near;
    for (std::size_t i = 0; i < neighbours; ++i) near.push_back(few[order[i]]);
    const Plane plane = total_least_squares(near);
    double sum = 0.0;
    for (const auto& p : near) sum += square(plane.height(p));
    deviations.push_back(std::sqrt(sum / (neighbours - 3)));
  }
  return median(std::move(deviations));
}

std::optional<FoundPlane> settle_plane(const std::vector<Eigen::Vector3d>& points, const Plane& guess,
                                       const PlaneSettling& options) {
  constexpr double least_mm = 1e-3, sure = 4.5;
  constexpr int refits = 10;
  FoundPlane found{guess, 0.0, options.first_mm, 0};
  std::vector<Eigen::Vector3d> own;
  std::vector<double> heights;
  for (int i = 0; i < refits; ++i) {
    own.clear();
    heights.clear();
    for (const auto& p : points) {
      if (std::abs(found.plane.height(p)) < found.limit_mm) own.push_back(p);
    }
    if (own.size() < options.fewest) return std::nullopt;
    found.plane = total_least_squares(own);
    for (const auto& p : own) heights.push_back(found.plane.height(p));
    found.sigma_mm = mad_sigma(heights, 0.0);
    found.limit_mm = std::clamp(sure * found.sigma_mm, least_mm, options.farthest_mm);
    found.inliers = own.size();
  }
  return found;
}

}  // namespace canewise
