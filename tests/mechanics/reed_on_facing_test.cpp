// A reed on rails: a beam on an arc in closed form, a facing that is not reached, derivatives where contact moves.
#include "scanproc/mechanics/reed_on_facing.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "scanproc/mechanics/bending_figures.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

/// Stiff across, so that a strip bends as a beam; it contracts nothing.
constexpr Cane kBeam{.e_l_mpa = 10000.0, .e_t_mpa = 1e6, .g_lt_mpa = 1e5, .nu_lt = 0.0, .gradient_per_mm = 0.0};
constexpr double kThick_mm = 0.5;

/// Rails that are an arc from `length_mm` on to the tip, where they lie `open_mm` lower; the reed is clamped there.
Embouchure arc(double length_mm, double open_mm, double force_n) {
  Embouchure embouchure;
  Mouthpiece& m = embouchure.mouthpiece;
  m.window_end_mm = m.ligature_mm = length_mm;
  m.left = m.right = {.tip_opening_mm = open_mm, .length_mm = length_mm, .power = 2.0};
  embouchure.contact = {.give_n_per_mm2 = 2e4, .roughness_mm = 1e-4};  // As hard and smooth as in a textbook.
  embouchure.lip = {.at_mm = 3.0, .length_mm = 1.0, .force_n = force_n, .tip_patch_at_mm = 2.0};
  return embouchure;
}

BendingFigures figures_of(const test::ReedByHand& reed, const Embouchure& embouchure, const Cane& cane,
                          double spacing_mm = 1.0) {
  const ReedPlateInputs inputs{.map = reed.map,
                               .outline = reed.outline,
                               .bark = reed.assessment.cut.bark,
                               .mouthpiece = embouchure.mouthpiece,
                               .cane = cane};
  return {reed_plate(inputs, {spacing_mm, 0.0}), reed.outline, embouchure};
}
double value(const std::array<double, kBendingFigureCount>& values, BendingFigure figure) {
  return values.at(index_of(figure));
}

// Closed form: a beam of EI under P at l from where an arc of radius R begins lies on it up to the place where P's
// moment is EI/R, b = EI/(PR) before the load; it answers a further load as a cantilever of length b.
TEST(ReedOnFacing, ABeamOnAnArcLiesAsFarAsTheMomentReachesAndAnswersAsItsFreeEnd) {
  const test::ReedByHand strip = test::reed_by_hand([](double, double) { return kThick_mm; });
  const double bending = 10000.0 * 12.0 * kThick_mm * kThick_mm * kThick_mm / 12.0;
  constexpr double length_mm = 20.0, open_mm = 0.6, radius_mm = length_mm * length_mm / (2.0 * open_mm);
  for (const double b : {8.0, 11.0, 14.0}) {
    const double force = bending / (radius_mm * b);
    const Embouchure embouchure = arc(length_mm, open_mm, force);
    const BendingFigures figures = figures_of(strip, embouchure, kBeam);
    const BendingValues values = figures.of(figures.plate(), false);
    EXPECT_NEAR(values.left_rests_mm, 3.0 + b, 0.8) << b << ": a place of the row";
    EXPECT_NEAR(values.left_rests_mm, values.right_rests_mm, 1e-9);
    // The load is spread over a millimetre: b^3/3 becomes b^3/3 less b/120 and less, a thousandth.
    EXPECT_NEAR(value(values.value, BendingFigure::stiffness_lip) / (3.0 * bending / (b * b * b)), 1.0, 0.03) << b;
    // Its tip lies l^2/2R - b^2/6R below where it began, at the load.
    const Eigen::VectorXd by_lip = force * figures.plate().solve(figures.lip_patch());
    const Eigen::VectorXd lying = figures.on_facing()->lying(figures.under_lip(), by_lip);
    Eigen::Matrix2Xd at(2, 1);
    at << 3.0, 0.0;
    constexpr double lever_mm = length_mm - 3.0;
    EXPECT_NEAR(figures.plate().deflection_at(at, lying)(0),
                lever_mm * lever_mm / (2.0 * radius_mm) - b * b / (6.0 * radius_mm), 0.006)
        << b;
  }
}

TEST(ReedOnFacing, AFacingThatIsNotReachedLeavesTheFreeFiguresToTheLastDigit) {
  const test::ReedByHand reed =
      test::reed_by_hand([](double x, double y) { return test::plain_wedge_mm(x) * (1.0 + 0.015 * y); });
  Embouchure embouchure{mouthpiece_for({}, "clarinet-bb"), lip_of({}, "clarinet-bb")};
  // Deeper everywhere than the reed bends, and where it would lie it begins behind the window.
  embouchure.mouthpiece.left = embouchure.mouthpiece.right = {.tip_opening_mm = 9.0, .length_mm = 60.0};
  const BendingFigures far = figures_of(reed, embouchure, {});
  embouchure.mouthpiece.has_rails = false;
  const BendingFigures bench = figures_of(reed, embouchure, {});
  const BendingValues on_rails = far.of(far.plate(), true), free = bench.of(bench.plate(), true);
  for (const BendingFigure f : kBendingFigures) {
    EXPECT_EQ(value(on_rails.value, f), value(free.value, f)) << index_of(f);
    EXPECT_EQ(value(on_rails.free, f), value(free.value, f)) << index_of(f);
    EXPECT_EQ(on_rails.derivative.at(index_of(f)).by_thickness, free.derivative.at(index_of(f)).by_thickness);
  }
}

TEST(ReedOnFacing, RailsMakeTheReedStifferAndShowWhatALeverHides) {
  // 95 um too much on the right rail from 8 to 20 mm.
  const test::ReedByHand reed = test::reed_by_hand(
      [](double x, double y) { return test::plain_wedge_mm(x) + (y > 4.2 && x > 8.0 && x < 20.0 ? 0.095 : 0.0); });
  const Embouchure embouchure{mouthpiece_for({}, "clarinet-bb"), lip_of({}, "clarinet-bb")};
  const BendingFigures figures = figures_of(reed, embouchure, {}, 0.8);
  const BendingValues values = figures.of(figures.plate(), false);
  EXPECT_GT(value(values.value, BendingFigure::stiffness_lip), 1.5 * value(values.free, BendingFigure::stiffness_lip));
  EXPECT_GT(value(values.value, BendingFigure::imbalance_lip), 1.5 * value(values.free, BendingFigure::imbalance_lip));
  EXPECT_GT(value(values.firm, BendingFigure::stiffness_lip), value(values.value, BendingFigure::stiffness_lip))
      << "the firmer the lip, the more of the reed lies";
  EXPECT_LT(value(values.light, BendingFigure::stiffness_lip), value(values.value, BendingFigure::stiffness_lip));
}

TEST(ReedOnFacing, ACrookedFacingMakesAnEvenReedUneven) {
  const test::ReedByHand reed = test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
  Embouchure embouchure{mouthpiece_for({}, "clarinet-bb"), lip_of({}, "clarinet-bb")};
  embouchure.mouthpiece.right.length_mm += 1.0;  // It lies later on the right: more of it is free there.
  const BendingFigures figures = figures_of(reed, embouchure, {}, 0.8);
  const BendingValues values = figures.of(figures.plate(), false);
  EXPECT_LT(value(values.value, BendingFigure::imbalance_lip), -0.03);
  EXPECT_NEAR(value(values.even_facing, BendingFigure::imbalance_lip), 0.0, 0.004);
  EXPECT_GT(values.left_rests_mm + 0.0, 5.0);
}

// Central differences of the whole, contact and all: what is thinner lies farther.
TEST(ReedOnFacing, DerivativesCountThatContactMoves) {
  const test::ReedByHand reed =
      test::reed_by_hand([](double x, double y) { return test::plain_wedge_mm(x) * (1.0 + 0.015 * y); });
  const Embouchure embouchure{mouthpiece_for({}, "clarinet-bb"), lip_of({}, "clarinet-bb")};
  const BendingFigures figures = figures_of(reed, embouchure, {}, 1.5);
  const BendingValues values = figures.of(figures.plate(), true);
  const Eigen::Matrix2Xd points = figures.reed().model.mesh.thickness_points_mm();
  const Eigen::VectorXd shape = (0.3 * points.row(0).array() + 0.9 * points.row(1).array()).sin().matrix().transpose();
  constexpr double step = 2e-6;
  const auto with_thickness = [&](double by) {
    return figures.of(figures.plate_with(figures.reed().model.thickness_mm + by * shape), false);
  };
  const BendingValues thick = with_thickness(step), thin = with_thickness(-step);
  const Eigen::MatrixXd free = figures.plate().solve(figures.lip_patch());
  const Pressed pressed = figures.under_lip();
  // Without the moving contact: minus u' dK u alone.
  const Eigen::MatrixXd further = figures.on_facing()->further(pressed, free);
  const double fixed = figures.plate().compliance_derivatives(further).front().by_thickness.dot(shape) *
                       -std::pow(value(values.value, BendingFigure::stiffness_lip), 2);
  const double moving =
      (value(thick.value, BendingFigure::stiffness_lip) - value(thin.value, BendingFigure::stiffness_lip)) /
      (2.0 * step);
  EXPECT_GT(std::abs(moving - fixed), 0.05 * std::abs(moving)) << "or this test shows nothing";
  for (const BendingFigure f : kBendingFigures) {
    const double by_thickness = (value(thick.value, f) - value(thin.value, f)) / (2.0 * step);
    EXPECT_NEAR(values.derivative.at(index_of(f)).by_thickness.dot(shape), by_thickness,
                2e-3 * std::abs(by_thickness) + 1e-5)
        << index_of(f);
  }
}

TEST(ReedOnFacing, AReedOnRailsSoundsHigher) {
  const test::ReedByHand reed = test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
  const Embouchure embouchure{mouthpiece_for({}, "clarinet-bb"), lip_of({}, "clarinet-bb")};
  const BendingFigures figures = figures_of(reed, embouchure, {}, 1.0);
  const Stiffening rails = figures.on_facing()->stiffening(figures.under_lip());
  const Modes free = figures.plate().modes(4), lying = figures.plate().modes(4, &rails);
  for (Eigen::Index k = 0; k < 4; ++k) EXPECT_GT(lying.frequency_hz(k), free.frequency_hz(k)) << k;
  EXPECT_GT(lying.frequency_hz(0), 1.1 * free.frequency_hz(0));
}

}  // namespace
}  // namespace canewise
