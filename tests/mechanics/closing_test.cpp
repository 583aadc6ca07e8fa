// How an even generated reed closes on facings that are known exactly.
#include "scanproc/mechanics/closing.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/bent_reeds.h"

namespace canewise {
namespace {

class ClosingOf : public testing::Test {
 protected:
  static void SetUpTestSuite() {
    scan_ = new test::Measurement(test::measured(fixtures::scan_reed(
        fixtures::Reed({}, test::rough_cane(1)), fixtures::profilometer(), test::plain_scene(3), 3)));
    reed_ = new BentReed(test::bent(*scan_));
  }
  static void TearDownTestSuite() {
    delete reed_;
    delete scan_;
  }
  static Closing closing(const Mouthpiece& mouthpiece, double lip_force_n = 1.0) {
    Embouchure embouchure{mouthpiece, lip_of({}, "clarinet-bb")};
    embouchure.lip.force_n = lip_force_n;
    const Outline& outline = scan_->aligned.outline;
    const ReedOnFacing reed(reed_->figures->plate(), rail_places(outline, mouthpiece, 0.0));
    return close_reed({.figures = *reed_->figures, .reed = reed, .outline = outline, .embouchure = embouchure}, 0.1);
  }
  static Mouthpiece mouthpiece(FacingCurve left, FacingCurve right) {
    Mouthpiece m = mouthpiece_for({}, "clarinet-bb");
    m.left = left;
    m.right = right;
    return m;
  }
  static test::Measurement* scan_;
  static BentReed* reed_;
};
test::Measurement* ClosingOf::scan_ = nullptr;
BentReed* ClosingOf::reed_ = nullptr;

constexpr FacingCurve kFacing{.tip_opening_mm = 1.0, .length_mm = 18.0};

TEST_F(ClosingOf, MoreLipLeavesLessOpeningAndClosesSooner) {
  const Mouthpiece m = mouthpiece(kFacing, kFacing);
  const Closing light = closing(m, 0.5), firm = closing(m, 2.0);
  EXPECT_LT(light.curve.front().centre_mm, kFacing.tip_opening_mm);
  // 1.5 N more at 10 mm from the tip, where the reed gives some 0.05 mm a newton and the tip more.
  EXPECT_LT(firm.curve.front().centre_mm, light.curve.front().centre_mm - 0.075);
  EXPECT_LT(firm.pressure_kpa, 0.95 * light.pressure_kpa);
}

TEST_F(ClosingOf, TwoPerCentOfTheOpeningAreLeftWhereItCountsAsClosed) {
  const Closing c = closing(mouthpiece(kFacing, kFacing));
  const ClosingPoint& last = c.curve.back();
  EXPECT_DOUBLE_EQ(last.pressure_kpa, c.pressure_kpa);
  // The tip's arc lies a little behind its apex, where the facing is nearer; three places stand for the mean.
  EXPECT_NEAR((last.left_mm + last.centre_mm + last.right_mm) / 3.0, 0.02 * kFacing.tip_opening_mm, 0.008);
}

TEST_F(ClosingOf, AFacingThatIsLongerOnOneSideAloneIsToldFromTheReed) {
  const FacingCurve longer{.tip_opening_mm = 1.0, .length_mm = 21.0};
  const Closing c = closing(mouthpiece(kFacing, longer));
  ASSERT_GT(std::abs(c.right_minus_left_um), 8.0);
  EXPECT_NEAR(c.facing_right_minus_left_um, c.right_minus_left_um, 4.0) << "the reed itself is even";
  const Closing mirrored = closing(mouthpiece(longer, kFacing));
  EXPECT_NEAR(mirrored.right_minus_left_um, -c.right_minus_left_um, 4.0);
}

TEST_F(ClosingOf, ItRestsOnEachRailFromWhereThatRailsFacingBegins) {
  const FacingCurve longer{.tip_opening_mm = 1.0, .length_mm = 22.0};
  // Hardly loaded, it lies on each rail behind its facing and has not yet rolled onto it. Places are 0.8 mm apart, and
  // the reed, stiff across, is held off the nearer rail a little by the other.
  const ClosingPoint open = closing(mouthpiece(kFacing, longer), 0.1).curve.front();
  EXPECT_NEAR(open.left_rests_mm, 18.0, 3.5);
  EXPECT_NEAR(open.right_rests_mm, 22.0, 1.0);
  EXPECT_GT(open.right_rests_mm, open.left_rests_mm + 0.5);
  const ClosingPoint mirrored = closing(mouthpiece(longer, kFacing), 0.1).curve.front();
  EXPECT_NEAR(mirrored.left_rests_mm, open.right_rests_mm, 0.81);
  EXPECT_NEAR(mirrored.right_rests_mm, open.left_rests_mm, 0.81);
}

// The reed is linear: one r times as stiff moves under its loads as this one does under loads divided by r.
TEST_F(ClosingOf, TheStiffnessThatAnotherOpeningWantsClosesThereUnderTheSamePressure) {
  const Closing c = closing(mouthpiece(kFacing, kFacing));
  ASSERT_EQ(c.others.size(), 4U);
  for (const OtherOpening& other : c.others) {
    FacingCurve changed = kFacing;
    changed.tip_opening_mm = other.tip_opening_mm;
    const double r = other.stiffness_ratio;
    EXPECT_NEAR(closing(mouthpiece(changed, changed), 1.0 / r).pressure_kpa, c.pressure_kpa / r,
                0.01 * c.pressure_kpa / r)
        << other.tip_opening_mm;
  }
}

}  // namespace
}  // namespace canewise
