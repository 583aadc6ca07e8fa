// What goes wrong on a bench, as its maker or a hand in a hurry does it: refused or said, never a wrong figure.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "scanproc/core/error.h"
#include "tests/support/bench_scans.h"

namespace canewise::test {
namespace {

std::string refusal(const BendTestInputs& inputs, const BendTestOptions& options = {}) {
  try {
    static_cast<void>(bend_test(inputs, options));
  } catch (const Error& error) {
    return error.message().id;
  }
  return "none";
}

bool has(const BendTest& test, const std::string& id) {
  return std::any_of(test.remarks.begin(), test.remarks.end(), [&](const Message& m) { return m.id == id; });
}

class BentWrongly : public testing::Test {
 protected:
  TestedBench bench_{4, fixtures::profilometer(), {LoadSide::centre}};
  fixtures::Bench& loaded() { return bench_.loaded.front().second; }
};

TEST_F(BentWrongly, RightlyItIsNotRefused) { EXPECT_EQ(refusal(bench_.inputs()), "none"); }

TEST_F(BentWrongly, ScansThatAreSwappedAreRefused) {
  BendTestInputs in = bench_.inputs(bench_.drawn.at_mm);
  std::swap(in.free, in.loaded.front().cloud);
  EXPECT_EQ(refusal(in), "bendtest.first_is_bent");
}

TEST_F(BentWrongly, TheSameScanTwiceIsRefused) {
  BendTestInputs in = bench_.inputs(bench_.drawn.at_mm);
  in.loaded.front().cloud = in.free;
  EXPECT_EQ(refusal(in), "bendtest.not_bent");
}

TEST_F(BentWrongly, AReedThatSlidIsRefused) {
  for (const double slid_mm : {-0.8, 0.8}) {
    TestedBench bench = bench_;
    fixtures::Bench& with = bench.loaded.front().second;
    with.edge_mm += slid_mm, with.clamp_from_mm += slid_mm, with.clamp_to_mm += slid_mm;
    EXPECT_EQ(refusal(bench.inputs()), "bendtest.slid") << slid_mm;
  }
}

TEST_F(BentWrongly, AReedThatIsLooseOrSwelledIsRefused) {
  for (const double moved_mm : {-0.1, 0.1}) {
    TestedBench bench = bench_;
    bench.loaded.front().second.block_mm = moved_mm;
    EXPECT_EQ(refusal(bench.inputs()), "bendtest.stock_moved") << moved_mm;
  }
}

TEST_F(BentWrongly, AThreadThatLiesElsewhereIsRefusedAndOneThatNobodySeesIsAskedFor) {
  EXPECT_EQ(refusal(bench_.inputs(bench_.drawn.at_mm + 1.0)), "bendtest.thread_elsewhere");
  EXPECT_EQ(refusal(bench_.inputs(bench_.drawn.at_mm - 1.0)), "bendtest.thread_elsewhere");
  loaded().thread_at_mm = 0.0;
  EXPECT_EQ(refusal(bench_.inputs()), "bendtest.where_is_thread");
  EXPECT_TRUE(has(bend_test(bench_.inputs(bench_.drawn.at_mm)), "bendtest.thread_not_seen"));
}

// By 1 mm and unseen: wrong by what the ruler's uncertainty covers, or refused.
TEST_F(BentWrongly, AWrongRulerIsCoveredWhereNobodySeesTheThread) {
  const BestKnownModulus right = best_known_modulus(bend_test(bench_.inputs()).cane);
  loaded().thread_at_mm = 0.0;
  const BendTest by_ruler = bend_test(bench_.inputs(bench_.drawn.at_mm + 0.5));
  const BestKnownModulus wrong = best_known_modulus(by_ruler.cane);
  EXPECT_LT(std::abs(std::log(wrong.e_l_mpa / right.e_l_mpa)), 2.0 * wrong.u_rel);
}

TEST_F(BentWrongly, AWrongSideIsNamed) {
  TestedBench three(4, fixtures::profilometer(), {LoadSide::centre, LoadSide::left, LoadSide::right});
  const BendTestInputs in = three.inputs();
  const auto as = [&](std::size_t scan, LoadSide said) {
    BendTestInputs one = in;
    one.loaded = {in.loaded[scan]};
    one.loaded.front().side = said;
    return refusal(one);
  };
  EXPECT_EQ(as(1, LoadSide::right), "bendtest.other_side");
  EXPECT_EQ(as(2, LoadSide::left), "bendtest.other_side");
  EXPECT_EQ(as(0, LoadSide::left), "bendtest.other_side") << "a loop over both rails";
  EXPECT_EQ(as(1, LoadSide::centre), "bendtest.other_side");
  for (std::size_t k = 0; k < 3; ++k) EXPECT_EQ(as(k, in.loaded[k].side), "none");
}

TEST_F(BentWrongly, AnOverhangThatTheScanContradictsIsRefused) {
  bench_.free.clamp_from_mm = loaded().clamp_from_mm = bench_.free.edge_mm + 1.5;
  for (const double off_mm : {-6.0, 5.0}) {
    const BendTestOptions options{.u_mass_rel = 0.01, .stands_over_mm = bench_.free.edge_mm + off_mm};
    EXPECT_EQ(refusal(bench_.inputs(), options), "bendtest.edge_elsewhere") << off_mm;
  }
}

TEST_F(BentWrongly, AnotherReedsResultIsRefused) {
  bench_.reed = result_on_plate(fixtures::draw_bench(9).reed, fixtures::profilometer(), 9);
  EXPECT_THAT((std::vector<std::string>{"bendtest.other_reed", "bendtest.not_found"}),
              testing::Contains(refusal(bench_.inputs())));
}

TEST_F(BentWrongly, WetAndDryAreKeptApart) {
  BendTestInputs in = bench_.inputs();
  in.state = MoistureState::wet;
  EXPECT_EQ(refusal(in), "bendtest.other_state");
}

TEST_F(BentWrongly, WithoutAClampNothingIsSaid) {
  for (fixtures::Bench* bench : {&bench_.free, &loaded()}) bench->clamp_from_mm = bench->clamp_to_mm = 0.0;
  EXPECT_EQ(refusal(bench_.inputs()), "bendtest.no_clamp");
}

TEST_F(BentWrongly, TooLittleStockBehindTheClampIsRefused) {
  for (fixtures::Bench* bench : {&bench_.free, &loaded()})
    bench->clamp_to_mm = bench_.drawn.reed.shape().length_mm - 5.0;
  EXPECT_THAT((std::vector<std::string>{"bendtest.little_stock", "bendtest.not_found"}),
              testing::Contains(refusal(bench_.inputs())));
}

TEST_F(BentWrongly, ABlockAskewIsRefused) {
  bench_.free.skew = loaded().skew = 0.25;
  bench_.free.clamp_from_mm = loaded().clamp_from_mm = bench_.free.edge_mm + 4.0;
  EXPECT_EQ(refusal(bench_.inputs()), "bendtest.edge_askew");
}

TEST_F(BentWrongly, AWeightThatMakesImpossibleCaneIsRefusedAndAnUnusualOneSaid) {
  for (const double times : {0.1, 10.0}) {
    bench_.said_g = times * bench_.drawn.mass_g;
    EXPECT_EQ(refusal(bench_.inputs()), "bendtest.impossible_cane") << times;
  }
  // As if it were 3.9 times as stiff as usual: three standard deviations of cane of which no moisture is known.
  bench_.said_g = 3.9 * cane_in(MoistureState::dry).cane.e_l_mpa / bench_.drawn.cane.e_l_mpa * bench_.drawn.mass_g;
  const BendTest unusual = bend_test(bench_.inputs());
  EXPECT_TRUE(has(unusual, "bendtest.unusual_cane")) << best_known_modulus(unusual.cane).e_l_mpa;
  bench_.said_g = bench_.drawn.mass_g;
  EXPECT_FALSE(has(bend_test(bench_.inputs()), "bendtest.unusual_cane"));
}

// A hand that holds the vamp on one side, a weight that stands on something: a shape that no cane has.
TEST_F(BentWrongly, AReedThatIsHeldSomewhereElseIsRefused) {
  const auto bent = loaded().down_mm;
  loaded().down_mm = [bent](double x, double y) {
    return bent(x, y) * (1.0 - 0.8 * std::exp(-((x - 14.0) * (x - 14.0) + (y - 4.0) * (y - 4.0)) / 18.0));
  };
  EXPECT_THAT((std::vector<std::string>{"bendtest.does_not_fit", "bendtest.strained", "bendtest.other_side"}),
              testing::Contains(refusal(bench_.inputs())));
}

TEST_F(BentWrongly, CreepIsSaidAndCountedAndMuchOfItRefused) {
  const auto after = [&](double share) {
    BendTestInputs in = bench_.inputs();
    fixtures::Bench again = bench_.free;
    const auto bent = loaded().down_mm;
    again.down_mm = [=](double x, double y) { return share * bent(x, y); };
    in.free_again = fixtures::bench_scan(bench_.drawn.reed, again, bench_.scanner, 99);
    return in;
  };
  const BendTest rested = bend_test(after(0.0)), crept = bend_test(after(0.08));
  EXPECT_FALSE(has(rested, "bendtest.crept"));
  EXPECT_NEAR(rested.crept_mm.value(), 0.0, 4e-3);
  EXPECT_TRUE(has(crept, "bendtest.crept"));
  EXPECT_GT(best_known_modulus(crept.cane).u_rel, 1.4 * best_known_modulus(rested.cane).u_rel);
  EXPECT_EQ(refusal(after(0.4)), "bendtest.crept_too_far");
}

TEST_F(BentWrongly, ImpossibleInputsAreRefusedBeforeAnythingIsLookedAt) {
  const auto with = [&](auto change) {
    BendTestInputs in{.reed = bench_.reed, .free = {}, .loaded = {}, .mass_g = 100.0, .state = {}};
    in.loaded.push_back({});
    change(in);
    return refusal(in);
  };
  EXPECT_EQ(with([](BendTestInputs& in) { in.mass_g = 0.0; }), "bendtest.mass");
  EXPECT_EQ(with([](BendTestInputs& in) { in.mass_g = std::nan(""); }), "bendtest.mass");
  EXPECT_EQ(with([](BendTestInputs& in) { in.loaded.clear(); }), "bendtest.how_many");
  EXPECT_EQ(with([](BendTestInputs& in) { in.loaded.push_back({}); }), "bendtest.side_twice");
  EXPECT_EQ(with([](BendTestInputs& in) { in.loaded.front().at_mm = 0.2; }), "bendtest.at") << "the tip is nobody's";
}

TEST_F(BentWrongly, EmptyAndTinyScansAreRefused) {
  BendTestInputs in = bench_.inputs();
  in.free.points_mm.resize(3, 0);
  EXPECT_EQ(refusal(in), "bendtest.not_found");
  in.free.points_mm = Eigen::Matrix3Xd::Random(3, 500);
  EXPECT_EQ(refusal(in), "bendtest.not_found");
  in.free.points_mm = 1e7 * Eigen::Matrix3Xd::Random(3, 5000);
  EXPECT_EQ(refusal(in), "bendtest.not_found");
}

}  // namespace
}  // namespace canewise::test
