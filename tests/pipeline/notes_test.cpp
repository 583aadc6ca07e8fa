// What a person must know of a result beside its figures. What is said of the rig, rig_notes_test.cpp specifies.
#include "scanproc/pipeline/notes.h"

#include <gtest/gtest.h>

#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "scanproc/pipeline/rig_notes.h"
#include "tests/support/plain_result.h"

namespace canewise {
namespace {

std::vector<std::string> ids_of(const Messages& notes) {
  std::vector<std::string> ids;
  for (const Message& note : notes) ids.push_back(note.id);
  return ids;
}
using Ids = std::vector<std::string>;
double length_of(const Message& note, const char* name) { return std::get<Length>(note.arguments.at(name)).value; }
std::string key_of(const Message& note, const char* name) { return std::get<Word>(note.arguments.at(name)).key; }

/// The plate was seen, and shows nothing.
Aligned quiet() {
  Aligned aligned;
  aligned.slow.seen = true;
  return aligned;
}

TEST(SlowErrorNotes, AQuietPlateSaysNothing) { EXPECT_TRUE(slow_error_notes(quiet(), {}).empty()); }

TEST(SlowErrorNotes, HeightsThatDriftByMoreThanAMicrometreAndAHalfAreSaid) {
  Aligned aligned = quiet();
  aligned.slow.sd_mm = 0.00149;
  aligned.slow.length_mm = 6.0;
  EXPECT_TRUE(slow_error_notes(aligned, {}).empty());
  aligned.slow.sd_mm = 0.0023;
  const Messages notes = slow_error_notes(aligned, {});
  ASSERT_EQ(ids_of(notes), Ids{"note.heights_drift"});
  EXPECT_NEAR(length_of(notes[0], "drift"), 2.3, 1e-9);
  EXPECT_NEAR(length_of(notes[0], "over"), 6.0, 1e-12);
  aligned.slow.seen = false;
  EXPECT_TRUE(slow_error_notes(aligned, {}).empty()) << "too little plate to look for it";
}

TEST(SlowErrorNotes, APlateBentByTwiceItsPriorIsSaidByItsLargestForm) {
  Priors priors;
  priors.plate_form_um = 3.0;
  for (std::size_t form = 0; form < 3; ++form) {
    Aligned aligned = quiet();
    aligned.slow.form_mm.at(form) = 0.0059;
    EXPECT_TRUE(slow_error_notes(aligned, priors).empty());
    aligned.slow.form_mm.at(form) = 0.0061;
    const Messages notes = slow_error_notes(aligned, priors);
    ASSERT_EQ(ids_of(notes), Ids{"note.plate_bent"});
    EXPECT_NEAR(length_of(notes[0], "bow"), 6.1, 1e-9);
  }
}

TEST(SlowErrorNotes, WhatIsAssumedIsSaidWhereNothingShowsIt) {
  Priors priors;
  priors.smooth_um = 0.4;
  Aligned aligned;
  aligned.assumed_slow_mm = 0.002;
  const Messages notes = slow_error_notes(aligned, priors);
  ASSERT_EQ(ids_of(notes), Ids{"note.drift_assumed"});
  EXPECT_NEAR(length_of(notes[0], "drift"), 2.0, 1e-9);
  aligned.assumed_slow_mm = 0.00039;
  EXPECT_TRUE(slow_error_notes(aligned, priors).empty()) << "no more than the rig's own";
  aligned.assumed_slow_mm = 0.002;
  aligned.slow.seen = true;
  EXPECT_TRUE(slow_error_notes(aligned, priors).empty());
}

/// A whole reed with a target of its own instrument and state, in a hundred rows of 26 cells.
Result whole() {
  Result result = test::plain_result();
  result.instrument = "clarinet-bb";
  result.state = MoistureState::dry;
  result.outline.length_mm = 50.0;
  result.map.grid = {0.5, 100, 26};
  result.map.thickness_mm = Field::Constant(100, 26, 1.0F);
  TargetComparison comparison;
  comparison.chosen_by_user = true;
  comparison.target.instrument = "clarinet-bb";
  comparison.target.state = MoistureState::dry;
  result.assessment.target = comparison;
  return result;
}
/// Without the notes of the rig, which come last.
Messages without_rig(const Result& result) {
  Messages notes = result_notes(result);
  const Messages of_rig = rig_notes(result);
  EXPECT_FALSE(of_rig.empty());
  EXPECT_EQ(ids_of({notes.end() - static_cast<std::ptrdiff_t>(of_rig.size()), notes.end()}), ids_of(of_rig));
  notes.resize(notes.size() - of_rig.size());
  return notes;
}

TEST(ResultNotes, AWholeReedLikeItsTargetLeavesTheRigAlone) { EXPECT_TRUE(without_rig(whole()).empty()); }

// One cell inside the rim lie 98 rows of 24 cells, 2352 in all: 47 are less than two hundredths, 48 more.
TEST(ResultNotes, ReedsOfWhichTwoHundredthsAreMissingAreNotWhole) {
  Result result = whole();
  const float not_seen = std::numeric_limits<float>::quiet_NaN();
  result.map.thickness_mm.block(10, 0, 1, 26).setConstant(not_seen);
  result.map.thickness_mm.block(11, 1, 1, 23).setConstant(not_seen);
  EXPECT_TRUE(without_rig(result).empty());
  result.map.thickness_mm(11, 24) = not_seen;
  const Messages notes = without_rig(result);
  ASSERT_EQ(ids_of(notes), Ids{"note.coverage"});
  EXPECT_EQ(std::get<Number>(notes[0].arguments.at("percent")).value, 97.0) << "never more than was seen";
  EXPECT_EQ(length_of(notes[0], "cell"), 0.5);
}

TEST(ResultNotes, NoTargetOrOneOfAnotherInstrumentIsSaid) {
  Result result = whole();
  result.assessment.target->target.instrument = "clarinet-eb";
  const Messages notes = without_rig(result);
  ASSERT_EQ(ids_of(notes), Ids{"note.target_of_other_instrument"});
  EXPECT_EQ(std::get<std::string>(notes[0].arguments.at("instrument")), "clarinet-eb");
  result.assessment.target.reset();
  EXPECT_EQ(ids_of(without_rig(result)), Ids{"note.no_target"});
}

TEST(ResultNotes, OnlyLikeStatesOfMoistureCompare) {
  const auto notes_of = [](MoistureState target, MoistureState reed, bool chosen) {
    Result result = whole();
    result.assessment.target->target.state = target;
    result.assessment.target->chosen_by_user = chosen;
    result.state = reed;
    return without_rig(result);
  };
  const Messages other = notes_of(MoistureState::wet, MoistureState::dry, false);
  ASSERT_EQ(ids_of(other), Ids{"note.target_of_other_state"});
  EXPECT_EQ(key_of(other[0], "target"), "wet");
  EXPECT_EQ(key_of(other[0], "reed"), "dry");
  EXPECT_EQ(ids_of(notes_of(MoistureState::unknown, MoistureState::dry, true)), Ids{"note.one_moisture_known"});
  EXPECT_EQ(ids_of(notes_of(MoistureState::wet, MoistureState::unknown, true)), Ids{"note.one_moisture_known"});
  EXPECT_TRUE(notes_of(MoistureState::unknown, MoistureState::dry, false).empty()) << "a built-in is of no state";
  EXPECT_TRUE(notes_of(MoistureState::unknown, MoistureState::unknown, true).empty());
}

}  // namespace
}  // namespace canewise
