// Plates that bend like beams. With no contraction across (nu = 0) a strip of constant width obeys beam theory exactly,
// so that what is left is the error of the mesh. 'Computed': by a converged method of high order, not published.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/plate_element.h"
#include "tests/support/plate_loads.h"

namespace canewise {
namespace {

constexpr double kModulus_mpa = 10000.0, kDensity_kg_per_m3 = 500.0;

/// A strip from x = 0, its free end, to x = length, where it is held.
struct Strip {
  double length_mm = 60.0, tip_width_mm = 6.0, root_width_mm = 6.0;
  double root_thickness_mm = 2.0, tip_over_root = 1.0;  ///< Thickness, linear in between.
  double spacing_mm = 1.0;

  [[nodiscard]] double thickness_mm(double x) const {
    return root_thickness_mm * (tip_over_root + (1.0 - tip_over_root) * x / length_mm);
  }
  [[nodiscard]] Plate plate() const {
    PlateModel model;
    const double tip = 0.5 * tip_width_mm, root = 0.5 * root_width_mm;
    model.mesh = mesh_plate({{{0.0, -tip}, {length_mm, -root}, {length_mm, root}, {0.0, tip}}, {}}, spacing_mm);
    model.cane = {kModulus_mpa, kModulus_mpa, 0.5 * kModulus_mpa, 0.0, kDensity_kg_per_m3, 0.0};
    const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();
    model.thickness_mm = points.row(0).transpose().unaryExpr([this](double x) { return thickness_mm(x); });
    for (Eigen::Index n = 0; n < model.mesh.nodes(); ++n)
      model.fixed.insert(model.fixed.end(), 3, model.mesh.nodes_mm(0, n) > length_mm - 1e-9 ? 1 : 0);
    return Plate(std::move(model));
  }
};

/// Frequencies of modes that do not twist: both corners of the tip go the same way.
std::vector<double> bending_hz(const Strip& strip, std::size_t count) {
  const Plate plate = strip.plate();
  const Modes modes = plate.modes(14);
  Eigen::Matrix2Xd corners(2, 2);
  corners << 0.0, 0.0, -0.5 * strip.tip_width_mm, 0.5 * strip.tip_width_mm;
  std::vector<double> bending;
  for (Eigen::Index m = 0; m < modes.frequency_hz.size() && bending.size() < count; ++m) {
    const Eigen::VectorXd w = plate.deflection_at(corners, modes.shapes.col(m));
    if (w(0) * w(1) > 0.0) bending.push_back(modes.frequency_hz(m));
  }
  bending.resize(count, std::nan(""));
  return bending;
}

/// omega L^2 sqrt(rho/(E h^2/12)) with the thickness h of one end.
double lambda(const Strip& strip, double frequency_hz, double thickness_mm) {
  const double speed_mm_per_s = std::sqrt(kModulus_mpa / (12e-12 * kDensity_kg_per_m3));
  return 2.0 * std::numbers::pi * frequency_hz * strip.length_mm * strip.length_mm / (thickness_mm * speed_mm_per_s);
}

double integral(double from, double to, const std::function<double(double)>& f) {
  constexpr int count = 20000;
  double sum = 0.0;
  for (int i = 0; i < count; ++i) sum += f(from + (to - from) * (i + 0.5) / count);
  return sum * (to - from) / count;
}

// Frequencies. The mesh's error of the fifth mode at 1 mm is 0.06 % and falls with the square; the first two are far
// better.
constexpr std::array kTolerance{5e-5, 2e-4, 4e-4, 6e-4, 1e-3};

TEST(PlateBeams, AUniformCantileverHasTheTextbooksFrequencies) {
  // Any vibration handbook; roots of cos x cosh x = -1, recomputed.
  constexpr std::array expected{3.51601527, 22.0344916, 61.6972144, 120.901916, 199.859530};
  const Strip strip;
  const auto hz = bending_hz(strip, 5);
  for (std::size_t m = 0; m < 5; ++m)
    EXPECT_NEAR(lambda(strip, hz[m], 2.0) / expected.at(m), 1.0, kTolerance.at(m)) << m;
}

TEST(PlateBeams, ALinearTaperHasTheFrequenciesOfItsBeam) {
  struct Row {
    double tip_over_root;
    std::array<double, 5> expected;
  };
  // Computed.
  for (const auto& [tip_over_root, expected] : {Row{0.5, {3.82378, 18.31726, 47.26483, 90.45048, 148.00174}},
                                                Row{0.25, {4.17659, 16.18429, 38.77502, 72.25579, 116.77006}},
                                                Row{0.1, {4.63072, 14.93079, 32.83314, 58.91723, 93.38881}},
                                                Row{0.05, {4.89988, 14.70902, 30.75590, 53.65989, 83.69651}}}) {
    Strip strip;
    strip.tip_over_root = tip_over_root;
    const auto hz = bending_hz(strip, 5);
    for (std::size_t m = 0; m < 5; ++m)
      EXPECT_NEAR(lambda(strip, hz[m], 2.0) / expected.at(m), 1.0, kTolerance.at(m)) << tip_over_root << ", mode " << m;
  }
}

TEST(PlateBeams, ATaperTendsToKirchhoffsWedge) {
  // Kirchhoff 1879, z^2/4 with the roots z of J1(z) I2(z) + J2(z) I1(z) = 0, recomputed. A tip of a thousandth of the
  // root lowers the first by 0.2 %, in proportion to the tip.
  constexpr std::array expected{5.3150994, 15.2071680, 30.0198090};
  Strip sharp, blunt;
  sharp.tip_over_root = 0.001;
  blunt.tip_over_root = 0.002;
  const auto hz = bending_hz(sharp, 3), blunt_hz = bending_hz(blunt, 3);
  for (std::size_t m = 0; m < 3; ++m)
    EXPECT_NEAR(lambda(sharp, 2.0 * hz[m] - blunt_hz[m], 2.0) / expected.at(m), 1.0, 2e-4) << m;
}

TEST(PlateBeams, AStripThatNarrowsAndThinsHasTheFrequenciesOfItsBeam) {
  struct Row {
    double width_ratio;
    std::array<double, 5> printed, computed;
  };
  // Printed: Mabie & Rogers, J. Acoust. Soc. Am. 51 (1972) 1771, as in VPCS SDLL09/89 and code_aster V2.02.009;
  // thickness root over tip 4. Up to 0.03 % low against a converged beam ('computed').
  for (const auto& [width_ratio, printed, computed] :
       {Row{4.0, {23.289, 73.9, 165.23, 299.7, 478.1}, {23.2923, 73.9188, 165.285, 299.780, 478.180}},
        Row{5.0, {24.308, 75.56, 167.21, 301.9, 480.4}, {24.3112, 75.5779, 167.252, 301.934, 480.459}}}) {
    // Slender, since a beam knows nothing of sides that lean.
    const Strip strip{100.0, 1.0, width_ratio, 2.0, 0.25, 1.0};
    const auto hz = bending_hz(strip, 5);
    for (std::size_t m = 0; m < 5; ++m) {
      EXPECT_NEAR(lambda(strip, hz[m], 0.5) / computed.at(m), 1.0, kTolerance.at(m)) << width_ratio << ", mode " << m;
      EXPECT_NEAR(lambda(strip, hz[m], 0.5) / printed.at(m), 1.0, kTolerance.at(m) + 4e-4) << width_ratio;
    }
  }
}

TEST(PlateBeams, ATaperedStripGivesWayToAForceAtItsTipAsABeamDoes) {
  struct Row {
    double tip_over_root, f;
  };
  // F of 12 P L^3 F/(E b h0^3) (computed; 1/3: textbook).
  for (const auto& [tip_over_root, f] :
       {Row{1.0, 1.0 / 3.0}, Row{0.75, 0.41165264}, Row{0.5, 0.54517744}, Row{0.25, 0.84158663}, Row{0.2, 0.95593342},
        Row{0.1, 1.3684295}, Row{0.05, 1.8597256}}) {
    Strip strip;
    strip.tip_over_root = tip_over_root;
    const Plate plate = strip.plate();
    const Eigen::VectorXd force = test::edge_force(plate, 6.0);
    const double expected_mm = 12.0 * std::pow(60.0, 3) * f / (kModulus_mpa * 6.0 * 8.0);
    EXPECT_NEAR(force.dot(plate.solve(force).col(0)) / expected_mm, 1.0, 2e-4) << tip_over_root;
  }
}

TEST(PlateBeams, ATaperedStripGivesWayToPressureAsABeamDoes) {
  struct Row {
    double tip_over_root, g;
  };
  // G of 6 p L^4 G/(E h0^3) (computed; 1/4: textbook).
  for (const auto& [tip_over_root, g] :
       {Row{1.0, 0.25}, Row{0.5, 0.36446767}, Row{0.25, 0.49174670}, Row{0.1, 0.65496795}}) {
    Strip strip;
    strip.tip_over_root = tip_over_root;
    const Plate plate = strip.plate();
    const double tip_mm =
        plate.deflection_at(Eigen::Vector2d::Zero(), plate.solve(test::pressure(plate, 1.0)).col(0))(0);
    EXPECT_NEAR(tip_mm * kModulus_mpa * 8.0 / (6.0 * std::pow(60.0, 4) * g), 1.0, 5e-5) << tip_over_root;
  }
}

TEST(PlateBeams, ThicknessCountsForTheTipAsTheSquareOfItsDistanceOverTheFourthPowerOfItself) {
  // d(delta)/dh = -36 P s^2/(E b h^4) per length, s from the tip (derived by the adjoint, computed).
  Strip strip;
  strip.tip_over_root = 0.2;
  const Plate plate = strip.plate();
  const Eigen::VectorXd by_thickness =
      plate.compliance_derivatives(plate.solve(test::edge_force(plate, 6.0)).leftCols<1>()).front().by_thickness;
  const Eigen::Matrix2Xd points = plate.model().mesh.thickness_points_mm();
  // Smooth scrapes of 5 mm here and there, of unit depth.
  for (const double at_mm : {8.0, 20.0, 35.0, 52.0}) {
    const auto scrape = [at_mm](double x) { return std::exp(-std::pow((x - at_mm) / 5.0, 2)); };
    const double expected = integral(0.0, 60.0, [&](double x) {
      return -36.0 * x * x * scrape(x) / (kModulus_mpa * 6.0 * std::pow(strip.thickness_mm(x), 4));
    });
    const double found = by_thickness.dot(points.row(0).transpose().unaryExpr(scrape));
    EXPECT_NEAR(found / expected, 1.0, 2e-3) << at_mm;
  }
}

}  // namespace
}  // namespace canewise
