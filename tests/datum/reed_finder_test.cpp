// Tells the reed from what else stands on the plate, and says what is there where it is no reed. Scans are generated in
// the plate's own frame; the truth is the generator's.
#include "scanproc/datum/reed_finder.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <vector>

#include "fixtures/scanner.h"
#include "scanproc/core/error.h"

namespace canewise {
namespace {

using fixtures::SceneContent;

constexpr double kNoise_mm = 0.002;

fixtures::SceneOptions level_scene(SceneContent content) {
  fixtures::SceneOptions scene;
  scene.content = content;
  scene.random_pose = false;
  return scene;
}

Eigen::Matrix3Xd points_of(const fixtures::SceneOptions& scene, const fixtures::Reed& reed = fixtures::Reed({})) {
  fixtures::ScannerModel scanner = fixtures::profilometer();
  scanner.along_mm = scanner.between_mm = 0.125;
  return fixtures::scan_reed(reed, scanner, scene, 1).cloud.points_mm;
}

/// Turned on the plate and moved.
Eigen::Isometry3d laid(double turn_deg) {
  return Eigen::Translation3d(40.0, -70.0, 0.0) *
         Eigen::AngleAxisd(turn_deg * std::numbers::pi / 180.0, Eigen::Vector3d::UnitZ());
}
Eigen::Matrix3Xd moved(const Eigen::Matrix3Xd& points, const Eigen::Isometry3d& pose) {
  Eigen::Matrix3Xd there = pose.linear() * points;
  there.colwise() += pose.translation();
  return there;
}

/// Where a place of the reed's own frame comes to lie in the guess's.
Eigen::Vector3d guessed(const ReedGuess& guess, const Eigen::Isometry3d& pose, double x_mm, double y_mm) {
  return guess.rough_from_plate * (pose * Eigen::Vector3d(x_mm, y_mm, 0.0));
}

TEST(ReedFinder, XRunsFromTipToButtAndYToTheRightHoweverTheReedLies) {
  const Eigen::Matrix3Xd points = points_of(level_scene(SceneContent::one_reed));
  for (const double turn_deg : {0.0, 71.0, 180.0, 253.0}) {
    const Eigen::Isometry3d pose = laid(turn_deg);
    const ReedGuess guess = find_reed(moved(points, pose), kNoise_mm, Beside::plate);
    // What is less than a quarter of a millimetre high is not told from the plate yet: 2.6 mm of this reed's tip.
    EXPECT_NEAR(guessed(guess, pose, 0.0, 0.0).x(), -2.7, 0.9) << turn_deg;
    EXPECT_NEAR(guessed(guess, pose, 68.0, 0.0).x(), guess.length_mm, 0.8) << turn_deg;
    EXPECT_NEAR(guessed(guess, pose, 0.0, 0.0).y(), 0.0, 0.5) << turn_deg;
    EXPECT_NEAR(guessed(guess, pose, 68.0, 0.0).y(), 0.0, 0.5) << turn_deg;
    EXPECT_NEAR(guessed(guess, pose, 34.0, 6.0).y(), 6.0, 0.5) << turn_deg << ": right stays right";
    EXPECT_NEAR(guess.width_mm, 13.0, 1.1) << "less up to a cell on each side";
    EXPECT_NEAR(guess.length_mm, 65.2, 1.0);
    EXPECT_TRUE(guess.notes.empty());
  }
}

TEST(ReedFinder, ClutterIsCountedAndLeftOut) {
  // A disc to the right of the tip and a bar to the left of the butt.
  const auto points = points_of(level_scene(SceneContent::reed_and_clutter));
  const ReedGuess guess = find_reed(points, kNoise_mm, Beside::plate);
  EXPECT_NEAR(guess.width_mm, 13.0, 1.1);
  ASSERT_EQ(guess.notes.size(), 1U);
  EXPECT_EQ(guess.notes[0].id, "scan.clutter");
  EXPECT_EQ(guess.notes[0].arguments.at("things"), count(2));
}

TEST(ReedFinder, AReedInTheAirIsFoundWithItsThinTip) {
  const ReedGuess guess = find_reed(points_of(level_scene(SceneContent::on_carrier)), kNoise_mm, Beside::nothing);
  EXPECT_NEAR((guess.rough_from_plate * Eigen::Vector3d::Zero()).x(), 0.0, 1.0);
  EXPECT_NEAR(guess.length_mm, 68.0, 1.0);
}

Message refusal(const Eigen::Matrix3Xd& points, double noise_mm = kNoise_mm) {
  try {
    (void)find_reed(points, noise_mm, Beside::plate);
  } catch (const NotMeasurable& error) {
    return error.message();
  }
  ADD_FAILURE() << "was taken for a reed";
  return {};
}

TEST(ReedFinder, SaysWhatIsThereInstead) {
  EXPECT_EQ(refusal(points_of(level_scene(SceneContent::plate_only))).id, "reed.none");
  EXPECT_EQ(refusal(points_of(level_scene(SceneContent::coin))).id, "reed.round");
  EXPECT_EQ(refusal(points_of(level_scene(SceneContent::upside_down))).id, "reed.upside_down");
  const Message two = refusal(points_of(level_scene(SceneContent::two_reeds)));
  EXPECT_EQ(two.id, "reed.several");
  EXPECT_EQ(two.arguments.at("reeds"), count(2));
}

TEST(ReedFinder, SaysWhichEndOfHalfAReedIsMissing) {
  const Message tip_half = refusal(points_of(level_scene(SceneContent::tip_half)));
  EXPECT_EQ(tip_half.id, "reed.half");
  EXPECT_EQ(tip_half.arguments.at("missing"), word("butt"));
  const Message butt_half = refusal(points_of(level_scene(SceneContent::butt_half)));
  EXPECT_EQ(butt_half.id, "reed.half");
  EXPECT_EQ(butt_half.arguments.at("missing"), word("tip"));
}

TEST(ReedFinder, BlamesAScatterThatHidesAnyReedAndAViewThatHoldsAWorkshop) {
  EXPECT_EQ(refusal(points_of(level_scene(SceneContent::plate_only)), 0.1).id, "scan.hopeless_noise");
  // In a wrong unit the same scan is a thousand times as large.
  const Eigen::Matrix3Xd points = points_of(level_scene(SceneContent::one_reed));
  EXPECT_EQ(refusal(1000.0 * points).id, "scan.large");
  EXPECT_EQ(refusal(1e9 * points).id, "scan.huge");
}

TEST(ReedFinder, SeveralReedsComeFromLeftToRightAsSeenWithTheFirstTipUp) {
  // Beside the reed of 68 mm, to its right, one of 62 mm and then one of 72 mm.
  fixtures::SceneOptions scene = level_scene(SceneContent::one_reed);
  fixtures::ReedShape shorter, longer;
  shorter.length_mm = 62.0;
  longer.length_mm = 72.0;
  scene.neighbours = {fixtures::Reed(shorter), fixtures::Reed(longer)};
  const Eigen::Matrix3Xd tray = points_of(scene);
  for (const double turn_deg : {0.0, 128.0, 180.0}) {
    const auto reeds = find_reeds(moved(tray, laid(turn_deg)), kNoise_mm);
    ASSERT_EQ(reeds.size(), 3U) << turn_deg;
    EXPECT_GT(reeds[0].length_mm - reeds[1].length_mm, 4.5) << turn_deg;
    EXPECT_LT(reeds[0].length_mm - reeds[1].length_mm, 7.5) << turn_deg;
    EXPECT_GT(reeds[2].length_mm - reeds[1].length_mm, 8.5) << turn_deg;
    EXPECT_LT(reeds[2].length_mm - reeds[1].length_mm, 11.5) << turn_deg;
    // Each guess is its own reed's: 20 mm apart (13 mm of width and 7 mm between).
    const Eigen::Vector3d from_first =
        reeds[0].rough_from_plate * reeds[2].rough_from_plate.inverse() * Eigen::Vector3d::Zero();
    EXPECT_NEAR(from_first.y(), 40.0, 1.0) << turn_deg;
  }
  EXPECT_THROW((void)find_reeds(points_of(level_scene(SceneContent::plate_only)), kNoise_mm), NotMeasurable);
}

}  // namespace
}  // namespace canewise
