// Its length, whatever there is to say: tests/report/outputs_test.cpp.
#include "scanproc/report/screen.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::ContainsRegex;
using testing::HasSubstr;
using testing::Not;

TEST(ScreenSpec, WordsBreakIntoLinesOfAtMostTheWidth) {
  EXPECT_EQ(wrapped("aaa bbb ccc", 7, 2), "aaa bbb\n  ccc\n");
  EXPECT_EQ(wrapped("aaa bbb ccc", 6, 2), "aaa\n  bbb\n  ccc\n") << "the indent counts";
  EXPECT_EQ(wrapped("aaa bb cc dd", 7, 2), "aaa bb\n  cc dd\n");
  EXPECT_EQ(wrapped("  aaa \n bbb  ", 7, 2), "aaa bbb\n");
  EXPECT_EQ(wrapped("a-word-that-is-too-long b", 7, 2), "a-word-that-is-too-long\n  b\n") << "it is not cut";
  EXPECT_EQ(wrapped("", 7, 2), "\n");
}

TEST(ScreenSpec, ALetterIsAColumnHoweverManyBytesItHas) {
  EXPECT_EQ(wrapped("äöüß ±µ", 7, 2), "äöüß ±µ\n");
  EXPECT_EQ(wrapped("äöüß ±µ", 6, 2), "äöüß\n  ±µ\n");
}

ZoneBalance& zone_of(Result& result, AlongBand along, AcrossBand across) {
  return result.assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across)));
}
/// A result with a difference of its own in every zone of the tip and the back.
Result uneven() {
  Result result = test::plain_result();
  const auto set = [&](AlongBand along, AcrossBand across, double um, double u_um, Verdict verdict) {
    ZoneBalance& zone = zone_of(result, along, across);
    zone.difference.mean_mm = 1e-3 * um, zone.difference.u_mm = 1e-3 * u_um, zone.verdict = verdict;
  };
  set(AlongBand::tip, AcrossBand::rail, 24.1, 1.0, Verdict::outside);
  set(AlongBand::tip, AcrossBand::flank, -7.2, 2.1, Verdict::within);
  set(AlongBand::tip, AcrossBand::centre, std::nan(""), 1.0, Verdict::cannot_tell);
  set(AlongBand::back, AcrossBand::centre, -41.0, 5.0, Verdict::cannot_tell);
  return result;
}
std::string screen_of(const Result& result, const Speech& speech = {}) {
  return screen_text(result, "my reeds/out", speech);
}

TEST(ScreenSpec, EachZoneStandsInItsPlaceWithItsIntervalRoundedUpAndItsMark) {
  // U95 of 1.0 and 2.1 um is 1.96 and 4.1 um; tolerances of tip and back are 8 and 30 um.
  const std::string screen = screen_of(uneven());
  EXPECT_THAT(screen, ContainsRegex("rails +flanks +centre"));
  EXPECT_THAT(screen, ContainsRegex("\n  tip +\\+24 ±2 ! +-7 ±5 ok +not seen +8\n"));
  EXPECT_THAT(screen, ContainsRegex("\n  back +0 ±2 ok +0 ±2 ok +-41 ±10 \\? +30\n"));
  EXPECT_LT(screen.find("\n  tip "), screen.find("\n  front "));
  EXPECT_LT(screen.find("\n  middle "), screen.find("\n  back "));
}

TEST(ScreenSpec, ThousandthsOfAnInchAreThoseOfEveryColumn) {
  const std::string screen = screen_of(uneven(), {Language::english, SmallUnit::thou});
  EXPECT_THAT(screen, HasSubstr("thousandths of an inch"));
  EXPECT_THAT(screen, ContainsRegex("\n  tip +\\+0\\.95 ±0\\.08 ! +-0\\.28 ±0\\.20 ok +not seen +0\\.31\n"));
}

TEST(ScreenSpec, SaysWhatTheReedIsWhatToDoAndWhereTheFilesAre) {
  const std::string screen = screen_of(test::plain_result());
  EXPECT_THAT(screen, testing::StartsWith("Both sides agree.\nThis scan is sure.\n"));
  EXPECT_THAT(screen, HasSubstr("To do: Leave it alone.\n"));
  EXPECT_THAT(screen, testing::EndsWith("my reeds/out\n"));
}

TEST(ScreenSpec, StepsComeWithTheCautionsAndOnlyThen) {
  Result result = test::plain_result();
  EXPECT_THAT(screen_of(result), Not(HasSubstr("Sharp blade")));
  result.plan.steps = {test::plain_step("right rail, here"), test::plain_step("left rail, there", Side::left)};
  result.plan.steps[1].depth_um = 11.0, result.plan.steps[1].strokes = 1;
  std::string screen = screen_of(result);
  EXPECT_THAT(screen, AllOf(HasSubstr("Sharp blade"), Not(HasSubstr("rolling test"))));
  EXPECT_THAT(screen, HasSubstr("\n  1. right rail, here: 24 µm, about 7 light strokes\n"));
  EXPECT_THAT(screen, HasSubstr("\n  2. left rail, there: 11 µm, about 1 light stroke\n"));
  EXPECT_LT(screen.find("Sharp blade"), screen.find("1. right rail"));
  result.plan.needs_rolling_test = true;
  screen = screen_of(result);
  EXPECT_LT(screen.find("rolling test"), screen.find("1. right rail")) << "before the first step";
}

TEST(ScreenSpec, SidesThatNobodyCheckedAreSaidToBe) {
  Result result = test::plain_result();
  EXPECT_THAT(screen_of(result), HasSubstr("stick tape on the right rail"));
  result.handedness = HandednessSource::mark;
  EXPECT_THAT(screen_of(result), Not(HasSubstr("stick tape")));
  result.state = MoistureState::wet;
  EXPECT_THAT(screen_of(result), HasSubstr("Moisture: wet."));
}

TEST(ScreenSpec, RemarksThatDoNotFitStandInTheReport) {
  Result result = test::plain_result();
  const auto lines = [](const std::string& text) { return std::count(text.begin(), text.end(), '\n'); };
  const auto room = 40 - lines(screen_of(result));
  for (int i = 0; i < room; ++i) result.plan.remarks.push_back(test::verbatim("a remark"));
  EXPECT_EQ(lines(screen_of(result)), 40) << "as many as there is room for";
  EXPECT_THAT(screen_of(result), Not(HasSubstr("more notes")));
  result.notes = {test::verbatim("one more")};
  EXPECT_EQ(lines(screen_of(result)), 40);
  EXPECT_THAT(screen_of(result), Not(HasSubstr("one more")));
  EXPECT_THAT(screen_of(result), HasSubstr("The report has more notes."));
  EXPECT_THAT(screen_of(result), testing::EndsWith("my reeds/out\n")) << "what must be said keeps its place";
}

TEST(Wrapped, NoLineBeginsWithAUnitOrAMarkThatStandsApart) {
  for (std::size_t width = 12; width < 60; ++width) {
    const std::string text = wrapped(
        "Der rechte Rand ist um 40 µm dicker, und 3 ± 2 % steifer ; « comme votre référence » : oui !", width, 0);
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
      for (const char* mark : {"µm", "%", ";", ":", "!", "»", "±", "2"})
        EXPECT_FALSE(line.starts_with(mark)) << width << ": " << line;
      EXPECT_FALSE(line.ends_with("«") || line.ends_with("±")) << width << ": " << line;
    }
  }
  EXPECT_EQ(wrapped("one two three", 8, 2), "one two\n  three\n");
}

}  // namespace
}  // namespace canewise
