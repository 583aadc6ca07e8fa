#pragma once

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <mutex>
#include <optional>
#include <random>
#include <vector>

#include "fixtures/hand.h"
#include "fixtures/spline_plate.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "scanproc/scrape/scrape_steps.h"
#include "tests/support/bent_reeds.h"
#include "tests/support/judge_on_rails.h"
#include "tests/support/scans.h"

namespace canewise::test {

struct TrueBending {
  double imbalance_tip = 0.0, imbalance_lip = 0.0, stiffness_lip = 0.0;
  double free_stiffness_lip = 0.0;  ///< With nothing under the vamp.
  [[nodiscard]] double worst() const { return std::max(std::abs(imbalance_tip), std::abs(imbalance_lip)); }
  [[nodiscard]] bool balanced() const { return worst() <= kUsualTolerances.imbalance; }
};

/// What the judge takes for true and no planner is told: cane, mouthpiece, lip and how far cane swells in the mouth.
struct World {
  Cane cane;
  double opening_factor = 1.0, longer_facing_mm = 0.0, lip_back_mm = 0.0, swelling = 0.0;
  double rail_give_mm_per_n = JudgedFacing::kCane;
};
/// From laws as wide as, or wider than, what the planner counts with.
inline World drawn_world(std::uint64_t seed) {
  std::mt19937_64 random(seed * 6700417 + 3);
  std::normal_distribution<double> normal;
  const CaneSpread spread;
  World world;
  world.cane.e_l_mpa *= std::exp(spread.e_l_rel * normal(random));
  world.cane.e_t_mpa *= std::exp(spread.e_t_rel * normal(random));
  world.cane.g_lt_mpa *= std::exp(spread.g_lt_rel * normal(random));
  world.cane.gradient_per_mm = std::clamp(0.1 + 0.1 * normal(random), 0.0, 0.35);
  world.opening_factor = 1.0 + 0.1 * std::clamp(normal(random), -2.5, 2.5);
  world.longer_facing_mm = 1.5 * normal(random);
  world.lip_back_mm = std::clamp(1.5 * normal(random), -3.0, 3.0);
  world.swelling = std::uniform_real_distribution<double>(0.0, 0.06)(random);
  const double share = std::uniform_real_distribution<double>(0.0, 1.0)(random);
  world.rail_give_mm_per_n = JudgedFacing::kStone * std::pow(JudgedFacing::kCane / JudgedFacing::kStone, share);
  return world;
}

/// By another solver on another net than the product's, on other rails, of the true surface.
inline TrueBending judge_bending(const fixtures::Reed& reed, const Bark& bark, double left_right,
                                 const World& world = {}) {
  fixtures::SplineReed s;
  s.cane = world.cane;
  s.thickness_mm = [&](double x, double y) { return std::max(0.02, (1.0 + world.swelling) * reed.thickness_mm(x, y)); };
  s.inside = [&](double x, double y) { return reed.inside(x, y); };
  s.half_width_mm = [&](double x) { return reed.half_width_mm(x); };
  s.bark_mm = [&](double x, double y) { return bark.at(x, y); };
  s.left_right = left_right;
  const fixtures::SplinePlate plate(s);
  Lip lip = lip_of({}, "clarinet-bb");
  lip.at_mm += world.lip_back_mm;
  const Mouthpiece mouthpiece = mouthpiece_for({}, "clarinet-bb");
  const JudgeOnRails judge(plate,
                           {.opening_mm = world.opening_factor * mouthpiece.left.tip_opening_mm,
                            .length_mm = mouthpiece.left.length_mm + world.longer_facing_mm,
                            .window_end_mm = mouthpiece.window_end_mm,
                            .rail_width_mm = mouthpiece.rail_width_mm,
                            .give_mm_per_n = world.rail_give_mm_per_n},
                           s.half_width_mm);
  const double half = reed.half_width_mm(lip.tip_patch_at_mm), aside = 0.6 * half;
  const double lip_half = reed.half_width_mm(lip.at_mm);
  const auto imbalance = [](double left, double right) { return 2.0 * (right - left) / (right + left); };
  const auto at_tip = [&](int side) {
    return judge.stiffness(plate.patch(lip.tip_patch_at_mm, side * aside, 2.0, 2.0), side);
  };
  const auto under_lip = [&](int side) {
    return judge.stiffness(plate.patch(lip.at_mm, 0.5 * side * lip_half, lip.length_mm, lip_half), side);
  };
  TrueBending bending;
  bending.imbalance_tip = imbalance(at_tip(-1), at_tip(1));
  bending.imbalance_lip = imbalance(under_lip(-1), under_lip(1));
  bending.stiffness_lip = judge.stiffness(plate.patch(lip.at_mm, 0.0, lip.length_mm, 2.0 * lip_half), 0);
  bending.free_stiffness_lip = plate.stiffness(lip.at_mm, 0.0, lip.length_mm, 2.0 * lip_half);
  return bending;
}

/// A faulty reed whose cane is also stiffer on one side than on the other, which no scan shows.
struct FaultyReed {
  fixtures::Reed reed;
  double left_right = 0.0;          ///< Hidden: moduli of the right over those of the left, less 1.
  fixtures::Reed reference;         ///< One that the player knows and likes.
  double reference_n_per_mm = 0.0;  ///< As the judge finds it.
  Bark bark;                        ///< As the judge takes it.
  World world;
  [[nodiscard]] TrueBending judged(const fixtures::Reed& now) const {
    return judge_bending(now, bark, left_right, world);
  }
};

/// Reeds as a box may hold them, with one or two faults that a player would want gone.
inline FaultyReed faulty_reed(std::uint64_t seed, const World& world = {}) {
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
    Bark bark;
    bark.height_mm.value = shape.stock_height_mm;
    bark.radius_mm.value = shape.bark_radius_mm;
    FaultyReed faulty{.reed = fixtures::Reed(shape, faults),
                      .left_right = 0.05 * normal(random),
                      .reference = fixtures::Reed(shape, rough_cane(seed)),
                      .bark = bark,
                      .world = world};
    if (faulty.judged(faulty.reed).balanced()) continue;
    faulty.reference_n_per_mm = judge_bending(fixtures::Reed(shape), faulty.bark, 0.0, world).stiffness_lip;
    return faulty;
  }
}

/// A player's ear in the rolling test.
struct Ear {
  double blur = 0.0;  ///< Standard deviation of the imbalance as it is heard.
  double threshold = kNoticedImbalance;
};

/// What a bend test finds of a reed's cane: the truth, and errors as large as `./dev study bench` finds them.
inline MeasuredCane bend_tested(const Cane& truth, double left_right, std::mt19937_64& random) {
  std::normal_distribution<double> normal;
  constexpr double u_modulus = 0.025, u_across = 0.08, u_sides = 0.012, u_gradient = 0.03;
  MeasuredCane found;
  found.cane = truth;
  found.cane.e_l_mpa *= std::exp(u_modulus * normal(random));
  found.cane.e_t_mpa *= std::exp(u_across * normal(random));
  found.cane.g_lt_mpa *= std::exp(u_modulus * normal(random));
  found.left_right = left_right + u_sides * normal(random);
  found.covariance.diagonal() << square(u_modulus), square(u_across), square(u_modulus), square(0.15),
      square(u_gradient), square(u_sides);
  found.state = MoistureState::dry;
  return found;
}

struct Worker {
  fixtures::Hand hand;
  Ear ear;
  bool bend_tests = false;     ///< Instead of listening: nobody plays the reed until it is done.
  bool plays_between = false;  ///< After every few strokes, as the plan says, and stops when the sides sound alike.
};
inline Worker drawn_worker(std::uint64_t seed, const Ear& least = {0.02, 0.03}, double spread = 0.02) {
  std::mt19937_64 random(seed * 104729 + 7);
  Worker worker{fixtures::drawn_hand(random), least, true};
  worker.ear.threshold += std::uniform_real_distribution<double>(0.0, spread)(random);
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

/// Cane that came off about the planned places over what was planned, as two scans show it; what their seatings differ
/// by is read from the stock.
inline double removed_over_planned(const Measurement& before, const Measurement& after,
                                   const std::vector<ScrapeStep>& steps) {
  const Field planned = removal_of(before.map.grid, steps);
  const Grid& grid = before.map.grid;
  const Eigen::Index shift = (after.map.grid.columns - grid.columns) / 2;
  double off = 0.0, wanted = 0.0, cells = 0.0, stock = 0.0, stock_cells = 0.0;
  for (Eigen::Index c = 0; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < std::min(grid.rows, after.map.grid.rows); ++r) {
      if (c + shift < 0 || c + shift >= after.map.grid.columns) continue;
      const double came_off = before.map.thickness_mm(r, c) - after.map.thickness_mm(r, c + shift);
      if (std::isnan(came_off)) continue;
      if (planned(r, c) > 0.0F) {
        off += came_off, wanted += static_cast<double>(planned(r, c)), cells += 1.0;
      } else if (grid.x_mm(r) > before.assessment.cut.vamp_length_mm.value + 2.0) {
        stock += came_off, stock_cells += 1.0;
      }
    }
  }
  return (off - cells * stock / std::max(1.0, stock_cells)) / std::max(1e-9, wanted);
}

/// The next plan counts strokes by what was seen: how much less, or more, the hand takes for each planned micrometre.
inline double hand_learned(const Measurement& before, const Measurement& after, const std::vector<ScrapeStep>& steps,
                           Player& player) {
  constexpr double least = 0.4, most = 2.5, learned_rel = 0.2;
  player.u_depth_per_stroke_rel = learned_rel;
  return 1.0 / std::clamp(removed_over_planned(before, after, steps), least, most);
}

/// Every step as it is done with playing in between: a few strokes at a time.
inline std::vector<ScrapeStep> in_portions(const std::vector<ScrapeStep>& steps) {
  constexpr double few_strokes_um = 20.0;
  std::vector<ScrapeStep> portions;
  for (ScrapeStep step : steps) {
    const double count = std::ceil(step.depth_um / few_strokes_um);
    step.depth_um /= count;
    portions.insert(portions.end(), static_cast<std::size_t>(count), step);
  }
  return portions;
}

/// Scan, test, plan, scrape, scan again, at most four rounds.
inline LoopEnd work_on(const FaultyReed& faulty, Worker worker, std::uint64_t seed) {
  std::mt19937_64 random(seed + 5);
  std::normal_distribution<double> normal;
  LoopEnd end;
  fixtures::Reed reed = faulty.reed;
  end.before = end.after = faulty.judged(reed);
  Player player;
  std::optional<MeasuredCane> cane, cane_of_reference;
  if (worker.bend_tests) {
    cane = bend_tested(faulty.world.cane, faulty.left_right, random);
    cane_of_reference = bend_tested(faulty.world.cane, 0.0, random);
  }
  const auto at = [](const std::optional<MeasuredCane>& found) { return found ? &*found : nullptr; };
  // As the player's own scan of it is bent.
  const BentReed reference = bent(measure_drawn(faulty.reference, fixtures::profilometer(), seed * 10 + 9), player,
                                  {.modes = 1}, at(cane_of_reference));
  player.known = {{"reference", 0.0, reference.mechanics.figure(BendingFigure::stiffness_lip).value,
                   MoistureState::unknown, "", "", worker.bend_tests}};
  player.wanted_halves = 0.0;
  end.window_lower = faulty.reference_n_per_mm * std::pow(kStiffnessPerHalf, -0.5);
  end.window_upper = faulty.reference_n_per_mm * std::pow(kStiffnessPerHalf, 0.5);
  std::optional<Measurement> last;
  std::vector<ScrapeStep> done;
  for (int round = 0; round < 4; ++round) {
    const auto scanner = seed % 2 == 0 ? fixtures::profilometer() : fixtures::laser_line();
    const Measurement m = measure_drawn(reed, scanner, seed * 10 + static_cast<std::uint64_t>(round));
    if (last) worker.hand.depth_factor *= hand_learned(*last, m, done, player);
    const double heard = end.after.imbalance_tip + worker.ear.blur * normal(random);
    PlanOptions options;
    options.rolling_test = heard > worker.ear.threshold    ? RollingTest::right
                           : heard < -worker.ear.threshold ? RollingTest::left
                                                           : RollingTest::even;
    if (worker.bend_tests) options.rolling_test = RollingTest::not_done;
    const ScrapePlan plan = plan_scrape(plan_inputs(m, bent(m, player, {.modes = 1}, at(cane)), player), options);
    end.last = plan.status;
    if (plan.status == PlanStatus::veto) continue;  // Scan and test again.
    if (plan.steps.empty()) break;
    ++end.rounds;
    last = m;
    done.clear();
    for (const ScrapeStep& few_strokes : worker.plays_between ? in_portions(plan.steps) : plan.steps) {
      const auto cut = fixtures::cut_of(few_strokes, worker.hand, random);
      reed = reed.scraped(cut);
      done.push_back(few_strokes);
      for (double x = 0.05; x < 36.0; x += 0.1)
        for (double y = -6.45; y < 6.5; y += 0.1)
          if (reed.inside(x, y)) end.cane_mm3 += 0.01 * cut(x, y);
      look_at_what_is_protected(m, cut, end);
      if (!worker.plays_between || worker.bend_tests || options.rolling_test == RollingTest::even) continue;
      const double side = options.rolling_test == RollingTest::right ? 1.0 : -1.0;
      if (side * (faulty.judged(reed).imbalance_tip + worker.ear.blur * normal(random)) < worker.ear.threshold) break;
    }
    end.after = faulty.judged(reed);
  }
  return end;
}

struct LoopStudy {
  int reeds = 0, good = 0, savable = 0, given_up = 0;
  int rounds = 0;                                 ///< Of all together: scans, plans and scrapings.
  int worse = 0;                                  ///< Farther out of balance at the end than at the start.
  double cane_mm3 = 0.0, perfect_cane_mm3 = 0.0;  ///< Medians.
  double heart_cut_um = 0.0, bark_cut_um = 0.0;
};

/// Whether the judge lives in the world that the planner assumes, hidden differences of the cane apart.
enum class Judge { matched, mismatched };

/// What tells the worker of the cane: the rolling test, or a bend test.
enum class Told { by_ear, by_bend_test };

/// Every reed once by a drawn hand and once by a perfect one with a perfect ear.
inline LoopStudy closed_loop(int reeds, Judge judge, Told told = Told::by_ear) {
  LoopStudy study;
  study.reeds = reeds;
  std::vector<double> cane, perfect_cane;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (auto seed = static_cast<std::uint64_t>(part); seed < static_cast<std::uint64_t>(reeds);
         seed += kParallelParts) {
      const bool apart = judge == Judge::mismatched;
      const FaultyReed faulty = faulty_reed(seed, apart ? drawn_world(seed) : World{});
      Worker worker = apart ? drawn_worker(seed, {0.03, 0.02}, 0.06) : drawn_worker(seed);
      worker.bend_tests = told == Told::by_bend_test;
      const LoopEnd end = work_on(faulty, worker, seed);
      // As many scans, other noise.
      const LoopEnd perfect = work_on(faulty, {}, seed + 200000);
      const bool good = end.after.balanced() && end.in_window(),
                 savable = perfect.after.balanced() && perfect.in_window();
      const std::scoped_lock guard(lock);
      study.good += good;
      study.rounds += end.rounds;
      study.savable += savable;
      study.worse += end.after.worst() > std::max(end.before.worst(), kUsualTolerances.imbalance);
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
  std::printf(
      "%s judge, %s: %d of %d good, %d savable, %d of them given up; %d rounds; cane %.2f mm3, perfect hand %.2f\n",
      judge == Judge::matched ? "matched" : "mismatched", told == Told::by_ear ? "by ear" : "by bend test", study.good,
      reeds, study.savable, study.given_up, study.rounds, study.cane_mm3, study.perfect_cane_mm3);
  return study;
}

}  // namespace canewise::test
