// What people get wrong with boards, and what they are told.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "scanproc/core/error.h"
#include "tests/support/in_english.h"
#include "tests/support/virtual_calibration.h"

namespace canewise {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::ThrowsMessage;

const fixtures::VirtualRig& rig() {
  static const fixtures::VirtualRig the_rig = fixtures::small_virtual_rig();
  return the_rig;
}

Board markers() { return {BoardKind::charuco, 9, 6, 3.0, 2.16}; }

GreyPicture mirrored(GreyPicture picture) {
  for (std::size_t r = 0; r < picture.rows; ++r) {
    const auto from = picture.values.begin() + static_cast<std::ptrdiff_t>(r * picture.columns);
    std::reverse(from, from + static_cast<std::ptrdiff_t>(picture.columns));
  }
  return picture;
}

GreyPicture turned_half(GreyPicture picture) {
  std::reverse(picture.values.begin(), picture.values.end());
  return picture;
}

std::vector<BoardView> marker_views(const Board& drawn, const Board& said, int count) {
  std::vector<BoardView> views;
  const auto poses = fixtures::careful_poses(rig(), drawn, count, 7);
  for (std::size_t i = 0; i < poses.size(); ++i)
    views.push_back(find_board(fixtures::board_photograph(rig(), drawn, poses[i], i), said, "p" + std::to_string(i)));
  return views;
}

TEST(BadPictures, TooFewBoards) {
  auto views =
      test::photographed(rig(), test::quick_board(), fixtures::careful_poses(rig(), test::quick_board(), 5, 1), 1);
  BoardView nothing =
      find_board(GreyPicture{800, 600, 255, std::vector<std::uint16_t>(480000, 90)}, test::quick_board(), "empty.png");
  views.push_back(nothing);
  EXPECT_THAT(
      [&] { (void)calibrate_camera(views, test::quick_board()); },
      ThrowsMessage<InputError>(AllOf(HasSubstr("only 5 of 6"), HasSubstr("empty.png"), HasSubstr("no board found"))));
}

TEST(BadPictures, AllInOnePose) {
  const auto pose = fixtures::careful_poses(rig(), test::quick_board(), 1, 1).front();
  std::vector<Eigen::Isometry3d> poses(10, pose);
  for (std::size_t i = 0; i < poses.size(); ++i) poses[i].translation().x() += 0.2 * static_cast<double>(i);
  EXPECT_THAT(
      [&] { (void)calibrate_camera(test::photographed(rig(), test::quick_board(), poses, 1), test::quick_board()); },
      ThrowsMessage<InputError>(HasSubstr("one pose")));
}

TEST(BadPictures, AMirroredBoardWithMarkersIsToldFromATurnedOne) {
  const auto pose = fixtures::careful_poses(rig(), markers(), 2, 1)[1];
  const GreyPicture picture = fixtures::board_photograph(rig(), markers(), pose, 1);
  const BoardView straight = find_board(picture, markers(), "a");
  ASSERT_GT(straight.corners.size(), 30U);
  EXPECT_THAT(test::in_english(find_board(mirrored(picture), markers(), "b").refusal), HasSubstr("mirrored"));
  const BoardView turned = find_board(turned_half(picture), markers(), "c");
  ASSERT_EQ(turned.corners, straight.corners) << "half a turn is only another pose: the same corners, by their numbers";
  for (std::size_t i = 0; i < turned.pixels.size(); ++i)
    EXPECT_LT((turned.pixels[i] - (Eigen::Vector2d(799, 599) - straight.pixels[i])).norm(), 0.3);
}

TEST(BadPictures, AChessboardTurnedByHalfATurnKeepsItsCornersNumbers) {
  const auto pose = fixtures::careful_poses(rig(), test::quick_board(), 2, 1)[1];
  const GreyPicture picture = fixtures::board_photograph(rig(), test::quick_board(), pose, 1);
  const BoardView straight = find_board(picture, test::quick_board(), "a"),
                  turned = find_board(turned_half(picture), test::quick_board(), "b");
  ASSERT_EQ(turned.pixels.size(), 40U);
  for (std::size_t i = 0; i < 40; ++i)
    EXPECT_LT((turned.pixels[i] - (Eigen::Vector2d(799, 599) - straight.pixels[i])).norm(), 0.2) << i;
}

TEST(BadPictures, MarkersThatDoNotFitTheirSquaresSayWhatIsInconsistent) {
  Board said = markers();
  said.marker_mm = 1.8;
  EXPECT_THAT([&] { (void)calibrate_camera(marker_views(markers(), said, 8), said); },
              ThrowsMessage<InputError>(AllOf(HasSubstr("do not fit each other"), HasSubstr("0.7"),
                                              HasSubstr("1.8 mm markers on 3 mm squares"))));
}

TEST(BadPictures, AnotherNumberOfSquaresIsCounted) {
  Board said = test::quick_board();
  said.columns = 10, said.rows = 7;
  const auto pose = fixtures::careful_poses(rig(), test::quick_board(), 1, 1).front();
  const BoardView view = find_board(fixtures::board_photograph(rig(), test::quick_board(), pose, 1), said, "a");
  EXPECT_THAT(test::in_english(view.refusal), AllOf(HasSubstr("9 by 6"), HasSubstr("10 by 7")));
  said.columns = 8, said.rows = 6;
  EXPECT_THROW(validate(said), UsageError) << "a board that looks the same turned by half a turn";
}

TEST(BadPictures, OverExposedAndOfAnotherSize) {
  const BoardView white =
      find_board(GreyPicture{800, 600, 255, std::vector<std::uint16_t>(480000, 255)}, markers(), "w");
  EXPECT_THAT(test::in_english(white.refusal), HasSubstr("over-exposed"));
  auto views =
      test::photographed(rig(), test::quick_board(), fixtures::careful_poses(rig(), test::quick_board(), 8, 1), 1);
  views[3].width = 600, views[3].height = 800;
  EXPECT_THAT([&] { (void)calibrate_camera(views, test::quick_board()); },
              ThrowsMessage<InputError>(AllOf(HasSubstr("photograph 4"), HasSubstr("600 by 800"))));
}

TEST(BadPictures, OneBadShotIsLeftOutAndNamed) {
  const Board board = test::quick_board();
  auto views = test::photographed(rig(), board, fixtures::careful_poses(rig(), board, 12, 2), 2);
  // The sheet lifted at one side: corners off by up to three pixels.
  for (std::size_t i = 0; i < views[4].pixels.size(); ++i) views[4].pixels[i].y() += 0.6 * (views[4].corners[i] % 8);
  const CameraCalibration found = calibrate_camera(views, board);
  EXPECT_FALSE(found.views[4].used);
  EXPECT_THAT(test::in_english(found.views[4].advice), HasSubstr("Retake"));
  EXPECT_EQ(std::count_if(found.views.begin(), found.views.end(), [](const ViewVerdict& v) { return v.used; }), 11);
  EXPECT_LT(found.found.rms_px, 0.06);
  EXPECT_LT(found.found.cross_validated_px, 1.4 * found.found.rms_px);
}

class BadPlane : public ::testing::Test {
 protected:
  CalibratedCamera camera{rig().camera, 1e-6 * CameraCovariance::Identity(), 0.03, 0.03};
  std::vector<LineOnBoard> lines = test::lines_on_boards(rig(), 6, 3);
  std::string refusal() {
    try {
      (void)calibrate_laser_plane(camera, lines, test::quick_board());
    } catch (const InputError& error) {
      return error.what();
    }
    return "";
  }
};

TEST_F(BadPlane, DarkAndOverExposedLinePicturesAreNamed) {
  EXPECT_EQ(refusal(), "");
  for (std::size_t i = 0; i < 3; ++i) lines[i].line.values.assign(lines[i].line.values.size(), i == 0 ? 255 : 7);
  EXPECT_THAT(refusal(), AllOf(HasSubstr("only 3 of 6"), HasSubstr("over-exposed"), HasSubstr("Is the laser on")));
}

TEST_F(BadPlane, AllInOnePose) {
  for (auto& line : lines) line = lines.front();
  EXPECT_THAT(refusal(), HasSubstr("one pose"));
}

TEST_F(BadPlane, AnotherCamerasPictures) {
  lines[2].line = GreyPicture{400, 300, 255, std::vector<std::uint16_t>(120000, 7)};
  EXPECT_THAT(refusal(), HasSubstr("800 by 600"));
}

TEST_F(BadPlane, ARefocusedCameraIsNoticed) {
  // Its principal point and distortion changed: boards no longer fit.
  camera.camera.cx += 90.0;
  camera.camera.k1 += 0.5;
  EXPECT_THAT(refusal(), HasSubstr("does not fit the calibrated camera"));
}

TEST(BadStage, ASquareOfAnotherSizeDoesNotFitTheStagesStep) {
  const CalibratedCamera camera{rig().camera, 1e-6 * CameraCovariance::Identity(), 0.03, 0.03};
  auto views = test::along_the_stage(rig(), 6, 1.5, 1);
  // Said to be 2.2 mm where they are 2.0.
  for (auto& view : views) {
    for (auto& b : view.board_mm) b *= 1.1;
  }
  EXPECT_THAT(
      [&] {
        (void)calibrate_stage(camera, {views, 1.5}, std::nullopt);
      },
      ThrowsMessage<InputError>(AllOf(HasSubstr("do not fit each other"), HasSubstr("--square-mm"),
                                      HasSubstr("--step-mm"), HasSubstr("10."))));
}

TEST(BadStage, ABoardThatTurnsOnItsWayIsNoticed) {
  const CalibratedCamera camera{rig().camera, 1e-6 * CameraCovariance::Identity(), 0.03, 0.03};
  std::vector<Eigen::Isometry3d> poses;
  for (int k = 0; k < 6; ++k) poses.push_back(fixtures::board_on_stage(rig(), test::stage_board(), 1.5 * (k - 2.5)));
  poses[4].linear() = poses[4].linear() * Eigen::AngleAxisd(0.03, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  EXPECT_THAT(
      [&] {
        (void)calibrate_stage(camera, {test::photographed(rig(), test::stage_board(), poses, 1), 1.5}, std::nullopt);
      },
      ThrowsMessage<InputError>(HasSubstr("is turned by")));
}

TEST(BadStage, TooFewPhotographs) {
  const CalibratedCamera camera{rig().camera, 1e-6 * CameraCovariance::Identity(), 0.03, 0.03};
  EXPECT_THAT(
      [&] {
        (void)calibrate_stage(camera, {test::along_the_stage(rig(), 3, 1.5, 1), 1.5}, std::nullopt);
      },
      ThrowsMessage<InputError>(HasSubstr("only 3 of 3")));
}

}  // namespace
}  // namespace canewise
