// Reversal, touch, drift, budget: on generated scans of reeds.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <optional>
#include <random>

#include "calib/check_chart.h"
#include "calib/reversal.h"
#include "calib/rig_budget.h"
#include "calib/steps.h"
#include "calib/touch.h"
#include "fixtures/write_cloud.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/thickness/light_depth.h"
#include "tests/support/in_english.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using ::testing::HasSubstr;
using ::testing::ThrowsMessage;

/// As calibration steps measure.
MeasureOptions whole() {
  MeasureOptions options;
  options.whole = true;
  return options;
}

/// One seating of a reed with a heavy right rail; the rig lifts what lies to its own right by `rig_roll_um` at the
/// edge.
Result seated(double rig_roll_um, bool turned, double seating_sd_um, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  fixtures::ReedFaults faults;
  faults.heavy_rail_um = 20.0;
  fixtures::SceneOptions scene;
  scene.nuisance.lie.roll_um = seating_sd_um * normal(random) + (turned ? -rig_roll_um : rig_roll_um);
  scene.nuisance.lie.pitch_um = 3.0 * normal(random);
  scene.nuisance.lie.offset_um = 1.5 * normal(random);
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file(
      "reed.ply", fixtures::ply_binary(
                      fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), scene, seed).cloud))};
  return measure(inputs, whole());
}

TEST(Reversal, TheReedsAsymmetryIsToldFromTheRigs) {
  constexpr double rig_roll_um = 6.0, seating_um = 1.0;
  std::vector<Result> straight, turned;
  for (std::uint64_t k = 0; k < 6; ++k) {
    straight.push_back(seated(rig_roll_um, false, seating_um, k));
    turned.push_back(seated(rig_roll_um, true, seating_um, 100 + k));
  }
  const Reversal reversal = evaluate_reversal(straight, turned);
  EXPECT_NEAR(reversal.rig_roll_um, rig_roll_um, 3.0 * seating_um * 0.5 * std::sqrt(2.0 / 6.0) + 0.1);
  EXPECT_THAT(test::in_english(reversal.verdict), HasSubstr("the right side"));
  EXPECT_EQ(reversal.degrees_of_freedom, 10.0);
  // Ten degrees of freedom: between half and one and a half, 99 of 100 times.
  EXPECT_GT(reversal.seating_roll_um, 0.45 * seating_um);
  EXPECT_LT(reversal.seating_roll_um, 1.6 * seating_um);
  EXPECT_GT(reversal.seating_pitch_um, 1.3);
  EXPECT_LT(reversal.seating_pitch_um, 4.8);
  for (const auto& zone : reversal.zones) {
    if (zone.name != "rail, front") continue;
    // The heavy rail stands 20 um over most of the front rail zone; whatever it comes to, the rig's roll is not in it.
    EXPECT_GT(zone.reed_um, 8.0);
    EXPECT_NEAR(zone.rig_um, 2.0 * rig_roll_um * 0.84, 2.0) << "twice the roll, at 0.84 of the half width on average";
  }
  Rig rig;
  apply_reversal(rig, reversal, "2026-11-25");
  EXPECT_NEAR(rig.priors.seating_roll_um,
              std::hypot(std::sqrt(10.0 / 8.0) * reversal.seating_roll_um, reversal.rig_roll_um), 1e-12);
  EXPECT_THAT(rig.obtained.at("seating_roll_um"), HasSubstr("reversal of 2026-11-25"));
}

TEST(Reversal, TooFewSeatingsOrAnotherReedAreRefused) {
  const Result one = seated(0.0, false, 0.5, 1);
  EXPECT_THAT(
      [&] {
        (void)evaluate_reversal({one, one, one}, {one, one, one, one});
      },
      ThrowsMessage<UsageError>(HasSubstr("too few")));
  Result wet = one;
  wet.state = MoistureState::wet;
  EXPECT_THAT(
      [&] {
        (void)evaluate_reversal({one, one, one, one}, {one, one, one, wet});
      },
      ThrowsMessage<UsageError>(HasSubstr("wet")));
  Result longer = one;
  longer.outline.length_mm += 5.0;
  EXPECT_THAT(
      [&] {
        (void)evaluate_reversal({one, one, one, one}, {one, one, one, longer});
      },
      ThrowsMessage<UsageError>(HasSubstr("different size")));
}

TouchTool small_anvil() {
  TouchTool tool;
  tool.anvil_diameter_mm = 1.0;
  tool.force_n = 0.2;
  return tool;
}

/// A scan into which light sinks by offset + growth * (thickness - 1 mm), and micrometer readings of the same reed.
struct Touched {
  Aligned aligned;
  ThicknessMap map;
  std::vector<TouchReading> readings;
};
/// The scan of that reed.
Cloud sunk_scan(const fixtures::Reed& reed, double offset_um, double growth_um, const fixtures::SceneOptions& scene,
                std::uint64_t seed) {
  fixtures::GeneratedScan scan = fixtures::scan_reed(reed, fixtures::profilometer(), scene, seed);
  for (Eigen::Index i = 0; i < scan.cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = scan.reed_from_scan * scan.cloud.points_mm.col(i);
    if (!reed.inside(p.x(), p.y())) continue;
    const double sink_um = offset_um + growth_um * (reed.thickness_mm(p.x(), p.y()) - 1.0);
    scan.cloud.points_mm.col(i) -= scan.reed_from_scan.linear().transpose() * Eigen::Vector3d(0, 0, 1e-3 * sink_um);
  }
  return std::move(scan.cloud);
}

std::vector<TouchReading> readings_of(const fixtures::Reed& reed, double tool_sd_um, std::uint64_t seed) {
  std::vector<TouchReading> readings;
  std::mt19937_64 random(seed + 5);
  std::normal_distribution<double> normal;
  const TouchTool tool = small_anvil();
  for (const double x : {6.0, 10.0, 14.0, 18.0, 22.0, 26.0, 30.0}) {
    for (const double y : {-3.0, 0.0, 3.0}) {
      double highest = 0.0;
      for (double dx = -0.5; dx <= 0.5; dx += 0.02) {
        for (double dy = -0.5; dy <= 0.5; dy += 0.02) {
          if (dx * dx + dy * dy <= 0.25) highest = std::max(highest, reed.thickness_mm(x + dx, y + dy));
        }
      }
      // What a flat anvil of 1 mm does: rests on fibre tops (1.5 um rms) at the highest place under it, presses in.
      const double pressed = tool.force_n / (std::numbers::pi * 0.25) / 400.0 * reed.thickness_mm(x, y);
      readings.push_back({x, y, highest + 2.0 * 0.0015 - pressed + 1e-3 * tool_sd_um * normal(random)});
    }
  }
  return readings;
}

Touched touched(double offset_um, double growth_um, double tool_sd_um, std::uint64_t seed,
                const std::optional<fixtures::SceneOptions>& scene = {}, const Priors& priors = {}) {
  const fixtures::Reed reed({}, test::rough_cane(seed));
  Touched t;
  t.aligned = align(sunk_scan(reed, offset_um, growth_um, scene.value_or(test::plain_scene(seed)), seed), {});
  t.map = measure_thickness(t.aligned, priors);
  t.readings = readings_of(reed, tool_sd_um, seed);
  return t;
}

TEST(Touch, TheDepthOfLightIsFoundAndTakenOff) {
  int inside = 0;
  constexpr int rounds = 10;
  for (std::uint64_t seed = 0; seed < rounds; ++seed) {
    Touched t = touched(6.0, 0.0, 2.0, seed);
    const TouchCheck check = check_touch(t.aligned, t.map, t.readings, small_anvil());
    // The tip is found to some 20 um, which at a slope of a tenth is 2 um of all readings alike; three of that.
    EXPECT_NEAR(check.bias_um, 6.0, 5.0);
    EXPECT_NEAR(check.sd_um, 2.2, 1.8) << "the tool's 2 um, the map's noise and the fibres under the anvil";
    EXPECT_NEAR(check.high_um - check.low_um, 2.0 * kCoverage95 * check.sd_um, 1e-9);
    const double u = std::sqrt(check.found.covariance_um2(0, 0) + square(0.3) * check.found.covariance_um2(1, 1));
    inside += std::abs(check.bias_um - 6.0) < kCoverage95 * u;
    if (seed == 0) {
      const double before = t.map.thickness_mm(40, t.map.grid.columns / 2);
      correct_light(t.map, check.found);
      EXPECT_NEAR(1e3 * (static_cast<double>(t.map.thickness_mm(40, t.map.grid.columns / 2)) - before), 6.0, 3.0);
    }
  }
  EXPECT_GE(inside, 9);
}

TEST(Touch, OneReedsBowedTableIsNotTakenForLight) {
  // Tables, seatings, tips, plates and scales drawn from their priors; a tool that reads wrong by its own 2 um; light
  // that enters by nothing to ten. What is written into the rig must hold for the next reed, thick or thin, flat or
  // steep.
  constexpr int draws = 60;
  int inside = 0, places = 0;
  double squares = 0.0, stated = 0.0;
  for (std::uint64_t seed = 0; seed < draws; ++seed) {
    std::mt19937_64 random(seed + 77);
    std::normal_distribution<double> normal;
    fixtures::SceneOptions scene = test::drawn_scene(seed + 4000);
    scene.nuisance.penetration_um = 0.0;
    const double light_um = 10.0 * static_cast<double>(seed) / draws;
    Touched t = touched(light_um, 0.0, 2.0, seed, scene);
    const double tool_um = 2.0 * normal(random);
    for (TouchReading& reading : t.readings) reading.reading_mm += 1e-3 * tool_um;
    const LightDepth found = check_touch(t.aligned, t.map, t.readings, small_anvil()).found;
    for (const auto& [thickness_mm, slope] : {std::pair{0.4, 0.09}, {1.2, 0.08}, {2.4, 0.02}}) {
      const Eigen::Vector3d by(1.0, thickness_mm - found.middle_mm, slope);
      const double error_um = by.dot(Eigen::Vector3d(found.offset_um, found.per_mm_um, found.per_slope_um)) - light_um;
      const double u_um = std::sqrt(by.dot(found.covariance_um2 * by));
      inside += std::abs(error_um) <= kCoverage95 * u_um;
      ++places;
      squares += square(error_um) / (3.0 * draws), stated += square(u_um) / (3.0 * draws);
    }
  }
  std::printf("light: %.1f %% of %d within U95; error %.1f um rms, stated %.1f um\n", 100.0 * inside / places, places,
              std::sqrt(squares), std::sqrt(stated));
  EXPECT_GE(inside, 0.93 * places);
  // An uncertainty that is merely large would hold as well: no more than a half more than what is seen.
  EXPECT_LT(std::sqrt(stated), 1.5 * std::sqrt(squares));
}

TEST(Touch, ABiasThatGrowsWithThicknessIsSeen) {
  // On a reed whose table is known to be flat: of any other, a bow and a curl of the tip look the same.
  Priors flat;
  flat.table_bow_um = flat.table_cup_um = flat.seating_offset_um = flat.seating_pitch_um = flat.plate_form_um = 0.3;
  flat.tip_lift_um = 1.0;
  const Touched t = touched(5.0, 8.0, 1.5, 3, {}, flat);
  TouchTool careful = small_anvil();
  careful.u_place_mm = 0.03;
  const TouchCheck check = check_touch(t.aligned, t.map, t.readings, careful);
  EXPECT_LT(check.p_thickness, 0.01);
  EXPECT_NEAR(check.found.per_mm_um, 8.0, 2.5);
  EXPECT_NEAR(check.found.offset_um + check.found.per_mm_um * (1.0 - check.found.middle_mm), 5.0, 2.5) << "at 1 mm";
  EXPECT_THAT(test::in_english(check.verdict), HasSubstr("for each millimetre"));
}

TEST(Touch, HeightsThatAreFivePerCentTooLargeAreNoLightWhereTheRigClaimsToKnowThem) {
  const test::TempFolder folder;
  const fixtures::Reed reed({}, test::rough_cane(4));
  const Cloud cloud = sunk_scan(reed, -50.0, -50.0, test::plain_scene(4), 4);
  (void)folder.file("scan.ply", fixtures::ply_binary(cloud, false, true));
  std::string list = "scan = 'scan.ply'\nanvil_diameter_mm = 1.0\nforce_n = 0.2\nu_place_mm = 0.03\n";
  for (const TouchReading& r : readings_of(reed, 2.0, 4))
    list += "[[reading]]\nx_mm = " + std::to_string(r.x_mm) + "\ny_mm = " + std::to_string(r.y_mm) +
            "\nreading_mm = " + std::to_string(r.reading_mm) + "\n";
  const auto path = folder.file("touch.toml", list);
  Rig rig;
  rig.scale_parts = {{"printed board", 1e-3}, {kGeometryPart, 4e-4}};
  combine_scale(rig);
  EXPECT_THAT([&] { (void)touch_step(path, LengthUnit::mm, rig, {}); },
              ThrowsMessage<InputError>(testing::AllOf(HasSubstr("touch.toml"), HasSubstr("by touch, heights come out"),
                                                       HasSubstr("too large"), HasSubstr("--square-mm"),
                                                       HasSubstr("reading_mm in touch.toml"))));
  // Of a rig whose scale is only assumed nobody can say which is wrong.
  EXPECT_LT(touch_step(path, LengthUnit::mm, Rig{}, {}).rig.light->per_mm_um, -25.0);
}

TEST(Touch, ReadingsThatCannotBeAreRefused) {
  Touched t = touched(3.0, 0.0, 2.0, 1);
  const auto refusal = [&](const std::vector<TouchReading>& readings) {
    try {
      (void)check_touch(t.aligned, t.map, readings, small_anvil());
    } catch (const UsageError& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  EXPECT_THAT(refusal({t.readings.begin(), t.readings.begin() + 5}), HasSubstr("too few"));
  auto off = t.readings;
  off[3].y_mm = 9.0;
  EXPECT_THAT(refusal(off), testing::AllOf(HasSubstr("reading 4"), HasSubstr("off it")));
  off = t.readings;
  off[2].reading_mm = off[2].reading_mm / 25.4;  // In inches.
  EXPECT_THAT(refusal(off), testing::AllOf(HasSubstr("reading 3"), HasSubstr("millimetres")));
}

TEST(Drift, OnlyAPieceThatDoesNotChangeTellsReedFromRig) {
  const std::vector<double> steady{100.2, 99.8, 100.1, 100.0, 99.9, 100.1};
  EXPECT_EQ(judge_drift(8.0, 1.0, {100.0, 100.1}).drift, Drift::cannot_tell);
  EXPECT_EQ(judge_drift(8.0, 1.0, {}).drift, Drift::cannot_tell);
  EXPECT_EQ(judge_drift(8.0, 1.0, steady).drift, Drift::reed);
  EXPECT_EQ(judge_drift(1.0, 1.0, steady).drift, Drift::none);
  std::vector<double> jumped = steady;
  jumped.push_back(104.0);
  EXPECT_EQ(judge_drift(8.0, 1.0, jumped).drift, Drift::rig);
}

TEST(Drift, ChartLimitsComeFromMovingRanges) {
  // By hand: values 10, 12, 11, 13, 12; moving ranges 2, 1, 2, 1, their mean 1.5; mean 11.6.
  const CheckChart chart = chart_of({10.0, 12.0, 11.0, 13.0, 12.0});
  EXPECT_DOUBLE_EQ(chart.mean_um, 11.6);
  EXPECT_DOUBLE_EQ(chart.low_um, 11.6 - 2.66 * 1.5);
  EXPECT_DOUBLE_EQ(chart.high_um, 11.6 + 2.66 * 1.5);
  EXPECT_DOUBLE_EQ(chart.sd_um, 1.5 / 1.128);
  // Eight in a row on one side of the mean of the first twenty.
  std::vector<double> run;
  for (int i = 0; i < 20; ++i) run.push_back(i % 2 == 0 ? 11.0 : 9.0);
  for (int i = 0; i < 8; ++i) run.push_back(10.4);
  const CheckChart shifted = chart_of(run);
  EXPECT_FALSE(shifted.out[26]);
  EXPECT_TRUE(shifted.out[27]);
}

TEST(Budget, SharesAddUpAndTheSentenceFollowsThem) {
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file(
      "reed.ply", fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}), fixtures::laser_line(), {}, 1).cloud))};
  inputs.rig.scale_parts = {{"step gauge", 3e-4}, {"temperature", 4e-4}};
  combine_scale(inputs.rig);
  EXPECT_NEAR(inputs.rig.priors.scale_rel, 5e-4, 1e-15);
  const RigBudget budget = rig_budget(measure(inputs, whole()));
  double tip = 0, rails = 0, heart = 0;
  for (const auto& line : budget.lines) tip += line.tip_share, rails += line.rails_share, heart += line.heart_share;
  EXPECT_NEAR(tip, 1.0, 1e-6);
  EXPECT_NEAR(rails, 1.0, 1e-6);
  EXPECT_NEAR(heart, 1.0, 1e-6);
  // ISO 11843: 2 x 1.645 u.
  EXPECT_NEAR(budget.smallest.rails_um, 3.2897 * budget.rails_um, 1e-3 * budget.rails_um);
  EXPECT_NEAR(budget.smallest.rails_outside_um, 15.0 + budget.smallest.rails_um, 1e-9);
  EXPECT_THAT(test::in_english(budget.sentence), HasSubstr("Smallest left-right difference that this rig shows:"));
  EXPECT_THAT(test::each_in_english(budget.advice), testing::Contains(HasSubstr("calibrate reversal")))
      << "seating is assumed and rules";
  // A rig whose table twists as nobody's does cannot prove balance, and says so.
  inputs.rig.priors.seating_roll_um = 9.0;
  EXPECT_THAT(test::in_english(rig_budget(measure(inputs, whole())).sentence), HasSubstr("can never prove"));
}

}  // namespace
}  // namespace canewise
