#include "scanproc/scrape/plan_scrape.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <mutex>

#include "fixtures/hand.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/scrape/scrape_steps.h"
#include "tests/support/closed_loop.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

using fixtures::Reed;
using fixtures::ReedFaults;
using testing::HasSubstr;

/// A reed with one or two faults of a size that players meet, anywhere along a rail, on either side.
ReedFaults some_fault(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  ReedFaults faults = test::rough_cane(seed);
  faults.heavy_rail_um = between(24.0, 60.0);
  faults.heavy_rail_side = seed % 2 == 0 ? 1 : -1;
  faults.heavy_rail_from_mm = between(5.0, 13.0);
  faults.heavy_rail_to_mm = faults.heavy_rail_from_mm + between(6.0, 12.0);
  if (seed % 3 == 0) {
    faults.thick_corner_um = between(18.0, 30.0);
    faults.thick_corner_side = seed % 4 == 0 ? 1 : -1;
  }
  return faults;
}

ScrapePlan plan_for(const test::Measurement& m, const PlanOptions& options = {}, const Player& player = {}) {
  const BentReed bent =
      bend_reed(m.map, m.aligned.outline, m.assessment, player, "clarinet-bb", MoistureState::dry, {.modes = 1});
  return plan_scrape(m.map, m.aligned.outline, m.assessment, bent, {}, player, options);
}

/// True right-minus-left zone mean after the plan was carried out on the true surface.
double true_difference_after_mm(const Reed& reed, const test::Measurement& m, const ScrapePlan& plan,
                                const ZoneBalance& zone) {
  const Grid& grid = m.map.grid;
  const auto removed = [&](double x, double y) {
    double mm = 0.0;
    for (const auto& step : plan.steps) {
      if (holds(step.polygon, x, y)) mm += 1e-3 * step.depth_um;
    }
    return mm;
  };
  double sum = 0.0, count = 0.0;
  for (Eigen::Index c = grid.columns / 2; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      if (m.assessment.zones.label(r, c) != ZoneMap::label_of(zone.along, zone.across)) continue;
      const double x = grid.x_mm(r), y = grid.y_mm(c);
      if (!m.map.measured(r, c) || !m.map.measured(r, grid.mirrored(c))) continue;
      sum += reed.thickness_mm(x, y) - removed(x, y) - reed.thickness_mm(x, -y) + removed(x, -y);
      count += 1.0;
    }
  }
  return sum / count;
}

TEST(PlanScrape, CarriedOutOnTheTrueSurfaceItBringsFaultyReedsIntoBalance) {
  int faulty = 0, balanced = 0;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < 100; seed += kParallelParts) {
      const Reed reed({}, some_fault(seed));
      const auto m = test::measure_drawn(reed, seed % 2 == 0 ? fixtures::profilometer() : fixtures::laser_line(), seed);
      const ScrapePlan plan = plan_for(m);
      bool all = true;  // A fault that stays within tolerance over every zone needs no step.
      for (const auto& zone : m.assessment.balance.zones) {
        all = all && std::abs(true_difference_after_mm(reed, m, plan, zone)) <= zone.tolerance_mm;
      }
      static std::mutex lock;
      const std::scoped_lock guard(lock);
      ++faulty;
      balanced += all;
      EXPECT_LE(plan.steps.size(), 8U);
      if (!all) std::printf("seed %d: %s\n", static_cast<int>(seed), plan.sentence.c_str());
    }
  });
  std::printf("%d of %d in balance after the plan\n", balanced, faulty);
  EXPECT_GE(balanced, 95);
}

TEST(PlanScrape, NeverAddsNeverTouchesWhatIsProtectedAndNeverStepsBelowItsUncertainty) {
  for (std::uint64_t seed = 0; seed < 16; ++seed) {
    const Reed reed({}, some_fault(seed));
    const auto m = test::measure_drawn(reed, seed % 2 == 0 ? fixtures::profilometer() : fixtures::laser_line(), seed);
    const ScrapePlan plan = plan_for(m);
    const double vamp = m.assessment.cut.vamp_length_mm.value;
    for (const auto& step : plan.steps) {
      EXPECT_GT(step.depth_um, 0.0);
      EXPECT_GE(step.depth_um, step.u95_um);
      EXPECT_GE(step.strokes, 1);
      for (double x = 0.0; x < 68.0; x += 0.2) {
        for (double y = -6.5; y <= 6.5; y += 0.2) {
          if (!holds(step.polygon, x, y)) continue;
          EXPECT_GE(x, m.aligned.outline.tip_edge_at(y) + 0.45) << "the last half millimetre of the tip";
          EXPECT_LT(x, vamp);
          const double e = std::abs(y) / m.aligned.outline.half_width_mm(x), t = x / vamp;
          EXPECT_FALSE(e < 0.34 && t > 0.255 && t < 0.645) << "the heart, at " << x << ", " << y;
          EXPECT_LT(reed.thickness_mm(x, y), m.assessment.cut.bark.at(x, y) - 0.03) << "bark, at " << x << ", " << y;
        }
      }
    }
    // After the plan no zone is below its floor: the target less twice its tolerance.
    for (const auto& deviation : m.assessment.target->zones) {
      double removed = 0.0, count = 0.0;
      for (Eigen::Index c = 0; c < m.map.grid.columns; ++c) {
        for (Eigen::Index r = 0; r < m.map.grid.rows; ++r) {
          if (m.assessment.zones.label(r, c) != ZoneMap::label_of(deviation.zone.along, deviation.zone.across))
            continue;
          if ((2 * c < m.map.grid.columns) != (deviation.zone.side == Side::left) || !m.map.measured(r, c)) continue;
          count += 1.0;
          for (const auto& step : plan.steps) {
            if (holds(step.polygon, m.map.grid.x_mm(r), m.map.grid.y_mm(c))) removed += 1e-3 * step.depth_um;
          }
        }
      }
      if (removed == 0.0) continue;
      EXPECT_GE(deviation.deviation.mean_mm - removed / count, -2.0 * deviation.tolerance_mm - 1e-3);
    }
  }
}

TEST(PlanScrape, ReportsWhatItPredicts) {
  const Reed reed({}, some_fault(4));
  const auto m = test::measure_drawn(reed, fixtures::profilometer(), 4);
  const ScrapePlan plan = plan_for(m);
  ASSERT_EQ(plan.prediction.size(), 12U);
  for (std::size_t k = 0; k < 12; ++k) {
    const auto& zone = m.assessment.balance.zones.at(k);
    EXPECT_NEAR(plan.prediction[k].before_um, 1e3 * zone.difference.mean_mm, 1e-9);
    const double truth_um = 1e3 * true_difference_after_mm(reed, m, plan, zone);
    EXPECT_NEAR(plan.prediction[k].after_um, truth_um, 4.0 * 1e3 * zone.difference.u_mm + 0.3);
  }
}

TEST(PlanScrape, ASymmetricReedIsLeftAlone) {
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(1)), fixtures::profilometer(), 1);
  const ScrapePlan plan = plan_for(m);
  EXPECT_EQ(plan.status, PlanStatus::nothing_to_do);
  EXPECT_TRUE(plan.steps.empty());
}

TEST(PlanScrape, AReedThatCannotBeSavedIsToldSo) {
  for (std::uint64_t seed = 0; seed < 6; ++seed) {
    ReedFaults faults = test::rough_cane(seed);
    faults.heavy_rail_um = -150.0;  // Scraped far too thin on one side.
    faults.heavy_rail_side = seed % 2 == 0 ? 1 : -1;
    const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), seed);
    const ScrapePlan plan = plan_for(m);
    EXPECT_EQ(plan.status, PlanStatus::cannot_save);
    EXPECT_TRUE(plan.steps.empty());
    EXPECT_THAT(plan.sentence, HasSubstr(faults.heavy_rail_side > 0 ? "right rail" : "left rail"));
    EXPECT_FALSE(plan.alternatives.empty());
  }
}

TEST(PlanScrape, TheRollingTestIsAskedForAndCanVeto) {
  ReedFaults faults = test::rough_cane(2);
  faults.heavy_rail_um = 40.0;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 2);
  EXPECT_TRUE(plan_for(m).needs_rolling_test);
  const ScrapePlan agreed = plan_for(m, {.rolling_test = RollingTest::right});
  EXPECT_FALSE(agreed.needs_rolling_test);
  EXPECT_EQ(agreed.status, PlanStatus::steps);
  for (const RollingTest test : {RollingTest::left, RollingTest::even}) {
    const ScrapePlan vetoed = plan_for(m, {.rolling_test = test});
    EXPECT_EQ(vetoed.status, PlanStatus::veto);
    EXPECT_TRUE(vetoed.steps.empty());
  }
}

TEST(PlanScrape, OnlyTheSideThatTheRollingTestNamesLosesCane) {
  ReedFaults faults = test::rough_cane(2);
  faults.heavy_rail_um = 45.0;
  faults.thick_corner_um = 35.0;
  faults.thick_corner_side = -1;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 2);
  for (const auto& [test, side] : {std::pair{RollingTest::left, Side::left}, {RollingTest::right, Side::right}}) {
    const ScrapePlan plan = plan_for(m, {.rolling_test = test});
    ASSERT_FALSE(plan.steps.empty());
    for (const auto& step : plan.steps) EXPECT_EQ(step.side, side);
    EXPECT_THAT(plan.remarks, testing::Contains(HasSubstr("rolling test spoke for one side")));
    for (std::size_t k = 0; k < 12; ++k) {  // What is predicted is what these steps alone do.
      const auto& zone = m.assessment.balance.zones.at(k);
      const double change_um = plan.prediction.at(k).after_um - plan.prediction.at(k).before_um;
      const bool touched = std::any_of(plan.steps.begin(), plan.steps.end(), [&](const ScrapeStep& s) {
        return s.across == zone.across && std::find(s.along.begin(), s.along.end(), zone.along) != s.along.end();
      });
      EXPECT_EQ(std::abs(change_um) > 1e-9, touched) << k;
    }
  }
}

TEST(PlanScrape, WhatIsSurelyWithinIsLeftAlone) {
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const auto m = test::measure_drawn(Reed({}, some_fault(seed)), fixtures::profilometer(), seed);
    for (const auto& step : plan_for(m).steps) {
      for (const AlongBand along : step.along)
        EXPECT_NE(test::balance_of(m, along, step.across).verdict, Verdict::within) << step.where;
    }
  }
}

TEST(PlanScrape, AFaultThatIsFarOutIsWorkedOffInRounds) {
  ReedFaults faults = test::rough_cane(3);
  faults.heavy_rail_um = 200.0;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 3);
  const ScrapePlan plan = plan_for(m);
  ASSERT_FALSE(plan.steps.empty());
  for (const auto& step : plan.steps) EXPECT_LE(step.depth_um, 60.0);
  EXPECT_THAT(plan.remarks, testing::Contains(HasSubstr("far out")));
}

TEST(PlanScrape, AHeartOffTheCentreIsLeftAloneAndSaid) {
  ReedFaults faults = test::rough_cane(4);
  faults.heart_shift_mm = -1.2;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 4);
  EXPECT_THAT(plan_for(m).remarks, testing::Contains(HasSubstr("heart sits towards the left side")));
}

TEST(PlanScrape, TheTargetIsWorkedTowardsOnlyIfThePlayerChoseIt) {
  fixtures::ReedShape thick;
  thick.profile_linear = 0.72;  // Thicker than the built-in all along the front and middle.
  const auto scan = [&] {
    return fixtures::scan_reed(Reed(thick, test::rough_cane(3)), fixtures::profilometer(), {}, 3);
  };
  auto m = test::measured(scan());
  EXPECT_TRUE(plan_for(m).steps.empty());
  m.assessment.target->chosen_by_user = true;
  const ScrapePlan plan = plan_for(m);
  ASSERT_FALSE(plan.steps.empty());
  double left = 0.0, right = 0.0;
  for (const auto& step : plan.steps) {
    EXPECT_EQ(step.aim, StepAim::target);
    (step.side == Side::left ? left : right) += step.volume_mm3;
  }
  EXPECT_NEAR(left / right, 1.0, 0.1) << "the same from both sides";
  EXPECT_LE(plan.steps.size(), 8U);
}

TEST(PlanScrape, LargestEffectComesFirstAndTheTipLast) {
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

double after(const ScrapePlan& plan, BendingFigure figure) { return plan.figures.at(index_of(figure)).after; }
double before(const ScrapePlan& plan, BendingFigure figure) { return plan.figures.at(index_of(figure)).before; }

// The judge is another solver on another net, and the true surface.
TEST(PlanScrape, FiguresAfterTheStepsAreWhatTheScrapedReedHas) {
  fixtures::ReedFaults faults = test::rough_cane(6);
  faults.heavy_rail_um = 130.0;
  const Reed reed({}, faults);
  const auto m = test::measure_drawn(reed, fixtures::profilometer(), 6);
  const ScrapePlan plan = plan_for(m);
  ASSERT_FALSE(plan.steps.empty());
  std::mt19937_64 random(1);
  fixtures::Hand sharp;
  sharp.edge_mm = sharp.run_out_mm = 1e-6;
  Reed scraped = reed;
  for (const ScrapeStep& step : plan.steps) scraped = scraped.scraped(fixtures::cut_of(step, sharp, random));
  const test::TrueBending truth = test::judge_bending(scraped, m.assessment.cut.bark, 0.0);
  EXPECT_GT(before(plan, BendingFigure::imbalance_tip), kImbalanceTolerance);
  EXPECT_NEAR(after(plan, BendingFigure::imbalance_tip), truth.imbalance_tip, 0.006);
  EXPECT_NEAR(after(plan, BendingFigure::imbalance_lip), truth.imbalance_lip, 0.003);
  EXPECT_NEAR(after(plan, BendingFigure::stiffness_lip) / truth.stiffness_lip, 1.0, 0.01);
  EXPECT_LE(after(plan, BendingFigure::imbalance_tip), 0.45 * kImbalanceTolerance);
}

TEST(PlanScrape, CaneThatIsStifferOnOneSideIsBalancedByTheRollingTestAlone) {
  const Reed reed({}, test::rough_cane(2));
  const auto m = test::measure_drawn(reed, fixtures::profilometer(), 2);
  for (const auto& [test, side] : {std::pair{RollingTest::left, Side::left}, {RollingTest::right, Side::right}}) {
    const ScrapePlan plan = plan_for(m, {.rolling_test = test});
    ASSERT_FALSE(plan.steps.empty());
    for (const auto& step : plan.steps) EXPECT_EQ(step.side, side);
    EXPECT_GT(plan.cane_right_over_left * static_cast<double>(side), 0.03);
    EXPECT_THAT(plan.remarks,
                testing::Contains(HasSubstr(std::string("stiffer on the ") + std::string(name_of(side)))));
    // Shape alone then says the other side is stiffer, but no zone leaves its tolerance.
    EXPECT_LT(after(plan, BendingFigure::imbalance_tip) * static_cast<double>(side), -0.005);
    for (std::size_t z = 0; z < 12; ++z)
      EXPECT_LE(std::abs(plan.prediction[z].after_um), 1e3 * m.assessment.balance.zones[z].tolerance_mm);
  }
  EXPECT_TRUE(plan_for(m, {.rolling_test = RollingTest::even}).steps.empty());
}

TEST(PlanScrape, AnAnswerAgainstAllThatTheShapeSaysIsAVeto) {
  fixtures::ReedFaults faults = test::rough_cane(2);
  faults.heavy_rail_um = 130.0;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 2);
  const ScrapePlan plan = plan_for(m, {.rolling_test = RollingTest::left});
  EXPECT_EQ(plan.status, PlanStatus::veto);
  EXPECT_TRUE(plan.steps.empty());
}

TEST(PlanScrape, LessCaneThanLevellingEverything) {
  double planned = 0.0, levelled = 0.0;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const auto m = test::measure_drawn(Reed({}, some_fault(seed)), fixtures::profilometer(), seed);
    for (const auto& step : plan_for(m).steps) planned += step.volume_mm3;
    for (const auto& zone : m.assessment.balance.zones)
      if (zone.verdict == Verdict::outside) levelled += std::abs(zone.volume_mm3);
  }
  EXPECT_LT(planned, 0.9 * levelled);
}

TEST(PlanScrape, SofterIsSofterByWhatWasAskedAndStaysEven) {
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(2)), fixtures::profilometer(), 2);
  const ScrapePlan plan = plan_for(m, {.aim = aim_from("a quarter softer")});
  ASSERT_FALSE(plan.steps.empty());
  EXPECT_LE(plan.steps.size(), 8U);
  for (const auto& step : plan.steps) EXPECT_EQ(step.aim, StepAim::softer);
  const double ratio = after(plan, BendingFigure::stiffness_lip) / before(plan, BendingFigure::stiffness_lip);
  // A quarter is half a half: kStiffnessPerHalf^-0.5, within an eighth to either side.
  EXPECT_LT(ratio, std::pow(kStiffnessPerHalf, -0.25));
  EXPECT_GE(ratio, std::pow(kStiffnessPerHalf, -0.75));
  EXPECT_NEAR(after(plan, BendingFigure::imbalance_tip), before(plan, BendingFigure::imbalance_tip), 0.01);
}

TEST(PlanScrape, HarderIsRefusedWithAdvice) {
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(2)), fixtures::profilometer(), 2);
  const ScrapePlan plan = plan_for(m, {.aim = aim_from("a half harder")});
  EXPECT_TRUE(plan.steps.empty());
  EXPECT_THAT(plan.sentence, HasSubstr("never harder"));
  EXPECT_THAT(plan.alternatives, testing::Contains(HasSubstr("Clip")));
  EXPECT_FALSE(aim_from("nicer"));
  EXPECT_FALSE(aim_from("reference"));
}

TEST(PlanScrape, NeverSofterThanThePlayerWants) {
  fixtures::ReedFaults faults = test::rough_cane(6);
  faults.heavy_rail_um = 130.0;
  const auto m = test::measure_drawn(Reed({}, faults), fixtures::profilometer(), 6);
  const double now = before(plan_for(m), BendingFigure::stiffness_lip);
  // This reed lies a quarter below the reference already: every stroke makes it worse.
  Player player;
  player.known = {{"reference", 0.0, now * std::pow(kStiffnessPerHalf, 0.52)}};
  player.wanted_halves = 0.0;
  const ScrapePlan plan = plan_for(m, {}, player);
  EXPECT_EQ(plan.status, PlanStatus::cannot_save);
  EXPECT_THAT(plan.sentence, HasSubstr("softer than you want"));
  EXPECT_FALSE(plan.alternatives.empty());
  // Towards a target it stops at the same line.
  fixtures::ReedShape thick;
  thick.profile_linear = 0.72;
  auto t = test::measured(fixtures::scan_reed(Reed(thick, test::rough_cane(3)), fixtures::profilometer(), {}, 3));
  t.assessment.target->chosen_by_user = true;
  const double thick_now = before(plan_for(t), BendingFigure::stiffness_lip);
  player.known = {{"reference", 0.0, thick_now * 0.99 * std::pow(kStiffnessPerHalf, 0.5)}};
  const ScrapePlan towards = plan_for(t, {}, player);
  EXPECT_GE(after(towards, BendingFigure::stiffness_lip), 0.985 * thick_now);
  EXPECT_LT(after(towards, BendingFigure::stiffness_lip), thick_now);
  EXPECT_THAT(towards.remarks, testing::Contains(HasSubstr("softer than you want")));
}

TEST(PlanScrape, AScanTooCoarseToSeeTheFaultProposesNothing) {
  fixtures::ScannerModel coarse = fixtures::structured_light();
  coarse.noise_um = 90.0;
  coarse.along_mm = 0.15;
  coarse.between_mm = 0.25;
  for (std::uint64_t seed = 0; seed < 4; ++seed) {
    ReedFaults faults = test::rough_cane(seed);
    faults.heavy_rail_um = 20.0;
    const auto m = test::measure_drawn(Reed({}, faults), coarse, seed);
    const ScrapePlan plan = plan_for(m);
    EXPECT_TRUE(plan.steps.empty()) << plan.sentence;
    EXPECT_EQ(plan.status, PlanStatus::cannot_tell) << plan.sentence;
    // The same fault is found by a scan that is fine enough.
    EXPECT_FALSE(plan_for(test::measure_drawn(Reed({}, faults), fixtures::profilometer(), seed)).steps.empty());
  }
}

TEST(PlanScrape, WithoutBendingThicknessAloneIsLevelledAndThatIsSaid) {
  const auto m = test::measure_drawn(Reed({}, some_fault(4)), fixtures::profilometer(), 4);
  BentReed unknown;
  unknown.mechanics.why_not = "no tip";
  const ScrapePlan plan = plan_scrape(m.map, m.aligned.outline, m.assessment, unknown, {}, {}, {});
  EXPECT_FALSE(plan.steps.empty());
  EXPECT_TRUE(plan.figures.empty());
  EXPECT_THAT(plan.remarks, testing::Contains(HasSubstr("not known")));
  // Softer cannot be planned then, and a reed that is even is not called soft enough.
  const auto even = test::measure_drawn(Reed({}, test::rough_cane(3)), fixtures::profilometer(), 3);
  PlanOptions softer;
  softer.aim = aim_from("a quarter softer");
  const ScrapePlan none = plan_scrape(even.map, even.aligned.outline, even.assessment, unknown, {}, {}, softer);
  EXPECT_TRUE(none.steps.empty());
  EXPECT_THAT(none.remarks, testing::Contains(HasSubstr("Softer was asked for")));
}

TEST(PlanScrape, AnAimAtATargetThatNobodyChoseScrapesToNone) {
  // One of the built-in cuts is always the nearest; no reed is led there unasked.
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(3)), fixtures::profilometer(), 3);
  PlanOptions options;
  options.aim = aim_from("target");
  EXPECT_TRUE(plan_for(m, options).steps.empty());
}

TEST(PlanScrape, SofterThanAScanCanSteerIsSaid) {
  fixtures::ScannerModel coarse = fixtures::structured_light();
  coarse.noise_um = 90.0;
  coarse.along_mm = 0.15;
  coarse.between_mm = 0.25;
  const auto m = test::measure_drawn(Reed({}, test::rough_cane(3)), coarse, 3);
  PlanOptions options;
  options.aim = aim_from("a quarter softer");
  options.most_depth_um = 4.0;  // One session may take less than such a scan can see.
  const ScrapePlan plan = plan_for(m, options);
  EXPECT_TRUE(plan.steps.empty()) << plan.sentence;
  EXPECT_EQ(plan.status, PlanStatus::cannot_tell);
  EXPECT_THAT(plan.sentence, HasSubstr("softer"));
  EXPECT_THAT(plan.remarks, testing::Not(testing::Contains(HasSubstr("as far as one session goes"))));
}

TEST(PlanScrape, OptionsOutOfTheirRangeAreRefused) {
  EXPECT_NO_THROW(validate(PlanOptions{}));
  EXPECT_THROW(validate(PlanOptions{.tip_margin_mm = -1.0}), UsageError);
  EXPECT_THROW(validate(PlanOptions{.floor_tip_mm = 2.0}), UsageError);
  EXPECT_THROW(validate(PlanOptions{.floor_in_tolerances = -1.0}), UsageError);
  EXPECT_THROW(validate(PlanOptions{.most_steps = 0}), UsageError);
  EXPECT_THROW(validate(PlanOptions{.most_depth_um = 0.0}), UsageError);
}

}  // namespace
}  // namespace canewise
