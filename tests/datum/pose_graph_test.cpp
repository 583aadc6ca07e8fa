// Passes that are linked in more than one way: the places that satisfy the links best. The function lives in the part
// that is loaded when passes are joined.
#include "scanproc/datum/pose_graph.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <utility>

#include "scanproc/datum/joining_part.h"

namespace canewise {
namespace {

PlaceCovariance uncertain(double shift_mm, double turn_rad) {
  PlaceCovariance covariance = PlaceCovariance::Zero();
  covariance.diagonal() << Eigen::Vector3d::Constant(shift_mm * shift_mm),
      Eigen::Vector3d::Constant(turn_rad * turn_rad);
  return covariance;
}

Eigen::Isometry3d place(double turn_rad, const Eigen::Vector3d& shift_mm) {
  return Eigen::Translation3d(shift_mm) * Eigen::AngleAxisd(turn_rad, Eigen::Vector3d::UnitZ());
}

double turn_of(const Eigen::Isometry3d& motion) { return std::atan2(motion.linear()(1, 0), motion.linear()(0, 0)); }

TEST(PoseGraph, AChainOfLinksIsFollowedFromTheFirstPass) {
  const Eigen::Isometry3d first_step = place(0.6, {12.0, -5.0, 0.0}), second_step = place(-1.1, {-4.0, 9.0, 0.3});
  // The last start is a little off; no link backs it.
  const auto evened = joining_part().even_out(
      {Eigen::Isometry3d::Identity(), first_step, Eigen::Translation3d(0.05, -0.02, 0.01) * first_step * second_step},
      {{0, 1, first_step, uncertain(0.01, 1e-3)}, {1, 2, second_step, uncertain(0.01, 1e-3)}});
  ASSERT_EQ(evened.size(), 3U);
  EXPECT_LT((evened[0].matrix() - Eigen::Matrix4d::Identity()).norm(), 1e-9) << "the first pass stays where it is";
  EXPECT_LT((evened[1].matrix() - first_step.matrix()).norm(), 1e-4);
  EXPECT_LT((evened[2].matrix() - (first_step * second_step).matrix()).norm(), 1e-4);
}

/// Two passes with two links that disagree.
Eigen::Isometry3d between(const PoseLink& one, const PoseLink& other) {
  const auto evened = joining_part().even_out({Eigen::Isometry3d::Identity(), one.first_from_second}, {one, other});
  EXPECT_EQ(evened.size(), 2U);
  return evened.back();
}

TEST(PoseGraph, LinksCountByTheInverseOfTheirVariance) {
  // The weighted mean: 0.00 mm to 10 um and 0.03 mm to 20 um make (4 * 0.00 + 1 * 0.03) / 5 = 0.006 mm.
  const Eigen::Isometry3d found = between({0, 1, place(0.0, {0.0, 0.0, 0.0}), uncertain(0.010, 1e-3)},
                                          {0, 1, place(0.0, {0.03, -0.01, 0.0}), uncertain(0.020, 2e-3)});
  EXPECT_NEAR(found.translation().x(), 0.006, 1e-4);
  EXPECT_NEAR(found.translation().y(), -0.002, 1e-4);
}

TEST(PoseGraph, ShiftAndTurnEachComeFromTheLinkThatKnowsThem) {
  // One link is sure of the shift, the other of the turn, and along y it is the other way round.
  PlaceCovariance knows_shift = uncertain(0.005, 5e-3), knows_turn = uncertain(0.050, 5e-4);
  std::swap(knows_shift(1, 1), knows_turn(1, 1));
  const Eigen::Isometry3d found =
      between({0, 1, place(0.0, {0.0, 0.0, 0.0}), knows_shift}, {0, 1, place(4e-3, {0.04, 0.04, 0.0}), knows_turn});
  // Weights of 100 to 1 leave a hundredth of the other link's word.
  EXPECT_NEAR(found.translation().x(), 0.04 / 101.0, 2e-4);
  EXPECT_NEAR(found.translation().y(), 0.04 * 100.0 / 101.0, 2e-4);
  EXPECT_NEAR(turn_of(found), 4e-3 * 100.0 / 101.0, 2e-5);
}

}  // namespace
}  // namespace canewise
