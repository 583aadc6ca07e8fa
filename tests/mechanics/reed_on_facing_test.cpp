// A reed on rails: a beam on an arc in closed form, hard contact by another solver, a facing that is not reached, rails
// that differ.
#include "scanproc/mechanics/reed_on_facing.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "scanproc/mechanics/bending_figures.h"
#include "scanproc/mechanics/lying_on_rails.h"
#include "tests/support/hard_contact.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

/// As hard and smooth as in a textbook.
constexpr RailContact kHard{.give_n_per_mm2 = 2e4, .roughness_mm = 1e-4};

BendingFigures figures_of(const test::ReedByHand& reed, const Embouchure& embouchure, const Cane& cane = {},
                          double spacing_mm = 1.0) {
  const ReedPlateInputs inputs{.map = reed.map,
                               .outline = reed.outline,
                               .bark = reed.assessment.cut.bark,
                               .mouthpiece = embouchure.mouthpiece,
                               .cane = cane};
  return {reed_plate(inputs, {spacing_mm, 0.0}), reed.outline, embouchure};
}

/// A reed over its rails, pressed by the lip, and what small further forces do.
struct Lying {
  ReedOnFacing reed;
  Pressed pressed;
  Eigen::MatrixXd free, further;
};
Lying lying(const BendingFigures& figures, const Outline& outline, const Embouchure& embouchure,
            const RailContact& contact = {}) {
  const Mouthpiece& mouthpiece = embouchure.mouthpiece;
  Lying l{ReedOnFacing(figures.plate(), rail_places(outline, mouthpiece, 0.0), contact),
          {},
          figures.plate().solve(figures.loads()),
          {}};
  l.pressed = l.reed.press(embouchure.lip.force_n * l.reed.at_places(l.free.col(BendingFigures::kLipLoad)).col(0),
                           gaps_at(l.reed.places(), mouthpiece.left, mouthpiece.right));
  l.further = l.reed.further(l.pressed, l.free);
  return l;
}

/// Against a small further force of the lip.
double further_stiffness(const BendingFigures& figures, const Eigen::MatrixXd& moved) {
  return 1.0 / figures.loads().col(BendingFigures::kLipLoad).dot(moved.col(BendingFigures::kLipLoad));
}

Embouchure usual() { return embouchure_of({}, "clarinet-bb"); }
test::ReedByHand even_wedge() {
  return test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
}

// Closed form: a beam of EI under P at l from where an arc of radius R begins lies on it up to the place where P's
// moment is EI/R, b = EI/(PR) before the load; it answers a further load as a cantilever of length b.
TEST(ReedOnFacing, ABeamOnAnArcLiesAsFarAsTheMomentReachesAndAnswersAsItsFreeEnd) {
  constexpr double thick_mm = 0.5, bending = 10000.0 * 12.0 * thick_mm * thick_mm * thick_mm / 12.0;
  constexpr double length_mm = 20.0, open_mm = 0.6, radius_mm = length_mm * length_mm / (2.0 * open_mm), lip_mm = 3.0;
  // Stiff across, so that a strip bends as a beam; it contracts nothing.
  const Cane beam{.e_l_mpa = 10000.0, .e_t_mpa = 1e6, .g_lt_mpa = 1e5, .nu_lt = 0.0, .gradient_per_mm = 0.0};
  const test::ReedByHand strip = test::reed_by_hand([](double, double) { return thick_mm; });
  for (const double b : {8.0, 11.0, 14.0}) {
    Embouchure arc;
    arc.mouthpiece.window_end_mm = arc.mouthpiece.ligature_mm = length_mm;
    arc.mouthpiece.left = arc.mouthpiece.right = {.tip_opening_mm = open_mm, .length_mm = length_mm, .power = 2.0};
    arc.lip = {.at_mm = lip_mm, .length_mm = 1.0, .force_n = bending / (radius_mm * b), .tip_patch_at_mm = 2.0};
    const BendingFigures figures = figures_of(strip, arc, beam);
    const Lying l = lying(figures, strip.outline, arc, kHard);
    const Resting resting = resting_of(l.reed.places(), l.pressed, length_mm);
    EXPECT_NEAR(resting.left_mm, lip_mm + b, 0.8) << b << ": a place of the row";
    EXPECT_NEAR(resting.left_mm, resting.right_mm, 1e-9);
    const double stiffness = further_stiffness(figures, l.further);
    EXPECT_NEAR(stiffness / (3.0 * bending / (b * b * b)), 1.0, 0.03) << b;
  }
}

// Points of the rail that neither give nor have tops, by a linear complementarity problem.
TEST(ReedOnFacing, HardRailsCarryWhatAnotherSolverFinds) {
  const test::ReedByHand reed = even_wedge();
  const Embouchure embouchure = usual();
  const BendingFigures figures = figures_of(reed, embouchure);
  const Lying l = lying(figures, reed.outline, embouchure, kHard);
  const RailPlaces& places = l.reed.places();
  const Eigen::Index n = places.places_mm.cols();
  Eigen::MatrixXd loads(figures.loads().rows(), n);
  for (Eigen::Index k = 0; k < n; ++k)
    loads.col(k) = figures.plate().load_of({places.places_mm.col(k), Eigen::VectorXd::Ones(1)});
  Eigen::MatrixXd compliance = loads.transpose() * figures.plate().solve(loads);
  compliance.diagonal() *= 1.0 + 1e-6;
  Eigen::VectorXd gap(n);
  for (Eigen::Index k = 0; k < n; ++k) gap(k) = embouchure.mouthpiece.left.gap_mm(places.places_mm(0, k));
  Eigen::Array<bool, Eigen::Dynamic, 1> touching;
  const Eigen::VectorXd free = loads.transpose() * l.free.col(BendingFigures::kLipLoad);
  const Eigen::VectorXd hard = test::contact_forces(compliance, embouchure.lip.force_n * free - gap, touching);
  EXPECT_NEAR(l.pressed.force_n.sum() / hard.sum(), 1.0, 0.02);
  // Where they press: the forces' middle along the reed.
  const Eigen::VectorXd x = places.places_mm.row(0).transpose();
  EXPECT_NEAR(x.dot(l.pressed.force_n) / l.pressed.force_n.sum(), x.dot(hard) / hard.sum(), 0.25);
}

TEST(ReedOnFacing, AFacingThatIsNotReachedLeavesTheFreeReedToTheLastDigit) {
  const test::ReedByHand reed = even_wedge();
  Embouchure far = usual();
  // Deeper everywhere than the reed bends, and where it would lie it begins behind the window.
  far.mouthpiece.left = far.mouthpiece.right = {.tip_opening_mm = 9.0, .length_mm = 60.0};
  const BendingFigures figures = figures_of(reed, far);
  const Lying l = lying(figures, reed.outline, far);
  EXPECT_EQ(l.further, l.free);
  EXPECT_EQ(l.pressed.force_n.cwiseAbs().maxCoeff(), 0.0);
}

TEST(ReedOnFacing, RailsMakeTheReedStiffer) {
  const test::ReedByHand reed = even_wedge();
  const BendingFigures figures = figures_of(reed, usual());
  const Lying l = lying(figures, reed.outline, usual());
  const auto lip = [&](const Eigen::MatrixXd& moved) { return further_stiffness(figures, moved); };
  EXPECT_GT(lip(l.further), 1.5 * lip(l.free));
  Embouchure firm = usual();
  firm.lip.force_n *= 2.0;
  EXPECT_GT(lip(lying(figures, reed.outline, firm).further), lip(l.further)) << "more of the reed lies";
}

LyingOnRails lies_on(const BendingFigures& figures, const Embouchure& embouchure) {
  const ReedOnFacing reed(figures.plate(), figures.places());
  const BendingValues even = figures.of(figures.plate(), false);
  const HalfClosed closed = figures.closed_by_lip(embouchure.mouthpiece, figures.plate(), reed);
  return lie_on_rails({figures, reed, embouchure.mouthpiece, even, closed});
}

TEST(LieOnRails, EvenRailsAddNothingToAnEvenReed) {
  const BendingFigures figures = figures_of(even_wedge(), usual());
  const LyingOnRails lies = lies_on(figures, usual());
  EXPECT_EQ(lies.imbalance_tip_by_facing, 0.0);
  EXPECT_EQ(lies.imbalance_lip_by_facing, 0.0);
  EXPECT_NEAR(lies.left_rests_mm, lies.right_rests_mm, 0.21) << "a sample";
  EXPECT_GT(lies.left_rests_mm, usual().lip.at_mm);
}

TEST(LieOnRails, ARailThatIsReachedLaterLeavesItsSideSofter) {
  const test::ReedByHand reed = even_wedge();
  Embouchure crooked = usual();
  crooked.mouthpiece.right.length_mm += 1.0;
  const LyingOnRails lies = lies_on(figures_of(reed, crooked), crooked);
  EXPECT_LT(lies.imbalance_lip_by_facing, -0.01);
  std::swap(crooked.mouthpiece.left, crooked.mouthpiece.right);
  const LyingOnRails mirrored = lies_on(figures_of(reed, crooked), crooked);
  EXPECT_NEAR(mirrored.imbalance_lip_by_facing, -lies.imbalance_lip_by_facing, 0.006);
  EXPECT_NEAR(mirrored.left_rests_mm, lies.right_rests_mm, 0.21);
}

}  // namespace
}  // namespace canewise
