// The effects that move many cells together: what each does to a cell, by hand, and which of them a datum mode has.
#include "scanproc/thickness/components.h"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string>

#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kLength_mm = 68.0, kHalf_mm = 6.5, kSlopeX = 0.04, kSlopeY = -0.03;

/// A place of the map; the middle of a cell of half a millimetre.
struct At {
  double x_mm, y_mm;
  [[nodiscard]] Eigen::Index row() const { return static_cast<Eigen::Index>(x_mm / 0.5); }
  [[nodiscard]] Eigen::Index column() const { return static_cast<Eigen::Index>((y_mm + kHalf_mm) / 0.5); }
};
constexpr At kTip{0.25, 2.75}, kVamp{16.75, 4.25}, kStock{60.25, -5.75};
constexpr At kNotSeen{30.25, 0.25};

double thickness_mm(double x_mm) { return 0.5001 + kSlopeX * (x_mm - 10.25); }  // Half a millimetre at 10.25 mm.

ThicknessMap wedge() {
  ThicknessMap map;
  map.grid = {0.5, 136, 26};
  map.thickness_mm.resize(136, 26);
  for (Eigen::Index r = 0; r < 136; ++r)
    map.thickness_mm.row(r).setConstant(static_cast<float>(thickness_mm(map.grid.x_mm(r))));
  map.thickness_mm(kNotSeen.row(), kNotSeen.column()) = std::numeric_limits<float>::quiet_NaN();
  map.slope_x = Field::Constant(136, 26, static_cast<float>(kSlopeX));
  map.slope_y = Field::Constant(136, 26, static_cast<float>(kSlopeY));
  return map;
}

Aligned aligned(DatumMode mode) {
  Aligned a;
  a.datum = mode;
  a.outline.left.offset_mm = -kHalf_mm;
  a.outline.right.offset_mm = kHalf_mm;
  a.outline.length_mm = kLength_mm;
  for (const double x : {-6.0, 74.0}) {
    for (const double y : {-10.0, 10.0}) a.plate_blocks.push_back({x, y, 16.0});
  }
  return a;
}

/// No two alike.
Priors priors() {
  Priors p;
  p.seating_offset_um = 1.1;
  p.seating_roll_um = 1.3;
  p.seating_pitch_um = 3.1;
  p.table_bow_um = 7.0;
  p.table_cup_um = 2.3;
  p.table_twist_um = 1.7;
  p.tip_lift_um = 30.0;
  p.tip_curl_side_um = 6.0;
  p.scale_rel = 5e-4;
  p.plate_form_um = 2.0;
  p.penetration_um = 3.0;
  p.pose_bending_um = 2.5;
  return p;
}

Priors nothing() {
  Priors p;
  for (const PriorKey& key : kPriorKeys) p.*key.member = 0.0;
  return p;
}

/// Shift of a cell in micrometres; NaN where there is no such effect.
double shift_um(const std::vector<CommonEffect>& effects, EffectSource source, const char* form, const At& at) {
  const Message name{"effect.form", {{"form", word(form)}}};
  for (const CommonEffect& effect : effects) {
    if (effect.source == source && effect.name == name)
      return 1e3 * static_cast<double>(effect.shift_mm(at.row(), at.column()));
  }
  return std::nan("");
}

/// Covariance of two cells' thickness by the effects of one source, square micrometres.
double covariance_um2(const std::vector<CommonEffect>& effects, EffectSource source, const At& a, const At& b) {
  double sum = 0.0;
  for (const CommonEffect& effect : effects) {
    if (effect.source != source) continue;
    sum += 1e6 * static_cast<double>(effect.shift_mm(a.row(), a.column())) *
           static_cast<double>(effect.shift_mm(b.row(), b.column()));
  }
  return sum;
}

std::set<EffectSource> sources_of(const std::vector<CommonEffect>& effects) {
  std::set<EffectSource> sources;
  for (const CommonEffect& effect : effects) sources.insert(effect.source);
  return sources;
}

constexpr double kSmall_um = 1e-4;  // Single precision.

TEST(Components, SeatingLiftsRollsAndPitchesTheReed) {
  const auto effects = common_effects(wedge(), aligned(DatumMode::plate), priors());
  for (const At& at : {kTip, kVamp, kStock}) {
    EXPECT_NEAR(shift_um(effects, EffectSource::seating, "height", at), 1.1, kSmall_um);
    // Rise of the right side's edge.
    EXPECT_NEAR(shift_um(effects, EffectSource::seating, "roll", at), 1.3 * at.y_mm / kHalf_mm, kSmall_um);
    // Rise of the tip about three quarters of the length.
    EXPECT_NEAR(shift_um(effects, EffectSource::seating, "pitch", at), 3.1 * (51.0 - at.x_mm) / 51.0, kSmall_um);
  }
}

TEST(Components, TheTablesFormsAreParabolasAndATwist) {
  const auto effects = common_effects(wedge(), aligned(DatumMode::plate), priors());
  for (const At& at : {kTip, kVamp, kStock}) {
    // x (L - x) / (L / 2)^2 is 0 at both ends and 1 at mid-length.
    EXPECT_NEAR(shift_um(effects, EffectSource::table_form, "bow", at), 7.0 * at.x_mm * (68.0 - at.x_mm) / 1156.0,
                kSmall_um);
    EXPECT_NEAR(shift_um(effects, EffectSource::table_form, "cup", at), 2.3 * (6.5 - at.y_mm) * (6.5 + at.y_mm) / 42.25,
                kSmall_um);
    EXPECT_NEAR(shift_um(effects, EffectSource::table_form, "twist", at), 1.7 * (at.x_mm - 34.0) / 34.0 * at.y_mm / 6.5,
                kSmall_um);
  }
}

TEST(Components, TheTipsCurlFallsToNothingWhereTheReedIsHalfAMillimetreThick) {
  const auto effects = common_effects(wedge(), aligned(DatumMode::plate), priors());
  const double at_tip = square(1.0 - 0.25 / 10.25);
  EXPECT_NEAR(shift_um(effects, EffectSource::tip_lift, "lift", kTip), 30.0 * at_tip, kSmall_um);
  EXPECT_NEAR(shift_um(effects, EffectSource::tip_lift, "lift", {5.25, -3.25}), 30.0 * square(5.0 / 10.25), kSmall_um);
  EXPECT_EQ(shift_um(effects, EffectSource::tip_lift, "lift", {10.75, 0.75}), 0.0);
  EXPECT_NEAR(shift_um(effects, EffectSource::tip_lift, "one-sided curl", kTip), 6.0 * at_tip * 2.75 / 6.5, kSmall_um);
  EXPECT_EQ(shift_um(effects, EffectSource::tip_lift, "one-sided curl", kStock), 0.0);
}

TEST(Components, LightEntersOnceFromAboveAndTwiceWhereBothSidesAreSeen) {
  for (const DatumMode mode : {DatumMode::plate, DatumMode::pads, DatumMode::two_sided}) {
    const auto effects = common_effects(wedge(), aligned(mode), priors());
    // The same cane: both depths err together, so they add up and not their squares.
    EXPECT_NEAR(shift_um(effects, EffectSource::penetration, "depth", kVamp), mode == DatumMode::two_sided ? 6.0 : 3.0,
                kSmall_um)
        << name_of(mode);
  }
}

TEST(Components, EveryModeHasItsOwn) {
  Priors all = priors();
  const auto of = [&](DatumMode mode) {
    Aligned a = aligned(mode);
    a.uncertainty.x_mm = 0.01;
    a.uncertainty.plate_plane.diagonal().setConstant(1e-8);
    a.height_step_u_mm = 0.001;
    return sources_of(common_effects(wedge(), a, all));
  };
  const std::set<EffectSource> from_above{EffectSource::seating,     EffectSource::table_form,  EffectSource::tip_lift,
                                          EffectSource::rig_scale,   EffectSource::penetration, EffectSource::frame,
                                          EffectSource::plate_plane, EffectSource::depth_steps};
  EXPECT_EQ(of(DatumMode::pads), from_above) << "a jig has no plate whose form could count";
  std::set<EffectSource> on_plate = from_above;
  on_plate.insert(EffectSource::plate_form);
  EXPECT_EQ(of(DatumMode::plate), on_plate);
  // Nothing lies between table and plate, and a curled tip is as thick as it is; the two poses may bend the reed.
  EXPECT_EQ(of(DatumMode::two_sided),
            (std::set<EffectSource>{EffectSource::pose_bending, EffectSource::rig_scale, EffectSource::penetration,
                                    EffectSource::registration, EffectSource::depth_steps, EffectSource::frame}));
  all = nothing();
  EXPECT_EQ(sources_of(common_effects(wedge(), aligned(DatumMode::plate), all)),
            std::set<EffectSource>{EffectSource::plate_plane})
      << "what has no size is no effect";
}

TEST(Components, BendingBetweenThePosesIsABow) {
  const auto effects = common_effects(wedge(), aligned(DatumMode::two_sided), priors());
  EXPECT_NEAR(shift_um(effects, EffectSource::pose_bending, "bow", kVamp), 2.5 * 16.75 * 51.25 / 1156.0, kSmall_um);
}

TEST(Components, ATooLongRigMovesCellsOutwardsToo) {
  // dh = s (h - x dh/dx - y dh/dy).
  const auto effects = common_effects(wedge(), aligned(DatumMode::pads), priors());
  for (const At& at : {kTip, kVamp, kStock}) {
    const double expected = 0.5 * (thickness_mm(at.x_mm) - kSlopeX * at.x_mm - kSlopeY * at.y_mm);
    EXPECT_NEAR(shift_um(effects, EffectSource::rig_scale, "scale", at), expected, 3.0 * kSmall_um);
  }
}

TEST(Components, StepsOfTheDepthDifferFromPlaceToPlaceAndFromSideToSide) {
  Aligned a = aligned(DatumMode::pads);
  a.height_step_u_mm = 0.002;
  const auto effects = common_effects(wedge(), a, nothing());
  EXPECT_NEAR(shift_um(effects, EffectSource::depth_steps, "height", kVamp), 2.0 * std::sqrt(2.0), kSmall_um);
  EXPECT_NEAR(shift_um(effects, EffectSource::depth_steps, "side to side", kStock), 2.0 * -5.75 / 6.5, kSmall_um);
}

TEST(Components, TheFrameReadsTheSurfaceAtTheWrongPlace) {
  Aligned a = aligned(DatumMode::pads);
  a.uncertainty.x_mm = 0.020;
  a.uncertainty.y_mm = 0.010;
  a.uncertainty.yaw_rad = 5e-4;
  a.uncertainty.pivot_x_mm = 40.0;
  const auto effects = common_effects(wedge(), a, nothing());
  EXPECT_NEAR(shift_um(effects, EffectSource::frame, "tip along", kVamp), 20.0 * kSlopeX, kSmall_um);
  EXPECT_NEAR(shift_um(effects, EffectSource::frame, "centreline across", kVamp), 10.0 * kSlopeY, kSmall_um);
  // Turned about (40, 0): what lies (x - 40) from the pivot moves that much across, and y back along.
  EXPECT_NEAR(shift_um(effects, EffectSource::frame, "turn", kStock), 0.5 * (20.25 * kSlopeY + 5.75 * kSlopeX),
              kSmall_um);
}

/// A covariance of height (mm) and slopes with all entries.
Eigen::Matrix3d plane_covariance() {
  Eigen::Matrix3d root;
  root << 2e-3, 0.0, 0.0, -6e-5, 4e-5, 0.0, 3e-5, 1e-5, 8e-5;
  return root * root.transpose();
}

TEST(Components, ThePlanesCovarianceArrivesWholeAtEveryCell) {
  for (const DatumMode mode : {DatumMode::plate, DatumMode::pads, DatumMode::two_sided}) {
    Aligned a = aligned(mode);
    a.uncertainty.plate_plane = plane_covariance();
    const auto effects = common_effects(wedge(), a, nothing());
    const EffectSource source = mode == DatumMode::two_sided ? EffectSource::registration : EffectSource::plate_plane;
    for (const At& p : {kTip, kVamp, kStock}) {
      for (const At& q : {kTip, kStock}) {
        const double expected =
            1e6 * Eigen::Vector3d(1.0, p.x_mm, p.y_mm).dot(plane_covariance() * Eigen::Vector3d(1.0, q.x_mm, q.y_mm));
        EXPECT_NEAR(covariance_um2(effects, source, p, q), expected, 1e-5 * std::abs(expected) + 1e-4);
      }
    }
  }
}

TEST(Components, PassesThatLieWrongMoveTheirMeanByHalf) {
  Eigen::Matrix<double, 6, 6> root = Eigen::Matrix<double, 6, 6>::Zero();
  root.diagonal() << 0.02, 0.01, 0.002, 1e-4, 5e-5, 3e-4;
  root(2, 0) = 0.001, root(4, 1) = -2e-5, root(5, 1) = 1e-4;
  Registration registration;
  registration.covariance = root * root.transpose();
  for (const DatumMode mode : {DatumMode::plate, DatumMode::two_sided}) {
    Aligned a = aligned(mode);
    a.registration = registration;
    const auto effects = common_effects(wedge(), a, nothing());
    for (const At& p : {kTip, kVamp, kStock}) {
      // A pass moved by t and turned by w shows at (x, y): t_z + w_x y - w_y x, less what the surface's slopes make of
      // t_x - w_z y and t_y + w_z x.
      Eigen::Matrix<double, 6, 1> slope;
      slope << -kSlopeX, -kSlopeY, 1.0, p.y_mm, -p.x_mm, kSlopeX * p.y_mm - kSlopeY * p.x_mm;
      const double half_of_it = 1e6 * 0.25 * slope.dot(registration.covariance * slope);
      // From both sides the tie is the plane's covariance already; there is no second pass over the top.
      EXPECT_NEAR(covariance_um2(effects, EffectSource::registration, p, p),
                  mode == DatumMode::plate ? half_of_it : 0.0, 1e-5 * half_of_it + 1e-4);
    }
  }
}

TEST(Components, AFormOfThePlateTiltsAndLiftsItsPlane) {
  // Plate was seen at four places, 40 mm before and behind the middle and 10 mm to each side; 30 mm are 1. The bow
  // along is 16/9 at all four, the bow across 1/9: their plane is level, that high, and the reed reads thinner. The
  // twist is
  // +-4/9 in turn: no plane follows it.
  const auto effects = common_effects(wedge(), aligned(DatumMode::plate), priors());
  for (const At& at : {kTip, kVamp, kStock}) {
    EXPECT_NEAR(shift_um(effects, EffectSource::plate_form, "bow along", at), -2.0 * 16.0 / 9.0, kSmall_um);
    EXPECT_NEAR(shift_um(effects, EffectSource::plate_form, "bow across", at), -2.0 / 9.0, kSmall_um);
    EXPECT_NEAR(shift_um(effects, EffectSource::plate_form, "twist", at), 0.0, kSmall_um);
  }
  for (const CommonEffect& effect : effects) EXPECT_FALSE(effect.of_this_scan);
}

TEST(Components, AFormThatTheScanShowsBeyondThePriorIsItsOwnAndMayBendTheReedToo) {
  Aligned a = aligned(DatumMode::plate);
  a.slow.form_mm = {0.009, 0.003, 0.001};  // More than twice the prior of 2 um, once, and less.
  const auto effects = common_effects(wedge(), a, priors());
  std::vector<double> along_um, across_um, twist_um;
  for (const CommonEffect& effect : effects) {
    if (effect.source != EffectSource::plate_form) continue;
    for (const auto& [form, list] :
         {std::pair{"bow along", &along_um}, {"bow across", &across_um}, {"twist", &twist_um}}) {
      if (effect.name != Message{"effect.form", {{"form", word(form)}}}) continue;
      list->push_back(1e3 * static_cast<double>(effect.shift_mm(kStock.row(), kStock.column())));
      EXPECT_EQ(effect.of_this_scan, form != std::string("twist")) << form;
    }
  }
  // Either the plate is bent and its plane misleads, or the scanner bends the reed as well: u = 26.25/30 at the stock.
  ASSERT_EQ(along_um.size(), 2U);
  EXPECT_NEAR(along_um[0], -9.0 * 16.0 / 9.0, kSmall_um);
  EXPECT_NEAR(along_um[1], 9.0 * (square(26.25 / 30.0) - 16.0 / 9.0), kSmall_um);
  ASSERT_EQ(across_um.size(), 1U);
  EXPECT_NEAR(across_um[0], -3.0 / 9.0, kSmall_um);
  ASSERT_EQ(twist_um.size(), 1U);
}

TEST(Components, ACellThatWasNotMeasuredHasNoShift) {
  Aligned a = aligned(DatumMode::plate);
  a.uncertainty.x_mm = 0.01;
  a.uncertainty.plate_plane = plane_covariance();
  for (const CommonEffect& effect : common_effects(wedge(), a, priors())) {
    EXPECT_TRUE(std::isnan(effect.shift_mm(kNotSeen.row(), kNotSeen.column())));
    EXPECT_EQ(effect.shift_mm.isNaN().count(), 1);
  }
}

}  // namespace
}  // namespace canewise
