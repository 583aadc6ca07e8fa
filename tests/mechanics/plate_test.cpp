#include "scanproc/mechanics/plate.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

enum class Edge { left_x, right_x, all_supported, all_clamped };

/// A rectangle a (along x) by b, y about 0, of this thickness at x.
template <typename Thickness>
PlateModel rectangle(double a, double b, double spacing, const Cane& cane, Edge edge, const Thickness& thickness) {
  PlateModel model;
  model.mesh = mesh_plate({{{0, -b / 2}, {a, -b / 2}, {a, b / 2}, {0, b / 2}}, {}}, spacing);
  model.cane = cane;
  const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();
  model.thickness_mm.resize(points.cols());
  for (Eigen::Index k = 0; k < points.cols(); ++k) model.thickness_mm(k) = thickness(points(0, k), points(1, k));
  model.fixed.assign(static_cast<std::size_t>(3 * model.mesh.nodes()), 0);
  for (Eigen::Index n = 0; n < model.mesh.nodes(); ++n) {
    const double x = model.mesh.nodes_mm(0, n), y = model.mesh.nodes_mm(1, n);
    const bool on_x = x < 1e-9 || x > a - 1e-9, on_y = std::abs(y) > b / 2 - 1e-9;
    const auto first = static_cast<std::size_t>(3 * n);
    if ((edge == Edge::right_x && x > a - 1e-9) || (edge == Edge::left_x && x < 1e-9) ||
        (edge == Edge::all_clamped && (on_x || on_y)))
      model.fixed[first] = model.fixed[first + 1] = model.fixed[first + 2] = 1;
    if (edge == Edge::all_supported && (on_x || on_y)) {
      model.fixed[first] = 1;
      if (on_x) model.fixed[first + 2] = 1;
      if (on_y) model.fixed[first + 1] = 1;
    }
  }
  return model;
}
PlateModel rectangle(double a, double b, double spacing, const Cane& cane, Edge edge, double thickness) {
  return rectangle(a, b, spacing, cane, edge, [&](double, double) { return thickness; });
}

Cane reed_like() { return {10000.0, 400.0, 1300.0, 0.22, 480.0, 0.0}; }
Cane isotropic() { return {1000.0, 1000.0, 1000.0 / 2.6, 0.3, 1000.0, 0.0}; }

/// 1 N spread evenly over the edge at x.
PointLoads on_edge(double x, double b) {
  constexpr Eigen::Index count = 500;
  PointLoads loads{Eigen::Matrix2Xd(2, count), Eigen::VectorXd::Constant(count, 1.0 / count)};
  for (Eigen::Index k = 0; k < count; ++k)
    loads.points_mm.col(k) << x, b * ((static_cast<double>(k) + 0.5) / count - 0.5);
  return loads;
}
PointLoads pressure(double a, double b, double n_per_mm2) {
  constexpr Eigen::Index side = 200;
  PointLoads loads{Eigen::Matrix2Xd(2, side * side),
                   Eigen::VectorXd::Constant(side * side, n_per_mm2 * a * b / (side * side))};
  for (Eigen::Index i = 0; i < side; ++i)
    for (Eigen::Index j = 0; j < side; ++j)
      loads.points_mm.col(i * side + j) << a * (static_cast<double>(i) + 0.5) / side,
          b * ((static_cast<double>(j) + 0.5) / side - 0.5);
  return loads;
}
double deflection(const Plate& plate, const PointLoads& loads, double x, double y) {
  const Eigen::VectorXd moved = plate.solve(plate.load_of(loads));
  return plate.deflection_at(Eigen::Vector2d(x, y), moved)(0);
}
double rigidity(const Cane& cane, double h) { return plane_stress_stiffness(cane)(0, 0) * h * h * h / 12.0; }

void expect_modes(const PlateModel& model, const std::vector<double>& hertz, double relative) {
  const Modes modes = Plate(model).modes(static_cast<int>(hertz.size()));
  for (std::size_t k = 0; k < hertz.size(); ++k)
    EXPECT_NEAR(modes.frequency_hz(static_cast<Eigen::Index>(k)) / hertz[k], 1.0, relative) << "mode " << k + 1;
}

// Computed by a converged high-order method for thin-plate theory, not published: a cross-check. Meshes of 0.5 mm.
TEST(Plate, CantileversOfReedSizeHaveTheirComputedModesAndDeflections) {
  expect_modes(rectangle(25, 12.5, 0.5, reed_like(), Edge::right_x, 0.5),
               {590.31, 1641.7, 3697.6, 4227.5, 5698.6, 9321.1}, 1e-3);
  const PlateModel wedge =
      rectangle(30, 13, 0.5, reed_like(), Edge::right_x, [](double x, double) { return 0.1 + 2.4 * x / 30.0; });
  expect_modes(wedge, {2895.9, 5048.9, 8576.0, 9327.5, 10820.0}, 1.5e-3);
  EXPECT_NEAR(deflection(Plate(wedge), on_edge(0.0, 13), 0.0, 0.0), 0.32415, 0.002 * 0.32415);
  EXPECT_NEAR(deflection(Plate(wedge), pressure(30, 13, 1e-3), 0.0, 0.0), 0.024495, 0.002 * 0.024495);
}

// Barton's and Leissa's printed values are upper bounds; these are the converged ones, recomputed (a cross-check):
// omega a^2 sqrt(rho h/D) of a square cantilever, nu = 0.3.
TEST(Plate, ASquareCantileverHasItsConvergedModesAndStaysBelowThePrintedOnes) {
  const double a = 10.0, h = 0.05;
  const PlateModel model = rectangle(a, a, 0.4, isotropic(), Edge::left_x, h);
  const double to_factor = 2.0 * std::numbers::pi * a * a * std::sqrt(1e-9 * h / rigidity(isotropic(), h));
  const Modes modes = Plate(model).modes(5);
  const std::vector<double> converged{3.471, 8.507, 21.285, 27.199, 30.956};
  // Barton, J. Appl. Mech. 18 (1951) 129, as printed in VPCS SDLS01/89.
  const std::vector<double> printed{3.492, 8.525, 21.43, 27.33, 31.11};
  for (Eigen::Index k = 0; k < 5; ++k) {
    const double factor = to_factor * modes.frequency_hz(k);
    EXPECT_NEAR(factor / converged[static_cast<std::size_t>(k)], 1.0, 1.5e-3) << k;
    EXPECT_LT(factor, printed[static_cast<std::size_t>(k)]) << k;
    EXPECT_GT(factor, 0.988 * printed[static_cast<std::size_t>(k)]) << k;
  }
}

// Navier's series, Timoshenko & Woinowsky-Krieger, Theory of plates and shells, table 8, recomputed; and table 35.
TEST(Plate, SupportedAndClampedSquaresSinkAsTabulated) {
  const double a = 10.0, h = 0.1, q = 1e-6, d = rigidity(isotropic(), h);
  const auto centre = [&](Edge edge) {
    return deflection(Plate(rectangle(a, a, 0.4, isotropic(), edge, h)), pressure(a, a, q), a / 2, 0.0) * d /
           (q * a * a * a * a);
  };
  EXPECT_NEAR(centre(Edge::all_supported), 0.00406235, 0.003 * 0.00406235);
  EXPECT_NEAR(centre(Edge::all_clamped), 0.00126532, 0.005 * 0.00126532);
}

// Navier for a fibre along x, computed from the closed form: centre under 1 kPa and f11, f12, f21, f22, f13.
TEST(Plate, AnOrthotropicSupportedPlateSinksAndSoundsAsNavierSays) {
  const PlateModel model = rectangle(20, 10, 0.5, reed_like(), Edge::all_supported, 1.0);
  EXPECT_NEAR(deflection(Plate(model), pressure(20, 10, 1e-3), 10.0, 0.0), 0.81986181e-3, 0.003 * 0.81986e-3);
  const Eigen::Matrix3d d = plane_stress_stiffness(reed_like()) / 12.0;  // h = 1 mm
  const double f22 = 0.5 * std::numbers::pi *
                     std::sqrt((d(0, 0) * std::pow(0.1, 4) + 2.0 * (d(0, 1) + 2.0 * d(2, 2)) * square(0.1 * 0.2) +
                                d(1, 1) * std::pow(0.2, 4)) /
                               480e-12);
  expect_modes(model, {10078.16, 23061.18, 26012.93, f22, 43995.65}, 5e-3);
}

// Statics of the plate-twist test: three corners held, P on the fourth: w = 3 P a b/(G h^3). Thin plates give the
// 1/3 of a strip's torsion, not Saint-Venant's value.
TEST(Plate, ATwistedPlateGivesWayExactly) {
  PlateModel model = rectangle(20, 10, 1.3, reed_like(), Edge::left_x, 1.0);
  model.fixed.assign(model.fixed.size(), 0);
  for (Eigen::Index n = 0; n < model.mesh.nodes(); ++n) {
    const double x = model.mesh.nodes_mm(0, n), y = model.mesh.nodes_mm(1, n);
    const bool corner = (x < 1e-9 || x > 20 - 1e-9) && std::abs(y) > 5 - 1e-9;
    if (corner && !(x > 10 && y > 0)) model.fixed[static_cast<std::size_t>(3 * n)] = 1;
  }
  const PointLoads corner{Eigen::Vector2d(20, 5), Eigen::VectorXd::Ones(1)};
  EXPECT_NEAR(deflection(Plate(model), corner, 20, 5), 0.461538, 1e-6);
}

TEST(Plate, HalfTheTriangleIsAQuarterOfTheError) {
  std::vector<double> error;
  for (const double spacing : {2.0, 1.0, 0.5}) {
    const Modes modes = Plate(rectangle(25, 12.5, spacing, reed_like(), Edge::right_x, 0.5)).modes(4);
    error.push_back(std::abs(modes.frequency_hz(3) - 4227.5));
  }
  EXPECT_GT(error[0] / error[1], 2.8);
  EXPECT_GT(error[1] / error[2], 2.8);
}

/// Everything varies: thickness, bark, sides, cane.
PlateModel uneven() {
  Cane cane = reed_like();
  cane.gradient_per_mm = 0.15;
  PlateModel model =
      rectangle(20, 10, 1.5, cane, Edge::right_x, [](double x, double y) { return 0.2 + 0.05 * x + 0.004 * y * x; });
  const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();
  model.bark_mm = (3.0 - 0.02 * points.row(1).array().square()).transpose();
  model.side = (points.row(1).array() / 3.0).max(-1.0).min(1.0).transpose();
  model.left_right = 0.08;
  return model;
}

TEST(Plate, DerivativesAgreeWithCentralDifferences) {
  const PlateModel model = uneven();
  const Plate plate(model);
  const Eigen::VectorXd load = plate.load_of({Eigen::Vector2d(3.0, 2.0), Eigen::VectorXd::Ones(1)});
  const auto figures = [&](const PlateModel& changed) {
    const Plate other(changed);
    return Eigen::Vector2d(load.dot(other.solve(load).col(0)), other.modes(3).frequency_hz(1));
  };
  const PlateDerivative compliance = plate.compliance_derivatives(plate.solve(load).leftCols<1>()).front();
  const PlateDerivative frequency = plate.frequency_derivatives(plate.modes(3))[1];
  const auto check = [&](const PlateModel& more, const PlateModel& less, double step, double c, double f,
                         const std::string& what) {
    const Eigen::Vector2d difference = (figures(more) - figures(less)) / (2.0 * step);
    EXPECT_NEAR(c, difference(0), 1e-4 * std::abs(difference(0)) + 1e-9) << what;
    EXPECT_NEAR(f, difference(1), 1e-4 * std::abs(difference(1)) + 1e-4) << what;
  };
  const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();
  // Thickness by three fields that differ in place.
  for (int field = 0; field < 3; ++field) {
    const Eigen::VectorXd shape =
        (0.3 * field + points.row(0).array() * (0.2 + 0.1 * field) + points.row(1).array()).sin().matrix().transpose();
    constexpr double step = 1e-4;
    PlateModel more = model, less = model;
    more.thickness_mm += step * shape;
    less.thickness_mm -= step * shape;
    check(more, less, step, compliance.by_thickness.dot(shape), frequency.by_thickness.dot(shape), "thickness");
  }
  constexpr double step = 1e-4;
  const auto cane = [&](CanePart part, const auto& change) {
    PlateModel more = model, less = model;
    change(more, step);
    change(less, -step);
    const auto k = static_cast<Eigen::Index>(part);
    check(more, less, step, compliance.by_cane(k), frequency.by_cane(k), "cane " + std::to_string(k));
  };
  cane(CanePart::e_l, [](PlateModel& m, double s) { m.cane.e_l_mpa *= 1.0 + s; });
  cane(CanePart::e_t, [](PlateModel& m, double s) { m.cane.e_t_mpa *= 1.0 + s; });
  cane(CanePart::g_lt, [](PlateModel& m, double s) { m.cane.g_lt_mpa *= 1.0 + s; });
  cane(CanePart::density, [](PlateModel& m, double s) { m.cane.density_kg_per_m3 *= 1.0 + s; });
  cane(CanePart::gradient, [](PlateModel& m, double s) { m.cane.gradient_per_mm += s; });
  cane(CanePart::left_right, [](PlateModel& m, double s) { m.left_right += s; });
}

TEST(Plate, WhatOnePlaceDoesToAnotherTheOtherDoesToIt) {
  const Plate plate(uneven());
  const Eigen::Vector2d a(2.0, -3.0), b(9.0, 4.0);
  const Eigen::VectorXd one = Eigen::VectorXd::Ones(1);
  const Eigen::VectorXd by_a = plate.solve(plate.load_of({a, one})), by_b = plate.solve(plate.load_of({b, one}));
  EXPECT_NEAR(plate.deflection_at(b, by_a)(0), plate.deflection_at(a, by_b)(0), 1e-10);
  EXPECT_GT(plate.deflection_at(b, by_a)(0), 0.0);
}

TEST(PlateMesh, CoversItsOutlineWithTrianglesThatTurnOneWay) {
  const PlateOutline outline{{{0.5, 5}, {0, 0}, {0.5, -5}, {20, -4}, {26, -4}, {26, 4}, {20, 4}},
                             {{Eigen::Vector2d(20, -4), Eigen::Vector2d(20, 4)}}};
  const PlateMesh mesh = mesh_plate(outline, 0.7);
  double area = 0.0;
  for (const auto& t : mesh.triangles) {
    const Eigen::Vector2d u = mesh.nodes_mm.col(t[1]) - mesh.nodes_mm.col(t[0]),
                          v = mesh.nodes_mm.col(t[2]) - mesh.nodes_mm.col(t[0]);
    EXPECT_GT(u.x() * v.y() - u.y() * v.x(), 0.01);
    area += 0.5 * (u.x() * v.y() - u.y() * v.x());
    double low = 1e9, high = -1e9;
    for (const int corner : t) {
      low = std::min(low, mesh.nodes_mm(0, corner));
      high = std::max(high, mesh.nodes_mm(0, corner));
    }
    EXPECT_FALSE(low < 20 - 1e-6 && high > 20 + 1e-6) << "no triangle reaches over a line of support";
  }
  EXPECT_NEAR(area, 19.5 * 9.0 + 0.5 * 0.5 * 10.0 + 6.0 * 8.0, 1e-9);
  // Its mirror image has the same nodes.
  for (Eigen::Index n = 0; n < mesh.nodes(); ++n) {
    const Eigen::Vector2d mirrored(mesh.nodes_mm(0, n), -mesh.nodes_mm(1, n));
    EXPECT_LT((mesh.nodes_mm.colwise() - mirrored).colwise().norm().minCoeff(), 1e-9);
  }
}

TEST(Plate, OneWithoutThicknessSomewhereIsRefused) {
  PlateModel model = rectangle(20, 10, 2.0, reed_like(), Edge::right_x, 1.0);
  model.thickness_mm(3) = 0.0;
  EXPECT_THROW(Plate{model}, std::invalid_argument);
}

}  // namespace
}  // namespace canewise
