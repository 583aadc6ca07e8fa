// The plate's element by itself: patch test, rigid motions.
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>

#include "tests/support/plate_matrices.h"

namespace canewise {
namespace {

using test::element_of, test::free_plate, test::isotropic, test::mesh_of, test::reed_like;

/// MacNeal & Harder, Finite Elem. Anal. Des. 1 (1985) 3, from memory: 0.24 by 0.12, every quadrilateral cut in two.
PlateMesh patch() {
  Eigen::Matrix2Xd nodes(2, 8);
  nodes << 0.0, 0.24, 0.24, 0.0, 0.04, 0.18, 0.16, 0.08,  //
      0.0, 0.0, 0.12, 0.12, 0.02, 0.03, 0.08, 0.08;
  return mesh_of(
      nodes,
      {{0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}, {4, 5, 6}, {4, 6, 7}});
}

/// w, dw/dx, dw/dy of (c0 + c1 x + c2 y + c3 x^2/2 + c4 y^2/2 + c5 x y) at every node.
Eigen::VectorXd quadratic(const PlateMesh& mesh, const Eigen::Matrix<double, 6, 1>& c) {
  Eigen::VectorXd u(3 * mesh.nodes());
  for (Eigen::Index n = 0; n < mesh.nodes(); ++n) {
    const double x = mesh.nodes_mm(0, n), y = mesh.nodes_mm(1, n);
    u.segment<3>(3 * n) << c(0) + c(1) * x + c(2) * y + 0.5 * c(3) * x * x + 0.5 * c(4) * y * y + c(5) * x * y,
        c(1) + c(3) * x + c(5) * y, c(2) + c(4) * y + c(5) * x;
  }
  return u;
}

/// The imposed field: 1e-3 (x^2 + x y + y^2)/2.
Eigen::VectorXd imposed(const PlateMesh& mesh) {
  return quadratic(mesh, (Eigen::Matrix<double, 6, 1>() << 0.0, 0.0, 0.0, 1e-3, 1e-3, 0.5e-3).finished());
}

TEST(PlatePatch, TheImposedFieldBendsEveryElementEvenlyWithTheExactMoments) {
  const PlateMesh mesh = patch();
  const Eigen::VectorXd u = imposed(mesh);
  const Cane cane = isotropic(1e6, 0.25);
  for (const auto& triangle : mesh.triangles) {
    Eigen::Matrix<double, 9, 1> local;
    local << u.segment<3>(3 * triangle[0]), u.segment<3>(3 * triangle[1]), u.segment<3>(3 * triangle[2]);
    for (const auto& point : triangle_points()) {
      const Eigen::Vector3d curvature = element_of(mesh, triangle).curvature(point.area) * local;
      const Eigen::Vector3d moment = plane_stress_stiffness(cane) * curvature * 1e-9 / 12.0;
      // 1.111e-7, 1.111e-7, 3.333e-8 (recomputed: exact).
      EXPECT_NEAR(moment(0), 1e-6 / 9.0, 1e-18);
      EXPECT_NEAR(moment(1), 1e-6 / 9.0, 1e-18);
      EXPECT_NEAR(moment(2), 1e-7 / 3.0, 1e-18);
    }
  }
}

TEST(PlatePatch, InnerNodesGoWhereTheOuterOnesSend) {
  PlateModel model;
  model.mesh = patch();
  model.cane = isotropic(1e6, 0.25);
  model.thickness_mm = Eigen::VectorXd::Constant(model.mesh.thickness_points_mm().cols(), 1e-3);
  model.fixed.assign(24, 0);
  std::fill_n(model.fixed.begin(), 12, 1);
  const Plate plate(model);
  const Eigen::VectorXd exact = imposed(model.mesh);
  // What the outer nodes do to the inner ones, as forces.
  const Eigen::MatrixXd stiffness = 1e-9 * free_plate(model.mesh, model.cane).stiffness;
  const Eigen::VectorXd forces = -stiffness.leftCols(12) * exact.head(12);
  const Eigen::VectorXd inner = plate.solve(forces).col(0).tail(12);
  EXPECT_LT((inner - exact.tail(12)).cwiseAbs().maxCoeff(), 1e-12 * exact.cwiseAbs().maxCoeff());
}

TEST(PlatePatch, OnlyTheThreeRigidMotionsAreWithoutStrain) {
  const PlateMesh mesh = patch();
  const Eigen::MatrixXd stiffness = free_plate(mesh, reed_like()).stiffness;
  // Lengths near 0.1 mm: in units that make slopes and deflections alike, rounding shows against the rest.
  Eigen::VectorXd scale(24);
  for (Eigen::Index k = 0; k < 24; ++k) scale(k) = k % 3 == 0 ? 0.1 : 1.0;
  const Eigen::VectorXd values =
      Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(scale.asDiagonal() * stiffness * scale.asDiagonal()).eigenvalues();
  EXPECT_LT(values.head<3>().cwiseAbs().maxCoeff(), 1e-12 * values(23));
  EXPECT_GT(values(3), 1e-4 * values(23));
  for (Eigen::Index k = 0; k < 3; ++k) {
    const Eigen::VectorXd rigid = quadratic(mesh, Eigen::Matrix<double, 6, 1>::Unit(k));
    EXPECT_LT((stiffness * rigid).norm(), 1e-11 * stiffness.norm() * rigid.norm());
  }
}

TEST(PlatePatch, EveryElementHasThreeMotionsWithoutStrainAndSixWith) {
  const PlateMesh mesh = patch();
  for (const auto& triangle : mesh.triangles) {
    PlateMesh one = mesh_of(Eigen::Matrix2Xd(2, 3), {{0, 1, 2}});
    for (Eigen::Index k = 0; k < 3; ++k)
      one.nodes_mm.col(k) = 10.0 * mesh.nodes_mm.col(triangle.at(static_cast<std::size_t>(k)));
    const Eigen::VectorXd values =
        Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(free_plate(one, reed_like()).stiffness).eigenvalues();
    EXPECT_LT(values.head<3>().cwiseAbs().maxCoeff(), 1e-12 * values(8));
    EXPECT_GT(values(3), 1e-5 * values(8));
  }
}

}  // namespace
}  // namespace canewise
