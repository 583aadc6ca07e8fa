#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <map>
#include <utility>
#include <vector>

#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/plate_element.h"

namespace canewise::test {

inline Cane isotropic(double modulus_mpa, double nu, double density_kg_per_m3 = 500.0) {
  return {modulus_mpa, modulus_mpa, modulus_mpa / (2.0 * (1.0 + nu)), nu, density_kg_per_m3, 0.0};
}
/// The handbook's cane for plates of a reed's size.
inline Cane reed_like() { return {10000.0, 400.0, 1300.0, 0.22, 480.0, 0.0}; }

/// A mesh from corners and triangles.
inline PlateMesh mesh_of(Eigen::Matrix2Xd nodes_mm, std::vector<std::array<int, 3>> triangles) {
  PlateMesh mesh{std::move(nodes_mm), std::move(triangles), {}, {}};
  std::map<std::array<int, 2>, int> numbers;
  for (const auto& triangle : mesh.triangles) {
    std::array<int, 3> middles{};
    for (std::size_t k = 0; k < 3; ++k) {
      const auto [low, high] = std::minmax(triangle.at((k + 1) % 3), triangle.at((k + 2) % 3));
      const auto [entry, fresh] = numbers.try_emplace({low, high}, static_cast<int>(mesh.sides.size()));
      if (fresh) mesh.sides.push_back({low, high});
      middles.at(k) = entry->second;
    }
    mesh.mid_sides.push_back(middles);
  }
  return mesh;
}

inline PlateElement element_of(const PlateMesh& mesh, const std::array<int, 3>& triangle) {
  Eigen::Matrix<double, 2, 3> corners;
  corners << mesh.nodes_mm.col(triangle[0]), mesh.nodes_mm.col(triangle[1]), mesh.nodes_mm.col(triangle[2]);
  return PlateElement(corners);
}

struct Matrices {
  Eigen::MatrixXd stiffness, mass;
};
/// A plate of thickness 1 that nothing holds, put together from the elements alone.
inline Matrices free_plate(const PlateMesh& mesh, const Cane& cane) {
  const Eigen::Index size = 3 * mesh.nodes();
  Matrices free{Eigen::MatrixXd::Zero(size, size), Eigen::MatrixXd::Zero(size, size)};
  for (const auto& triangle : mesh.triangles) {
    const PlateElement element = element_of(mesh, triangle);
    std::array<Eigen::Index, 9> freedoms{};
    for (std::size_t k = 0; k < 9; ++k) freedoms.at(k) = 3 * triangle.at(k / 3) + static_cast<Eigen::Index>(k % 3);
    for (const auto& point : triangle_points()) {
      const double area = point.share * element.area_mm2();
      const auto b = element.curvature(point.area);
      const auto n = element.deflection(point.area);
      free.stiffness(freedoms, freedoms) += area / 12.0 * b.transpose() * plane_stress_stiffness(cane) * b;
      free.mass(freedoms, freedoms) += area * 1e-12 * cane.density_kg_per_m3 * n.transpose() * n;
    }
  }
  return free;
}

}  // namespace canewise::test
