#include "scanproc/datum/clusters.h"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <unordered_map>

namespace canewise {
namespace {

using Cell = std::array<std::int32_t, 3>;

struct CellHash {
  std::size_t operator()(const Cell& c) const {
    std::uint64_t h = 0;
    for (const auto v : c) h = (h ^ static_cast<std::uint32_t>(v)) * 0x9E3779B97F4A7C15ULL, h ^= h >> 29U;
    return h;
  }
};

void find_box(const Eigen::Matrix3Xd& points, Cluster& cluster) {
  Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
  for (const auto i : cluster.points) cluster.middle += points.col(i);
  cluster.middle /= static_cast<double>(cluster.points.size());
  for (const auto i : cluster.points) {
    const Eigen::Vector3d d = points.col(i) - cluster.middle;
    scatter += d * d.transpose();
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solver(scatter);
  for (int k = 0; k < 3; ++k) cluster.axes.col(k) = solver.eigenvectors().col(2 - k);
  std::vector<double> along(cluster.points.size());
  for (int k = 0; k < 3; ++k) {
    for (std::size_t i = 0; i < along.size(); ++i)
      along[i] = cluster.axes.col(k).dot(points.col(cluster.points[i]) - cluster.middle);
    const auto trim = static_cast<std::ptrdiff_t>(along.size() / 400);
    std::nth_element(along.begin(), along.begin() + trim, along.end());
    const double low = along[static_cast<std::size_t>(trim)];
    std::nth_element(along.begin(), along.end() - 1 - trim, along.end());
    cluster.extent_mm(k) = *(along.end() - 1 - trim) - low;
  }
}

}  // namespace

std::vector<Cluster> find_clusters(const Eigen::Matrix3Xd& points, double gap_mm, std::size_t fewest) {
  std::unordered_map<Cell, std::vector<Eigen::Index>, CellHash> cells;
  const double cell_mm = 0.5 * gap_mm;
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    Cell cell{};
    bool far = false;
    for (std::size_t k = 0; k < 3; ++k) {
      const double at = std::floor(points(static_cast<Eigen::Index>(k), i) / cell_mm);
      far = far || std::abs(at) > 1e9;
      cell.at(k) = far ? 0 : static_cast<std::int32_t>(at);
    }
    if (!far) cells[cell].push_back(i);
  }
  std::vector<Cluster> clusters;
  std::vector<Cell> open;
  // Cells are taken out of the map when they are reached; each point is moved once.
  while (!cells.empty()) {
    Cluster cluster;
    open.assign(1, cells.begin()->first);
    while (!open.empty()) {
      const Cell cell = open.back();
      open.pop_back();
      const auto here = cells.find(cell);
      if (here == cells.end()) continue;
      cluster.points.insert(cluster.points.end(), here->second.begin(), here->second.end());
      cells.erase(here);
      for (std::int32_t dx = -1; dx <= 1; ++dx) {
        for (std::int32_t dy = -1; dy <= 1; ++dy) {
          for (std::int32_t dz = -1; dz <= 1; ++dz) {
            const Cell next{cell[0] + dx, cell[1] + dy, cell[2] + dz};
            if (cells.contains(next)) open.push_back(next);
          }
        }
      }
    }
    if (cluster.points.size() < fewest) continue;
    std::sort(cluster.points.begin(), cluster.points.end());  // Whatever order the map has: equal scan, equal result.
    find_box(points, cluster);
    clusters.push_back(std::move(cluster));
  }
  std::sort(clusters.begin(), clusters.end(), [](const Cluster& a, const Cluster& b) {
    return a.points.size() != b.points.size() ? a.points.size() > b.points.size() : a.points.front() < b.points.front();
  });
  return clusters;
}

bool is_reed_sized(const Cluster& cluster) {
  constexpr double shortest = 48.0, longest = 98.0, narrowest = 9.0, widest = 21.5, highest = 6.0;
  const Eigen::Vector3d& e = cluster.extent_mm;
  return e(0) > shortest && e(0) < longest && e(1) > narrowest && e(1) < widest && e(2) < highest;
}

}  // namespace canewise
