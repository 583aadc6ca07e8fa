#include "scanproc/pipeline/pipeline.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <stop_token>

#include "scanproc/core/error.h"
#include "scanproc/pipeline/unit_guess.h"
#include "tests/support/in_english.h"
#include "tests/support/results.h"

namespace canewise {
namespace {

using testing::HasSubstr;

Cloud reed_scan(std::uint64_t seed = 1) {
  return fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(seed)), fixtures::profilometer(), {}, seed).cloud;
}

Result measure_cloud(Cloud cloud, double factor, const MeasureOptions& options = {}) {
  cloud.points_mm *= factor;
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file("scan.ply", fixtures::ply_binary(cloud, false, true))};
  return measure(inputs, options);
}

TEST(Units, OtherThanMillimetresAreGuessedOnlyWhereNoOtherFitsAndSaid) {
  const Result mm = measure_cloud(reed_scan(), 1.0);
  EXPECT_FALSE(mm.scans.front().unit_guessed);
  for (const auto& [unit, factor] : {std::pair{"m", 1e-3}, {"in", 1.0 / 25.4}, {"um", 1e3}}) {
    const Result guessed = measure_cloud(reed_scan(), factor);
    EXPECT_EQ(guessed.scans.front().unit, unit);
    EXPECT_TRUE(guessed.scans.front().unit_guessed);
    EXPECT_THAT(test::each_in_english(guessed.notes), testing::Contains(HasSubstr(std::string("--units ") + unit)));
    EXPECT_NEAR(guessed.outline.length_mm, mm.outline.length_mm, 1e-4);
  }
}

TEST(Units, WhatFitsNoneIsRefusedWithTheOption) {
  for (const double factor : {30.0, 1e-6, 1e6}) {
    try {
      (void)measure_cloud(reed_scan(), factor);
      ADD_FAILURE() << factor;
    } catch (const NotMeasurable& error) {
      EXPECT_THAT(error.what(), HasSubstr("--units")) << factor;
    }
  }
}

TEST(Units, AGivenUnitIsTakenAtItsWord) {
  MeasureOptions inches;
  inches.unit = LengthUnit::in;
  EXPECT_THROW((void)measure_cloud(reed_scan(), 1.0, inches), NotMeasurable);
  EXPECT_FALSE(measure_cloud(reed_scan(), 1.0 / 25.4, inches).scans.front().unit_guessed);
}

/// One reed scanned twice on its plate, the second time turned by half a turn.
Result measure_twice(double roll_um, bool laid_anew) {
  const fixtures::Reed reed({}, test::rough_cane(3));
  fixtures::SceneOptions first = test::plain_scene(1), second = test::plain_scene(2);
  second.raster_yaw_deg = first.raster_yaw_deg + 180.0;
  second.nuisance.lie.roll_um = roll_um;
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {
      folder.file("a.ply", fixtures::ply_binary(fixtures::scan_reed(reed, fixtures::profilometer(), first, 1).cloud)),
      folder.file("b.ply", fixtures::ply_binary(fixtures::scan_reed(reed, fixtures::profilometer(), second, 2).cloud))};
  MeasureOptions options;
  options.laid_anew = laid_anew;
  return measure(inputs, options);
}

TEST(LaidAnew, TwoLayingsThatAgreeAreSurerThanOne) {
  const Result twice = measure_twice(0.0, true);
  const Result once = measure_cloud(
      fixtures::scan_reed(fixtures::Reed({}, test::rough_cane(3)), fixtures::profilometer(), test::plain_scene(1), 1)
          .cloud,
      1.0);
  EXPECT_LT(twice.rig.priors.seating_roll_um, 0.9 * Priors{}.seating_roll_um);
  for (const std::size_t zone : {2U, 5U, 8U})  // Rails, which a roll of the reed moves most.
    EXPECT_LT(twice.assessment.balance.zones[zone].difference.u_mm,
              once.assessment.balance.zones[zone].difference.u_mm);
  EXPECT_THAT(test::each_in_english(twice.notes), testing::Contains(HasSubstr("was laid down 2 times")));
  EXPECT_THAT(test::in_english(twice.certainty), testing::Not(HasSubstr("if the reed lies flat")));
  EXPECT_THAT(test::each_in_english(twice.notes), testing::Not(testing::Contains(HasSubstr("How a reed seats"))));
}

TEST(LaidAnew, WithoutAWordOnlyTheirDisagreementCounts) {
  const Result twice = measure_twice(0.0, false);
  EXPECT_GE(twice.rig.priors.seating_roll_um, Priors{}.seating_roll_um);
  EXPECT_THAT(test::each_in_english(twice.notes), testing::Contains(HasSubstr("--laid-anew")));
}

TEST(LaidAnew, AGrainUnderOneLayingIsNamed) {
  const Result twice = measure_twice(9.0, true);
  EXPECT_GT(twice.rig.priors.seating_roll_um, 1.5);
  // Nine on one side, minus nine on the other.
  EXPECT_THAT(
      test::each_in_english(twice.notes),
      testing::Contains(HasSubstr("In scan 2 the right edge lies 18 µm higher against the left edge than in scan 1")));
  EXPECT_TRUE(twice.plan.steps.empty());
  EXPECT_THAT(test::in_english(twice.plan.sentence), HasSubstr("Take nothing off yet"));
}

TEST(LaidAnew, AGrainThatTiltsTheReedFarIsNoOtherReed) {
  const Result twice = measure_twice(24.0, true);
  EXPECT_THAT(test::each_in_english(twice.notes), testing::Contains(HasSubstr("right edge lies 48 µm higher")));
}

TEST(LaidAnew, OneScanNamedTwiceIsNoRepetition) {
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file("a.ply", fixtures::ply_binary(reed_scan())),
                  folder.file("b.ply", fixtures::ply_binary(reed_scan()))};
  MeasureOptions options;
  options.laid_anew = true;
  EXPECT_THROW((void)measure(inputs, options), UsageError);
}

TEST(LaidAnew, OneScanIsNoRepetition) {
  MeasureOptions options;
  options.laid_anew = true;
  EXPECT_THROW((void)measure_cloud(reed_scan(), 1.0, options), UsageError);
}

TEST(Pipeline, TheResultHoldsWhatALaterReaderMustKnow) {
  MeasureOptions options;
  options.state = MoistureState::wet;
  const Result result = test::heavy_rail_result(options);
  ASSERT_EQ(result.scans.size(), 1U);
  EXPECT_EQ(result.scans[0].file, "reed <&> one.ply");
  EXPECT_EQ(result.scans[0].sha256.size(), 64U);
  EXPECT_EQ(result.state, MoistureState::wet);
  EXPECT_EQ(result.datum, DatumMode::plate);
  EXPECT_EQ(result.handedness, HandednessSource::assumed);
  EXPECT_FALSE(result.program_version.empty());
  EXPECT_EQ(result.instrument, "clarinet-bb");
  EXPECT_EQ(result.budgets.size(), 4U);
  EXPECT_EQ(result.texture.size(), 2U);
  EXPECT_THAT(test::in_english(result.headline), HasSubstr("right rail"));
}

TEST(Pipeline, ADifferentInstrumentIsFoundByItsSizeAndAWrongOneRefused) {
  fixtures::ReedShape tenor;
  tenor.length_mm = 79.5, tenor.tip_width_mm = 17.7, tenor.butt_width_mm = 14.7, tenor.vamp_length_mm = 42.5;
  tenor.stock_height_mm = 3.3, tenor.bark_radius_mm = 15.5, tenor.tip_arc_radius_mm = 18.5;
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file(
      "t.ply",
      fixtures::ply_binary(
          fixtures::scan_reed(fixtures::Reed(tenor, test::rough_cane(1)), fixtures::profilometer(), {}, 1).cloud))};
  const Result result = measure(inputs);
  EXPECT_EQ(result.instrument, "sax-tenor");
  EXPECT_NEAR(result.assessment.cut.vamp_length_mm.value, 42.5, 0.2);
  MeasureOptions options;
  options.instrument = "clarinet-bb";
  EXPECT_THROW((void)measure(inputs, options), NotMeasurable);
  options.instrument = "kazoo";
  EXPECT_THROW((void)measure(inputs, options), UsageError);
}

TEST(Pipeline, ReportsItsStagesAndStopsOnRequest) {
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file("s.ply", fixtures::ply_binary(reed_scan()))};
  std::vector<double> fractions;
  std::stop_source source;
  EXPECT_THROW((void)measure(
                   inputs, {},
                   [&](const Message& stage, double fraction) {
                     EXPECT_FALSE(stage.empty());
                     fractions.push_back(fraction);
                     if (fraction > 0.3) source.request_stop();
                   },
                   source.get_token()),
               Cancelled);
  EXPECT_EQ(fractions, (std::vector<double>{0.0, 0.3, 0.4}));
}

// Common practice: on a thinner blank the same cut lies nearer the bark; thicker blanks carry longer vamps. The two
// must come out as different cuts of one kind, neither as a fault of the other.
TEST(Pipeline, ThinAndThickBlanksAreDifferentCutsNotFaults) {
  for (const double height : {2.8, 3.2}) {
    fixtures::ReedShape shape;
    shape.stock_height_mm = height;
    shape.vamp_length_mm = height < 3.0 ? 31.5 : 34.0;
    const test::TempFolder folder;
    MeasureInputs inputs;
    inputs.scans = {folder.file(
        "s.ply",
        fixtures::ply_binary(
            fixtures::scan_reed(fixtures::Reed(shape, test::rough_cane(2)), fixtures::profilometer(), {}, 2).cloud))};
    const Result result = measure(inputs);
    EXPECT_THAT(test::in_english(result.headline), HasSubstr(height < 3.0 ? "thin blank" : "thick blank"));
    EXPECT_EQ(result.assessment.balance.verdict, Verdict::within);
    EXPECT_THAT(result.assessment.target->target.name, HasSubstr(height < 3.0 ? "thin" : "thick"));
  }
}

}  // namespace
}  // namespace canewise
