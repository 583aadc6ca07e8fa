#include "scanproc/mechanics/reed_plate.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/error.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

constexpr double kSpacing_mm = 2.0;

/// Leans to both axes; the right is thicker.
double leaning_mm(double x, double y) { return 0.4 + 0.05 * x + 0.01 * y; }

ReedPlate plate_of(const test::ReedByHand& reed, double clip_mm = 0.0) {
  return reed_plate({.map = reed.map,
                     .outline = reed.outline,
                     .bark = reed.assessment.cut.bark,
                     .mouthpiece = {},
                     .cane = {.e_l_mpa = 9123.0}},
                    {kSpacing_mm, clip_mm});
}
std::string refusal_of(const test::ReedByHand& reed) {
  try {
    (void)plate_of(reed);
  } catch (const NotMeasurable& error) {
    return error.message().id;
  }
  return {};
}
void blind(test::ReedByHand& reed, double from_mm, double to_mm) {
  for (Eigen::Index r = 0; r < reed.map.grid.rows; ++r) {
    if (const double x = reed.map.grid.x_mm(r); x > from_mm && x < to_mm)
      reed.map.thickness_mm.row(r).setConstant(std::numeric_limits<float>::quiet_NaN());
  }
}

TEST(ReedPlate, ThicknessThatLeansEvenlyIsTakenOverAsItIs) {
  for (const double clip : {0.0, 0.4}) {
    const ReedPlate plate = plate_of(test::reed_by_hand(leaning_mm), clip);
    const Eigen::Matrix2Xd points = plate.model.mesh.thickness_points_mm();
    ASSERT_EQ(plate.model.thickness_mm.size(), points.cols());
    for (Eigen::Index p = 0; p < points.cols(); ++p) {
      const double x = points(0, p), y = points(1, p);
      // Beyond the last cells' middles the fit's damping is felt, by a quarter of a micrometre at the corners.
      const bool inside = x > 1.0 && std::abs(y) < 5.0;
      EXPECT_NEAR(plate.model.thickness_mm(p), leaning_mm(x, y), inside ? 1e-6 : 3e-4) << x << ' ' << y;
    }
    EXPECT_EQ(plate.model.cane.e_l_mpa, 9123.0);
    EXPECT_EQ(plate.shallow_share, 0.0);
  }
}

TEST(ReedPlate, ItReachesFromTheTipToTheLigatureAndBothMoveBackWithAClip) {
  for (const double clip : {0.0, 0.4}) {
    const ReedPlate plate = plate_of(test::reed_by_hand(leaning_mm), clip);
    const Eigen::Matrix2Xd& nodes = plate.model.mesh.nodes_mm;
    EXPECT_EQ(plate.tip_x_mm, clip);
    EXPECT_NEAR(nodes.row(0).minCoeff(), clip, 1e-9);
    EXPECT_NEAR(nodes.row(0).maxCoeff(), 38.0 + clip, 1e-9);
    EXPECT_NEAR(nodes.row(1).minCoeff(), -6.0, 1e-9);
    EXPECT_NEAR(nodes.row(1).maxCoeff(), 6.0, 1e-9);
    int clamped = 0, supported = 0;
    for (Eigen::Index n = 0; n < nodes.cols(); ++n) {
      const auto first = static_cast<std::size_t>(3 * n);
      const auto flag = [&](std::size_t k) { return plate.model.fixed.at(first + k) != 0; };
      const double x = nodes(0, n) - clip;
      const bool end = x > 38.0 - 1e-6, edge = std::abs(x - 32.0) < 1e-6;
      EXPECT_EQ(flag(0), end || edge) << x;
      EXPECT_EQ(flag(1), end) << "over the table's edge the reed is free to tilt along, at " << x;
      EXPECT_EQ(flag(2), end || edge) << "a straight edge keeps it straight across, at " << x;
      clamped += end, supported += edge;
    }
    EXPECT_GE(clamped, 7);  // Twelve millimetres in pieces of two.
    EXPECT_GE(supported, 7);
  }
}

TEST(ReedPlate, ADerivativeByCellsIsThatByPointsHandedOn) {
  const test::ReedByHand reed = test::reed_by_hand(leaning_mm);
  const ReedPlate plate = plate_of(reed);
  const Field& before = reed.map.thickness_mm;
  Field after = before;
  for (Eigen::Index i = 0; i < after.size(); ++i)
    after.data()[i] += static_cast<float>(0.004 * std::sin(0.013 * static_cast<double>(i)));
  const Eigen::VectorXd by_points = Eigen::VectorXd::NullaryExpr(
      plate.model.thickness_mm.size(), [](Eigen::Index p) { return std::cos(0.37 * static_cast<double>(p)); });
  const double change = by_points.dot(plate.thickness_from(after) - plate.thickness_from(before));
  const Field by_cells = plate.by_cells(by_points);
  double told = 0.0;
  for (Eigen::Index i = 0; i < after.size(); ++i)
    told += static_cast<double>(by_cells.data()[i]) * static_cast<double>(after.data()[i] - before.data()[i]);
  ASSERT_GT(std::abs(change), 1e-3) << "or this test shows nothing";
  EXPECT_NEAR(told, change, 1e-5 * std::abs(change) + 1e-7);  // Cells are single precision.
}

TEST(ReedPlate, LeftIsMinusOneAndRightOneBeyondASeamOfAQuarterOfTheHalfWidth) {
  const ReedPlate plate = plate_of(test::reed_by_hand(leaning_mm));
  const Eigen::Matrix2Xd points = plate.model.mesh.thickness_points_mm();
  for (Eigen::Index p = 0; p < points.cols(); ++p) {
    const double y = points(1, p);
    const double expected = y < -1.5 ? -1.0 : y > 1.5 ? 1.0 : y / 1.5;
    EXPECT_NEAR(plate.model.side(p), expected, 1e-9) << y;
  }
}

TEST(ReedPlate, TheBarkIsNeverLowerThanTheCaneAndUnknownWhereTheScanDoesNotShowIt) {
  test::ReedByHand reed = test::reed_by_hand(leaning_mm);
  reed.assessment.cut.bark.height_mm.value = 1.4;  // The cane is that high 20 mm from the tip.
  const ReedPlate plate = plate_of(reed);
  const Eigen::Matrix2Xd points = plate.model.mesh.thickness_points_mm();
  ASSERT_EQ(plate.model.bark_mm.size(), points.cols());
  for (Eigen::Index p = 0; p < points.cols(); ++p)
    EXPECT_NEAR(plate.model.bark_mm(p), std::max(1.4, leaning_mm(points(0, p), points(1, p))), 4e-4);
  reed.assessment.cut.bark.height_mm.value = std::nan("");
  EXPECT_EQ(plate_of(reed).model.bark_mm.size(), 0);
}

TEST(ReedPlate, ASmallHoleIsBridgedAndALargeOneIsSaidWithItsPlace) {
  test::ReedByHand reed = test::reed_by_hand(leaning_mm);
  blind(reed, 15.0, 16.0);
  const ReedPlate plate = plate_of(reed);
  const Eigen::Matrix2Xd points = plate.model.mesh.thickness_points_mm();
  for (Eigen::Index p = 0; p < points.cols(); ++p)
    EXPECT_NEAR(plate.model.thickness_mm(p), leaning_mm(points(0, p), points(1, p)), 1e-3) << points(0, p);
  blind(reed, 15.0, 22.0);
  try {
    (void)plate_of(reed);
    FAIL() << "seven millimetres";
  } catch (const NotMeasurable& error) {
    EXPECT_EQ(error.message().id, "bending.hole");
    const auto place = std::get<Length>(error.message().arguments.at("from_tip"));
    EXPECT_EQ(place.unit, Length::Unit::mm);
    EXPECT_GT(place.value, 15.0);
    EXPECT_LT(place.value, 22.0);
  }
}

TEST(ReedPlate, NothingIsThinnerThanCaneCanBe) {
  const test::ReedByHand reed = test::reed_by_hand(leaning_mm);
  const ReedPlate plate = plate_of(reed);
  const Field nothing = Field::Constant(reed.map.grid.rows, reed.map.grid.columns, 0.001F);
  EXPECT_EQ(plate.thickness_from(nothing).minCoeff(), kThinnestPlate_mm);
  EXPECT_EQ(plate.thickness_from(nothing).maxCoeff(), kThinnestPlate_mm);
}

TEST(ReedPlate, AScanWithoutThicknessAtTheTipIsRefused) {
  const auto wedge_from = [](double thinnest_mm) {
    return test::reed_by_hand([=](double x, double) { return thinnest_mm + 0.05 * std::max(0.0, x - 3.0); });
  };
  EXPECT_EQ(refusal_of(wedge_from(0.01)), "bending.no_tip");
  EXPECT_EQ(refusal_of(wedge_from(0.04)), "");
}

}  // namespace
}  // namespace canewise
