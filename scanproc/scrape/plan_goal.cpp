#include "scanproc/scrape/plan_goal.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"

namespace canewise {
namespace {

constexpr double kLeftOfImbalance = 0.4;
/// What needs nothing may become uneven up to so much of its tolerance, if something else asks for it.
constexpr double kSpareOfTolerance = 0.8;
/// Window about a wanted stiffness, in half strengths: a quarter below; for an aim an eighth below and half of that
/// above.
constexpr double kQuarter = 0.5, kAimWindow = 0.25;

class GoalSetter {
 public:
  GoalSetter(const Assessment& assessment, const BentReed& bent, const SteeredBending& bending, const Player& player,
             const PlanOptions& options, PlanFindings& findings)
      : assessment_(assessment),
        bent_(bent),
        bending_(bending),
        player_(player),
        options_(options),
        findings_(findings) {}

  PlanGoal run(double cell_mm) {
    for (std::size_t z = 0; z < goal_.difference_mm.size(); ++z) {
      const ZoneMean& difference = assessment_.balance.zones.at(z).difference;
      goal_.difference_mm.at(z) = difference.mean_mm;
      goal_.area_mm2.at(z) = static_cast<double>(difference.cells) * cell_mm * cell_mm;
    }
    settle_aim();
    weigh_rolling_test();
    find_zones_off();
    find_bending_off();
    limit_zones();
    if (goal_.aim.target) lead_to_target();
    if (bending_.known()) limit_bending();
    return goal_;
  }

 private:
  void settle_aim() {
    const bool has_target = assessment_.target && assessment_.target->chosen_by_user;
    goal_.aim = options_.aim.value_or(PlanAim{has_target, std::nullopt});
    goal_.aim.target = goal_.aim.target && has_target;
    findings_.wanted_halves = goal_.aim.halves.value_or(0.0);
    if (goal_.softer() && !bending_.known()) {
      findings_.aim_unknown = true;
      goal_.aim.halves.reset();
    }
  }

  void weigh_rolling_test() {
    if (!bending_.known()) return;
    const ShapeImbalance tip{bending_.value()[0], bent_.mechanics.figure(kSteered[0]).u_scan, bending_.by_cane(0),
                             CaneSpread{}.left_right_rel};
    const ImbalanceBelief belief = believe(tip, options_.rolling_test);
    // A reed that bends like this hardly ever gives that answer: then it came from something else, or is wrong.
    constexpr double hardly_ever = 0.05;
    unlikely_answer_ = belief.probability < hardly_ever;
    if (unlikely_answer_) return;
    goal_.cane_right_over_left = belief.cane;
    goal_.by_cane = {belief.imbalance - tip.value, bending_.by_cane(1) * belief.cane, 0.0};
  }

  void find_zones_off() {
    const Balance& balance = assessment_.balance;
    findings_.zones_off = balance.verdict == Verdict::outside;
    for (std::size_t z = 0; z < goal_.zone_acts.size(); ++z) {
      const ZoneBalance& zone = balance.zones.at(z);
      const double size = std::abs(zone.difference.mean_mm), u95 = kCoverage95 * zone.difference.u_mm;
      // Also what is not surely outside, if it is surely there and more than half the tolerance: the reed is on the
      // bench anyway, and a fault does not end where a zone does.
      const bool there = findings_.zones_off && zone.verdict != Verdict::within &&
                         size >= std::max(u95, 0.5 * zone.tolerance_mm) &&
                         // A scan that could never call this zone even cannot say when to stop.
                         can_prove_within(zone.difference.u_mm, zone.tolerance_mm);
      if (!there || is_heart(z)) continue;
      if (may_lose(side_of(zone.difference.mean_mm), options_.rolling_test)) {
        goal_.zone_acts.at(z) = true;
      } else {
        findings_.other_side_left_out = true;
      }
    }
    findings_.test_contradicts = unlikely_answer_ && std::none_of(goal_.zone_acts.begin(), goal_.zone_acts.end(),
                                                                  [](bool acts) { return acts; });
  }

  void find_bending_off() {
    if (!bending_.known()) return;
    for (std::size_t f = 0; f < kSteeredImbalances; ++f) {
      const double expected = bending_.value().at(f) + goal_.by_cane.at(f);
      bool acts = bent_.mechanics.verdicts.at(index_of(kSteered.at(f))) == Verdict::outside;
      findings_.bending_off = findings_.bending_off || acts;
      if (options_.rolling_test != RollingTest::not_done) {
        constexpr double worth_acting = 0.6;
        acts = std::abs(expected) > worth_acting * kImbalanceTolerance;
      }
      goal_.imbalance_acts.at(f) = acts && may_lose(side_of(expected), options_.rolling_test);
    }
    findings_.bending_off = findings_.bending_off || goal_.bending_acts();
  }

  void limit_zones() {
    for (std::size_t z = 0; z < goal_.difference_mm.size(); ++z) {
      const double tolerance = assessment_.balance.zones.at(z).tolerance_mm;
      const double held = std::max(std::abs(goal_.difference_mm.at(z)), kSpareOfTolerance * tolerance);
      const double wanted = goal_.zone_acts.at(z) ? kLeftOfTolerance * tolerance : held;
      goal_.cane.difference_mm.at(z) = {-wanted, wanted};
      goal_.cane.difference_held_mm.at(z) = {-held, held};
    }
    for (std::size_t k = 0; k < assessment_.zone_thickness.size(); ++k) {
      const ZoneThickness& zone = assessment_.zone_thickness[k];
      double floor = options_.floor_tip_mm;
      if (const ZoneDeviation* deviation = deviation_of(zone.zone); deviation && !std::isnan(deviation->target_mm))
        floor = std::max(floor, deviation->target_mm - options_.floor_in_tolerances * deviation->tolerance_mm);
      const double spare = zone.thickness.mean_mm - floor;
      goal_.cane.most_removed_mm.at(k) = std::isnan(spare) ? 0.0 : std::max(0.0, spare);
    }
  }

  const ZoneDeviation* deviation_of(const Zone& zone) const {
    if (!assessment_.target) return nullptr;
    for (const auto& deviation : assessment_.target->zones) {
      if (deviation.zone == zone) return &deviation;
    }
    return nullptr;
  }

  /// What is surely thicker than the target on both sides comes off alike.
  void lead_to_target() {
    for (std::size_t z = 0; z < goal_.target_acts.size(); ++z) {
      if (is_heart(z)) continue;
      double both = 1e9, tolerance = 0.0;
      for (const Side side : {Side::left, Side::right}) {
        const ZoneDeviation* deviation = deviation_of(assessment_.zone_thickness.at(half_zone_index(z, side)).zone);
        const double mean = deviation->deviation.mean_mm;
        const bool surely = judge(mean, deviation->deviation.u_mm, -1e9, deviation->tolerance_mm) == Verdict::outside &&
                            mean >= kCoverage95 * deviation->deviation.u_mm;
        both = std::min(both, surely ? mean : 0.0);
        tolerance = deviation->tolerance_mm;
      }
      if (!(both > 0.0)) continue;
      goal_.target_acts.at(z) = true;
      for (const Side side : {Side::left, Side::right})
        goal_.cane.surplus_mm.at(half_zone_index(z, side)) = both - kLeftOfTolerance * tolerance;
    }
  }

  void limit_bending() {
    goal_.cane.bending_known = true;
    for (std::size_t f = 0; f < kSteeredImbalances; ++f) {
      const double by_cane = goal_.by_cane.at(f), now = std::abs(bending_.value().at(f) + by_cane);
      const double wanted = goal_.imbalance_acts.at(f) ? kLeftOfImbalance * kImbalanceTolerance
                                                       : std::max(now, kSpareOfTolerance * kImbalanceTolerance);
      goal_.cane.figure.at(f) = {-wanted - by_cane, wanted - by_cane};
    }
    const StrengthScale& scale = bent_.scale;
    Range& stiffness = goal_.cane.figure[kSteeredImbalances];
    const double now = bending_.value()[kSteeredImbalances];
    stiffness.lower = now * std::exp(-kQuarter * scale.step);
    if (player_.wanted_halves && scale.has_reference)
      stiffness.lower = scale.reference_n_per_mm * std::exp(scale.step * (*player_.wanted_halves - kQuarter));
    if (goal_.softer() && goal_.aim.halves) {
      const double wanted = now * std::exp(scale.step * *goal_.aim.halves);
      stiffness = {wanted * std::exp(-kAimWindow * scale.step), wanted * std::exp(0.5 * kAimWindow * scale.step)};
    }
    goal_.softest_n_per_mm = stiffness.lower;
  }

  const Assessment& assessment_;
  const BentReed& bent_;
  const SteeredBending& bending_;
  const Player& player_;
  const PlanOptions& options_;
  PlanFindings& findings_;
  PlanGoal goal_;
  bool unlikely_answer_ = false;
};

}  // namespace

bool may_lose(Side side, RollingTest test) {
  switch (test) {
    case RollingTest::not_done:
      return true;
    case RollingTest::left:
      return side == Side::left;
    case RollingTest::right:
      return side == Side::right;
    case RollingTest::even:
      return false;
  }
  return false;
}

bool is_heart(std::size_t zone) {
  return zone == static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::centre));
}

PlanGoal plan_goal(const Assessment& assessment, double cell_mm, const BentReed& bent, const SteeredBending& bending,
                   const Player& player, const PlanOptions& options, PlanFindings& findings) {
  return GoalSetter(assessment, bent, bending, player, options, findings).run(cell_mm);
}

}  // namespace canewise
