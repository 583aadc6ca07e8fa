#include "scanproc/bendtest/hanging_place.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/bench_scans.h"

namespace canewise::test {
namespace {

class Hanging : public testing::Test {
 protected:
  std::optional<HangingPlace> find(const fixtures::Bench& bench, LoadSide side) const {
    return find_thread(
        view_bench(fixtures::bench_scan(drawn_.reed, bench, fixtures::profilometer(), 8).points_mm, reed_, {true, {}}),
        reed_, side);
  }
  fixtures::BenchedReed drawn_ = fixtures::draw_bench(8);
  Result reed_ = result_on_plate(drawn_.reed, fixtures::profilometer(), 8);
};

TEST_F(Hanging, ThreadAndHookAreFoundWhereTheyLie) {
  for (const double at_mm : {3.5, 5.0, 8.0}) {
    drawn_.at_mm = at_mm;
    for (const LoadSide side : kLoadSides) {
      const auto place = find(drawn_.loaded(side), side);
      ASSERT_TRUE(place) << at_mm << name_of(side);
      EXPECT_NEAR(place->at_mm, at_mm, 0.15);
      EXPECT_GT(place->u_mm, 0.03);
      EXPECT_LT(place->u_mm, 0.15);
    }
  }
}

TEST_F(Hanging, ABentReedWithoutAThreadHasNone) {
  fixtures::Bench bench = drawn_.loaded(LoadSide::centre);
  bench.thread_at_mm = 0.0;
  EXPECT_FALSE(find(bench, LoadSide::centre));
}

TEST_F(Hanging, AHookAtTheOtherRailIsNotTakenForThisOnes) {
  EXPECT_FALSE(find(drawn_.loaded(LoadSide::left), LoadSide::right));
}

}  // namespace
}  // namespace canewise::test
