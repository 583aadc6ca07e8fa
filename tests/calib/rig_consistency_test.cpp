// Findings held against what the rig's other parts claim.
#include "calib/rig_consistency.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

Message said(const char* words) { return {"verbatim", {{"text", words}}}; }

using testing::AllOf;
using testing::HasSubstr;

Rig laser_rig() {
  Rig rig;
  rig.scale_parts = {{kGeometryPart, 4e-4}, {"printed board", 1e-3}, {"temperature", 1e-4}};
  rig.obtained["scale of printed board"] = "squares of 3 mm, stated, 2026-11-29";
  combine_scale(rig);
  return rig;
}

TEST(ScaleClaim, IsTheRootOfTheOtherPartsSquares) {
  Rig rig = laser_rig();
  const double u = std::sqrt(4e-4 * 4e-4 + 1e-6 + 1e-8);
  EXPECT_NEAR(scale_claim(rig, "step gauge")->u_rel, u, 1e-12);
  rig.scale_parts["step gauge"] = 2e-3;
  EXPECT_NEAR(scale_claim(rig, "step gauge")->u_rel, u, 1e-12) << "a new gauge is not held against the old one";
  EXPECT_GT(scale_claim(rig, "")->u_rel, 2e-3);
  EXPECT_THAT(phrase(scale_claim(rig, "step gauge")->who), AllOf(HasSubstr("camera"), HasSubstr("printed board")));
}

TEST(ScaleClaim, AssumptionsClaimNothingAndWhatAPersonStatesDoes) {
  EXPECT_FALSE(scale_claim(Rig{}, "step gauge"));
  Rig rig;
  rig.scale_parts = {{"temperature", 1e-4}, {"step gauge", 1e-3}};
  EXPECT_FALSE(scale_claim(rig, "step gauge"));
  Rig stated;
  stated.priors.scale_rel = 3e-4;
  stated.obtained["scale_rel"] = "stated in the rig file";
  EXPECT_EQ(scale_claim(stated, "step gauge")->u_rel, 3e-4);
}

TEST(Contradiction, BeginsBeyondFiveStandardUncertaintiesOfBothTogether) {
  const double both = std::hypot(3e-4, 4e-4);
  for (const double sign : {-1.0, 1.0}) {
    EXPECT_FALSE(contradicts({1.0 + sign * 4.99 * both, 3e-4}, 4e-4));
    EXPECT_TRUE(contradicts({1.0 + sign * 5.01 * both, 3e-4}, 4e-4));
  }
  EXPECT_TRUE(contradicts({std::nan(""), 3e-4}, 4e-4)) << "what is no number agrees with nothing";
}

TEST(Contradiction, NamesBothCandidatesAndWhatEachWouldHaveToBe) {
  const auto claim = scale_claim(laser_rig(), "step gauge");
  hold_against(*claim, {1.003, 5e-4}, said("by the strips, heights come out"), said("the strips' thickness"));
  try {
    hold_against(*claim, {1.25, 5e-4}, said("by the strips, heights come out"), said("the strips' thickness"));
    FAIL() << "25 % were taken";
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(),
                AllOf(HasSubstr("25.00 % too large"), HasSubstr("--square-mm: squares of 3 mm, stated, 2026-11-29"),
                      HasSubstr("0.8 times as large"), HasSubstr("the strips' thickness"),
                      HasSubstr("1.25 times as large"), HasSubstr("Nothing was changed")));
  }
}

TEST(Forgetting, LeavesWhatAPersonStatedAndTakesWhatHungOnTheGeometry) {
  Rig stated;
  stated.priors.scale_rel = 3e-4;
  stated.obtained["scale_rel"] = "stated in the rig file";
  EXPECT_FALSE(forget_geometry(stated));
  EXPECT_EQ(stated.priors.scale_rel, 3e-4);
  Rig rig = laser_rig();
  rig.laser_plane = LaserPlane{}, rig.stage = Stage{};
  rig.height_scale = HeightScale{0.8, 1e-3, Eigen::Vector3d::UnitZ()};
  rig.scale_parts["step gauge"] = 1e-3;
  Rig heights = rig;
  EXPECT_TRUE(forget_heights(heights));
  EXPECT_FALSE(heights.height_scale);
  EXPECT_TRUE(heights.laser_plane && heights.stage);
  EXPECT_FALSE(heights.scale_parts.contains("step gauge"));
  EXPECT_TRUE(heights.scale_parts.contains("printed board"));
  EXPECT_TRUE(forget_geometry(rig));
  EXPECT_FALSE(rig.laser_plane || rig.stage || rig.height_scale);
  EXPECT_EQ(rig.priors.scale_rel, Priors{}.scale_rel);
}

}  // namespace
}  // namespace canewise
