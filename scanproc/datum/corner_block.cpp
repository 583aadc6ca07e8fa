#include "scanproc/datum/corner_block.h"

#include <Eigen/LU>
#include <Eigen/SVD>
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "scanproc/core/statistics.h"
#include "scanproc/datum/plane_search.h"

namespace canewise {
namespace {

struct Face {
  Plane plane;
  std::vector<Eigen::Vector3d> points;
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  double sigma_mm = 0.0;
};

std::vector<Face> faces_of(std::vector<Eigen::Vector3d> points) {
  constexpr double tolerance_mm = 0.1;
  constexpr std::size_t fewest = 80;
  std::vector<Face> faces;
  for (int k = 0; k < 3; ++k) {
    const auto found = find_plane(points, tolerance_mm, 2.0 * tolerance_mm);
    if (!found || found->inliers < fewest) break;
    Face face;
    face.plane = found->plane;
    face.sigma_mm = found->sigma_mm;
    const double limit = std::max(found->limit_mm, 2.0 * tolerance_mm);
    for (const auto& p : points) {
      if (std::abs(face.plane.height(p)) < found->limit_mm) face.points.push_back(p);
    }
    std::erase_if(points, [&](const Eigen::Vector3d& p) { return std::abs(face.plane.height(p)) < limit; });
    for (const auto& p : face.points) face.middle += p;
    face.middle /= static_cast<double>(face.points.size());
    faces.push_back(std::move(face));
  }
  return faces;
}

/// Scatter and number of the means over blocks of 1 mm: noise that points share within a block counts once.
struct BlockMeans {
  double count = 0.0, sd_mm = 0.0;
};

BlockMeans block_means(const Face& face) {
  std::map<std::array<int, 3>, std::pair<double, double>> sums;
  for (const auto& p : face.points) {
    auto& [sum, n] = sums[{static_cast<int>(std::floor(p.x())), static_cast<int>(std::floor(p.y())),
                           static_cast<int>(std::floor(p.z()))}];
    sum += face.plane.height(p);
    n += 1.0;
  }
  BlockMeans means;
  double squares = 0.0;
  for (const auto& [block, sum] : sums) squares += square(sum.first / sum.second);
  means.count = static_cast<double>(sums.size());
  means.sd_mm = std::sqrt(squares / std::max(1.0, means.count - 3.0));
  return means;
}

}  // namespace

std::optional<BlockCorner> find_block(const Eigen::Matrix3Xd& points_mm, const std::vector<Cluster>& parts,
                                      const std::array<double, 3>& edges_mm) {
  const double longest = *std::max_element(edges_mm.begin(), edges_mm.end());
  for (const auto& part : parts) {
    constexpr double diagonal = 1.8;
    if (part.extent_mm(0) > diagonal * longest) continue;
    std::vector<Eigen::Vector3d> points;
    for (const auto i : part.points) points.emplace_back(points_mm.col(i));
    auto faces = faces_of(std::move(points));
    if (faces.size() < 3) continue;
    constexpr double two_degrees = 0.035;
    bool square_to_each_other = true;
    for (std::size_t a = 0; a < 3; ++a) {
      const std::size_t b = (a + 1) % 3;
      square_to_each_other =
          square_to_each_other && std::abs(faces[a].plane.normal.dot(faces[b].plane.normal)) < two_degrees;
    }
    if (!square_to_each_other) continue;
    BlockCorner block;
    Eigen::Matrix3d normals, root;
    Eigen::Vector3d distances;
    double squares = 0.0, fewest = 1e300, sigma = 0.0;
    for (std::size_t a = 0; a < 3; ++a) {
      // The other faces lie on a face's inner side.
      Plane plane = faces[a].plane;
      if (plane.height(faces[(a + 1) % 3].middle) + plane.height(faces[(a + 2) % 3].middle) > 0) {
        plane.normal = -plane.normal;
        plane.distance = -plane.distance;
      }
      normals.row(static_cast<Eigen::Index>(a)) = plane.normal.transpose();
      distances(static_cast<Eigen::Index>(a)) = plane.distance;
      const BlockMeans means = block_means(faces[a]);
      fewest = std::min(fewest, means.count);
      sigma = std::max(sigma, means.sd_mm);
      squares += square(means.sd_mm) / means.count;
    }
    block.corner_mm = normals.inverse() * distances;
    // The nearest exactly square triple.
    const Eigen::JacobiSVD<Eigen::Matrix3d> svd(normals, Eigen::ComputeFullU | Eigen::ComputeFullV);
    const Eigen::Matrix3d exact = svd.matrixU() * svd.matrixV().transpose();
    for (std::size_t a = 0; a < 3; ++a) block.normals.at(a) = exact.row(static_cast<Eigen::Index>(a)).transpose();
    // A corner lies half an edge in both directions from a face's middle: seven times the variance of the middle's
    // height.
    block.covariance = Eigen::Matrix3d::Identity() * 7.0 * squares / 3.0;
    block.u_turn_rad = std::sqrt(12.0 / fewest) * sigma / longest;
    block.residual_mm = sigma;
    return block;
  }
  return std::nullopt;
}

}  // namespace canewise
