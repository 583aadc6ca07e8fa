#include "scanproc/compare/comparison.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <limits>

#include "fixtures/hand.h"
#include "fixtures/write_cloud.h"
#include "scanproc/compare/learned_hand.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/core/statistics.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/scrape/scrape_region.h"
#include "tests/support/in_english.h"
#include "tests/support/scans.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::Contains;
using testing::HasSubstr;

/// One rig, one plate and one reed: only its lie on the plate and the scanner's noise differ from scan to scan.
Result scanned(const fixtures::Reed& reed, const fixtures::ScannerModel& scanner, std::uint64_t seed,
               MoistureState state = MoistureState::dry) {
  fixtures::SceneOptions scene = test::drawn_scene(seed);
  const fixtures::Nuisance rig = test::drawn_scene(77).nuisance;
  scene.nuisance.scale_rel = rig.scale_rel;
  scene.nuisance.penetration_um = rig.penetration_um;
  scene.nuisance.plate_bow_x_um = rig.plate_bow_x_um;
  scene.nuisance.plate_bow_y_um = rig.plate_bow_y_um;
  scene.nuisance.plate_twist_um = rig.plate_twist_um;
  scene.nuisance.lie.bow_um = rig.lie.bow_um;
  scene.nuisance.lie.cup_um = rig.lie.cup_um;
  scene.nuisance.lie.twist_um = rig.lie.twist_um;
  const test::TempFolder folder;
  MeasureInputs inputs;
  inputs.scans = {folder.file("reed.ply", fixtures::ply_binary(fixtures::scan_reed(reed, scanner, scene, seed).cloud))};
  MeasureOptions options;
  options.state = state;
  // Through the file, as `compare` gets it.
  return result_from_json(json_from_result(measure(inputs, options)), "result.json");
}

fixtures::Reed heavy(std::uint64_t seed, double um = 70.0) {
  fixtures::ReedFaults faults = test::rough_cane(seed);
  faults.heavy_rail_um = um;
  return fixtures::Reed({}, faults);
}

/// Carries out the plan; what came off as a function of place.
struct Work {
  fixtures::Reed after;
  fixtures::Reed before;
  [[nodiscard]] double removed_mm(double x, double y) const {
    return before.thickness_mm(x, y) - after.thickness_mm(x, y);
  }
};
Work carry_out(const fixtures::Reed& reed, const ScrapePlan& plan, const fixtures::Hand& hand, std::uint64_t seed) {
  Work work{reed, reed};
  std::mt19937_64 random(seed);
  for (const ScrapeStep& step : plan.steps) work.after = work.after.scraped(fixtures::cut_of(step, hand, random));
  return work;
}

/// Mean over the cells of a step that the comparison shows.
double truly_removed_um(const Work& work, const ScrapeStep& step, const Comparison& comparison) {
  const Grid& grid = comparison.grid;
  double truth_mm = 0.0, count = 0.0;
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      if (std::isnan(comparison.removed_mm(r, c)) || !holds(step.polygon, grid.x_mm(r), grid.y_mm(c))) continue;
      truth_mm += work.removed_mm(grid.x_mm(r), grid.y_mm(c));
      count += 1.0;
    }
  }
  return 1e3 * truth_mm / count;
}

TEST(Comparison, CoversWhatCameOffCellByCellAndStepByStep) {
  double covered = 0.0, cells = 0.0, squares = 0.0, steps = 0.0, steps_covered = 0.0, edges = 0.0, edges_covered = 0.0;
  for (std::uint64_t seed = 0; seed < 8; ++seed) {
    const auto scanner = seed % 2 == 0 ? fixtures::profilometer() : fixtures::laser_line();
    const fixtures::Reed reed = heavy(seed, 50.0 + 10.0 * static_cast<double>(seed % 4));
    const Result before = scanned(reed, scanner, 2 * seed);
    ASSERT_FALSE(before.plan.steps.empty());
    fixtures::Hand hand;
    hand.depth_factor = 0.7 + 0.1 * static_cast<double>(seed);
    hand.slip_mm = 0.5;
    const Work work = carry_out(reed, before.plan, hand, seed);
    const Comparison comparison = compare(before, scanned(work.after, scanner, 2 * seed + 1));
    EXPECT_FALSE(comparison.left_right_only);
    EXPECT_EQ(comparison.clipped_mm, 0.0);
    const Grid& grid = comparison.grid;
    const auto seen = [&](Eigen::Index r, Eigen::Index c) {
      return !std::isnan(comparison.removed_mm(r, c)) && grid.x_mm(r) > 1.0 && grid.x_mm(r) < 31.0 &&
             before.outline.holds(grid.x_mm(r), grid.y_mm(c), 0.3);
    };
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      for (Eigen::Index c = 0; c < grid.columns; ++c) {
        if (!seen(r, c)) continue;
        const double x = grid.x_mm(r), y = grid.y_mm(c), u = comparison.u_mm(r, c);
        const double error = comparison.removed_mm(r, c) - work.removed_mm(x, y);
        // A cell at a cut's edge is a mean over its footprint: anything between what lies within that.
        double least = 1e9, most = -1e9;
        for (const double dx : {-0.5, 0.0, 0.5}) {
          for (const double dy : {-0.5, 0.0, 0.5}) {
            least = std::min(least, work.removed_mm(x + dx, y + dy));
            most = std::max(most, work.removed_mm(x + dx, y + dy));
          }
        }
        if (most - least > 5e-4) {
          edges_covered += std::abs(error) <= kCoverage95 * u + most - least;
          edges += 1.0;
          continue;
        }
        covered += std::abs(error) <= kCoverage95 * u;
        squares += square(error / u);
        cells += 1.0;
      }
    }
    for (std::size_t k = 0; k < comparison.steps.size(); ++k) {
      const RemovedStep& step = comparison.steps.at(k);
      // A cut's edge is steeper than a cell is wide: a micrometre is left to that.
      const double error = std::abs(step.removed_um - truly_removed_um(work, before.plan.steps.at(k), comparison));
      EXPECT_LE(error, 3.5 * step.u_um + 1.5) << step.where << ", seed " << seed;
      steps_covered += error <= kCoverage95 * step.u_um + 1.0;
      steps += 1.0;
    }
  }
  EXPECT_NEAR(covered / cells, 0.955, 0.02);
  EXPECT_GE(edges_covered / edges, 0.95);
  std::printf("cells: %.3f covered, rms of error over u %.3f\n", covered / cells, std::sqrt(squares / cells));
  EXPECT_NEAR(std::sqrt(squares / cells), 1.0, 0.06) << "neither too narrow nor too wide";
  EXPECT_GE(steps_covered / steps, 0.8);
}

TEST(Comparison, LearnsTheHandAndKeepsWhatWasKnown) {
  for (const double factor : {0.6, 1.0, 1.5}) {
    const fixtures::Reed reed = heavy(1);
    const Result before = scanned(reed, fixtures::profilometer(), 1);
    fixtures::Hand hand;
    hand.depth_factor = factor;
    const Comparison comparison =
        compare(before, scanned(carry_out(reed, before.plan, hand, 1).after, fixtures::profilometer(), 2));
    ASSERT_TRUE(comparison.hand);
    // The rim's last tenths lie outside the map, and so does what is taken off there.
    EXPECT_NEAR(comparison.hand->removed_over_planned / factor, 1.0, 0.06);
    EXPECT_LT(comparison.hand->u_depth_per_stroke_rel, 0.25);
    CompareOptions sure;
    sure.player.u_depth_per_stroke_rel = 0.02;
    const Comparison kept =
        compare(before, scanned(carry_out(reed, before.plan, hand, 1).after, fixtures::profilometer(), 2), sure);
    EXPECT_NEAR(kept.hand->depth_per_stroke_um, 2.0, 0.05) << "a hand that is known well hardly changes in one day";
    CompareOptions half;
    half.strokes_done = {0.5};
    EXPECT_GT(compare(before, scanned(carry_out(reed, before.plan, hand, 1).after, fixtures::profilometer(), 2), half)
                  .hand->depth_per_stroke_um,
              1.4 * comparison.hand->depth_per_stroke_um);
  }
}

TEST(Comparison, AHandLearnsFromOneScrapingOnce) {
  const test::TempFolder folder;
  const fixtures::Reed reed = heavy(1);
  const Result before = scanned(reed, fixtures::profilometer(), 1);
  fixtures::Hand hand;
  hand.depth_factor = 1.5;
  const fixtures::Reed scraped = carry_out(reed, before.plan, hand, 1).after;
  const Result after = scanned(scraped, fixtures::profilometer(), 2),
               another = scanned(scraped, fixtures::profilometer(), 3);
  const auto file = folder.path() / "me.toml";
  const auto first = keep_hand(file, compare(before, after), before.player);
  ASSERT_TRUE(first);
  EXPECT_EQ(first->old_copy, "");
  CompareOptions now;
  now.player = read_player(file);
  EXPECT_EQ(now.player.depth_per_stroke_um, first->player.depth_per_stroke_um);
  EXPECT_GT(now.player.depth_per_stroke_um, 2.3);

  const Comparison again = compare(before, after, now);
  ASSERT_TRUE(again.hand);
  EXPECT_TRUE(again.hand->known_already);
  EXPECT_EQ(again.hand->depth_per_stroke_um, now.player.depth_per_stroke_um);
  EXPECT_FALSE(keep_hand(file, again, before.player));
  EXPECT_FALSE(keep_hand(file, compare(before, after), before.player)) << "nor by who did not know of it";
  EXPECT_FALSE(keep_hand(file, compare(before, another), before.player)) << "nor by another scan after the same work";
  EXPECT_EQ(read_player(file).hand_learned_from.size(), 1U);

  // Another reed, by somebody who read the file before all this: what it learned since is not lost.
  const fixtures::Reed other = heavy(2);
  const Result other_before = scanned(other, fixtures::profilometer(), 4);
  const Result other_after = scanned(carry_out(other, other_before.plan, hand, 2).after, fixtures::profilometer(), 5);
  const auto second = keep_hand(file, compare(other_before, other_after), before.player);
  ASSERT_TRUE(second);
  EXPECT_NE(second->old_copy, "");
  EXPECT_GT(second->player.depth_per_stroke_um, now.player.depth_per_stroke_um);
  EXPECT_LT(second->player.u_depth_per_stroke_rel, now.player.u_depth_per_stroke_rel);
  EXPECT_EQ(read_player(file).hand_learned_from.size(), 2U);
}

TEST(Comparison, ANewPlayerFileIsThePlayerOfThePlan) {
  const test::TempFolder folder;
  const fixtures::Reed reed = heavy(1);
  Result before = scanned(reed, fixtures::profilometer(), 1);
  before.player.tip_opening_mm = 1.2;
  before.player.wanted_halves = -1.0;
  const Result after = scanned(carry_out(reed, before.plan, {}, 1).after, fixtures::profilometer(), 2);
  ASSERT_TRUE(keep_hand(folder.path() / "new.toml", compare(before, after), before.player));
  const Player kept = read_player(folder.path() / "new.toml");
  EXPECT_EQ(kept.tip_opening_mm, 1.2);
  EXPECT_EQ(kept.wanted_halves, -1.0);
}

TEST(Comparison, AHandIsLearnedWhereStrokesWereMade) {
  // Two faults, one on each side: the layers of one fault lie over each other.
  fixtures::ReedFaults faults = test::rough_cane(1);
  faults.heavy_rail_um = 70.0;
  faults.heavy_rail_from_mm = 16.0;
  const fixtures::Reed reed = fixtures::Reed({}, faults).scraped([](double x, double y) {
    return -0.07 * std::exp(-std::pow((x - 8.0) / 3.0, 2) - std::pow((y + 5.4) / 1.4, 2));
  });
  const Result before = scanned(reed, fixtures::profilometer(), 1);
  const auto& steps = before.plan.steps;
  ASSERT_GE(steps.size(), 2U);
  int elsewhere = 0;
  // Only one step is carried out, whichever: a share of all strokes would take the hand for a heavy or a light one.
  for (std::size_t done = 0; done < steps.size(); ++done) {
    std::mt19937_64 random(1);
    const Result after =
        scanned(reed.scraped(fixtures::cut_of(steps[done], {}, random)), fixtures::profilometer(), 2 + done);
    CompareOptions options;
    options.strokes_done.assign(steps.size(), 0.0);
    options.strokes_done[done] = 1.0;
    const Comparison comparison = compare(before, after, options);
    ASSERT_TRUE(comparison.hand) << steps[done].where;
    // The rim's last tenths lie outside the map.
    EXPECT_NEAR(comparison.hand->seen_um, before.player.depth_per_stroke_um, 0.12) << steps[done].where;
    // What somebody took off on the other side is none of these strokes' work.
    fixtures::Reed more_done = reed.scraped(fixtures::cut_of(steps[done], {}, random));
    for (const ScrapeStep& step : steps) {
      if (step.side != steps[done].side) more_done = more_done.scraped(fixtures::cut_of(step, {}, random)), ++elsewhere;
    }
    // With the same noise, so that nothing else differs.
    const Comparison more = compare(before, scanned(more_done, fixtures::profilometer(), 2 + done), options);
    ASSERT_TRUE(more.hand);
    EXPECT_NEAR(more.hand->seen_um, comparison.hand->seen_um, 0.08) << steps[done].where;
    options.strokes_done.assign(steps.size(), 0.0);
    EXPECT_FALSE(compare(before, after, options).hand) << "without a stroke there is nothing to learn";
    options.strokes_done.assign(steps.size() + 1, 1.0);
    EXPECT_THROW((void)compare(before, after, options), UsageError);
  }
  EXPECT_GT(elsewhere, 0);
}

TEST(Comparison, WhatIsNoLightStrokeIsNotLearned) {
  const test::TempFolder folder;
  const fixtures::Reed reed = heavy(1);
  const Result before = scanned(reed, fixtures::profilometer(), 1);
  const Result after = scanned(carry_out(reed, before.plan, {}, 1).after, fixtures::profilometer(), 2);
  CompareOptions options;
  for (const double share : {0.01, 0.005}) {
    options.strokes_done = {share};
    const Comparison comparison = compare(before, after, options);
    EXPECT_FALSE(comparison.hand) << "a hundredth of the strokes cannot have done it all: " << share;
    EXPECT_FALSE(keep_hand(folder.path() / "me.toml", comparison, before.player));
  }
  EXPECT_FALSE(is_there(folder.path() / "me.toml"));
}

TEST(Comparison, AHandIsJudgedByWhatBothScansSaw) {
  const fixtures::Reed reed = heavy(1);
  const Result before = scanned(reed, fixtures::profilometer(), 1);
  fixtures::Hand hand;
  hand.depth_factor = 0.7;
  Result after = scanned(carry_out(reed, before.plan, hand, 1).after, fixtures::profilometer(), 2);
  const auto blind = [&](double share) {  // Behind this share of the first step nothing is seen.
    Result result = after;
    double low = 1e9, high = 0.0;
    for (const ScrapeStep& step : before.plan.steps) {
      low = std::min(low, step.from_mm);
      high = std::max(high, step.to_mm);
    }
    const double from = high - share * (high - low);
    for (Eigen::Index r = 0; r < result.map.grid.rows; ++r) {
      if (const double x = result.map.grid.x_mm(r); x > from && x < high + 2.0)
        result.map.thickness_mm.row(r).setConstant(std::numeric_limits<float>::quiet_NaN());
    }
    return compare(before, result);
  };
  const Comparison part = blind(0.3);
  ASSERT_TRUE(part.hand);
  EXPECT_NEAR(part.hand->removed_over_planned, 0.7, 0.06);
  EXPECT_FALSE(blind(0.9).hand) << "a tenth of the work says little of the whole";
}

TEST(Comparison, WorksAcrossAClippedTip) {
  const fixtures::Reed reed = heavy(2);
  const Result before = scanned(reed, fixtures::laser_line(), 3);
  const Work work = carry_out(reed, before.plan, {}, 2);
  const Comparison whole = compare(before, scanned(work.after, fixtures::laser_line(), 4));
  const Comparison clipped = compare(before, scanned(work.after.clipped(0.4), fixtures::laser_line(), 4));
  EXPECT_NEAR(clipped.clipped_mm, 0.4, 0.06);
  EXPECT_THAT(test::each_in_english(clipped.remarks), Contains(HasSubstr("clipped by 0.")));
  ASSERT_EQ(whole.steps.size(), clipped.steps.size());
  for (std::size_t k = 0; k < whole.steps.size(); ++k)
    EXPECT_NEAR(clipped.steps[k].removed_um, whole.steps[k].removed_um, 3.0 * whole.steps[k].u_um + 1.0);
}

TEST(Comparison, OfTwoStatesOfMoistureOnlyLeftAgainstRightIsTold) {
  const fixtures::Reed reed = heavy(3);
  const Result before = scanned(reed, fixtures::profilometer(), 5);
  const Work work = carry_out(reed, before.plan, {}, 3);
  // Wet, everything is 3 % thicker.
  const fixtures::Reed wet =
      work.after.scraped([&](double x, double y) { return -0.03 * work.after.thickness_mm(x, y); });
  const Comparison comparison = compare(before, scanned(wet, fixtures::profilometer(), 6, MoistureState::wet));
  EXPECT_TRUE(comparison.left_right_only);
  EXPECT_THAT(test::each_in_english(comparison.remarks), Contains(HasSubstr("cane swells")));
  // What swelling adds to the difference of the sides is 3 % of it.
  ASSERT_FALSE(comparison.steps.empty());
  for (std::size_t k = 0; k < comparison.steps.size(); ++k) {
    const double truth = truly_removed_um(work, before.plan.steps.at(k), comparison);
    EXPECT_NEAR(comparison.steps[k].removed_um / truth, 1.0, 0.1) << comparison.steps[k].where;
  }
  EXPECT_FLOAT_EQ(comparison.removed_mm(60, 10), -comparison.removed_mm(60, comparison.grid.mirrored(10)));
}

// What comes off both sides alike shows in no left-right difference.
TEST(Comparison, OfTwoStatesOfMoistureAPairOfStepsCannotBeJudged) {
  const fixtures::Reed reed = heavy(3);
  Result before = scanned(reed, fixtures::profilometer(), 5);
  const Work work = carry_out(reed, before.plan, {}, 3);
  ScrapeStep pair = before.plan.steps.front();
  for (PlanPoint& point : pair.polygon) point.y_mm *= -1.0;
  std::reverse(pair.polygon.begin(), pair.polygon.end());
  before.plan.steps = {before.plan.steps.front(), pair};
  const Result after = scanned(work.after, fixtures::profilometer(), 6, MoistureState::wet);
  const Comparison comparison = compare(before, after);
  for (const RemovedStep& step : comparison.steps) {
    EXPECT_TRUE(std::isnan(step.removed_um)) << step.where;
    EXPECT_EQ(step.as_planned, Verdict::cannot_tell);
  }
  EXPECT_FALSE(comparison.hand);
  CompareOptions one_of_them;
  one_of_them.strokes_done = {1.0, 0.0};
  EXPECT_FALSE(compare(before, after, one_of_them).hand) << "a share of nothing is no share";
}

TEST(Comparison, SwellingIsTakenOutAndSaid) {
  const fixtures::Reed reed = heavy(4);
  const Result before = scanned(reed, fixtures::profilometer(), 7);
  const Work work = carry_out(reed, before.plan, {}, 4);
  const fixtures::Reed damp =
      work.after.scraped([&](double x, double y) { return -0.008 * work.after.thickness_mm(x, y); });
  const Comparison comparison = compare(before, scanned(damp, fixtures::profilometer(), 8));
  EXPECT_NEAR(comparison.swelling_rel, 0.008, 0.0012);
  EXPECT_THAT(test::each_in_english(comparison.remarks), Contains(HasSubstr("has swollen")));
  const Comparison dry = compare(before, scanned(work.after, fixtures::profilometer(), 8));
  for (std::size_t k = 0; k < dry.steps.size(); ++k)
    EXPECT_NEAR(comparison.steps[k].removed_um, dry.steps[k].removed_um, 2.0);
}

TEST(Comparison, SaysWhatWentWhereNobodyPlannedIt) {
  const fixtures::Reed reed = heavy(5);
  const Result before = scanned(reed, fixtures::profilometer(), 9);
  const Work work = carry_out(reed, before.plan, {}, 5);
  const fixtures::Reed more =
      work.after.scraped([](double x, double y) { return x > 23.0 && x < 31.0 && y < -2.5 && y > -4.0 ? 0.030 : 0.0; });
  const Comparison comparison = compare(before, scanned(more, fixtures::profilometer(), 10));
  EXPECT_THAT(test::each_in_english(comparison.remarks), Contains(HasSubstr("left flank, back")));
  EXPECT_EQ(compare(before, scanned(work.after, fixtures::profilometer(), 10)).remarks.size(), 0U);
}

TEST(Comparison, OtherReedsAndTheWrongOrderAreRefused) {
  const fixtures::Reed reed = heavy(6);
  const Result before = scanned(reed, fixtures::profilometer(), 11);
  const Result after = scanned(carry_out(reed, before.plan, {}, 6).after, fixtures::profilometer(), 12);
  try {
    (void)compare(after, before);
    FAIL() << "cane does not grow";
  } catch (const NotMeasurable& error) {
    EXPECT_THAT(error.what(), HasSubstr("wrong order"));
  }
  try {
    (void)compare(before, before);
    FAIL() << "one scan twice";
  } catch (const NotMeasurable& error) {
    EXPECT_THAT(error.what(), HasSubstr("the same scan file"));
  }
  // The same cut and size, so that only the cane itself tells: one has its heavy rail on the other side.
  fixtures::ReedFaults mirrored = test::rough_cane(7);
  mirrored.heavy_rail_um = 70.0;
  mirrored.heavy_rail_side = -1;
  try {
    (void)compare(before, scanned(fixtures::Reed({}, mirrored), fixtures::profilometer(), 14));
    FAIL() << "another reed";
  } catch (const NotMeasurable& error) {
    EXPECT_THAT(error.what(), HasSubstr("do not look like one reed"));
  }
  fixtures::ReedShape other;
  other.stock_height_mm = 2.7;
  EXPECT_THROW((void)compare(before, scanned(fixtures::Reed(other), fixtures::profilometer(), 13)), NotMeasurable);
}

}  // namespace
}  // namespace canewise
