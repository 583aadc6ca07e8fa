// What a result says of its rig: it looks at what was obtained, not at whether a file was named.
#include "scanproc/pipeline/rig_notes.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/in_english.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Result with(Rig rig, DatumMode datum = DatumMode::plate) {
  Result result;
  result.rig = std::move(rig);
  result.datum = datum;
  return result;
}

TEST(RigNotes, WithoutAFileAllIsAssumed) {
  EXPECT_THAT(test::each_in_english(rig_notes(with({}))), ElementsAre(HasSubstr("No rig file was named")));
}

TEST(RigNotes, AFileThatKnowsNothingMakesNothingKnown) {
  Rig rig;
  rig.name = "attic laser";
  EXPECT_THAT(test::each_in_english(rig_notes(with(rig))),
              ElementsAre(AllOf(HasSubstr("says nothing"), HasSubstr("assumed, not known"))));
}

TEST(RigNotes, WhatNoStepFoundIsNamedOneByOne) {
  Rig rig;
  rig.name = "attic laser";
  rig.obtained["seating_roll_um"] = "reversal of 2026-11-25, 8 seatings";
  rig.obtained["plate_form_um"] = "assumed plate, and calibration of 2026-11-25";
  const auto notes = test::each_in_english(rig_notes(with(rig)));
  EXPECT_THAT(notes, ElementsAre(HasSubstr("plate's form"), HasSubstr("scale"), HasSubstr("light")));
  rig.obtained["plate_form_um"] = "3 empty scans of 2026-11-25";
  rig.obtained["scale_rel"] = "stated in the rig file";
  EXPECT_THAT(test::each_in_english(rig_notes(with(rig))), ElementsAre(HasSubstr("'canewise calibrate touch'")));
  rig.obtained["penetration_um"] = "21 touch readings";
  EXPECT_THAT(test::each_in_english(rig_notes(with(rig))), IsEmpty());
}

TEST(RigNotes, BothSidesAskForNoPlateAndNoSeating) {
  Rig rig;
  rig.obtained["scale_rel"] = "sum of step gauge";
  EXPECT_THAT(test::each_in_english(rig_notes(with(rig, DatumMode::two_sided))), ElementsAre(HasSubstr("light")));
}

}  // namespace
}  // namespace canewise
