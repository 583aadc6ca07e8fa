// Where a plan takes cane off: places by the fault, the tool and the hand.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/scrape/scrape_steps.h"
#include "tests/scrape/planned.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

using fixtures::Reed;
using fixtures::ReedFaults;
using test::carried_out;
using test::plan_for;
using test::some_fault;
using testing::HasSubstr;

// Places follow the map by cells, not the zones' borders.
TEST(PlanPlaces, StepsForBalanceLieWhereTheCaneIsTrulyTooThick) {
  double on_faults = 0.0, all = 0.0;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const Reed reed = fixtures::with_faults(Reed({}, test::rough_cane(seed)), fixtures::drawn_faults(seed));
    const auto m = test::measure_drawn(reed, fixtures::profilometer(), seed);
    for (const ScrapeStep& step : plan_for(m).steps) {
      EXPECT_FALSE(step.for_bending) << step.where;
      for (double x = 0.125; x < 33.0; x += 0.25) {
        for (double y = -6.375; y < 6.5; y += 0.25) {
          if (!reed.inside(x, y) || !holds(step.polygon, x, y)) continue;
          all += step.depth_um;
          // A quarter of the tolerance; by half of it a fault begins.
          if (reed.thickness_mm(x, y) - reed.thickness_mm(x, -y) >
              0.25 * tolerance_at_mm(m.assessment.balance, x, 33.0))
            on_faults += step.depth_um;
        }
      }
    }
  }
  // The rest: a tool of 4 mm over faults of 1 to 3.
  EXPECT_GT(on_faults, 0.75 * all);
}

TEST(PlanPlaces, APlaceEndsWhereTheFaultDoesAndNotAtAZonesBorder) {
  fixtures::CaneFault bump;
  bump.height_um = 50.0;
  bump.from_mm = 6.0;  // Its flanks reach 2 mm farther; zones end at 8.25 mm.
  bump.to_mm = 13.0;
  for (const int side : {-1, 1}) {
    bump.side = side;
    const Reed reed = fixtures::with_faults(Reed({}, test::rough_cane(4)), {bump});
    const auto m = test::measure_drawn(reed, fixtures::profilometer(), 4);
    const ScrapePlan plan = plan_for(m);
    ASSERT_FALSE(plan.steps.empty());
    double from = 1e9, to = 0.0;
    for (const ScrapeStep& step : plan.steps) from = std::min(from, step.from_mm), to = std::max(to, step.to_mm);
    // Half of the bump's height lies 1 mm before and behind it.
    EXPECT_NEAR(from, bump.from_mm - 1.0, 1.0);
    EXPECT_NEAR(to, bump.to_mm + 1.0, 1.0);
    // Headline and plan name one place.
    ASSERT_FALSE(m.assessment.faults.empty());
    EXPECT_NEAR(m.assessment.faults.front().from_mm, from, 1.5);
    EXPECT_NEAR(m.assessment.faults.front().to_mm, to, 1.5);
  }
}

// A zone may be off for the bark that lies in it: nobody takes that from the cane beside it.
TEST(PlanPlaces, CaneComesDownToTheOtherSideAndNotBelowItWhereverTheBarkLies) {
  int plans = 0;
  for (std::uint64_t seed = 0; seed < 10; ++seed) {
    fixtures::ReedShape shape;
    shape.filed = seed % 3 == 0;
    shape.bark_crown_y_mm = seed % 2 == 0 ? 0.2 : -0.2;
    ReedFaults faults = test::rough_cane(seed);
    faults.heavy_rail_um = seed < 6 ? 45.0 : 0.0;
    faults.heavy_rail_side = seed % 4 < 2 ? 1 : -1;
    faults.heavy_rail_from_mm = 16.0;
    faults.heavy_rail_to_mm = 27.0;
    const Reed reed(shape, faults);
    const auto m = test::measure_drawn(reed, fixtures::profilometer(), seed);
    const ScrapePlan plan = plan_for(m);
    const Reed scraped = carried_out(reed, plan);
    const Grid& grid = m.map.grid;
    double below_mm = 0.0, cells = 0.0, deep_cells = 0.0;
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      for (Eigen::Index c = 0; c < grid.columns; ++c) {
        const double x = grid.x_mm(r), y = grid.y_mm(c);
        constexpr double touched_mm = 0.005, deep_mm = 0.020;
        if (!m.map.measured(r, c) || reed.thickness_mm(x, y) - scraped.thickness_mm(x, y) < touched_mm) continue;
        const double below = scraped.thickness_mm(x, -y) - scraped.thickness_mm(x, y);
        below_mm += below;
        deep_cells += below > deep_mm;
        cells += 1.0;
      }
    }
    plans += cells > 0.0;
    if (cells == 0.0) continue;
    EXPECT_LT(below_mm / cells, 0.008) << seed;
    EXPECT_LT(deep_cells, 0.05 * cells) << seed;
  }
  EXPECT_GE(plans, 5) << "or nothing was planned";
}

TEST(PlanPlaces, NoPlaceIsNarrowerThanTheToolOrWithinASlipOfTheHeart) {
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const Reed reed = fixtures::with_faults(Reed({}, test::rough_cane(seed)), fixtures::drawn_faults(seed));
    const auto m = test::measure_drawn(reed, fixtures::profilometer(), seed);
    const double vamp = m.assessment.cut.vamp_length_mm.value;
    const Player player;
    const Footprint footprint;
    for (const ScrapeStep& step : plan_for(m).steps) {
      for (double x = step.from_mm + 1.5; x < step.to_mm - 0.5; x += 0.5) {
        double inner = 1e9, outer = 0.0;
        for (double y = 0.0; y < 12.0; y += 0.05) {
          if (!holds(step.polygon, x, step.side == Side::left ? -y : y)) continue;
          inner = std::min(inner, y), outer = std::max(outer, y);
        }
        EXPECT_GE(outer - inner, player.tool_width_mm - 0.6) << step.where << " at " << x;
        if (!(x > ZoneLimits::t[2] * vamp && x < ZoneLimits::t[3] * vamp)) continue;
        EXPECT_GE(inner, ZoneLimits::e[1] * m.aligned.outline.half_width_mm(x) + footprint.slip_mm) << step.where;
      }
    }
  }
}

TEST(PlanPlaces, WhereTheMapIsEvenOnlyBendingTakesCaneAndThatIsSaid) {
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(2)), fixtures::profilometer(), 2);
  const ScrapePlan plan = plan_for(m, {.rolling_test = RollingTest::right});
  ASSERT_FALSE(plan.steps.empty());
  for (const ScrapeStep& step : plan.steps) EXPECT_TRUE(step.for_bending);
  EXPECT_THAT(test::each_in_english(plan.remarks), testing::Contains(HasSubstr("where the map finds the cane even")));
}

TEST(PlanPlaces, LargestEffectComesFirstAndTheTipLast) {
  ReedFaults faults = test::rough_cane(5);
  faults.heavy_rail_um = 45.0;
  faults.heavy_rail_from_mm = 12.0;
  faults.heavy_rail_to_mm = 20.0;
  faults.thick_corner_um = 35.0;
  faults.thick_corner_side = 1;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 5);
  const ScrapePlan plan = plan_for(m);
  ASSERT_GE(plan.steps.size(), 2U);
  EXPECT_GT(plan.steps.front().from_mm, 8.0);
  EXPECT_LT(plan.steps.back().to_mm, 6.0);
}

TEST(PlanPlaces, LessCaneThanLevellingEverything) {
  double planned = 0.0, levelled = 0.0;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const auto m = test::measure_drawn(Reed({}, some_fault(seed)), fixtures::profilometer(), seed);
    for (const auto& step : plan_for(m).steps) planned += step.volume_mm3;
    for (const auto& zone : m.assessment.balance.zones) levelled += std::abs(zone.volume_mm3);
  }
  EXPECT_LT(planned, 0.9 * levelled);
}

TEST(PlanPlaces, StepsTowardsAnAimThatLieOverEachOtherShareASessionsDepth) {
  for (const std::uint64_t seed : {2U, 7U}) {
    fixtures::ReedFaults faults = test::rough_cane(seed);
    faults.heavy_rail_um = seed == 7 ? 30.0 : 0.0;
    const auto m = test::measure_drawn(Reed({}, faults), fixtures::laser_line(), seed);
    PlanOptions options{.aim = aim_from("a half softer")};
    if (seed == 7) options.rolling_test = RollingTest::right;
    const ScrapePlan plan = plan_for(m, options);
    double most_um = 0.0;
    for (double x = 0.5; x < 40.0; x += 0.25) {
      for (double y = -6.4; y < 6.5; y += 0.2) {
        double sum_um = 0.0;
        for (const auto& step : plan.steps)
          if (step.aim == StepAim::softer && holds(step.polygon, x, y)) sum_um += step.depth_um;
        most_um = std::max(most_um, sum_um);
      }
    }
    EXPECT_GT(most_um, 30.0) << "seed " << seed << ": else nothing was asked of it";
    EXPECT_LE(most_um, kUsualRemoval.most_depth_um + 0.5) << "seed " << seed;
  }
}

TEST(PlanPlaces, APlaceNoWiderThanTheToolTakesDepthOverDepthOfAStroke) {
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(2)), fixtures::profilometer(), 2);
  const ScrapePlan plan = plan_for(m, {.aim = aim_from("a half softer")});
  const Player player;
  int narrow = 0;
  for (const auto& step : plan.steps) {
    double widest = 0.0;
    for (double x = step.from_mm + 0.1; x < step.to_mm; x += 0.2) {
      double width = 0.0;
      for (double y = -7.0; y < 7.0; y += 0.05)
        width += holds(step.polygon, x, y) && std::abs(y) < m.aligned.outline.half_width_mm(x) ? 0.05 : 0.0;
      widest = std::max(widest, width);
    }
    if (widest > player.tool_width_mm) continue;
    ++narrow;
    EXPECT_NEAR(step.strokes * player.depth_per_stroke_um, step.depth_um, 0.5 * player.depth_per_stroke_um + 0.01)
        << step.where;
  }
  EXPECT_GE(narrow, 2);
}

TEST(PlanPlaces, WhereARailsFaultNarrowsTheToolHangsOverTheRimAndCutsNoFartherIn) {
  for (const std::uint64_t seed : {7U, 8U, 9U}) {
    fixtures::ReedFaults faults = test::rough_cane(seed);
    faults.heavy_rail_um = 30.0;
    const auto m = test::measure_drawn(Reed({}, faults), fixtures::laser_line(), seed);
    const ScrapePlan plan = plan_for(m);
    ASSERT_FALSE(plan.steps.empty());
    for (const auto& step : plan.steps) {
      double least = 1e9, middle = 0.0, count = 0.0;
      // The second half of the points is the inner border.
      for (std::size_t k = step.polygon.size() / 2; k < step.polygon.size(); ++k) {
        least = std::min(least, std::abs(step.polygon[k].y_mm));
        middle += std::abs(step.polygon[k].y_mm), count += 1.0;
      }
      EXPECT_GT(least, middle / count - 0.6) << step.where << ": a hook into the flank";
    }
  }
}

}  // namespace
}  // namespace canewise
