// The forms in which two layings of one reed differ: each is 1 where its prior is stated. The reed is 68 mm long and 13
// mm wide, and half a millimetre thick 10.25 mm from its tip.
#include "scanproc/thickness/laying_forms.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace canewise {
namespace {

constexpr double kLength_mm = 68.0, kHalf_mm = 6.5, kHalfMillimetre_mm = 10.25;

Outline outline() {
  Outline o;
  o.left.offset_mm = -kHalf_mm;
  o.right.offset_mm = kHalf_mm;
  o.length_mm = kLength_mm;
  return o;
}

/// Rises by 0.04 along; `beside_mm` is the thickness more than 1 mm off the middle.
ThicknessMap wedge(double beside_mm = 0.0) {
  ThicknessMap map;
  map.grid = {0.5, 136, 26};
  map.thickness_mm.resize(136, 26);
  for (Eigen::Index r = 0; r < 136; ++r) {
    for (Eigen::Index c = 0; c < 26; ++c) {
      const double middle = 0.5001 + 0.04 * (map.grid.x_mm(r) - kHalfMillimetre_mm);
      const bool beside = beside_mm > 0.0 && std::abs(map.grid.y_mm(c)) > 1.0;
      map.thickness_mm(r, c) = static_cast<float>(beside ? beside_mm : middle);
    }
  }
  return map;
}

TEST(LayingForms, TheSideRollsByItsPriorAtTheEdgeOfTheTip) {
  const LayingForms forms(wedge(), outline());
  EXPECT_EQ(forms.roll(kHalf_mm), 1.0);
  EXPECT_EQ(forms.roll(-kHalf_mm), -1.0);
  EXPECT_EQ(forms.roll(0.0), 0.0);
  EXPECT_EQ(forms.half_width_mm(), kHalf_mm);
}

TEST(LayingForms, TheTipPitchesAboutAPlaceNearTheButt) {
  const LayingForms forms(wedge(), outline());
  EXPECT_EQ(forms.pitch(0.0), 1.0);
  EXPECT_EQ(forms.pitch(51.0), 0.0);
  EXPECT_NEAR(forms.pitch(kLength_mm), -1.0 / 3.0, 1e-12);
  EXPECT_EQ(forms.pitch_to_mm(), 51.0);
}

TEST(LayingForms, ABowIsHighestInTheMiddleOfTheReedAndACupOnItsCentreline) {
  const LayingForms forms(wedge(), outline());
  EXPECT_EQ(forms.bow(34.0), 1.0);
  EXPECT_EQ(forms.bow(0.0), 0.0);
  EXPECT_EQ(forms.bow(kLength_mm), 0.0);
  EXPECT_NEAR(forms.bow(17.0), 0.75, 1e-12);
  EXPECT_EQ(forms.cup(0.0), 1.0);
  EXPECT_EQ(forms.cup(kHalf_mm), 0.0);
  EXPECT_NEAR(forms.cup(-3.25), 0.75, 1e-12);
}

TEST(LayingForms, ATwistTurnsTipAndButtOppositeWays) {
  const LayingForms forms(wedge(), outline());
  EXPECT_EQ(forms.twist(0.0, kHalf_mm), -1.0);
  EXPECT_EQ(forms.twist(kLength_mm, kHalf_mm), 1.0);
  EXPECT_EQ(forms.twist(34.0, kHalf_mm), 0.0);
}

TEST(LayingForms, TheTipsCurlFadesWithTheSquareUpToHalfAMillimetreOfThickness) {
  const LayingForms forms(wedge(), outline());
  EXPECT_EQ(forms.curl_to_mm(), kHalfMillimetre_mm);
  EXPECT_EQ(forms.tip_lift(0.0), 1.0);
  EXPECT_EQ(forms.tip_lift(-0.5), 1.0);  // Before the middle of the tip's arc nothing lifts more.
  EXPECT_NEAR(forms.tip_lift(0.5 * kHalfMillimetre_mm), 0.25, 1e-12);
  EXPECT_EQ(forms.tip_lift(kHalfMillimetre_mm), 0.0);
  EXPECT_EQ(forms.tip_lift(30.0), 0.0);
  EXPECT_NEAR(forms.tip_curl_side(0.5 * kHalfMillimetre_mm, -0.5 * kHalf_mm), -0.125, 1e-12);
}

TEST(LayingForms, OnlyTheMiddleSaysWhereTheReedIsHalfAMillimetreThick) {
  EXPECT_EQ(LayingForms(wedge(0.9), outline()).curl_to_mm(), kHalfMillimetre_mm);
}

TEST(LayingForms, HolesAreNotTakenForThinCane) {
  ThicknessMap map = wedge();
  map.thickness_mm.middleRows(15, 10).setConstant(std::numeric_limits<float>::quiet_NaN());
  EXPECT_EQ(LayingForms(map, outline()).curl_to_mm(), map.grid.x_mm(25));
}

TEST(LayingForms, WhereNothingIsThatThickTheCurlReachesTheLastRow) {
  ThicknessMap map = wedge();
  map.thickness_mm.setConstant(0.2F);
  EXPECT_EQ(LayingForms(map, outline()).curl_to_mm(), map.grid.x_mm(135));
}

}  // namespace
}  // namespace canewise
