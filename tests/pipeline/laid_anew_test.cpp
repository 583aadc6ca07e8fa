// How layings of one reed are heeded; pipeline_test.cpp has them as files, layings_test.cpp their mathematics.
#include "scanproc/pipeline/laid_anew.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/core/error.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

/// Three layings of equal weight; the third rolls by so much more than the second.
Layings three(double roll_range_um, double u_roll_um = 0.0) {
  Layings layings;
  layings.count = 3;
  layings.others.resize(2);
  layings.weights.assign(3, 1.0 / 3.0);
  layings.u_roll_um = u_roll_um;
  layings.roll_range_um = roll_range_um;
  layings.highest = 2;
  layings.lowest = 1;
  return layings;
}
double length_of(const Message& message, const char* name) {
  return std::get<Length>(message.arguments.at(name)).value;
}

// Two layings differ by sqrt(2) times the roll's prior of 0.8 um, beside 0.3 um of their own: four times their root sum
// of squares is 4.682 um.
TEST(LaidAnewSpec, LayingsAreInDoubtWhereTheyDifferByMoreThanFourDeviations) {
  for (const bool laid_anew : {false, true}) {
    Rig rig, other;
    EXPECT_FALSE(heed_layings(three(4.6, 0.3), laid_anew, rig).in_doubt);
    const SeatingSeen seen = heed_layings(three(4.8, 0.3), laid_anew, other);
    EXPECT_TRUE(seen.in_doubt);
    EXPECT_EQ(seen.note.id, "note.lay_tilted");
    EXPECT_EQ(std::get<std::int64_t>(seen.note.arguments.at("highest")), 3) << "counted from one";
    EXPECT_EQ(std::get<std::int64_t>(seen.note.arguments.at("lowest")), 2);
    EXPECT_NEAR(length_of(seen.note, "rise"), 9.6, 1e-12) << "edge over edge is twice the roll";
  }
}

// Four layings' worth of prior and three that agree: 0.8 um sqrt(4/6), over sqrt(3) in their mean; Student's 97.5 % for
// 6 degrees of freedom is 2.4469 (any table), 1.2484 times the normal law's.
TEST(LaidAnewSpec, LaidDownAnewTheirSeatingIsMeasured) {
  Rig rig;
  const SeatingSeen seen = heed_layings(three(1.5), true, rig);
  EXPECT_EQ(seen.note.id, "note.laid_down_times");
  EXPECT_EQ(std::get<std::int64_t>(seen.note.arguments.at("times")), 3);
  EXPECT_NEAR(length_of(seen.note, "rise"), 3.0, 1e-12);
  EXPECT_NEAR(rig.priors.seating_roll_um, 0.8 * std::sqrt(4.0 / 6.0) / std::sqrt(3.0) * 1.2484, 1e-3);
  EXPECT_NEAR(rig.priors.seating_offset_um, 1.5 * std::sqrt(4.0 / 6.0) / std::sqrt(3.0) * 1.2484, 1e-3);
  for (const char* prior : {"seating_offset_um", "seating_pitch_um", "seating_roll_um"})
    EXPECT_EQ(rig.obtained.at(prior), "3 layings of this reed") << prior;
  EXPECT_EQ(rig.obtained.size(), 3U);
  EXPECT_TRUE(is_seating_from_layings(rig));
}

TEST(LaidAnewSpec, WithoutAWordNothingGetsSurerAndNothingIsCalledMeasured) {
  Rig rig;
  const SeatingSeen seen = heed_layings(three(1.5), false, rig);
  EXPECT_EQ(seen.note.id, "note.lies_elsewhere");
  EXPECT_EQ(rig.priors.seating_roll_um, Priors{}.seating_roll_um);
  EXPECT_TRUE(rig.obtained.empty());
  EXPECT_FALSE(is_seating_from_layings(rig));
}

TEST(LaidAnewSpec, ASeatingFromAReversalIsNotFromLayings) {
  Rig rig;
  rig.obtained["seating_roll_um"] = "reversal of 2026-11-25, 8 layings of this reed's kin";
  EXPECT_FALSE(is_seating_from_layings(rig));
  rig.obtained["seating_roll_um"] = "2 layings of this reed";
  EXPECT_TRUE(is_seating_from_layings(rig));
}

// Rows and columns: shift x, y, z, turn about x, y, z. Height, roll and pitch went with the plate.
TEST(LaidAnewSpec, OnItsOwnPlateAScansHeightRollAndPitchAreNoMatterOfJoining) {
  Registration registration;
  for (Eigen::Index r = 0; r < 6; ++r)
    for (Eigen::Index c = 0; c < 6; ++c) registration.covariance(r, c) = 1.0 + static_cast<double>(6 * r + c);
  const auto before = registration.covariance;
  stand_on_own_plates(registration);
  for (Eigen::Index r = 0; r < 6; ++r) {
    for (Eigen::Index c = 0; c < 6; ++c) {
      const bool of_plate = (r >= 2 && r <= 4) || (c >= 2 && c <= 4);
      EXPECT_EQ(registration.covariance(r, c), of_plate ? 0.0 : before(r, c)) << r << c;
    }
  }
}

TEST(LaidAnewSpec, SeveralScansAreKeptWithTheirDigestsAndASingleOneIsNot) {
  const auto loaded = [](std::size_t count) {
    LoadedScans scans;
    scans.clouds.resize(count);
    scans.sources.resize(count);
    for (std::size_t k = 0; k < count; ++k)
      scans.digests.push_back(std::async(std::launch::deferred, [k] { return std::string(64, k == 0 ? 'a' : 'b'); }));
    return scans;
  };
  LoadedScans one = loaded(1), two = loaded(2);
  EXPECT_TRUE(whole_scans(one).clouds.empty());
  const WholeScans whole = whole_scans(two);
  EXPECT_EQ(whole.clouds.size(), 2U);
  EXPECT_EQ(whole.digests, (std::vector{std::string(64, 'a'), std::string(64, 'b')}));
}

TEST(LaidAnewSpec, WhatCannotShowASeatingIsRefusedIfSomebodySaysItDoesAndElseLeavesTheRigAlone) {
  struct Case {
    DatumMode datum;
    WholeScans scans;
    const char* why;
  };
  const Cloud cloud;
  for (const Case& c :
       {Case{DatumMode::pads, {{cloud, cloud}, {"a", "b"}}, "not_on_a_plate"}, Case{DatumMode::plate, {}, "one_scan"},
        Case{DatumMode::plate, {{cloud, cloud}, {"a", "a"}}, "named_twice"}}) {
    try {
      (void)seating_from(c.scans, {}, {true, c.datum, nullptr, {}});
      ADD_FAILURE() << c.why;
    } catch (const UsageError& error) {
      EXPECT_EQ(error.message().id, "pipeline.not_laid_anew");
      EXPECT_EQ(std::get<Word>(error.message().arguments.at("why")).key, c.why);
    }
    Rig rig;
    rig.priors.seating_roll_um = 1.7;
    const SeatingFromScans untold = seating_from(c.scans, rig, {false, c.datum, nullptr, {}});
    EXPECT_FALSE(untold.layings) << c.why;
    EXPECT_FALSE(untold.in_doubt);
    EXPECT_TRUE(untold.notes.empty());
    EXPECT_EQ(untold.rig.priors.seating_roll_um, 1.7);
  }
}

// The second time a grain lifts the right edge by 9 um and lowers the left by as much.
TEST(LaidAnewSpec, LayingsAreFoundInWholeScansAndNotInHalves) {
  const fixtures::Reed reed({}, test::rough_cane(3));
  fixtures::SceneOptions first = test::plain_scene(1), second = test::plain_scene(2), half = first;
  second.nuisance.lie.roll_um = 9.0;
  half.content = fixtures::SceneContent::tip_half;
  const auto scan = [&](const fixtures::SceneOptions& scene, std::uint64_t seed) {
    return fixtures::scan_reed(reed, fixtures::profilometer(), scene, seed).cloud;
  };
  const Cloud whole = scan(first, 1);
  const auto layings = layings_of({whole, scan(second, 2)}, {}, nullptr, {});
  ASSERT_TRUE(layings);
  EXPECT_EQ(layings->count, 2U);
  EXPECT_NEAR(layings->roll_range_um, 9.0, 0.6);
  EXPECT_EQ(layings->highest, 1U);
  EXPECT_EQ(layings->lowest, 0U);
  EXPECT_GT(layings->u_roll_um, 0.0);
  EXPECT_LT(layings->u_roll_um, 1.5);
  EXPECT_FALSE(layings_of({whole, scan(half, 3)}, {}, nullptr, {})) << "a pass and no laying";
}

}  // namespace
}  // namespace canewise
