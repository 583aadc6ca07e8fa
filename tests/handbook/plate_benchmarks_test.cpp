// Published and computed values for thin plates, isotropic and orthotropic. Each value names its source; 'computed': by
// a converged method of high order, not published. T&WK: Timoshenko & Woinowsky-Krieger, Theory of plates and shells.
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "scanproc/mechanics/plate.h"
#include "scanproc/mechanics/plate_element.h"
#include "tests/support/plate_loads.h"
#include "tests/support/plate_matrices.h"

namespace canewise {
namespace {

using test::free_plate, test::isotropic, test::Matrices, test::mesh_of, test::reed_like;

constexpr double kPi = std::numbers::pi;

/// A rectangle, x from 0 to length, y about 0.
struct Rectangle {
  double length_mm = 20.0, width_mm = 20.0, spacing_mm = 0.5;
  Cane cane = isotropic(10000.0, 0.3);
  std::function<double(double)> thickness_mm = [](double) { return 1.0; };

  [[nodiscard]] PlateModel model() const {
    PlateModel model;
    const double side = 0.5 * width_mm;
    model.mesh = mesh_plate({{{0.0, -side}, {length_mm, -side}, {length_mm, side}, {0.0, side}}, {}}, spacing_mm);
    model.cane = cane;
    const Eigen::Matrix2Xd points = model.mesh.thickness_points_mm();
    model.thickness_mm = points.row(0).transpose().unaryExpr(thickness_mm);
    model.fixed.assign(static_cast<std::size_t>(3 * model.mesh.nodes()), 0);
    return model;
  }
  /// Edges that run across and along the plate, where a node lies on them.
  [[nodiscard]] bool on_end(const Eigen::Vector2d& p) const { return p.x() < 1e-9 || p.x() > length_mm - 1e-9; }
  [[nodiscard]] bool on_side(const Eigen::Vector2d& p) const { return std::abs(p.y()) > 0.5 * width_mm - 1e-9; }

  [[nodiscard]] Plate held(const std::function<std::array<bool, 3>(const Eigen::Vector2d&)>& holds) const {
    PlateModel held = model();
    for (Eigen::Index n = 0; n < held.mesh.nodes(); ++n) {
      const auto flags = holds(held.mesh.nodes_mm.col(n));
      std::copy(flags.begin(), flags.end(), held.fixed.begin() + 3 * n);
    }
    return Plate(std::move(held));
  }
  [[nodiscard]] Plate cantilever() const {
    return held([this](const auto& p) {
      const bool root = p.x() > length_mm - 1e-9;
      return std::array{root, root, root};
    });
  }
  /// On all sides: no deflection and no slope along the edge.
  [[nodiscard]] Plate simply_supported() const {
    return held([this](const auto& p) { return std::array{on_end(p) || on_side(p), on_side(p), on_end(p)}; });
  }
  [[nodiscard]] Plate clamped() const {
    return held([this](const auto& p) {
      const bool edge = on_end(p) || on_side(p);
      return std::array{edge, edge, edge};
    });
  }
  [[nodiscard]] Eigen::Vector2d centre() const { return {0.5 * length_mm, 0.0}; }
};

Eigen::VectorXd point_force(const Plate& plate, const Eigen::Vector2d& at, double newtons = 1.0) {
  return plate.load_of({at, Eigen::VectorXd::Constant(1, newtons)});
}

double deflection(const Plate& plate, const Eigen::VectorXd& load, const Eigen::Vector2d& at) {
  return plate.deflection_at(at, plate.solve(load).col(0))(0);
}

/// E h^3/(12 (1 - nu^2)).
double rigidity(const Rectangle& r) {
  return r.cane.e_l_mpa * std::pow(r.thickness_mm(0.0), 3) / (12.0 * (1.0 - r.cane.nu_lt * r.cane.nu_lt));
}

/// omega a^2 sqrt(rho h/D), a the length.
Eigen::VectorXd factors(const Rectangle& r, const Modes& modes) {
  const double mass = 1e-12 * r.cane.density_kg_per_m3 * r.thickness_mm(0.0);
  return 2.0 * kPi * r.length_mm * r.length_mm * std::sqrt(mass / rigidity(r)) * modes.frequency_hz;
}

template <std::size_t count>
void expect_ratio(const Eigen::VectorXd& found, const std::array<double, count>& expected, double tolerance) {
  ASSERT_GE(found.size(), static_cast<Eigen::Index>(count));
  for (std::size_t i = 0; i < count; ++i)
    EXPECT_NEAR(found(static_cast<Eigen::Index>(i)) / expected.at(i), 1.0, tolerance) << "mode " << i;
}

// ---------------------------------------------------------------------------------------------------------------------
// Cantilever plates, isotropic, nu = 0.3: omega a^2 sqrt(rho h/D), a the length.
// ---------------------------------------------------------------------------------------------------------------------

struct CantileverRow {
  double length_over_width;
  std::array<double, 6> computed;                        ///< Ascending; about 1 in the last digit.
  std::vector<std::pair<Eigen::Index, double>> printed;  ///< Place among the ascending, value.
  double most_below;                                     ///< Of the printed values.
};

/// Printed: Barton, as in Leissa, NASA SP-160 (1969), from memory, hence a band only; and one-sided, for Ritz values
/// with a beam's functions are upper bounds. Those that the band of their row does not hold are left out.
std::vector<CantileverRow> cantilever_rows() {
  return {
      {0.5,
       {3.493, 5.351, 10.181, 19.075, 21.838, 24.671},
       {{0, 3.508}, {1, 5.372}, {2, 10.26}, {4, 21.96}, {5, 24.85}},
       0.012},
      {1.0,
       {3.471, 8.507, 21.285, 27.199, 30.956, 54.186},
       {{0, 3.494}, {1, 8.547}, {2, 21.44}, {3, 27.46}, {4, 31.17}},
       0.012},
      {2.0, {3.439, 14.802, 21.434, 48.179, 60.150, 92.522}, {{0, 3.472}, {1, 14.93}, {2, 21.61}, {3, 48.71}}, 0.013},
      {5.0, {3.398, 21.267, 33.916, 59.674, 103.74, 117.34}, {{0, 3.450}, {1, 21.52}, {2, 34.73}, {4, 105.9}}, 0.026}};
}

TEST(PlateCantilevers, FrequenciesAreTheComputedOnesAndLieBelowTheOldTables) {
  for (const auto& row : cantilever_rows()) {
    // 40 by 40 triangles or as many in another shape.
    const double root = std::sqrt(row.length_over_width);
    const Rectangle plate{20.0 * root, 20.0 / root, 0.5};
    const Eigen::VectorXd found = factors(plate, plate.cantilever().modes(6));
    SCOPED_TRACE(row.length_over_width);
    expect_ratio(found, row.computed, 5e-4);
    for (const auto& [place, printed] : row.printed) {
      EXPECT_LT(found(place), printed);
      EXPECT_GT(found(place), printed * (1.0 - row.most_below)) << place;
    }
  }
}

TEST(PlateCantilevers, TheSquareLiesBelowBartonsValuesByNoMoreThanTwelveInAThousand) {
  // VPCS SDLS01/89 as in code_aster V2.03.001, after Barton, J. Appl. Mech. 18 (1951) 129.
  constexpr std::array printed{3.492, 8.525, 21.43, 27.33, 31.11, 54.44};
  const Rectangle square;
  const Eigen::VectorXd found = factors(square, square.cantilever().modes(6));
  for (std::size_t i = 0; i < printed.size(); ++i) {
    EXPECT_LT(found(static_cast<Eigen::Index>(i)), printed.at(i));
    EXPECT_GT(found(static_cast<Eigen::Index>(i)), 0.988 * printed.at(i));
  }
}

TEST(PlateCantilevers, NafemsSquareOfTenMetres) {
  // NAFEMS FV16: 10 m, 0.05 m thick, 200 GPa, nu 0.3, 8000 kg/m3. Printed values, recomputed; then computed ones.
  constexpr std::array printed{0.421, 1.029, 2.582, 3.306, 3.753, 6.555};
  constexpr std::array computed{0.4179, 1.0242, 2.5628, 3.2749, 3.7272, 6.5243};
  const Rectangle square{10000.0, 10000.0, 250.0, isotropic(200000.0, 0.3, 8000.0), [](double) { return 50.0; }};
  const Eigen::VectorXd found = square.cantilever().modes(6).frequency_hz;
  expect_ratio(found, computed, 5e-4);
  for (std::size_t i = 0; i < printed.size(); ++i) {
    EXPECT_LT(found(static_cast<Eigen::Index>(i)), printed.at(i) + 5e-4);
    EXPECT_GT(found(static_cast<Eigen::Index>(i)), 0.988 * printed.at(i));
  }
}

TEST(PlateCantilevers, DeflectionsUnderPressureAndUnderAForceOnTheFreeEdge) {
  struct Row {
    double width_mm, q_middle, q_corner, p_middle, p_corner;
  };
  // Computed: w D/(q a^4) and w D/(P a^2).
  for (const auto& row :
       {Row{20.0, 0.12907, 0.12723, 0.34745, 0.33879}, Row{10.0, 0.13093, 0.13060, 0.70377, 0.69996}}) {
    const Rectangle r{20.0, row.width_mm, 0.5};
    const Plate plate = r.cantilever();
    const Eigen::Vector2d middle(0.0, 0.0), corner(0.0, 0.5 * row.width_mm);
    const Eigen::VectorXd q = test::pressure(plate, rigidity(r) / std::pow(20.0, 4)),
                          p = rigidity(r) / 400.0 * test::edge_force(plate, row.width_mm);
    EXPECT_NEAR(deflection(plate, q, middle) / row.q_middle, 1.0, 3e-4);
    EXPECT_NEAR(deflection(plate, q, corner) / row.q_corner, 1.0, 3e-4);
    EXPECT_NEAR(deflection(plate, p, middle) / row.p_middle, 1.0, 3e-4);
    EXPECT_NEAR(deflection(plate, p, corner) / row.p_corner, 1.0, 3e-4);
  }
}

// ---------------------------------------------------------------------------------------------------------------------
// Other edges, isotropic.
// ---------------------------------------------------------------------------------------------------------------------

TEST(PlateIsotropic, SimplySupportedDeflectionsAreNaviers) {
  struct Row {
    double b_over_a, q, p;
  };
  // T&WK, tables 8 and 23, recomputed: w D/(q a^4), w D/(P a^2), nu 0.3; the last by MacNeal & Harder 1985, 16.96.
  for (const auto& row : {Row{1.0, 0.00406235, 0.0116008}, Row{1.5, 0.00772402, 0.015333},
                          Row{2.0, 0.01012866, 0.016524}, Row{5.0, 0.01297083, 0.01696}}) {
    const Rectangle r{10.0, 10.0 * row.b_over_a, 0.25};
    const Plate plate = r.simply_supported();
    EXPECT_NEAR(deflection(plate, test::pressure(plate, rigidity(r) / 1e4), r.centre()) / row.q, 1.0, 5e-4)
        << row.b_over_a;
    EXPECT_NEAR(deflection(plate, point_force(plate, r.centre(), rigidity(r) / 100.0), r.centre()) / row.p, 1.0, 2e-3)
        << row.b_over_a;
  }
}

TEST(PlateIsotropic, ClampedDeflections) {
  struct Row {
    double b_over_a, q;
  };
  // T&WK, table 35, recomputed to more digits.
  for (const auto& row : {Row{1.0, 0.00126532}, Row{1.5, 0.0021965}, Row{2.0, 0.0025330}}) {
    const Rectangle r{10.0, 10.0 * row.b_over_a, 0.25};
    const Plate plate = r.clamped();
    EXPECT_NEAR(deflection(plate, test::pressure(plate, rigidity(r) / 1e4), r.centre()) / row.q, 1.0, 2e-3)
        << row.b_over_a;
  }
  // Much longer than wide: a clamped beam of unit width, 1/384.
  const Rectangle strip{10.0, 60.0, 0.25};
  const Plate plate = strip.clamped();
  EXPECT_NEAR(384.0 * deflection(plate, test::pressure(plate, rigidity(strip) / 1e4), strip.centre()), 1.0, 2e-3);
  // T&WK, from memory: 0.00560 for a force in the middle of the square. A band.
  const Rectangle square{10.0, 10.0, 0.25};
  const Plate held = square.clamped();
  EXPECT_NEAR(deflection(held, point_force(held, square.centre(), rigidity(square) / 100.0), square.centre()) / 0.00560,
              1.0, 0.01);
}

TEST(PlateIsotropic, FrequenciesOfSquares) {
  const Rectangle square;
  // Exact: pi^2 (m^2 + n^2).
  expect_ratio(factors(square, square.simply_supported().modes(5)),
               std::array{19.7392, 49.3480, 49.3480, 78.9568, 98.6960}, 2e-3);
  // Leissa, J. Sound Vib. 31 (1973) 257, recomputed.
  expect_ratio(factors(square, square.clamped().modes(6)), std::array{35.985, 73.394, 73.394, 108.22, 131.58, 132.20},
               3e-3);
}

TEST(PlateIsotropic, AFreeSquareHasThreeModesWithoutStrainAndThenThePrintedOnes) {
  const Rectangle square{10.0, 10.0, 0.8};
  const Matrices free = free_plate(square.model().mesh, square.cane);
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> modes(free.stiffness, free.mass);
  const Eigen::VectorXd lambda = modes.eigenvalues();
  EXPECT_LT(lambda.head<3>().cwiseAbs().maxCoeff(), 1e-8 * lambda(3));
  const double scale = std::pow(10.0, 4) * 1e-12 * square.cane.density_kg_per_m3 / rigidity(square);
  const Eigen::VectorXd found = (scale * lambda.segment<6>(3)).cwiseSqrt();
  // Computed; printed (VPCS SDLS01/89, case 2, as in code_aster): 13.49, 19.79, 24.43, 35.02, 35.02.
  expect_ratio(found, std::array{13.468, 19.596, 24.270, 34.801, 34.801, 61.093}, 5e-3);
  EXPECT_LT(found(0), 13.49 + 0.005);
}

// ---------------------------------------------------------------------------------------------------------------------
// Orthotropic, simply supported: Navier's series.
// ---------------------------------------------------------------------------------------------------------------------

TEST(PlateOrthotropic, ALayerTwentyFiveTimesAsStiffAlongAsAcross) {
  // Reddy, Mechanics of laminated composite plates and shells, classical theory, single 0-degree layer, recomputed.
  constexpr double e2 = 400.0;
  const Rectangle r{20.0, 20.0, 0.5, {25.0 * e2, e2, 0.5 * e2, 0.25, 480.0, 0.0}};
  const Plate plate = r.simply_supported();
  const double unit = e2 / (100.0 * std::pow(20.0, 4));  // 100 w E2 h^3/(q a^4) under one of these.
  const auto sine = [](const Eigen::Vector2d& p) {
    return std::sin(kPi * p.x() / 20.0) * std::cos(kPi * p.y() / 20.0);
  };
  EXPECT_NEAR(1e4 * unit * deflection(plate, test::pressure(plate, 1.0), r.centre()) / 0.6497, 1.0, 1e-3);
  EXPECT_NEAR(1e4 * unit * deflection(plate, test::pressure(plate, sine), r.centre()) / 0.4312, 1.0, 1e-3);
  // omega a^2/h sqrt(rho/E2) of (1,1), (1,2), (1,3), (2,1): the last two have a fifth between them.
  const Eigen::VectorXd factor = 2.0 * kPi * 400.0 * std::sqrt(480e-12 / e2) * plate.modes(5).frequency_hz;
  expect_ratio(factor.head(3), std::array{15.2278, 20.3682, 32.3317}, 2e-3);
  EXPECT_LT(((factor.array() / 57.8313) - 1.0).abs().minCoeff(), 2e-3);
}

TEST(PlateOrthotropic, APlateLikeAReedSimplySupported) {
  // Computed: Navier's series. 20 mm along the fibre, 10 mm across, 1 mm thick, 1 kPa; frequencies of (1,1), (1,2),
  // (2,1), (2,2) = four times the first, (1,3).
  const Rectangle r{20.0, 10.0, 0.35, reed_like()};
  const Plate plate = r.simply_supported();
  EXPECT_NEAR(deflection(plate, test::pressure(plate, 1e-3), r.centre()) / 0.81986181e-3, 1.0, 1e-3);
  expect_ratio(plate.modes(5).frequency_hz, std::array{10078.16, 23061.18, 26012.93, 4.0 * 10078.16, 43995.65}, 2e-3);
}

TEST(PlateOrthotropic, BendingStiffnessesAreTheHandbooks) {
  // Computed, N m = 1000 N mm: 10, 0.4 and 1.3 GPa, nu_LT 0.22, 1 mm.
  const Eigen::Matrix3d d = plane_stress_stiffness(reed_like()) / 12.0 / 1000.0;
  EXPECT_NEAR(d(0, 0), 0.83494980, 5e-9);
  EXPECT_NEAR(d(0, 1), 0.0073475582, 5e-11);
  EXPECT_NEAR(d(1, 0), 0.0073475582, 5e-11);
  EXPECT_NEAR(d(1, 1), 0.033397992, 5e-10);
  EXPECT_NEAR(d(2, 2), 0.10833333, 5e-9);
  EXPECT_EQ(d(0, 2), 0.0);
  EXPECT_EQ(d(1, 2), 0.0);
}

// ---------------------------------------------------------------------------------------------------------------------
// Orthotropic cantilevers of a reed's size (computed, thin-plate theory).
// ---------------------------------------------------------------------------------------------------------------------

TEST(PlateReedSize, AUniformPlate) {
  const Rectangle r{25.0, 12.5, 0.4, reed_like(), [](double) { return 0.5; }};
  expect_ratio(r.cantilever().modes(6).frequency_hz, std::array{590.31, 1641.7, 3697.6, 4227.5, 5698.6, 9321.1}, 5e-4);
}

TEST(PlateReedSize, AWedge) {
  const Rectangle r{30.0, 13.0, 0.5, reed_like(), [](double x) { return 0.1 + 2.4 * x / 30.0; }};
  const Plate plate = r.cantilever();
  expect_ratio(plate.modes(5).frequency_hz, std::array{2895.9, 5048.9, 8576.0, 9327.5, 10820.0}, 1.5e-3);
  const Eigen::Vector2d tip(0.0, 0.0);
  EXPECT_NEAR(deflection(plate, test::edge_force(plate, 13.0), tip) / 0.32415, 1.0, 1e-3);
  EXPECT_NEAR(deflection(plate, test::pressure(plate, 1e-3), tip) / 0.024495, 1.0, 5e-4);
}

// ---------------------------------------------------------------------------------------------------------------------
// Torsion.
// ---------------------------------------------------------------------------------------------------------------------

TEST(PlateTorsion, APlateHeldAtThreeCornersTwistsEvenly) {
  // Statics of the plate-twist test: w = P a b/(4 D66) = 3 P a b/(G h^3), exact for any element that passes the patch
  // test: 0.461538 mm for 1 N, G 1.3 GPa, 1 mm, 20 by 10 mm. Thin-plate theory: a third, not Saint-Venant's 0.31233.
  const Rectangle r{20.0, 10.0, 1.0, reed_like()};
  const Eigen::Vector2d loaded(0.0, 5.0);
  const Plate plate = r.held([&](const auto& p) {
    return std::array{r.on_end(p) && r.on_side(p) && (p - loaded).norm() > 1.0, false, false};
  });
  const Eigen::VectorXd u = plate.solve(point_force(plate, loaded)).col(0);
  EXPECT_NEAR(plate.deflection_at(loaded, u)(0) / (3.0 * 20.0 * 10.0 / 1300.0), 1.0, 1e-9);
  EXPECT_NEAR(plate.deflection_at(loaded, u)(0), 0.461538, 5e-7);
  for (const Eigen::Vector2d& at : {Eigen::Vector2d(3.3, 4.1), Eigen::Vector2d(17.0, -2.2), Eigen::Vector2d(9.0, 0.7)})
    EXPECT_NEAR(plate.deflection_at(at, u)(0), 0.461538461538 * (20.0 - at.x()) * (at.y() + 5.0) / 200.0, 1e-9);
}

TEST(PlateTorsion, ALongStripTwistsByAThirdOfItsShearModulusTimesTheCubeOfItsThickness) {
  // Torque over twist per length: G b h^3/3 (thin-plate theory), away from the clamp. Saint-Venant's for b/h = 5 would
  // be 0.29132 in place of 1/3.
  const Rectangle r{100.0, 5.0, 0.5};
  const Plate plate = r.cantilever();
  Eigen::Matrix2Xd corners(2, 2);
  corners << 0.0, 0.0, -2.5, 2.5;
  const Eigen::VectorXd u = plate.solve(plate.load_of({corners, Eigen::Vector2d(-1.0 / 5.0, 1.0 / 5.0)})).col(0);
  const auto turn = [&](double x) {
    Eigen::Matrix2Xd sides(2, 2);
    sides << x, x, -2.5, 2.5;
    const Eigen::VectorXd w = plate.deflection_at(sides, u);
    return (w(1) - w(0)) / 5.0;
  };
  EXPECT_NEAR((turn(20.0) - turn(60.0)) / 40.0 * r.cane.g_lt_mpa * 5.0, 3.0, 3e-4);
}

// ---------------------------------------------------------------------------------------------------------------------
// Order.
// ---------------------------------------------------------------------------------------------------------------------

/// Equal right-angled triangles, `cells` along the length.
PlateModel regular(double length_mm, double width_mm, int cells) {
  const int across = static_cast<int>(std::lround(cells * width_mm / length_mm));
  Eigen::Matrix2Xd nodes(2, (cells + 1) * (across + 1));
  std::vector<std::array<int, 3>> triangles;
  for (int i = 0; i <= cells; ++i) {
    for (int j = 0; j <= across; ++j) {
      const int n = i * (across + 1) + j, right = n + across + 1;
      nodes.col(n) << length_mm * i / cells, width_mm * (static_cast<double>(j) / across - 0.5);
      if (i == cells || j == across) continue;
      triangles.push_back({n, right, right + 1});
      triangles.push_back({n, right + 1, n + 1});
    }
  }
  PlateModel model;
  model.mesh = mesh_of(std::move(nodes), std::move(triangles));
  model.cane = reed_like();
  model.thickness_mm = Eigen::VectorXd::Ones(model.mesh.thickness_points_mm().cols());
  const Rectangle r{length_mm, width_mm, 0.0};
  for (Eigen::Index n = 0; n < model.mesh.nodes(); ++n) {
    const Eigen::Vector2d p = model.mesh.nodes_mm.col(n);
    for (const bool flag : {r.on_end(p) || r.on_side(p), r.on_side(p), r.on_end(p)})
      model.fixed.push_back(flag ? 1 : 0);
  }
  return model;
}

TEST(PlateConvergence, HalfTheMeshLeavesAQuarterOfTheError) {
  // Navier's plate like a reed, as above (computed).
  std::array<double, 3> static_error{}, frequency_error{};
  for (std::size_t k = 0; k < 3; ++k) {
    const Plate plate(regular(20.0, 10.0, 16 << k));
    static_error.at(k) = deflection(plate, test::pressure(plate, 1e-3), {10.0, 0.0}) / 0.81986181e-3 - 1.0;
    frequency_error.at(k) = plate.modes(1).frequency_hz(0) / 10078.16 - 1.0;
  }
  for (const auto& error : {static_error, frequency_error}) {
    EXPECT_LT(std::abs(error[0]), 0.02);
    EXPECT_NEAR(error[0] / error[1], 4.0, 0.4);
    EXPECT_NEAR(error[1] / error[2], 4.0, 0.2);
  }
}

}  // namespace
}  // namespace canewise
