// Templates are instantiated here for the two models in use: the library's own instantiations for all point types take
// 50 ms to load.
#define PCL_NO_PRECOMPILE
#include "scanproc/datum/consensus.h"

#include <pcl/features/normal_3d.h>
#include <pcl/point_cloud.h>
#include <pcl/point_types.h>
#include <pcl/sample_consensus/ransac.h>
#include <pcl/sample_consensus/sac_model_normal_plane.h>
#include <pcl/sample_consensus/sac_model_normal_sphere.h>
#include <pcl/search/kdtree.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <stdexcept>
#include <utility>

namespace canewise {
namespace {

using Points = pcl::PointCloud<pcl::PointXYZ>;
using Normals = pcl::PointCloud<pcl::Normal>;

constexpr double kLeanWeight = 0.2;   ///< Millimetres that a radian of lean counts.
constexpr double kSureness = 0.9999;  ///< That among the tries was one with a surface's points alone.
constexpr int kMostTries = 1000;

/// Means over cells, about their common middle: single precision is enough there.
struct Thinned {
  Points::Ptr points = std::make_shared<Points>();
  Normals::Ptr normals = std::make_shared<Normals>();
  Eigen::Vector3d middle_mm = Eigen::Vector3d::Zero();
};

Thinned thinned(const std::vector<Eigen::Vector3d>& points, double cell_mm) {
  Thinned thin;
  for (const auto& p : points) thin.middle_mm += p / static_cast<double>(points.size());
  std::map<std::array<std::int64_t, 3>, std::pair<Eigen::Vector3d, double>> cells;  // Ordered: equal in, equal out.
  for (const auto& p : points) {
    const Eigen::Vector3d d = p - thin.middle_mm;
    const Eigen::Vector3d at = (d / cell_mm).array().floor();
    constexpr double far = 1e6;
    if (!(at.cwiseAbs().maxCoeff() < far)) continue;
    auto& [sum, n] = cells
                         .try_emplace({static_cast<std::int64_t>(at.x()), static_cast<std::int64_t>(at.y()),
                                       static_cast<std::int64_t>(at.z())},
                                      Eigen::Vector3d::Zero(), 0.0)
                         .first->second;
    sum += d;
    n += 1.0;
  }
  for (const auto& [cell, sum] : cells) {
    const Eigen::Vector3f mean = (sum.first / sum.second).cast<float>();
    thin.points->emplace_back(mean.x(), mean.y(), mean.z());
  }
  if (thin.points->size() < 3) return thin;
  pcl::NormalEstimation<pcl::PointXYZ, pcl::Normal> estimation;
  estimation.setInputCloud(thin.points);
  estimation.setSearchMethod(std::make_shared<pcl::search::KdTree<pcl::PointXYZ>>());
  constexpr double reach = 2.6;  // Some twenty cells of a surface.
  estimation.setRadiusSearch(reach * cell_mm);
  estimation.compute(*thin.normals);
  // Where a point has no neighbours it has no normal, and no say.
  Points kept;
  Normals kept_normals;
  for (std::size_t i = 0; i < thin.points->size(); ++i) {
    if (!std::isfinite((*thin.normals)[i].normal_x)) continue;
    kept.push_back((*thin.points)[i]);
    kept_normals.push_back((*thin.normals)[i]);
  }
  *thin.points = std::move(kept);
  *thin.normals = std::move(kept_normals);
  return thin;
}

/// Tries to find one model among the points of `open`. Its generator of random numbers always starts alike.
template <typename Model>
bool search(const std::shared_ptr<Model>& model, const Thinned& thin, double tolerance_mm, Eigen::VectorXf& found) {
  model->setInputNormals(thin.normals);
  model->setNormalDistanceWeight(kLeanWeight);
  pcl::RandomSampleConsensus<pcl::PointXYZ> consensus(model, tolerance_mm);
  consensus.setProbability(kSureness);
  consensus.setMaxIterations(kMostTries);
  if (!consensus.computeModel()) return false;
  consensus.getModelCoefficients(found);
  return found.allFinite();
}

}  // namespace

std::vector<Plane> consensus_planes(const std::vector<Eigen::Vector3d>& points_mm, const PlaneConsensus& options) {
  if (!(options.cell_mm > 0.0) || !(options.tolerance_mm > 0.0) || options.fewest < 3)
    throw std::invalid_argument("PlaneConsensus: cell_mm and tolerance_mm must be > 0, fewest >= 3");
  std::vector<Plane> planes;
  const Thinned thin = thinned(points_mm, options.cell_mm);
  pcl::Indices open(thin.points->size());
  for (std::size_t i = 0; i < open.size(); ++i) open[i] = static_cast<pcl::index_t>(i);
  while (planes.size() < options.most && open.size() >= options.fewest) {
    const auto model =
        std::make_shared<pcl::SampleConsensusModelNormalPlane<pcl::PointXYZ, pcl::Normal>>(thin.points, open);
    Eigen::VectorXf found;
    if (!search(model, thin, options.tolerance_mm, found)) break;
    pcl::Indices own;
    model->selectWithinDistance(found, options.tolerance_mm, own);
    if (own.size() < options.fewest) break;
    Eigen::VectorXf refined;
    model->optimizeModelCoefficients(own, found, refined);
    if (refined.size() == found.size() && refined.allFinite()) found = refined;
    Plane plane;
    plane.normal = found.head<3>().cast<double>().normalized();
    plane.distance = plane.normal.dot(thin.middle_mm) - static_cast<double>(found(3));
    planes.push_back(plane);
    std::sort(own.begin(), own.end());
    std::erase_if(open, [&](pcl::index_t i) { return std::binary_search(own.begin(), own.end(), i); });
  }
  return planes;
}

std::optional<Ball> consensus_ball(const std::vector<Eigen::Vector3d>& points_mm, const BallConsensus& options) {
  if (!(options.cell_mm > 0.0) || !(options.tolerance_mm > 0.0) || options.fewest < 4 ||
      !(options.least_radius_mm < options.largest_radius_mm))
    throw std::invalid_argument(
        "BallConsensus: cell_mm and tolerance_mm must be > 0, fewest >= 4, least_radius_mm < largest_radius_mm");
  const Thinned thin = thinned(points_mm, options.cell_mm);
  if (thin.points->size() < options.fewest) return std::nullopt;
  const auto model = std::make_shared<pcl::SampleConsensusModelNormalSphere<pcl::PointXYZ, pcl::Normal>>(thin.points);
  model->setRadiusLimits(options.least_radius_mm, options.largest_radius_mm);
  Eigen::VectorXf found;
  if (!search(model, thin, options.tolerance_mm, found)) return std::nullopt;
  if (model->countWithinDistance(found, options.tolerance_mm) < options.fewest) return std::nullopt;
  return Ball{thin.middle_mm + found.head<3>().cast<double>(), static_cast<double>(found(3))};
}

}  // namespace canewise
