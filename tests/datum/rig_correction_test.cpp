// What a rig is known to do wrong is taken from its scans, and only where it holds.
#include "scanproc/datum/rig_correction.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <vector>

namespace canewise {
namespace {

/// A level plate at height 20 of the scanner, with a block of 3 mm on it.
constexpr double kPlate_mm = 20.0, kBlock_mm = 23.0;
Cloud scan(double lean_deg = 0.0, double lift_mm = 0.0) {
  std::vector<Eigen::Vector3d> points;
  for (double x = 0.0; x <= 40.0; x += 0.25) {
    for (double y = 0.0; y <= 30.0; y += 0.25) {
      const bool on_block = x > 15.0 && x < 25.0 && y > 10.0 && y < 20.0;
      points.emplace_back(x, y, on_block ? kBlock_mm : kPlate_mm);
    }
  }
  Cloud cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(points.size()));
  // Leans about a line along y through the plate's middle.
  const Eigen::Vector3d middle(20.0, 15.0, kPlate_mm);
  const Eigen::Matrix3d lean =
      Eigen::AngleAxisd(lean_deg * std::numbers::pi / 180.0, Eigen::Vector3d::UnitY()).toRotationMatrix();
  for (std::size_t i = 0; i < points.size(); ++i) {
    cloud.points_mm.col(static_cast<Eigen::Index>(i)) =
        middle + lean * (points[i] - middle) + Eigen::Vector3d(0.0, 0.0, lift_mm);
  }
  return cloud;
}

/// The plate's form on a raster of 10 mm: 40 um high at one corner, 8 um deep in between.
Rig with_form() {
  Rig rig;
  PlateForm form;
  form.origin_mm << 0.0, 0.0, kPlate_mm;
  form.step_mm = 10.0;
  form.heights_um = Eigen::ArrayXXd::Zero(4, 5);  // 30 mm of y by 40 mm of x.
  form.heights_um(0, 4) = 40.0;
  form.heights_um(1, 2) = -8.0;
  rig.plate_form = form;
  return rig;
}

/// By how much the point nearest to a place was moved.
Eigen::Vector3d change_at(const Cloud& before, const Cloud& after, double x, double y) {
  Eigen::Index nearest = 0;
  (before.points_mm.topRows<2>().colwise() - Eigen::Vector2d(x, y)).colwise().squaredNorm().minCoeff(&nearest);
  return after.points_mm.col(nearest) - before.points_mm.col(nearest);
}

std::vector<std::string> ids_of(const Messages& notes) {
  std::vector<std::string> ids;
  for (const Message& note : notes) ids.push_back(note.id);
  return ids;
}
using Ids = std::vector<std::string>;

TEST(RigCorrection, ARigWithoutCalibrationChangesNothing) {
  Cloud cloud = scan();
  EXPECT_TRUE(correct_by_rig(cloud, Rig{}).empty());
  EXPECT_EQ(cloud.points_mm, scan().points_mm);
}

TEST(RigCorrection, ThePlatesFormIsTakenOffPlateAndReedAlike) {
  const Cloud before = scan();
  Cloud after = before;
  EXPECT_EQ(ids_of(correct_by_rig(after, with_form())), Ids{"plate.form_taken_off"});
  // Where the plate stands high the points come down: 40 um at the corner, half of it half-way along the edge.
  EXPECT_NEAR(change_at(before, after, 40.0, 0.0).z(), -0.040, 1e-9);
  EXPECT_NEAR(change_at(before, after, 35.0, 0.0).z(), -0.020, 1e-9);
  EXPECT_NEAR(change_at(before, after, 35.0, 5.0).z(), -0.010, 1e-9);  // Half in both directions.
  EXPECT_NEAR(change_at(before, after, 0.0, 30.0).z(), 0.0, 1e-9);
  // On the block, 3 mm up, as on the plate below it: a quarter along from (20, 10) leaves three quarters, half-way up
  // a half.
  EXPECT_NEAR(change_at(before, after, 22.5, 15.0).z(), 0.008 * 0.75 * 0.5, 1e-9);
  EXPECT_LT((after.points_mm - before.points_mm).topRows<2>().cwiseAbs().maxCoeff(), 1e-12);
}

TEST(RigCorrection, AFormHoldsOnlyWithinAMillimetreAndTwoDegreesOfWhereItWasSeen) {
  struct Case {
    double lean_deg, lift_mm;
    bool holds;
  };
  for (const Case& c : {Case{0.0, 0.9, true}, Case{0.0, -0.9, true}, Case{0.0, 1.1, false}, Case{0.0, -1.1, false},
                        Case{1.9, 0.0, true}, Case{-1.9, 0.0, true}, Case{2.1, 0.0, false}, Case{-2.1, 0.0, false}}) {
    const Cloud before = scan(c.lean_deg, c.lift_mm);
    Cloud after = before;
    const Ids expected{c.holds ? "plate.form_taken_off" : "plate.form_elsewhere"};
    EXPECT_EQ(ids_of(correct_by_rig(after, with_form())), expected) << c.lean_deg << ' ' << c.lift_mm;
    EXPECT_EQ(after.points_mm == before.points_mm, !c.holds) << c.lean_deg << ' ' << c.lift_mm;
  }
}

Rig with_scale(double factor, const Eigen::Vector3d& up) {
  Rig rig;
  rig.height_scale = HeightScale{factor, 1e-4, up};
  return rig;
}

TEST(RigCorrection, TheScaleStretchesHeightsAloneWhicheverWayIsUp) {
  for (const double side : {1.0, -1.0}) {
    const Cloud before = scan();
    Cloud after = before;
    EXPECT_TRUE(correct_by_rig(after, with_scale(1.002, side * Eigen::Vector3d::UnitZ())).empty());
    // The block's 3 mm become 3.006, and nothing moves along the plate.
    const double block = after.points_mm.row(2).maxCoeff(), plate = after.points_mm.row(2).minCoeff();
    EXPECT_NEAR(block - plate, 3.006, 1e-9);
    EXPECT_LT((after.points_mm - before.points_mm).topRows<2>().cwiseAbs().maxCoeff(), 1e-12);
  }
}

TEST(RigCorrection, AScaleHoldsOnlyWhereThePlateFacesTheSameWayWithinFiveDegrees) {
  for (const double lean_deg : {4.9, -4.9, 5.1, -5.1}) {
    const bool holds = std::abs(lean_deg) < 5.0;
    const Cloud before = scan(lean_deg);
    Cloud after = before;
    const Ids expected = holds ? Ids{} : Ids{"plate.turned_since_gauge"};
    EXPECT_EQ(ids_of(correct_by_rig(after, with_scale(1.002, Eigen::Vector3d::UnitZ()))), expected) << lean_deg;
    EXPECT_EQ(after.points_mm == before.points_mm, !holds) << lean_deg;
  }
}

TEST(RigCorrection, FormAndScaleAreBothTakenOff) {
  Rig rig = with_form();
  rig.height_scale = HeightScale{1.002, 1e-4, Eigen::Vector3d::UnitZ()};
  const Cloud before = scan();
  Cloud after = before;
  EXPECT_EQ(ids_of(correct_by_rig(after, rig)), Ids{"plate.form_taken_off"});
  EXPECT_NEAR(change_at(before, after, 40.0, 0.0).z(), 1.002 * (kPlate_mm - 0.040) - kPlate_mm, 1e-9);
}

}  // namespace
}  // namespace canewise
