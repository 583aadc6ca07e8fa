#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <mutex>
#include <optional>

#include "fixtures/cane_faults.h"
#include "scanproc/scrape/scrape_steps.h"
#include "tests/support/closed_loop.h"

namespace canewise::test {

/// Left against right on the true surface, by cells, with the reed's true vamp and width: no map, no zone of the
/// product's.
class TrueBalance {
 public:
  explicit TrueBalance(const fixtures::Reed& reed) : reed_(reed), vamp_mm_(reed.shape().vamp_length_mm) {}

  static constexpr double kCell_mm = 0.25;
  [[nodiscard]] double difference_mm(double x, double y) const {
    return reed_.thickness_mm(x, y) - reed_.thickness_mm(x, -y);
  }
  [[nodiscard]] double tolerance_mm(double x) const { return tolerance_of(band(x)); }
  [[nodiscard]] static double tolerance_of(AlongBand band) {
    return 1e-3 * kUsualTolerances.left_right_um.at(static_cast<std::size_t>(band));
  }
  [[nodiscard]] AlongBand band(double x) const {
    std::size_t k = 0;
    while (k + 1 < kAlongBands.size() && x >= ZoneLimits::t.at(k + 1) * vamp_mm_) ++k;
    return kAlongBands.at(k);
  }
  [[nodiscard]] bool is_heart(double x, double y) const {
    return band(x) == AlongBand::middle && std::abs(y) < ZoneLimits::e[1] * reed_.half_width_mm(x);
  }
  /// Nobody scrapes here.
  [[nodiscard]] bool is_tip(double x, double y) const { return x < reed_.tip_edge_mm(y) + 0.5; }

  /// Largest mean difference of a zone over its tolerance; the heart, which no plan may touch, left out.
  [[nodiscard]] double worst_zone() const {
    std::array<double, 12> sum{}, count{};
    each([&](double x, double y) {
      const double e = y / reed_.half_width_mm(x);
      std::size_t across = 0;
      while (across + 1 < 3 && e >= ZoneLimits::e.at(across + 1)) ++across;
      const std::size_t z = 3 * static_cast<std::size_t>(band(x)) + across;
      sum.at(z) += difference_mm(x, y), count.at(z) += 1.0;
    });
    double worst = 0.0;
    for (std::size_t z = 0; z < sum.size(); ++z) {
      if (is_heart_zone(z)) continue;
      worst = std::max(worst, std::abs(sum.at(z) / count.at(z)) / tolerance_of(kAlongBands.at(z / 3)));
    }
    return worst;
  }

  /// The least cane that brings every cell within its tolerance: the integral of what lies beyond it.
  [[nodiscard]] double least_cane_mm3() const {
    double volume = 0.0;
    each([&](double x, double y) {
      volume += square(kCell_mm) * std::max(0.0, std::abs(difference_mm(x, y)) - tolerance_mm(x));
    });
    return volume;
  }

  /// Cells of the right half on the vamp.
  template <typename Visit>
  void each(const Visit& visit) const {
    for (double x = 0.5 * kCell_mm; x < vamp_mm_; x += kCell_mm)
      for (double y = 0.5 * kCell_mm; y < 7.0; y += kCell_mm)
        if (reed_.inside(x, y) && reed_.inside(x, -y)) visit(x, y);
  }

 private:
  static bool is_heart_zone(std::size_t z) {
    return z == static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::centre));
  }
  const fixtures::Reed& reed_;
  double vamp_mm_;
};

/// What perfect knowledge and a perfect hand leave: the excess over half the tolerance is gone, heart and tip stand.
inline fixtures::Reed perfectly_scraped(const fixtures::Reed& reed) {
  return reed.scraped([reed](double x, double y) {
    const TrueBalance truth(reed);
    if (x > reed.shape().vamp_length_mm || truth.is_heart(x, y) || truth.is_tip(x, y)) return 0.0;
    return std::max(0.0, truth.difference_mm(x, y) - 0.5 * truth.tolerance_mm(x));
  });
}

struct FaultLoopEnd {
  bool out = false;      ///< At the start some zone is truly out of tolerance...
  bool savable = false;  ///< ...and scraping could mend that without making the reed a quarter strength softer.
  double worst_before = 0.0, worst_after = 0.0;
  double least_mm3 = 0.0, cane_mm3 = 0.0;
  double into_heart_mm = 0.0, into_tip_mm = 0.0;  ///< How far inside them more than 5 um came off in one step.
  int rounds = 0, steps = 0;
  PlanStatus last = PlanStatus::cannot_tell;
};

inline void look_for_slips(const fixtures::Reed& reed, const std::function<double(double, double)>& cut,
                           FaultLoopEnd& end) {
  const TrueBalance truth(reed);
  constexpr double felt_mm = 0.005;
  const double vamp = reed.shape().vamp_length_mm;
  truth.each([&](double x, double right) {
    for (const double y : {-right, right}) {
      if (!truth.is_heart(x, y) && !truth.is_tip(x, y)) continue;
      if (!(cut(x, y) > felt_mm)) continue;
      if (truth.is_tip(x, y)) {
        end.into_tip_mm = std::max(end.into_tip_mm, reed.tip_edge_mm(y) + 0.5 - x);
      } else {
        const double across = ZoneLimits::e[1] * reed.half_width_mm(x) - std::abs(y);
        const double along = std::min(x - ZoneLimits::t[2] * vamp, ZoneLimits::t[3] * vamp - x);
        end.into_heart_mm = std::max(end.into_heart_mm, std::min(across, along));
      }
    }
  });
}

/// Scan, rolling test unless everything is surely in order, plan, scrape, scan again, and learn what a stroke takes, as
/// `compare` does. The test is truthful: it names the side that is stiffer at the tip, as the other solver finds it on
/// the true surface.
inline FaultLoopEnd level_faults(const fixtures::Reed& faulty, fixtures::Hand hand, std::uint64_t seed) {
  std::mt19937_64 random(seed + 11);
  FaultLoopEnd end;
  Bark bark;
  bark.height_mm.value = faulty.shape().stock_height_mm;
  bark.radius_mm.value = faulty.shape().bark_radius_mm;
  fixtures::Reed reed = faulty;
  end.worst_before = end.worst_after = TrueBalance(reed).worst_zone();
  end.out = end.worst_before > 1.0;
  end.least_mm3 = TrueBalance(reed).least_cane_mm3();
  const TrueBending before = judge_bending(reed, bark, 0.0);
  const fixtures::Reed perfect = perfectly_scraped(reed);
  end.savable =
      end.out && TrueBalance(perfect).worst_zone() < 1.0 &&
      judge_bending(perfect, bark, 0.0).stiffness_lip > before.stiffness_lip * std::pow(kStiffnessPerHalf, -0.5);
  if (!end.savable) return end;
  const auto scanner = seed % 2 == 0 ? fixtures::profilometer() : fixtures::laser_line();
  double imbalance = before.imbalance_tip;
  Player player;
  std::optional<Measurement> last;
  std::vector<ScrapeStep> done;
  for (int round = 0; round < 6; ++round) {
    const Measurement m = measure_drawn(reed, scanner, seed * 10 + static_cast<std::uint64_t>(round));
    const BentReed as_it_is = bent(m);
    if (last) hand.depth_factor *= hand_learned(*last, m, done, player);
    PlanOptions options;
    const PlanInputs inputs = plan_inputs(m, as_it_is, player);
    ScrapePlan plan = plan_scrape(inputs, options);
    constexpr double heard = 0.005;
    const bool tried = plan.status == PlanStatus::cannot_tell && std::abs(imbalance) > heard;
    if (plan.needs_rolling_test || tried) {
      options.rolling_test = imbalance > 0.0 ? RollingTest::right : RollingTest::left;
      plan = plan_scrape(inputs, options);
    }
    end.last = plan.status;
    if (plan.steps.empty()) break;
    ++end.rounds;
    for (const ScrapeStep& step : plan.steps) {
      ++end.steps;
      const auto cut = fixtures::cut_of(step, hand, random);
      look_for_slips(reed, cut, end);
      reed = reed.scraped(cut);
      for (double x = 0.05; x < 36.0; x += 0.1)
        for (double y = -6.95; y < 7.0; y += 0.1)
          if (reed.inside(x, y)) end.cane_mm3 += 0.01 * cut(x, y);
    }
    last = m;
    done = plan.steps;
    imbalance = judge_bending(reed, bark, 0.0).imbalance_tip;
    end.worst_after = TrueBalance(reed).worst_zone();
  }
  return end;
}

struct FaultLoopStudy {
  int savable = 0, good = 0, given_up = 0, rounds = 0, steps = 0;
  double cane_mm3 = 0.0, least_mm3 = 0.0;
  double into_heart_mm = 0.0, into_tip_mm = 0.0;
};

/// Until so many reeds were out of tolerance and savable.
inline FaultLoopStudy fault_loop(int reeds, std::uint64_t first_seed = 0) {
  FaultLoopStudy study;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (auto k = static_cast<std::uint64_t>(part); k < static_cast<std::uint64_t>(reeds); k += kParallelParts) {
      const std::uint64_t seed = first_seed + k;
      const fixtures::Reed reed = fixtures::with_faults(fixtures::Reed(fixtures::drawn_cut(seed), rough_cane(seed)),
                                                        fixtures::drawn_faults(seed));
      std::mt19937_64 random(seed * 104729 + 7);
      const FaultLoopEnd end = level_faults(reed, fixtures::drawn_hand(random), seed);
      if (!end.savable) continue;
      const std::scoped_lock guard(lock);
      ++study.savable;
      const bool good = end.worst_after <= 1.0;
      study.good += good;
      study.given_up += end.last == PlanStatus::cannot_save;
      study.rounds += end.rounds;
      study.steps += end.steps;
      study.cane_mm3 += end.cane_mm3;
      study.least_mm3 += end.least_mm3;
      study.into_heart_mm = std::max(study.into_heart_mm, end.into_heart_mm);
      study.into_tip_mm = std::max(study.into_tip_mm, end.into_tip_mm);
      std::printf(
          "reed %d: worst zone %.2f -> %.2f of its tolerance, cane %.2f of least %.2f mm3, %d rounds, %d steps, %s%s\n",
          static_cast<int>(seed), end.worst_before, end.worst_after, end.cane_mm3, end.least_mm3, end.rounds, end.steps,
          std::string(name_of(end.last)).c_str(), good ? "" : " <-- out");
    }
  });
  std::printf(
      "%d of %d savable reeds in tolerance, %d given up; cane %.2f times the least; %.1f rounds and %.1f steps a reed; "
      "more than 5 um at most %.2f mm into the heart and %.2f mm into the tip\n",
      study.good, study.savable, study.given_up, study.cane_mm3 / study.least_mm3,
      static_cast<double>(study.rounds) / study.savable, static_cast<double>(study.steps) / study.savable,
      study.into_heart_mm, study.into_tip_mm);
  return study;
}

}  // namespace canewise::test
