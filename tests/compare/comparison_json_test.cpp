#include "scanproc/compare/comparison_json.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

Comparison small() {
  Comparison comparison;
  comparison.grid = {0.25, 2, 4};
  comparison.removed_mm.resize(2, 4);
  comparison.removed_mm << 0.01234F, -0.0021F, std::numeric_limits<float>::quiet_NaN(), 0.0F,  //
      0.5F, 0.00017F, 0.031F, -0.25F;
  comparison.u_mm = Field::Constant(2, 4, 0.0034F);
  comparison.clipped_mm = 0.31;
  comparison.u_clipped_mm = 0.02;
  comparison.swelling_rel = 0.008;
  comparison.u_swelling_rel = 0.001;
  comparison.volume_mm3 = 1.5;
  comparison.u_volume_mm3 = 0.2;
  comparison.steps = {{Message{"plan.run_out_softly"}, 20.0, 18.5, 1.25, Verdict::within},
                      {Message{"plan.hang_over"}, 30.0, std::nan(""), std::nan(""), Verdict::cannot_tell}};
  comparison.sentence = {Message{"comparison.as_planned", {{"places", count(2)}}}};
  comparison.left = {Message{"plan.agree_everywhere"}};
  comparison.remarks = {Message{"comparison.two_ways"}, Message{"comparison.states_unknown"}};
  return comparison;
}
json written(const Comparison& comparison, const std::string& before = "monday", const std::string& after = "friday") {
  return json::parse(json_from_comparison(comparison, before, after));
}

TEST(ComparisonJson, ItSaysWhatItIsAndOfWhich) {
  const json document = written(small());
  EXPECT_EQ(document.at("format"), "canewise-comparison");
  EXPECT_EQ(document.at("version"), 2);
  EXPECT_EQ(document.at("before"), "monday");
  EXPECT_EQ(document.at("after"), "friday");
  EXPECT_EQ(json_from_comparison(small(), "a", "b").back(), '\n');
}

// 12.34 um are 123 tenths; a cell that neither scan saw is null, not nought.
TEST(ComparisonJson, FieldsAreRowsOfTenthsOfAMicrometre) {
  const json document = written(small());
  const json expected = {{123, -21, nullptr, 0}, {5000, 2, 310, -2500}};
  EXPECT_EQ(document.at("removed_tenths_um"), expected);
  EXPECT_EQ(document.at("u_tenths_um"), (json{{34, 34, 34, 34}, {34, 34, 34, 34}}));
  EXPECT_EQ(document.at("cell_mm"), 0.25);
}

TEST(ComparisonJson, MessagesAndNumbersComeAsTheyAre) {
  const json document = written(small());
  EXPECT_EQ(document.at("sentence").get<Messages>(), small().sentence);
  EXPECT_EQ(document.at("left").get<Messages>(), small().left);
  EXPECT_EQ(document.at("remarks").get<Messages>(), small().remarks);
  EXPECT_EQ(document.at("cautions").size(), kCautions.size());
  EXPECT_EQ(document.at("cautions").at(0).get<Message>(), Message(kCautions.front()));
  EXPECT_EQ(document.at("clipped_mm"), 0.31);
  EXPECT_EQ(document.at("u_clipped_mm"), 0.02);
  EXPECT_EQ(document.at("swelling_rel"), 0.008);
  EXPECT_EQ(document.at("u_swelling_rel"), 0.001);
  EXPECT_EQ(document.at("volume_mm3"), 1.5);
  EXPECT_EQ(document.at("u_volume_mm3"), 0.2);
}

TEST(ComparisonJson, StepsKeepTheirOrderAndWhatNobodySawIsNull) {
  const json steps = written(small()).at("steps");
  ASSERT_EQ(steps.size(), 2U);
  EXPECT_EQ(steps[0].at("where").get<Message>(), Message{"plan.run_out_softly"});
  EXPECT_EQ(steps[0].at("planned_um"), 20.0);
  EXPECT_EQ(steps[0].at("removed_um"), 18.5);
  EXPECT_EQ(steps[0].at("u_um"), 1.25);
  EXPECT_EQ(steps[0].at("as_planned"), "within");
  EXPECT_TRUE(steps[1].at("removed_um").is_null());
  EXPECT_EQ(steps[1].at("as_planned"), "cannot tell");
}

TEST(ComparisonJson, OfLeftAgainstRightThereIsNoVolumeAndNoSwelling) {
  EXPECT_EQ(written(small()).at("left_right_only"), false);
  Comparison one_side = small();
  one_side.left_right_only = true;
  const json document = written(one_side);
  EXPECT_EQ(document.at("left_right_only"), true);
  for (const char* key : {"volume_mm3", "u_volume_mm3", "swelling_rel", "u_swelling_rel"})
    EXPECT_FALSE(document.contains(key)) << key;
}

TEST(ComparisonJson, AHandStandsThereOnlyIfOneWasLearned) {
  EXPECT_FALSE(written(small()).contains("hand"));
  Comparison learned = small();
  learned.hand = LearnedHand{3.0, 0.1, 2.8, 0.22, 1.4, 0.05, false};
  const json hand = written(learned).at("hand");
  EXPECT_EQ(hand.at("depth_per_stroke_um"), 2.8);
  EXPECT_EQ(hand.at("u_depth_per_stroke_rel"), 0.22);
  EXPECT_EQ(hand.at("removed_over_planned"), 1.4);
  EXPECT_EQ(hand.at("u_removed_over_planned"), 0.05);
}

TEST(ComparisonJson, ANameThatIsNoUtf8OrHoldsQuotesBreaksNothing) {
  const json document = written(small(), "bad \xff name", "a \"quoted\"\nname");
  EXPECT_EQ(document.at("before"), "bad \xEF\xBF\xBD name");
  EXPECT_EQ(document.at("after"), "a \"quoted\"\nname");
}

}  // namespace
}  // namespace canewise
