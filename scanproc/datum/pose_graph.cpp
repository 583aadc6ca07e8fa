#include "scanproc/datum/pose_graph.h"

#include <open3d/pipelines/registration/GlobalOptimization.h>
#include <open3d/pipelines/registration/GlobalOptimizationConvergenceCriteria.h>
#include <open3d/pipelines/registration/GlobalOptimizationMethod.h>
#include <open3d/pipelines/registration/PoseGraph.h>

#include <Eigen/LU>

namespace canewise {

std::vector<Eigen::Isometry3d> even_out(const std::vector<Eigen::Isometry3d>& places,
                                        const std::vector<PoseLink>& links) {
  namespace registration = open3d::pipelines::registration;
  registration::PoseGraph graph;
  for (const auto& place : places) graph.nodes_.emplace_back(place.matrix());
  for (const auto& link : links) {
    // The library orders turn before shift.
    const PlaceCovariance information = (link.covariance + 1e-10 * PlaceCovariance::Identity()).inverse();
    PlaceCovariance ordered;
    ordered << information.bottomRightCorner<3, 3>(), information.bottomLeftCorner<3, 3>(),
        information.topRightCorner<3, 3>(), information.topLeftCorner<3, 3>();
    graph.edges_.emplace_back(static_cast<int>(link.second), static_cast<int>(link.first),
                              link.first_from_second.matrix(), ordered, link.second != link.first + 1);
  }
  registration::GlobalOptimizationOption option;
  option.reference_node_ = 0;
  option.edge_prune_threshold_ = 0.0;
  registration::GlobalOptimization(graph, registration::GlobalOptimizationLevenbergMarquardt(),
                                   registration::GlobalOptimizationConvergenceCriteria(), option);
  std::vector<Eigen::Isometry3d> evened;
  for (const auto& node : graph.nodes_) {
    Eigen::Isometry3d place;
    place.matrix() = node.pose_;
    evened.push_back(place);
  }
  // The first pass stays where it is.
  const Eigen::Isometry3d back = evened.front().inverse();
  for (auto& place : evened) place = back * place;
  return evened;
}

}  // namespace canewise
