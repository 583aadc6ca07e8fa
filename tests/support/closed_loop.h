#pragma once

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <mutex>
#include <random>
#include <vector>

#include "scanproc/core/parallel.h"
#include "scanproc/scrape/plan_scrape.h"
#include "tests/support/scans.h"
#include "tests/support/spline_plate.h"

namespace canewise::test {

/// A faulty reed whose cane is also stiffer on one side than on the other, which no scan shows.
struct FaultyReed {
  fixtures::Reed reed;
  double left_right = 0.0;  ///< Hidden: moduli of the right over those of the left, less 1.
  double reference_n_per_mm = 0.0;
  Bark bark;  ///< As the judge takes it.
};

struct TrueBending {
  double imbalance_tip = 0.0, imbalance_lip = 0.0, stiffness_lip = 0.0;
  [[nodiscard]] bool balanced() const {
    return std::abs(imbalance_tip) <= kImbalanceTolerance && std::abs(imbalance_lip) <= kImbalanceTolerance;
  }
};

/// By another solver on another net than the product's, of the true surface.
inline TrueBending judge_bending(const fixtures::Reed& reed, const Bark& bark, double left_right) {
  SplineReed s;
  s.thickness_mm = [&](double x, double y) { return std::max(0.02, reed.thickness_mm(x, y)); };
  s.inside = [&](double x, double y) { return reed.inside(x, y); };
  s.half_width_mm = [&](double x) { return reed.half_width_mm(x); };
  s.bark_mm = [&](double x, double y) { return bark.at(x, y); };
  s.left_right = left_right;
  const SplinePlate plate(s);
  const Player player;
  const double half = reed.half_width_mm(player.tip_patch_at_mm), aside = 0.6 * half;
  const double lip_half = reed.half_width_mm(player.lip_at_mm);
  const auto imbalance = [](double left, double right) { return 2.0 * (right - left) / (right + left); };
  TrueBending bending;
  bending.imbalance_tip = imbalance(plate.stiffness(player.tip_patch_at_mm, -aside, 2.0, 2.0),
                                    plate.stiffness(player.tip_patch_at_mm, aside, 2.0, 2.0));
  bending.imbalance_lip = imbalance(plate.stiffness(player.lip_at_mm, -0.5 * lip_half, player.lip_length_mm, lip_half),
                                    plate.stiffness(player.lip_at_mm, 0.5 * lip_half, player.lip_length_mm, lip_half));
  bending.stiffness_lip = plate.stiffness(player.lip_at_mm, 0.0, player.lip_length_mm, 2.0 * lip_half);
  return bending;
}

/// Reeds as a box may hold them, with one or two faults that a player would want gone.
inline FaultyReed faulty_reed(std::uint64_t seed) {
  std::mt19937_64 random(seed * 7919 + 13);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  std::normal_distribution<double> normal;
  while (true) {
    fixtures::ReedShape shape;
    shape.vamp_length_mm = between(32.0, 34.5);
    shape.tip_thickness_mm = between(0.095, 0.115);
    shape.profile_linear = between(0.60, 0.66);
    shape.heart_mm = between(0.05, 0.10);
    fixtures::ReedFaults faults = rough_cane(seed);
    faults.heavy_rail_um = between(40.0, 150.0);
    // Sometimes the other rail was scraped too thin.
    if (between(0.0, 1.0) < 0.2) faults.heavy_rail_um *= -0.7;
    faults.heavy_rail_side = between(0.0, 1.0) < 0.5 ? 1 : -1;
    faults.heavy_rail_from_mm = between(4.0, 10.0);
    faults.heavy_rail_to_mm = faults.heavy_rail_from_mm + between(6.0, 16.0);
    if (between(0.0, 1.0) < 0.3) {
      faults.thick_corner_um = between(15.0, 30.0);
      faults.thick_corner_side = between(0.0, 1.0) < 0.5 ? 1 : -1;
    }
    if (between(0.0, 1.0) < 0.3) faults.heart_shift_mm = between(-0.6, 0.6);
    FaultyReed faulty{fixtures::Reed(shape, faults), 0.05 * normal(random), 0.0, {}};
    faulty.bark.height_mm.value = shape.stock_height_mm;
    faulty.bark.radius_mm.value = shape.bark_radius_mm;
    const TrueBending bending = judge_bending(faulty.reed, faulty.bark, faulty.left_right);
    if (bending.balanced()) continue;
    faulty.reference_n_per_mm = judge_bending(fixtures::Reed(shape), faulty.bark, 0.0).stiffness_lip;
    return faulty;
  }
}

/// A player's hand with a tool.
struct Hand {
  double depth_factor = 1.0;  ///< Depth of a stroke over what the plan takes it for...
  double scatter = 0.0;       ///< ...and its relative scatter from place to place.
  double slip_mm = 0.0;       ///< Standard deviation of where a step comes to lie, in both directions together.
  double edge_mm = 0.35;      ///< Over so much the tool's cut fades out at its sides...
  double run_out_mm = 1.0;    ///< ...and where a stroke starts and ends.
  double test_blur = 0.0;     ///< Of the rolling test, as a share.
  double test_threshold = kNoticedImbalance;
};

inline Hand drawn_hand(std::uint64_t seed) {
  std::mt19937_64 random(seed * 104729 + 7);
  std::normal_distribution<double> normal;
  Hand hand;
  hand.depth_factor = std::max(0.3, 1.0 + 0.4 * normal(random));
  hand.scatter = 0.15;
  hand.slip_mm = 0.7;
  hand.test_blur = 0.02;
  hand.test_threshold = std::uniform_real_distribution<double>(0.03, 0.05)(random);
  return hand;
}

/// What a step takes off, as this hand does it.
inline std::function<double(double, double)> cut_of(const ScrapeStep& step, const Hand& hand,
                                                    double depth_per_stroke_um, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  const double dx = hand.slip_mm / std::sqrt(2.0) * normal(random), dy = hand.slip_mm / std::sqrt(2.0) * normal(random);
  const double depth = 1e-3 * step.depth_um * std::max(0.1, hand.depth_factor * (1.0 + hand.scatter * normal(random)));
  (void)depth_per_stroke_um;
  // The polygon with faded edges: mean over a small window.
  return [polygon = step.polygon, dx, dy, depth, across = hand.edge_mm, along = hand.run_out_mm](double x, double y) {
    constexpr int n = 5;
    double sum = 0.0;
    for (int i = 0; i < n; ++i)
      for (int j = 0; j < n; ++j)
        sum += holds(polygon, x - dx + along * ((i + 0.5) / n - 0.5), y - dy + across * ((j + 0.5) / n - 0.5));
    return depth * sum / (n * n);
  };
}

struct LoopEnd {
  TrueBending before, after;
  double cane_mm3 = 0.0;
  int rounds = 0;
  PlanStatus last = PlanStatus::cannot_tell;
  double window_lower = 0.0, window_upper = 0.0;
  [[nodiscard]] bool in_window() const {
    return after.stiffness_lip >= window_lower && after.stiffness_lip <= window_upper;
  }
};

/// Scan, test, plan, scrape, scan again, at most four rounds.
inline LoopEnd work_on(const FaultyReed& faulty, const Hand& hand, std::uint64_t seed, bool verbose = false) {
  std::mt19937_64 random(seed + 5);
  std::normal_distribution<double> normal;
  LoopEnd end;
  fixtures::Reed reed = faulty.reed;
  end.before = end.after = judge_bending(reed, faulty.bark, faulty.left_right);
  Player player;
  player.known = {{"reference", 0.0, faulty.reference_n_per_mm}};
  player.wanted_halves = 0.0;
  end.window_lower = faulty.reference_n_per_mm * std::pow(kStiffnessPerHalf, -0.5);
  end.window_upper = faulty.reference_n_per_mm * std::pow(kStiffnessPerHalf, 0.5);
  for (int round = 0; round < 4; ++round) {
    const auto scanner = seed % 2 == 0 ? fixtures::profilometer() : fixtures::laser_line();
    const Measurement m = measure_drawn(reed, scanner, seed * 10 + static_cast<std::uint64_t>(round));
    const BentReed bent =
        bend_reed(m.map, m.aligned.outline, m.assessment, player, "clarinet-bb", MoistureState::dry, {.modes = 1});
    const double heard = end.after.imbalance_tip + hand.test_blur * normal(random);
    PlanOptions options;
    options.rolling_test = heard > hand.test_threshold    ? RollingTest::right
                           : heard < -hand.test_threshold ? RollingTest::left
                                                          : RollingTest::even;
    const ScrapePlan plan = plan_scrape(m.map, m.aligned.outline, m.assessment, bent, {}, player, options);
    end.last = plan.status;
    if (verbose)
      std::printf("  round %d: true tip %+.3f lip %+.3f k %.2f (hidden %+.3f); shape tip %+.3f; test %d -> %s: %s\n",
                  round, end.after.imbalance_tip, end.after.imbalance_lip, end.after.stiffness_lip, faulty.left_right,
                  bent.mechanics.figure(BendingFigure::imbalance_tip).value, static_cast<int>(options.rolling_test),
                  std::string(name_of(plan.status)).c_str(), plan.sentence.c_str());
    if (plan.status == PlanStatus::veto) continue;  // Scan and test again.
    if (plan.steps.empty()) break;
    ++end.rounds;
    for (const ScrapeStep& step : plan.steps) {
      const auto cut = cut_of(step, hand, player.depth_per_stroke_um, random);
      const fixtures::Reed before = reed;
      reed = reed.scraped(cut);
      for (double x = 0.05; x < 36.0; x += 0.1)
        for (double y = -6.45; y < 6.5; y += 0.1)
          if (reed.inside(x, y)) end.cane_mm3 += 0.01 * cut(x, y);
    }
    end.after = judge_bending(reed, faulty.bark, faulty.left_right);
  }
  return end;
}

}  // namespace canewise::test
