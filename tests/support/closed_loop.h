#pragma once

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <mutex>
#include <random>
#include <vector>

#include "fixtures/hand.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "tests/support/bent_reeds.h"
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
    return std::abs(imbalance_tip) <= kUsualTolerances.imbalance &&
           std::abs(imbalance_lip) <= kUsualTolerances.imbalance;
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
  const Lip lip = lip_of({}, "clarinet-bb");
  const double half = reed.half_width_mm(lip.tip_patch_at_mm), aside = 0.6 * half;
  const double lip_half = reed.half_width_mm(lip.at_mm);
  const auto imbalance = [](double left, double right) { return 2.0 * (right - left) / (right + left); };
  TrueBending bending;
  bending.imbalance_tip = imbalance(plate.stiffness(lip.tip_patch_at_mm, -aside, 2.0, 2.0),
                                    plate.stiffness(lip.tip_patch_at_mm, aside, 2.0, 2.0));
  bending.imbalance_lip = imbalance(plate.stiffness(lip.at_mm, -0.5 * lip_half, lip.length_mm, lip_half),
                                    plate.stiffness(lip.at_mm, 0.5 * lip_half, lip.length_mm, lip_half));
  bending.stiffness_lip = plate.stiffness(lip.at_mm, 0.0, lip.length_mm, 2.0 * lip_half);
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

/// A player's ear in the rolling test.
struct Ear {
  double blur = 0.0;  ///< Standard deviation of the imbalance as it is heard.
  double threshold = kNoticedImbalance;
};

struct Worker {
  fixtures::Hand hand;
  Ear ear;
};
inline Worker drawn_worker(std::uint64_t seed) {
  std::mt19937_64 random(seed * 104729 + 7);
  Worker worker{fixtures::drawn_hand(random), {0.02, 0.0}};
  worker.ear.threshold = std::uniform_real_distribution<double>(0.03, 0.05)(random);
  return worker;
}

struct LoopEnd {
  TrueBending before, after;
  double cane_mm3 = 0.0;
  double heart_cut_um = 0.0, bark_cut_um = 0.0;  ///< Deepest, in a place that no plan allows and no slip reaches.
  int rounds = 0;
  PlanStatus last = PlanStatus::cannot_tell;
  double window_lower = 0.0, window_upper = 0.0;
  [[nodiscard]] bool in_window() const {
    return after.stiffness_lip >= window_lower && after.stiffness_lip <= window_upper;
  }
};

/// The heart, but for a hand's slip, and the bark.
inline void look_at_what_is_protected(const Measurement& m, const std::function<double(double, double)>& cut,
                                      LoopEnd& end) {
  constexpr double slip_mm = 1.2;  // Twice 0.5 mm in one direction, and the cut's faded edge.
  const double vamp = m.assessment.cut.vamp_length_mm.value;
  for (double x = ZoneLimits::t[2] * vamp + slip_mm + 0.5; x < ZoneLimits::t[3] * vamp - slip_mm - 0.5; x += 0.2) {
    const double safe = ZoneLimits::e[1] * m.aligned.outline.half_width_mm(x) - slip_mm;
    for (double y = -safe; y <= safe; y += 0.2) end.heart_cut_um = std::max(end.heart_cut_um, 1e3 * cut(x, y));
  }
  for (double x = vamp + slip_mm + 0.5; x < vamp + 6.0; x += 0.2)
    for (double y = -5.0; y <= 5.0; y += 0.2) end.bark_cut_um = std::max(end.bark_cut_um, 1e3 * cut(x, y));
}

/// Scan, test, plan, scrape, scan again, at most four rounds.
inline LoopEnd work_on(const FaultyReed& faulty, const Worker& worker, std::uint64_t seed) {
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
    const double heard = end.after.imbalance_tip + worker.ear.blur * normal(random);
    PlanOptions options;
    options.rolling_test = heard > worker.ear.threshold    ? RollingTest::right
                           : heard < -worker.ear.threshold ? RollingTest::left
                                                           : RollingTest::even;
    const ScrapePlan plan = plan_scrape(plan_inputs(m, bent(m, player), player), options);
    end.last = plan.status;
    if (plan.status == PlanStatus::veto) continue;  // Scan and test again.
    if (plan.steps.empty()) break;
    ++end.rounds;
    for (const ScrapeStep& step : plan.steps) {
      const auto cut = fixtures::cut_of(step, worker.hand, random);
      reed = reed.scraped(cut);
      for (double x = 0.05; x < 36.0; x += 0.1)
        for (double y = -6.45; y < 6.5; y += 0.1)
          if (reed.inside(x, y)) end.cane_mm3 += 0.01 * cut(x, y);
      look_at_what_is_protected(m, cut, end);
    }
    end.after = judge_bending(reed, faulty.bark, faulty.left_right);
  }
  return end;
}

struct LoopStudy {
  int reeds = 0, good = 0, savable = 0, given_up = 0;
  double cane_mm3 = 0.0, perfect_cane_mm3 = 0.0;  ///< Medians.
  double heart_cut_um = 0.0, bark_cut_um = 0.0;
};

/// Every reed once by a drawn hand and once by a perfect one with a perfect ear.
inline LoopStudy closed_loop(int reeds) {
  LoopStudy study;
  study.reeds = reeds;
  std::vector<double> cane, perfect_cane;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (auto seed = static_cast<std::uint64_t>(part); seed < static_cast<std::uint64_t>(reeds);
         seed += kParallelParts) {
      const FaultyReed faulty = faulty_reed(seed);
      const LoopEnd end = work_on(faulty, drawn_worker(seed), seed);
      // As many scans, other noise.
      const LoopEnd perfect = work_on(faulty, {}, seed + 200000);
      const bool good = end.after.balanced() && end.in_window(),
                 savable = perfect.after.balanced() && perfect.in_window();
      const std::scoped_lock guard(lock);
      study.good += good;
      study.savable += savable;
      study.given_up += savable && !good && end.last == PlanStatus::cannot_save;
      study.heart_cut_um = std::max(study.heart_cut_um, end.heart_cut_um);
      study.bark_cut_um = std::max(study.bark_cut_um, end.bark_cut_um);
      cane.push_back(end.cane_mm3);
      perfect_cane.push_back(perfect.cane_mm3);
      if (!good)
        std::printf("reed %d: tip %+.3f lip %+.3f -> %+.3f %+.3f, cane right over left %+.3f, %d rounds, %s\n",
                    static_cast<int>(seed), end.before.imbalance_tip, end.before.imbalance_lip, end.after.imbalance_tip,
                    end.after.imbalance_lip, faulty.left_right, end.rounds, std::string(name_of(end.last)).c_str());
    }
  });
  study.cane_mm3 = median(cane);
  study.perfect_cane_mm3 = median(perfect_cane);
  std::printf("%d of %d good, %d savable, %d of them given up; cane %.2f mm3, perfect hand %.2f\n", study.good, reeds,
              study.savable, study.given_up, study.cane_mm3, study.perfect_cane_mm3);
  return study;
}

}  // namespace canewise::test
