#include "scanproc/scrape/place_words.h"

#include <gtest/gtest.h>

#include <set>

#include "scanproc/words/speech.h"

namespace canewise {
namespace {

TEST(PlaceWords, AZoneIsNamedByItsSideItsLaneAndItsBand) {
  EXPECT_EQ(phrase(the_place(Zone{AlongBand::front, AcrossBand::rail, Side::left})), "the left rail, front");
  EXPECT_EQ(phrase(the_place(Zone{AlongBand::back, AcrossBand::flank, Side::right})), "the right flank, back");
  EXPECT_EQ(phrase(the_place(Zone{AlongBand::tip, AcrossBand::centre, Side::right})), "the right centre, tip");
  EXPECT_EQ(phrase(the_place(Zone{AlongBand::middle, AcrossBand::rail, Side::left})), "the left rail, middle");
}

TEST(PlaceWords, TheCentreOfTheMiddleIsTheHeart) {
  EXPECT_EQ(phrase(the_place(Zone{AlongBand::middle, AcrossBand::centre, Side::left})), "the left half of the heart");
  EXPECT_EQ(phrase(the_place(Zone{AlongBand::middle, AcrossBand::centre, Side::right})), "the right half of the heart");
}

TEST(PlaceWords, NoTwoZonesSoundAlikeInAnyLanguage) {
  for (const Language language : kLanguages) {
    std::set<std::string> words;
    for (const AlongBand along : kAlongBands) {
      for (const AcrossBand across : kAcrossBands) {
        for (const Side side : {Side::left, Side::right})
          words.insert(phrase(the_place(Zone{along, across, side}), {language}));
      }
    }
    EXPECT_EQ(words.size(), 24U) << code_of(language);
  }
}

TEST(PlaceWords, AFaultIsNamedOnTheSideThatIsAskedFor) {
  Fault fault;
  fault.thicker = Side::right;
  fault.across = AcrossBand::flank;
  EXPECT_EQ(phrase(the_place(fault, fault.thicker)), "the right flank");
  EXPECT_EQ(phrase(the_place(fault, fault.thinner())), "the left flank");
  fault.across = AcrossBand::centre;
  EXPECT_EQ(phrase(the_place(fault, Side::left)), "the left centre");
  fault.in_heart = true;
  EXPECT_EQ(phrase(the_place(fault, Side::left)), "the left half of the heart");
}

TEST(PlaceWords, AStepIsNamedByItsOwnSide) {
  ScrapeStep step;
  step.side = Side::right;
  step.across = AcrossBand::rail;
  EXPECT_EQ(phrase(the_place(step)), "the right rail");
  step.side = Side::left;
  step.across = AcrossBand::centre;
  EXPECT_EQ(phrase(the_place(step)), "the left centre");
}

}  // namespace
}  // namespace canewise
