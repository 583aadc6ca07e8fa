// What two scans must agree in to be scans of one reed.
#include "scanproc/compare/same_reed.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <string>
#include <utility>

#include "tests/support/plain_result.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

Result reed(char digest) {
  Result result = test::plain_result();
  result.instrument = "clarinet-bb";
  result.state = MoistureState::dry;
  result.scans.resize(2);
  for (ScanSource& scan : result.scans) scan.sha256 = std::string(64, digest);
  result.assessment.cut.stock_height_mm = {3.0, 0.0};
  result.assessment.cut.butt_width_mm = {11.5, 0.0};
  return result;
}

/// What `changed` makes of the reed after, or of both, is refused for: the reason's id, or the refusal's own where it
/// has none; empty where nothing is refused.
std::string refused_for(const std::function<void(Result& before, Result& after)>& change) {
  Result before = reed('a'), after = reed('b');
  change(before, after);
  try {
    check_that_it_is_one_reed(before, after);
  } catch (const NotMeasurable& error) {
    const Message& message = error.message();
    if (message.id != "comparison.not_one_reed") return message.id;
    return std::get<Messages>(message.arguments.at("why")).front().id;
  }
  return {};
}
std::string refused_after(const std::function<void(Result& after)>& change) {
  return refused_for([&](Result&, Result& after) { change(after); });
}

TEST(SameReed, ARefusalSaysWhy) {
  const test::Refusal refusal = test::refusal_of([]() -> int {
    refuse_another_reed({"comparison.shorter", {{"by", mm(4.0, 1)}}});
  });
  EXPECT_EQ(refusal.id, "comparison.not_one_reed");
  EXPECT_NE(refusal.words.find("4.0 mm"), std::string::npos) << refusal.words;
}

TEST(SameReed, TwoScansThatAgreeAreOfOneReed) {
  EXPECT_EQ(refused_after([](Result&) {}), "");
}

TEST(SameReed, OneScanIsNotTwo) {
  const auto all_alike = [](Result&, Result& after) { after.scans = reed('a').scans; };
  const auto one_of_two = [](Result&, Result& after) { after.scans[0].sha256 = std::string(64, 'a'); };
  const auto fewer = [](Result&, Result& after) { after.scans = {reed('a').scans[0]}; };
  const auto unknown = [](Result& before, Result& after) { before.scans.clear(), after.scans.clear(); };
  EXPECT_EQ(refused_for(all_alike), "comparison.same_scan");
  EXPECT_EQ(refused_for(one_of_two), "");
  EXPECT_EQ(refused_for(fewer), "");
  EXPECT_EQ(refused_for(unknown), "") << "of nothing nothing is known";
}

TEST(SameReed, AnotherInstrumentIsAnotherReed) {
  EXPECT_EQ(refused_after([](Result& after) { after.instrument = "clarinet-eb"; }), "comparison.other_instrument");
}

TEST(SameReed, StocksDifferByNoMoreThanSwellingAndScanners) {
  const auto by = [](double mm, double u_mm, MoistureState state = MoistureState::dry) {
    return refused_for([=](Result& before, Result& after) {
      before.assessment.cut.stock_height_mm.u = u_mm;
      after.assessment.cut.stock_height_mm = {3.0 + mm, u_mm};
      after.state = state;
    });
  };
  for (const double sign : {-1.0, 1.0}) {
    EXPECT_EQ(by(sign * 0.115, 0.0), "");
    EXPECT_EQ(by(sign * 0.125, 0.0), "comparison.other_size");
    EXPECT_EQ(by(sign * 0.345, 0.0, MoistureState::wet), "") << "wet cane is thicker";
    EXPECT_EQ(by(sign * 0.355, 0.0, MoistureState::wet), "comparison.other_size");
  }
  // What is not known adds its U95: 1.96 sqrt(2) 0.05 = 0.139 mm.
  EXPECT_EQ(by(0.25, 0.05), "");
  EXPECT_EQ(by(0.27, 0.05), "comparison.other_size");
  EXPECT_EQ(by(std::nan(""), 0.0), "") << "not measured is not different";
}

TEST(SameReed, ButtsDifferByNoMoreThanTheirEdges) {
  const auto by = [](double mm) {
    return refused_after([=](Result& after) { after.assessment.cut.butt_width_mm.value += mm; });
  };
  EXPECT_EQ(by(0.245), "");
  EXPECT_EQ(by(-0.245), "");
  EXPECT_EQ(by(0.255), "comparison.other_size");
  EXPECT_EQ(by(-0.255), "comparison.other_size");
}

TEST(SameReed, AReedIsClippedByMillimetresAndNeverGrows) {
  const auto by = [](double mm) { return refused_after([=](Result& after) { after.outline.length_mm += mm; }); };
  EXPECT_EQ(by(-2.95), "");
  EXPECT_EQ(by(-3.05), "comparison.shorter");
  EXPECT_EQ(by(0.29), "") << "edges are not sure to more";
  EXPECT_EQ(by(0.31), "comparison.longer") << "the scans may be in the wrong order";
}

}  // namespace
}  // namespace canewise
