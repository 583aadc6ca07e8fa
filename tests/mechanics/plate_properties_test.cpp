// What plates obey whatever their shape, and the element, mesh and cane that they are made of.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <set>
#include <stdexcept>
#include <vector>

#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/plate_element.h"

namespace canewise {
namespace {

constexpr double kLength_mm = 20.0;

double half_width_mm(double x) { return 5.0 - 0.02 * x; }

/// A small reed with a round tip and sides that lean, its own mirror image, with a line of support.
PlateOutline small_reed() {
  PlateOutline outline;
  for (const double y : {5.0, 3.0, 1.0, -1.0, -3.0, -5.0}) outline.polygon_mm.emplace_back(0.05 * y * y, y);
  outline.polygon_mm.front().y() = half_width_mm(1.25);
  outline.polygon_mm.back().y() = -half_width_mm(1.25);
  for (const double x : {14.0, kLength_mm}) outline.polygon_mm.emplace_back(x, -half_width_mm(x));
  for (const double x : {kLength_mm, 14.0}) outline.polygon_mm.emplace_back(x, half_width_mm(x));
  outline.lines_mm.push_back({outline.polygon_mm[6], outline.polygon_mm[9]});
  return outline;
}

/// Clamped at the end, supported along the line, uneven in thickness, bark and cane.
PlateModel uneven_model(double spacing_mm = 1.2) {
  PlateModel model;
  model.mesh = mesh_plate(small_reed(), spacing_mm);
  const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();
  const Eigen::ArrayXd x = points.row(0).transpose(), y = points.row(1).transpose();
  model.thickness_mm = 0.3 + 0.06 * x + 0.02 * y + 0.05 * (1.1 * x).sin() * (0.9 * y).cos();
  model.bark_mm = 3.0 - 0.03 * y.square() + 0.01 * x;
  model.side = (0.6 * y).tanh();
  model.left_right = 0.2;
  for (Eigen::Index n = 0; n < model.mesh.nodes(); ++n) {
    const double at = model.mesh.nodes_mm(0, n);
    const bool end = at > kLength_mm - 1e-9, line = std::abs(at - 14.0) < 1e-9;
    for (const bool flag : {end || line, end, end || line}) model.fixed.push_back(flag ? 1 : 0);
  }
  return model;
}

/// The same without bark and sides, 1 mm thick.
PlateModel even_model() {
  PlateModel model = uneven_model();
  model.thickness_mm.setOnes();
  model.bark_mm.resize(0);
  model.side.resize(0);
  model.left_right = 0.0;
  return model;
}

PointLoads some_loads(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> along(1.5, 19.0), across(-4.4, 4.4), newtons(-1.0, 1.0);
  PointLoads loads{Eigen::Matrix2Xd(2, 20), Eigen::VectorXd(20)};
  for (Eigen::Index i = 0; i < 20; ++i) {
    loads.points_mm.col(i) << along(random), across(random);
    loads.weights(i) = newtons(random);
  }
  return loads;
}

Eigen::VectorXd any_vector(const Plate& plate, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  return Eigen::VectorXd::NullaryExpr(3 * plate.model().mesh.nodes(), [&] { return normal(random); });
}

double compliance(const PlateModel& model, const PointLoads& loads) {
  const Plate plate(model);
  const Eigen::VectorXd f = plate.load_of(loads);
  return f.dot(plate.solve(f).col(0));
}

// Element.

TEST(PlateElements, TheRuleOverATriangleIsExactUpToTheSixthDegree) {
  // The mean of a^i b^j c^k over a triangle is 2 i! j! k!/(i + j + k + 2)!.
  const auto factorial = [](int n) { return std::tgamma(n + 1.0); };
  for (int i = 0; i <= 6; ++i) {
    for (int j = 0; i + j <= 6; ++j) {
      for (int k = 0; i + j + k <= 6; ++k) {
        double mean = 0.0;
        for (const auto& point : triangle_points())
          mean += point.share * std::pow(point.area(0), i) * std::pow(point.area(1), j) * std::pow(point.area(2), k);
        const double exact = 2.0 * factorial(i) * factorial(j) * factorial(k) / factorial(i + j + k + 2);
        EXPECT_NEAR(mean, exact, 1e-14) << i << j << k;  // The rule is given to fifteen digits.
      }
    }
  }
}

TEST(PlateElements, ThicknessBetweenItsSixPointsIsTheQuadraticThroughThem) {
  Eigen::Matrix<double, 3, 6> points;
  points << 1.0, 0.0, 0.0, 0.0, 0.5, 0.5,  //
      0.0, 1.0, 0.0, 0.5, 0.0, 0.5,        //
      0.0, 0.0, 1.0, 0.5, 0.5, 0.0;
  const auto any = [](const Eigen::Vector3d& a) { return 0.3 + 0.7 * a(0) - a(1) + 2.0 * a(0) * a(1) - a(2) * a(2); };
  const Eigen::Vector3d inner(0.2, 0.35, 0.45);
  double sum = 0.0;
  for (Eigen::Index k = 0; k < 6; ++k) sum += quadratic_shapes(inner)(k) * any(points.col(k));
  EXPECT_NEAR(sum, any(inner), 1e-15);
}

TEST(PlateElements, AQuadraticDeflectionIsReproduced) {
  Eigen::Matrix<double, 2, 3> corners;
  corners << 1.0, 4.0, 2.0,  //
      0.5, 1.0, 3.5;
  const PlateElement element(corners);
  const auto w = [](const Eigen::Vector2d& p) {
    return 1.0 - 2.0 * p.x() + 0.5 * p.y() + 0.7 * p.x() * p.x() - 0.4 * p.x() * p.y() + 0.9 * p.y() * p.y();
  };
  Eigen::Matrix<double, 9, 1> freedoms;
  for (Eigen::Index k = 0; k < 3; ++k) {
    const Eigen::Vector2d p = corners.col(k);
    freedoms.segment<3>(3 * k) << w(p), -2.0 + 1.4 * p.x() - 0.4 * p.y(), 0.5 - 0.4 * p.x() + 1.8 * p.y();
  }
  for (const auto& point : triangle_points()) {
    EXPECT_NEAR(element.deflection(point.area) * freedoms, w(corners * point.area), 1e-13);
    const Eigen::Vector3d curvature = element.curvature(point.area) * freedoms;
    EXPECT_LT((curvature - Eigen::Vector3d(1.4, 1.8, -0.8)).norm(), 1e-13);
  }
}

// Loads and solutions.

TEST(PlateLoads, ForcesAndDeflectionsAreEachOthersTranspose) {
  const Plate plate(uneven_model());
  const PointLoads loads = some_loads(1);
  const Eigen::VectorXd any = any_vector(plate, 2);
  EXPECT_NEAR(plate.load_of(loads).dot(any), loads.weights.dot(plate.deflection_at(loads.points_mm, any)), 1e-12);
}

TEST(PlateLoads, ForceAndMomentsAreThoseOfThePoints) {
  const Plate plate(uneven_model());
  const PointLoads loads = some_loads(3);
  const Eigen::VectorXd load = plate.load_of(loads);
  const Eigen::Matrix2Xd& nodes = plate.model().mesh.nodes_mm;
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (Eigen::Index n = 0; n < nodes.cols(); ++n) {
    const double force = load(3 * n);
    sum += Eigen::Vector3d(force, force * nodes(0, n) + load(3 * n + 1), force * nodes(1, n) + load(3 * n + 2));
  }
  EXPECT_NEAR(sum(0), loads.weights.sum(), 1e-11);
  EXPECT_NEAR(sum(1), loads.points_mm.row(0).dot(loads.weights), 1e-11);
  EXPECT_NEAR(sum(2), loads.points_mm.row(1).dot(loads.weights), 1e-11);
}

TEST(PlateLoads, OutsideThePlateNothingCountsAndNothingIsKnown) {
  const Plate plate(uneven_model());
  Eigen::Matrix2Xd outside(2, 4);
  outside << -0.1, 20.1, 10.0, 0.6,  //
      0.0, 0.0, 5.0, 4.6;
  EXPECT_EQ(plate.load_of({outside, Eigen::VectorXd::Ones(4)}).cwiseAbs().maxCoeff(), 0.0);
  EXPECT_TRUE(plate.deflection_at(outside, any_vector(plate, 4)).array().isNaN().all());
}

TEST(PlateSolutions, LoadsAddUpAndWhatIsHeldStaysAtZero) {
  const Plate plate(uneven_model());
  const Eigen::VectorXd f = plate.load_of(some_loads(5)), g = plate.load_of(some_loads(6));
  Eigen::MatrixXd loads(f.size(), 3);
  loads << f, g, 2.0 * f - 3.0 * g;
  const Eigen::MatrixXd u = plate.solve(loads);
  EXPECT_LT((u.col(2) - 2.0 * u.col(0) + 3.0 * u.col(1)).norm(), 1e-10 * u.col(2).norm());
  const auto& fixed = plate.model().fixed;
  for (std::size_t k = 0; k < fixed.size(); ++k) {
    if (fixed[k] != 0) {
      EXPECT_EQ(u(static_cast<Eigen::Index>(k), 0), 0.0);
    }
  }
}

TEST(PlateSolutions, BendingWorkIsTheWorkOfTheForces) {
  const Plate plate(uneven_model());
  const Eigen::VectorXd f = plate.load_of(some_loads(7));
  const Eigen::VectorXd u = plate.solve(f).col(0);
  EXPECT_NEAR(plate.bending_work(u) / f.dot(u), 1.0, 1e-10);
}

TEST(PlateSolutions, AMovedPlateSolvesAsBefore) {
  Plate first(uneven_model());
  const PointLoads loads = some_loads(8);
  const Eigen::VectorXd before = first.solve(first.load_of(loads)).col(0);
  Plate second(std::move(first));
  EXPECT_EQ((second.solve(second.load_of(loads)).col(0) - before).norm(), 0.0);
  Plate third(uneven_model(2.0));
  third = std::move(second);
  EXPECT_EQ((third.solve(third.load_of(loads)).col(0) - before).norm(), 0.0);
}

TEST(PlateModes, AscendAndDoNoWorkOnEachOther) {
  const Plate plate(uneven_model());
  const Modes modes = plate.modes(8);
  ASSERT_EQ(modes.frequency_hz.size(), 8);
  for (Eigen::Index i = 1; i < 8; ++i) EXPECT_LT(modes.frequency_hz(i - 1), modes.frequency_hz(i));
  for (Eigen::Index i = 0; i < 8; ++i) {
    // Of unit mass: twice the strain energy is the square of the angular frequency.
    const Eigen::VectorXd a = modes.shapes.col(i);
    const double omega = 2.0 * std::numbers::pi * modes.frequency_hz(i);
    EXPECT_NEAR(plate.bending_work(a) / (omega * omega), 1.0, 1e-8);
    for (Eigen::Index j = 0; j < i; ++j) {
      const Eigen::VectorXd b = modes.shapes.col(j);
      EXPECT_LT(std::abs(plate.bending_work(a + b) - plate.bending_work(a - b)), 4e-7 * omega * omega);
    }
  }
}

TEST(PlateErrors, AnUnheldPlateAndAThicknessThatIsNoneAreRefused) {
  PlateModel free = uneven_model();
  std::fill(free.fixed.begin(), free.fixed.end(), 0);
  EXPECT_THROW(Plate{free}, std::runtime_error);
  for (const double bad : {0.0, -0.1, std::nan("")}) {
    PlateModel thin = uneven_model();
    thin.thickness_mm(7) = bad;
    EXPECT_THROW(Plate{thin}, std::invalid_argument) << bad;
  }
}

// Cane.

TEST(PlateCane, DepthUnderTheBarkSoftensByItsExponential) {
  // The middle of the sheet 2.5 mm below the bark counts once, 1.5 mm deeper less by exp(-0.1 x 1.5).
  PlateModel model = even_model();
  const PointLoads loads = some_loads(10);
  const double plain = compliance(model, loads);
  model.cane.gradient_per_mm = 0.1;
  model.bark_mm = Eigen::VectorXd::Constant(model.thickness_mm.size(), kGradientDepth_mm + 0.5);
  EXPECT_NEAR(compliance(model, loads) / plain, 1.0, 1e-12);
  model.bark_mm.array() += 1.5;
  EXPECT_NEAR(compliance(model, loads) / plain, std::exp(0.15), 1e-10);
}

TEST(PlateCane, LeftRightIsTheModuliOfTheRightOverThoseOfTheLeft) {
  PlateModel model = even_model();
  const PointLoads loads = some_loads(10);
  const double plain = compliance(model, loads);
  model.left_right = 0.3;
  model.side = Eigen::VectorXd::Ones(model.thickness_mm.size());
  EXPECT_NEAR(compliance(model, loads), plain / 1.15, 1e-10 * plain);
  model.side *= -1.0;
  EXPECT_NEAR(compliance(model, loads), plain / 0.85, 1e-10 * plain);
}

TEST(PlateCane, StiffnessGrowsWithTheCubeOfThicknessAndAllModuliTogetherLikeOne) {
  PlateModel model = even_model();
  const PointLoads loads = some_loads(10);
  const double plain = compliance(model, loads), hz = Plate(model).modes(1).frequency_hz(0);
  model.thickness_mm *= 1.7;
  EXPECT_NEAR(compliance(model, loads) * std::pow(1.7, 3) / plain, 1.0, 1e-10);
  EXPECT_NEAR(Plate(model).modes(1).frequency_hz(0) / hz, 1.7, 1e-8);
  const Plate plate(uneven_model());
  const Eigen::VectorXd f = plate.load_of(loads), u = plate.solve(f).col(0);
  EXPECT_NEAR(plate.compliance_derivatives(u).front().by_cane.head<3>().sum() / f.dot(u), -1.0, 1e-8);
}

// Mirror.

TEST(PlateMirror, TheMirrorImageGivesTheMirroredResult) {
  const PlateModel model = uneven_model();
  PlateModel image = model;
  image.mesh.nodes_mm.row(1) *= -1.0;
  for (auto& triangle : image.mesh.triangles) std::swap(triangle[1], triangle[2]);
  for (auto& middles : image.mesh.mid_sides) std::swap(middles[1], middles[2]);
  image.side *= -1.0;  // What was right is left.
  image.left_right *= -1.0;
  PointLoads loads = some_loads(12);
  const Plate plate(model), other(image);
  const Eigen::VectorXd u = plate.solve(plate.load_of(loads)).col(0);
  loads.points_mm.row(1) *= -1.0;
  Eigen::VectorXd v = other.solve(other.load_of(loads)).col(0);
  const auto d = plate.compliance_derivatives(u).front(), e = other.compliance_derivatives(v).front();
  for (Eigen::Index k = 2; k < v.size(); k += 3) v(k) *= -1.0;
  EXPECT_LT((u - v).norm(), 1e-9 * u.norm());
  EXPECT_LT((d.by_thickness - e.by_thickness).norm(), 1e-9 * d.by_thickness.norm());
  EXPECT_NEAR(d.by_cane(5), -e.by_cane(5), 1e-9 * std::abs(d.by_cane(5)));
  EXPECT_LT((plate.modes(4).frequency_hz - other.modes(4).frequency_hz).norm(), 1e-7 * plate.modes(4).frequency_hz(0));
}

// Mesh.

TEST(PlateMeshes, AMiddleLiesOppositeItsCorner) {
  const PlateMesh mesh = mesh_plate(small_reed(), 1.0);
  std::vector<int> uses(mesh.sides.size(), 0);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    for (std::size_t k = 0; k < 3; ++k) {
      const auto number = static_cast<std::size_t>(mesh.mid_sides[t].at(k));
      const auto& corners = mesh.triangles[t];
      EXPECT_EQ((std::set<int>{mesh.sides.at(number)[0], mesh.sides.at(number)[1]}),
                (std::set<int>{corners.at((k + 1) % 3), corners.at((k + 2) % 3)}));
      ++uses.at(number);
    }
  }
  EXPECT_EQ(*std::min_element(uses.begin(), uses.end()), 1);
  EXPECT_EQ(*std::max_element(uses.begin(), uses.end()), 2);
}

TEST(PlateMeshes, TrianglesAreNearlyEqualOnALeaningOutlineAtEverySpacing) {
  for (const double spacing_mm : {0.4, 0.7, 1.2}) {
    const PlateMesh mesh = mesh_plate(small_reed(), spacing_mm);
    for (const auto& t : mesh.triangles) {
      const Eigen::Vector2d u = mesh.nodes_mm.col(t[1]) - mesh.nodes_mm.col(t[0]),
                            v = mesh.nodes_mm.col(t[2]) - mesh.nodes_mm.col(t[0]);
      // A flat triangle along an edge that leans would be endlessly stiff.
      EXPECT_GT(0.5 * (u.x() * v.y() - u.y() * v.x()), 0.02 * spacing_mm * spacing_mm) << spacing_mm;
    }
    for (const auto& side : mesh.sides)
      EXPECT_LT((mesh.nodes_mm.col(side[0]) - mesh.nodes_mm.col(side[1])).norm(), 1.7 * spacing_mm);
  }
}

TEST(PlateMeshes, WhatIsNoPolygonIsRefused) {
  EXPECT_THROW(mesh_plate({{{0.0, 0.0}, {1.0, 0.0}}, {}}, 0.5), std::invalid_argument);
  EXPECT_ANY_THROW(mesh_plate({{{0.0, 0.0}, {1.0, 0.0}, {2.0, 0.0}}, {}}, 0.5));              // Flat.
  EXPECT_ANY_THROW(mesh_plate({{{0.0, 0.0}, {2.0, 1.9}, {2.1, 0.0}, {0.0, 2.0}}, {}}, 0.5));  // Crosses itself.
  for (const double spacing_mm : {0.0, -1.0, std::nan("")})
    EXPECT_THROW(mesh_plate(small_reed(), spacing_mm), std::invalid_argument);
}

TEST(TriangleFinding, EveryPlaceIsFoundWithItsAreaCoordinates) {
  const PlateMesh mesh = mesh_plate(small_reed(), 0.7);
  const TriangleFinder finder(mesh);
  for (const Eigen::Vector2d& p : std::vector<Eigen::Vector2d>{
           {0.0501, 0.0}, {7.3, 4.8}, {14.0, -2.2}, {19.999, 4.59}, {3.3, -4.9}, {10.0, 0.0}}) {
    const auto place = finder.find(p);
    ASSERT_GE(place.triangle, 0) << p.transpose();
    Eigen::Vector2d back = Eigen::Vector2d::Zero();
    for (std::size_t k = 0; k < 3; ++k)
      back += place.area(static_cast<Eigen::Index>(k)) *
              mesh.nodes_mm.col(mesh.triangles[static_cast<std::size_t>(place.triangle)].at(k));
    EXPECT_LT((back - p).norm(), 1e-12);
    EXPECT_GT(place.area.minCoeff(), -1e-8);
  }
  EXPECT_EQ(finder.find({0.049, 0.0}).triangle, -1);
  EXPECT_EQ(finder.find({1e9, 0.0}).triangle, -1);
}

}  // namespace
}  // namespace canewise
