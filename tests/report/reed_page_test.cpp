// The page of a whole measurement: tests/report/outputs_test.cpp; the data that it draws:
// tests/report/page_data_test.cpp.
#include "scanproc/report/reed_page.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "scanproc/scrape/scrape_plan.h"
#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

/// What stands in the page before its data and its script.
std::string page_of(const Result& result, const PageHome& home = {}) {
  PagePictures pictures;
  pictures.map_png = "foo", pictures.balance_png = "foob", pictures.table_png = "fooba";
  const std::string page = reed_page(result, pictures, home, {});
  return page.substr(0, page.find("<script"));
}
Result with_steps() {
  Result result = test::plain_result();
  result.plan.status = PlanStatus::steps;
  result.plan.sentence = {test::verbatim("Scrape.")};
  result.plan.steps = {test::plain_step("right rail, here", Side::right),
                       test::plain_step("left rail, there", Side::left)};
  return result;
}
/// The list item of a step.
std::string step_of(const std::string& page, const std::string& where) {
  const std::size_t at = page.find(">" + where + ":<");
  EXPECT_NE(at, std::string::npos) << where;
  return page.substr(at, page.find("</li>", at) - at);
}

TEST(ReedPage, TheSentenceComesFirstThenThePlanThenTheDetails) {
  const std::string page = page_of(test::plain_result());
  const std::size_t headline = page.find("Both sides agree.</span></h1>"), sure = page.find(">This scan is sure."),
                    plan = page.find(">Leave it alone."), details = page.find("<details>");
  ASSERT_NE(headline, std::string::npos);
  EXPECT_LT(headline, sure);
  EXPECT_LT(sure, plan);
  EXPECT_LT(plan, details);
  EXPECT_NE(details, std::string::npos);
}

TEST(ReedPage, CautionsStandWhereverItTellsToScrapeAndOnlyThere) {
  EXPECT_THAT(page_of(test::plain_result()), Not(HasSubstr("class=\"cautions\"")));
  const std::string page = page_of(with_steps());
  EXPECT_LT(page.find("class=\"cautions\""), page.find("id=\"steps\"")) << "before the first step";
  Result given_up = test::plain_result();
  given_up.plan.status = PlanStatus::cannot_save;
  given_up.plan.alternatives = {test::verbatim("Clip it.")};
  EXPECT_THAT(page_of(given_up), AllOf(HasSubstr(">Clip it.<"), HasSubstr("class=\"cautions\"")));
}

TEST(ReedPage, StepsTellPlaceDepthStrokesAndWhenToStop) {
  const std::string page = page_of(with_steps());
  const std::string step = step_of(page, "right rail, here");
  EXPECT_THAT(step, AllOf(HasSubstr("24 µm"), HasSubstr("about 7 light strokes"), HasSubstr("Stop and play.")));
  EXPECT_LT(page.find(">right rail, here:"), page.find(">left rail, there:")) << "in the order of work";
  EXPECT_GT(page.find("scan it again"), page.find(">left rail, there:")) << "what comes after the last";
}

TEST(ReedPage, AStepSaysWhyAndTheStifferSideIsTheOneThatIs) {
  Result result = with_steps();
  const auto why = [&](const std::string& where) { return step_of(page_of(result), where); };
  EXPECT_THAT(why("right rail, here"), HasSubstr("to match the other side"));
  result.plan.cane_right_over_left = 0.05;
  EXPECT_THAT(why("right rail, here"), HasSubstr("the cane is stiffer on this side"));
  EXPECT_THAT(why("left rail, there"), HasSubstr("to match the other side"));
  result.plan.cane_right_over_left = -0.05;
  EXPECT_THAT(why("right rail, here"), HasSubstr("to match the other side"));
  EXPECT_THAT(why("left rail, there"), HasSubstr("the cane is stiffer on this side"));
  result.plan.steps[0].for_bending = true;
  EXPECT_THAT(why("right rail, here"), HasSubstr("this side bends more stiffly"));
  result.plan.steps[0].aim = StepAim::target;
  EXPECT_THAT(why("right rail, here"), HasSubstr("nearer to your target"));
  result.plan.steps[0].aim = StepAim::softer;
  EXPECT_THAT(why("right rail, here"), HasSubstr("to make it softer"));
}

TEST(ReedPage, TheRollingTestAndUncheckedSidesAreSaidBeforeTheSteps) {
  Result result = with_steps();
  std::string page = page_of(result);
  EXPECT_THAT(page, Not(HasSubstr("First the rolling test.")));
  EXPECT_LT(page.find("Nobody has checked whether it mirrors"), page.find("id=\"steps\""));
  result.plan.needs_rolling_test = true;
  result.handedness = HandednessSource::mark;
  page = page_of(result);
  EXPECT_LT(page.find("First the rolling test."), page.find("id=\"steps\""));
  EXPECT_THAT(page, Not(HasSubstr("Nobody has checked")));
}

TEST(ReedPage, AZonesRowHoldsItsOwnPrediction) {
  Result result = test::plain_result();
  ZoneBalance& zone = result.assessment.balance.zones.at(5);  // Front band, rail: four bands of three, centre first.
  zone.difference.mean_mm = 0.0123;
  result.plan.prediction = {{AlongBand::front, AcrossBand::flank, 1.0, 7.7},
                            {AlongBand::front, AcrossBand::rail, 12.3, -4.4}};
  const std::string page = page_of(result);
  const std::size_t row = page.find(">rail, front<");
  ASSERT_NE(row, std::string::npos);
  const std::string cells = page.substr(row, page.find("</tr>", row) - row);
  EXPECT_THAT(cells, AllOf(HasSubstr(">+12.3<"), HasSubstr(">-4.4<"), Not(HasSubstr("7.7"))));
}

TEST(ReedPage, WhatIsCalledU95IsNearlyTwoStandardUncertainties) {
  Result result = test::plain_result();
  ZoneBalance& zone = result.assessment.balance.zones.at(5);
  zone.difference.mean_mm = 0.0123, zone.difference.u_mm = 0.0050;
  const std::string page = page_of(result);
  const std::size_t row = page.find(">rail, front<");
  ASSERT_NE(row, std::string::npos);
  const std::string cells = page.substr(row, page.find("</tr>", row) - row);
  EXPECT_THAT(cells, AllOf(HasSubstr(">9.8<"), Not(HasSubstr(">5.0<"))));
}

TEST(ReedPage, ATableWarpIsShownOnlyWhereItWasSeen) {
  Result result = test::plain_result();
  EXPECT_THAT(page_of(result), Not(HasSubstr("The table is")));
  result.table = TableForm{};
  result.table->flat = Verdict::outside;
  EXPECT_THAT(page_of(result), AllOf(HasSubstr("The table is warped"), HasSubstr("base64,Zm9vYmE=")));
}

TEST(ReedPage, WhatIsNotKnownOfTheBendingIsSaidWithTheReason) {
  EXPECT_THAT(page_of(test::plain_result()), HasSubstr(">Nobody bent it.<"));
}

TEST(ReedPage, ServedItsPicturesLieBesideItAndItLeadsHome) {
  const std::string in_one = page_of(test::plain_result());
  EXPECT_THAT(in_one,
              AllOf(HasSubstr("base64,Zm9vYg=="), Not(HasSubstr("src=\"balance.png\"")), Not(HasSubstr("href=\"/\""))));
  const std::string served = page_of(test::plain_result(), {.in_one_file = false});
  EXPECT_THAT(served,
              AllOf(HasSubstr("src=\"balance.png\""), HasSubstr("src=\"map.png\""), HasSubstr("<a href=\"/\">")));
  EXPECT_THAT(served, Not(HasSubstr("base64,Zm9vYg==")));
}

TEST(ReedPage, WhatThePersonTypedIsNoMarkup) {
  Result result = test::plain_result();
  result.options = {"target=<b>mine</b>"};
  ScanSource scan;
  scan.file = "<i>.ply";
  result.scans = {scan};
  const std::string page = page_of(result);
  EXPECT_THAT(page, AllOf(HasSubstr("target=&lt;b&gt;mine&lt;/b&gt;"), Not(HasSubstr("<b>")), Not(HasSubstr("<i>"))));
}

}  // namespace
}  // namespace canewise
