#include "scanproc/scrape/plan_goal.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "scanproc/assess/bark.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

constexpr double kLeftOfImbalance = 0.4;
/// What needs nothing may become uneven up to so much of its tolerance, if something else asks for it.
constexpr double kSpareOfTolerance = 0.8;
/// Window about a wanted stiffness, in half strengths: a quarter below; for an aim an eighth below and half of that
/// above.
constexpr double kQuarter = 0.5, kAimWindow = 0.25;
/// Of a sound side no more than this share of its thickness comes off to match a thin one: an invented default. It is a
/// seventh of the thickness and two fifths of the stiffness.
constexpr double kMostOffSoundSide = 0.15;

/// What of a zone's difference lies where it is not cut: no tool takes it away, and the cut is not to blame for it.
double by_bark_mm(const Assessment& assessment, const CellMask& uncut, std::size_t zone) {
  const auto& labels = assessment.zones.label;
  const Field& difference = assessment.balance.difference_mm;
  double by_bark = 0.0, cells = 0.0;
  for (Eigen::Index c = labels.cols() / 2; c < labels.cols(); ++c) {
    for (Eigen::Index r = 0; r < labels.rows(); ++r) {
      if (labels(r, c) != static_cast<int>(zone) || std::isnan(difference(r, c))) continue;
      cells += 1.0;
      if (uncut(r, c)) by_bark += static_cast<double>(difference(r, c));
    }
  }
  return cells > 0.0 ? by_bark / cells : 0.0;
}

class GoalSetter {
 public:
  GoalSetter(const PlanInputs& inputs, const SteeredBending& bending, const PlanOptions& options)
      : assessment_(inputs.assessment),
        bent_(inputs.bent),
        bending_(bending),
        player_(inputs.player),
        limits_(inputs.limits),
        options_(options),
        uncut_(uncut_cells(
            inputs.map, UncutSurface(inputs.map, inputs.assessment.cut.bark, inputs.assessment.zones.vamp_length_mm))),
        cell_mm_(inputs.map.grid.cell_mm) {}

  FoundGoal run() {
    for (std::size_t z = 0; z < goal_.difference_mm.size(); ++z) {
      const ZoneMean& difference = assessment_.balance.zones.at(z).difference;
      const double by_bark = by_bark_mm(assessment_, uncut_, z);
      goal_.difference_mm.at(z) = difference.mean_mm - by_bark;
      look_at_bark(z, by_bark);
      goal_.area_mm2.at(z) = static_cast<double>(difference.cells) * cell_mm_ * cell_mm_;
    }
    findings_.zones_off = assessment_.balance.verdict == Verdict::outside;
    worth_levelling_ = is_worth_levelling();
    settle_aim();
    look_at_facing();
    weigh_rolling_test();
    find_zones_off();
    find_bending_off();
    limit_zones();
    if (goal_.aim.target) lead_to_target();
    if (bending_.known()) limit_bending();
    return {std::move(goal_), std::move(findings_)};
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

  /// Rails that differ make an even reed sound as if one side were too thick.
  void look_at_facing() {
    const RollingTest test = options_.rolling_test;
    if (!bending_.known() || (test != RollingTest::left && test != RollingTest::right)) return;
    if (!bent_.mechanics.lying) return;
    const double by_facing = bent_.mechanics.lying->imbalance_tip_by_facing;
    const SpreadValue& shape = bent_.mechanics.figure(BendingFigure::imbalance_tip);
    const bool heard = std::abs(by_facing) > kNoticedImbalance && may_lose(side_of(by_facing), test);
    // As it is measured, sure or not: a shape that may explain the answer leaves the facing in doubt.
    const bool by_shape =
        may_lose(side_of(shape.value), test) && std::abs(shape.value) > bent_.mechanics.imbalance_tolerance;
    if (heard && !by_shape && !a_fault_explains_the_answer()) findings_.facing_explains = {by_facing, shape.value};
  }

  void weigh_rolling_test() {
    if (!bending_.known()) return;
    // Where thickness differs, that is the reason for a step, not the cane.
    if (!findings_.zones_off) goal_.cane_right_over_left = bent_.sides.right_over_left;
    const ShapeImbalance tip{bending_.value()[0], bent_.mechanics.figure(kSteered[0]).u_scan, bending_.by_cane(0),
                             bent_.sides.u};
    const ImbalanceBelief belief = believe(tip, options_.rolling_test);
    // A reed that bends like this hardly ever gives that answer: then it came from something else, or is wrong.
    constexpr double hardly_ever = 0.05;
    unlikely_answer_ = belief.probability < hardly_ever;
    if (unlikely_answer_ || a_fault_explains_the_answer()) return;
    goal_.cane_right_over_left += belief.cane;
    goal_.by_cane = {belief.imbalance - tip.value, bending_.by_cane(1) * belief.cane, 0.0};
  }

  /// A zone is off, or seems to be, and for a good part because of where the bark lies.
  void look_at_bark(std::size_t z, double by_bark_mm) {
    const ZoneBalance& zone = assessment_.balance.zones.at(z);
    constexpr double good_part = 0.4, sure = 2.0;
    const bool off = zone.verdict == Verdict::outside || is_suspect(zone);
    const Measured& crown = assessment_.cut.bark.crown_y_mm;
    if (!off || by_bark_mm * zone.difference.mean_mm < good_part * square(zone.difference.mean_mm)) return;
    findings_.off_by_bark.at(z) = true;
    if (std::abs(crown.value) > sure * crown.u) findings_.bark_crown_mm = crown.value;
  }

  /// Some zone is surely out of tolerance where it is cut; or it may be, and the player hears it too or is still to be
  /// asked.
  bool is_worth_levelling() const {
    for (std::size_t z = 0; z < goal_.difference_mm.size(); ++z) {
      ZoneBalance zone = assessment_.balance.zones.at(z);
      zone.difference.mean_mm = goal_.difference_mm.at(z);
      const bool outside =
          zone.verdict == Verdict::outside && std::abs(zone.difference.mean_mm) > kFaultShare * zone.tolerance_mm;
      const bool heard = may_lose(side_of(zone.difference.mean_mm), options_.rolling_test);
      if (outside || (heard && is_suspect(zone))) return true;
    }
    return false;
  }

  /// First what can be seen: a side that is thick needs no stiffer cane to speak less freely. What is heard after it is
  /// level is the cane's.
  bool a_fault_explains_the_answer() const {
    if (options_.rolling_test == RollingTest::even || options_.rolling_test == RollingTest::not_done) return false;
    return std::any_of(assessment_.faults.begin(), assessment_.faults.end(), [&](const Fault& fault) {
      return is_there(fault) && may_lose(fault.thicker, options_.rolling_test);
    });
  }

  /// Also what is not surely outside, if it is surely there and more than half the tolerance: the reed is on the bench
  /// anyway.
  bool is_off(std::size_t z) const {
    const ZoneBalance& zone = assessment_.balance.zones.at(z);
    const double size = std::abs(goal_.difference_mm.at(z)), u95 = kCoverage95 * zone.difference.u_mm;
    return worth_levelling_ && !is_heart(z) && zone.verdict != Verdict::within &&
           size >= std::max(u95, 0.5 * zone.tolerance_mm) &&
           // A scan that could never call this zone even cannot say when to stop.
           can_prove_within(zone.difference.u_mm, zone.tolerance_mm);
  }

  void find_zones_off() {
    for (std::size_t z = 0; z < goal_.zone_acts.size(); ++z)
      goal_.zone_acts.at(z) = is_off(z) && may_lose(side_of(goal_.difference_mm.at(z)), options_.rolling_test);
    for (const Fault& fault : assessment_.faults) goal_.fault_acts.push_back(acts(fault));
    findings_.test_contradicts = unlikely_answer_ && std::none_of(goal_.fault_acts.begin(), goal_.fault_acts.end(),
                                                                  [](bool acts) { return acts; });
  }

  /// The whole of a fault goes if a good part of it lies where a zone is off: it does not end where the zone does.
  bool is_there(const Fault& fault) const {
    if (fault.in_heart || fault.difference_mm < kCoverage95 * fault.u_mm) return false;
    const auto cells = std::count_if(fault.cell_indices.begin(), fault.cell_indices.end(), [&](Eigen::Index cell) {
      const auto z = static_cast<std::size_t>(static_cast<unsigned char>(assessment_.zones.label.data()[cell]));
      return is_off(z) && side_of(goal_.difference_mm.at(z)) == fault.thicker;
    });
    constexpr double good_part = 0.2;
    return static_cast<double>(cells) > good_part * static_cast<double>(fault.cell_indices.size());
  }

  bool acts(const Fault& fault) {
    if (!is_there(fault)) return false;
    if (may_lose(fault.thicker, options_.rolling_test)) return true;
    findings_.other_side_left_out = true;
    return false;
  }

  void find_bending_off() {
    if (!bending_.known()) return;
    for (std::size_t f = 0; f < kSteeredImbalances; ++f) {
      const double expected = bending_.value().at(f) + goal_.by_cane.at(f);
      bool acts = bent_.mechanics.verdicts.at(index_of(kSteered.at(f))) == Verdict::outside;
      findings_.bending_off = findings_.bending_off || acts;
      if (options_.rolling_test != RollingTest::not_done || bent_.sides.measured) {
        constexpr double worth_acting = 0.6;
        acts = std::abs(expected) > worth_acting * bent_.mechanics.imbalance_tolerance;
      }
      goal_.imbalance_acts.at(f) = acts && may_lose(side_of(expected), options_.rolling_test);
    }
    findings_.bending_off = findings_.bending_off || goal_.bending_acts();
  }

  void limit_zones() {
    for (std::size_t z = 0; z < goal_.difference_mm.size(); ++z) {
      const double tolerance = assessment_.balance.zones.at(z).tolerance_mm;
      // A cut's soft border reaches a little into the zones about it.
      constexpr double spill = 0.1;
      const double held =
          std::max(std::abs(goal_.difference_mm.at(z)) + spill * tolerance, kSpareOfTolerance * tolerance);
      const double wanted = goal_.zone_acts.at(z) ? kLeftOfTolerance * tolerance : held;
      goal_.cane.difference_mm.at(z) = {-wanted, wanted};
      goal_.cane.difference_held_mm.at(z) = {-held, held};
    }
    for (std::size_t k = 0; k < assessment_.zone_thickness.size(); ++k) {
      const ZoneThickness& zone = assessment_.zone_thickness[k];
      const double spare = zone.thickness.mean_mm - floor_of(zone);
      goal_.cane.most_removed_mm.at(k) = std::isnan(spare) ? 0.0 : std::max(0.0, spare);
    }
  }

  /// A built-in cut that nobody chose is no floor.
  double floor_of(const ZoneThickness& zone) const {
    double floor = limits_.floor_tip_mm;
    const bool chosen = assessment_.target && assessment_.target->chosen_by_user;
    if (const ZoneDeviation* deviation = deviation_of(zone.zone);
        chosen && deviation != nullptr && !std::isnan(deviation->target_mm))
      floor = std::max(floor, deviation->target_mm - limits_.floor_in_tolerances * deviation->tolerance_mm);
    if (is_sound_beside_a_thin_place(zone.zone))
      floor = std::max(floor, (1.0 - kMostOffSoundSide) * zone.thickness.mean_mm);
    return floor;
  }

  bool is_sound_beside_a_thin_place(const Zone& zone) const {
    const auto label = ZoneMap::label_of(zone.along, zone.across);
    return std::any_of(assessment_.faults.begin(), assessment_.faults.end(), [&](const Fault& fault) {
      return fault.at_fault == AtFault::thinner_side && fault.thicker == zone.side &&
             std::any_of(fault.cell_indices.begin(), fault.cell_indices.end(),
                         [&](Eigen::Index cell) { return assessment_.zones.label.data()[cell] == label; });
    });
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
      const double wanted = goal_.imbalance_acts.at(f)
                                ? kLeftOfImbalance * bent_.mechanics.imbalance_tolerance
                                : std::max(now, kSpareOfTolerance * bent_.mechanics.imbalance_tolerance);
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
  const RemovalLimits& limits_;
  const PlanOptions& options_;
  CellMask uncut_;
  double cell_mm_;
  PlanFindings findings_;
  PlanGoal goal_;
  bool unlikely_answer_ = false, worth_levelling_ = false;
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

FoundGoal plan_goal(const PlanInputs& inputs, const SteeredBending& bending, const PlanOptions& options) {
  return GoalSetter(inputs, bending, options).run();
}

}  // namespace canewise
