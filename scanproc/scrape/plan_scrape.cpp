#include "scanproc/scrape/plan_scrape.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "scanproc/core/units.h"
#include "scanproc/scrape/fault_layers.h"
#include "scanproc/scrape/footprint.h"
#include "scanproc/scrape/least_cane.h"
#include "scanproc/scrape/plan_goal.h"
#include "scanproc/scrape/plan_words.h"
#include "scanproc/scrape/scrape_places.h"
#include "scanproc/scrape/scrape_steps.h"
#include "scanproc/scrape/steered_bending.h"

namespace canewise {
namespace {

/// Where cane is not too thick, no more than this share of it is taken in one session.
constexpr double kMostShareOfThickness = 0.04, kMostShareSofter = 0.12;
/// A slip of the hand's may take so much off the half millimetre at the tip that stays.
constexpr double kMostAtTip_um = 5.0;
/// Fewer steps may cost so much more, as a share of the cane that comes off.
constexpr double kDearer = 0.25;

Footprint footprint_of(const Player& player) {
  Footprint footprint;
  footprint.tool_width_mm = player.tool_width_mm;
  return footprint;
}

class Planner {
 public:
  Planner(const PlanInputs& inputs, const PlanOptions& options)
      : map_(inputs.map),
        outline_(inputs.outline),
        assessment_(inputs.assessment),
        bent_(inputs.bent),
        player_(inputs.player),
        limits_(inputs.limits),
        options_(options),
        field_(map_, outline_, assessment_,
               {.footprint = footprint_of(player_), .tip_margin_mm = limits_.tip_margin_mm}),
        maker_(map_, assessment_, field_, limits_.floor_tip_mm),
        ground_{map_, assessment_, field_, maker_,
                felt_difference_mm({.map = map_,
                                    .zones = assessment_.zones,
                                    .outline = outline_,
                                    .uncut = uncut_cells(map_, UncutSurface(map_, assessment_.cut.bark,
                                                                            assessment_.zones.vamp_length_mm))})},
        bending_(bent_, map_) {
    FoundGoal found = plan_goal(inputs, bending_, options);
    goal_ = std::move(found.goal);
    findings = std::move(found.findings);
  }

  ScrapePlan run() {
    ScrapePlan plan;
    plan.softest_n_per_mm = goal_.softest_n_per_mm;
    plan.cane_right_over_left = goal_.cane_right_over_left;
    std::vector<Place> places = candidates();
    blocks_ = cane_blocks(ground_, goal_.fault_acts, places);
    goal_.cane.blocks = blocks_.blocks;
    for (Place& place : places) blocks_.count(place);
    look_for_what_is_in_the_way(places);
    const bool in_the_way = findings.floor_in_the_way || findings.softness_in_the_way;
    if (!in_the_way && !findings.facing_explains && !findings.test_contradicts && !options_.seating_in_doubt) {
      places = fewer(joined(places));
      const std::vector<double> depths = settled(places);
      for (std::size_t k = 0; k < places.size(); ++k) {
        const auto steps = steps_at(places[k], depths[k], outline_, player_);
        plan.steps.insert(plan.steps.end(), steps.begin(), steps.end());
      }
      put_in_order(plan.steps);
      name_levelled(places);
    }
    if (options_.rolling_test != RollingTest::not_done && plan.steps.empty() && !in_the_way &&
        (findings.bending_off || findings.zones_off))
      findings.test_contradicts = true;
    predict(plan);
    return plan;
  }

  PlanFindings findings;

 private:
  std::vector<Place> candidates() const {
    std::vector<Place> places;
    for (std::size_t f = 0; f < goal_.fault_acts.size(); ++f) {
      if (!goal_.fault_acts[f]) continue;
      auto layers = fault_layers(ground_, static_cast<int>(f));
      std::move(layers.begin(), layers.end(), std::back_inserter(places));
    }
    constexpr double piece_mm = 2.2;
    const std::vector<double> ends = maker_.stations(piece_mm);
    const auto add = [&](StepAim aim, const std::vector<Side>& sides, AcrossBand across, std::size_t k) {
      if (auto place = maker_.lane({aim, sides, across, ends[k], ends[k + 1]})) places.push_back(std::move(*place));
    };
    for (const AcrossBand across : {AcrossBand::rail, AcrossBand::flank, AcrossBand::centre}) {
      for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
        if (is_heart(zone_at(across, ends[k], ends[k + 1]))) continue;
        if (const auto stiff = stiff_side()) add(StepAim::balance, {*stiff}, across, k);
      }
      for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
        const std::size_t z = zone_at(across, ends[k], ends[k + 1]);
        if (is_heart(z)) continue;
        if (goal_.target_acts.at(z)) add(StepAim::target, {Side::left, Side::right}, across, k);
        if (goal_.softer() && z >= 3) add(StepAim::softer, {Side::left, Side::right}, across, k);
      }
    }
    for (Place& place : places) mark_even(place);
    return places;
  }

  /// The side whose bending is to be balanced by cane wherever it helps.
  std::optional<Side> stiff_side() const {
    const double at_tip = expected(0), under_lip = expected(1);
    const bool tip_is_worse = !goal_.imbalance_acts[1] || std::abs(at_tip) >= std::abs(under_lip);
    const double worse = goal_.imbalance_acts[0] && tip_is_worse ? at_tip : under_lip;
    const Side side = side_of(worse);
    if (!goal_.bending_acts() || !may_lose(side, options_.rolling_test)) return std::nullopt;
    return side;
  }

  /// Lanes for balance that lie on no fault of their side.
  void mark_even(Place& place) const {
    const double tolerance =
        tolerance_at_mm(assessment_.balance, 0.5 * (place.from_mm + place.to_mm), assessment_.zones.vamp_length_mm);
    place.even_here = place.aim == StepAim::balance && place.fault < 0 && place.surplus_mm < kFaultShare * tolerance;
  }

  std::size_t zone_at(AcrossBand across, double from_mm, double to_mm) const {
    const double t = 0.5 * (from_mm + to_mm) / assessment_.zones.vamp_length_mm;
    std::size_t band = 0;
    while (band + 2 < ZoneLimits::t.size() && t >= ZoneLimits::t.at(band + 1)) ++band;
    return 3 * band + static_cast<std::size_t>(across);
  }

  /// Imbalance that is left where it was linearised last, with what the cane adds.
  double expected(std::size_t imbalance) const { return bending_.value().at(imbalance) + goal_.by_cane.at(imbalance); }

  /// What holds a place back: what one session may take, what must stay for good, or nothing but the cane itself.
  enum class Reach { one_session, many_sessions, all_cane };

  std::vector<PlaceLimits> limits_of(const std::vector<Place>& places, Reach reach) const {
    std::vector<PlaceLimits> limits;
    for (const Place& place : places) {
      PlaceLimits limit;
      limit.surplus_mm = std::max(0.0, place.surplus_mm);
      switch (place.aim) {
        case StepAim::balance: {
          const double strictest = tolerance_mm(assessment_.balance, place.along.front());
          limit.most_mm = limit.surplus_mm + (goal_.bending_acts() ? kMostShareOfThickness * place.thickness_mm
                                                                   : kLeftOfTolerance * strictest);
          // A layer of a hill is no deeper than the hill, and others lie over it.
          if (place.fault >= 0) limit.surplus_mm = assessment_.faults.at(static_cast<std::size_t>(place.fault)).peak_mm;
          limit.most_mm = std::max(limit.most_mm, limit.surplus_mm);
          break;
        }
        case StepAim::target:
          limit.most_mm = limit.surplus_mm;
          break;
        case StepAim::softer:
          limit.most_mm = limit.surplus_mm = kMostShareSofter * place.thickness_mm;
          break;
      }
      limit.most_mm = std::max(0.0, std::min({limit.most_mm, mm_from_um(limits_.most_depth_um), place.most_mm}));
      if (reach == Reach::many_sessions) limit.most_mm = std::max(0.0, place.most_mm);
      if (reach == Reach::all_cane) limit.most_mm = 0.7 * place.thickness_mm;
      limit.by_depth = bending_.by_depth(place);
      limits.push_back(limit);
    }
    return limits;
  }

  CaneNow cane_now() const { return {goal_.difference_mm, goal_.area_mm2, bending_.value()}; }

  LeastCane least(const std::vector<Place>& places, const std::vector<PlaceLimits>& limits) const {
    CaneGoal goal = goal_.cane;
    goal.most_at_fault_mm = mm_from_um(limits_.most_depth_um);
    goal.most_at_tip_mm = mm_from_um(kMostAtTip_um);
    goal.heavy_hand = 1.0 + player_.u_depth_per_stroke_rel;
    return least_cane(places, limits, cane_now(), goal);
  }

  /// Whether what is off comes within its tolerance, linearised; the zone that stays out furthest.
  struct Reached {
    bool all = true;
    std::optional<std::size_t> zone;
  };
  Reached reached(const std::vector<Place>& places, const std::vector<PlaceLimits>& limits,
                  const CaneGoal& goal) const {
    const std::vector<double> depths = least_cane(places, limits, cane_now(), goal).depth_mm;
    Reached result;
    double furthest = 1.0;
    for (std::size_t z = 0; z < goal_.difference_mm.size(); ++z) {
      const ZoneBalance& zone = assessment_.balance.zones.at(z);
      if (!goal_.zone_acts.at(z) || zone.verdict != Verdict::outside) continue;
      double after = goal_.difference_mm.at(z);
      for (std::size_t k = 0; k < places.size(); ++k) after += places[k].difference.at(z) * depths[k];
      const double share = std::abs(after) / zone.tolerance_mm;
      if (share <= furthest) continue;
      furthest = share;
      result.all = false;
      result.zone = z;
    }
    for (std::size_t f = 0; f < kSteeredImbalances; ++f) {
      if (!goal_.imbalance_acts.at(f)) continue;
      double after = expected(f);
      for (std::size_t k = 0; k < places.size(); ++k) after += limits[k].by_depth.at(f) * depths[k];
      result.all = result.all && std::abs(after) <= bent_.mechanics.imbalance_tolerance;
    }
    return result;
  }

  /// Can it be balanced at all, and if not, what forbids it?
  void look_for_what_is_in_the_way(const std::vector<Place>& places) {
    const auto in_the_end = limits_of(places, Reach::many_sessions);
    const Reached told = reached(places, in_the_end, goal_.cane);
    if (told.all) return;
    CaneGoal without_floor = goal_.cane;
    without_floor.most_removed_mm.fill(1e9);
    CaneGoal without_window = goal_.cane;
    without_window.figure[kSteeredImbalances] = {};
    CaneGoal without_both = without_floor;
    without_both.figure[kSteeredImbalances] = {};
    if (!reached(places, limits_of(places, Reach::all_cane), without_both).all)
      return;  // Something else: heart, bark or the very tip.
    findings.softness_in_the_way = bending_.known() && reached(places, in_the_end, without_window).all;
    findings.floor_in_the_way = !findings.softness_in_the_way;
    if (!told.zone) return;
    if (const Fault* fault = fault_of(assessment_, assessment_.balance.zones.at(*told.zone)))
      findings.too_thin = *fault;
  }

  /// The places that are needed, with neighbours in a lane made one wherever that costs little: few steps beat many.
  std::vector<Place> joined(const std::vector<Place>& all) const {
    const LeastCane fine = least(all, limits_of(all, Reach::one_session));
    std::vector<Place> places;
    constexpr double nothing_mm = 5e-4;
    for (std::size_t k = 0; k < all.size(); ++k)
      if (fine.depth_mm[k] > nothing_mm) places.push_back(all[k]);
    for (std::size_t k = 0; k + 1 < places.size();) {
      std::vector<Place> fewer = places;
      if (auto both = union_of(places[k], places[k + 1])) {
        fewer[k] = std::move(*both);
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(k) + 1);
        if (least(fewer, limits_of(fewer, Reach::one_session)).cost <= fine.cost + kDearer * fine.cane_mm3) {
          places = std::move(fewer);
          continue;
        }
      }
      ++k;
    }
    return places;
  }

  /// Without the places that others can stand in for at little cost, the one that is missed least first.
  std::vector<Place> fewer(const std::vector<Place>& all) const {
    std::vector<PlaceLimits> limits = limits_of(all, Reach::one_session);
    std::vector<Place> numbers_only = all;  // The program asks for no cells.
    std::vector<std::size_t> kept(all.size());
    for (std::size_t k = 0; k < all.size(); ++k) {
      kept[k] = k;
      for (Place::Part& part : numbers_only[k].parts) part = {part.side, {}, {}};
    }
    const auto without = [](auto rest, std::size_t k) {
      rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(k));
      return rest;
    };
    const LeastCane with_all = least(numbers_only, limits);
    const double dearest = with_all.cost + kDearer * with_all.cane_mm3;
    while (kept.size() > 1) {
      double least_cost = dearest;
      std::size_t least_missed = kept.size();
      for (std::size_t k = 0; k < kept.size(); ++k) {
        const double cost = least(without(numbers_only, k), without(limits, k)).cost;
        if (cost > least_cost) continue;
        least_cost = cost;
        least_missed = k;
      }
      if (least_missed == kept.size()) break;
      kept = without(std::move(kept), least_missed);
      limits = without(std::move(limits), least_missed);
      numbers_only = without(std::move(numbers_only), least_missed);
    }
    std::vector<Place> places;
    for (const std::size_t k : kept) places.push_back(all[k]);
    return places;
  }

  /// Two neighbours in a lane as one place; a gap of one piece between them is bridged.
  std::optional<Place> union_of(const Place& a, const Place& b) const {
    constexpr double bridged_mm = 2.6;
    const bool same_lane = a.fault < 0 && b.fault < 0 && a.aim == b.aim && a.across == b.across &&
                           a.parts.size() == b.parts.size() && a.parts.front().side == b.parts.front().side;
    if (!same_lane || b.from_mm - a.to_mm > bridged_mm) return std::nullopt;
    std::vector<Side> sides;
    for (const auto& part : a.parts) sides.push_back(part.side);
    auto both = maker_.lane({a.aim, sides, a.across, a.from_mm, b.to_mm});
    if (!both) return std::nullopt;
    mark_even(*both);
    blocks_.count(*both);
    return both;
  }

  /// Depths of the joined places, in whole micrometres: computed anew about what they do, without places too shallow to
  /// be steered and no more of them than a person can carry out.
  std::vector<double> settled(std::vector<Place>& places) {
    std::vector<double> depths(places.size(), 0.0), at = depths;
    std::vector<PlaceLimits> limits;
    int linearised = 0;
    while (true) {
      limits = limits_of(places, Reach::one_session);
      for (std::size_t k = 0; k < places.size(); ++k) limits[k].at_mm = at[k];
      depths = least(places, limits).depth_mm;
      std::size_t worst = places.size();
      double worst_share = 1.0, smallest = 1e9;
      std::size_t steps = 0;
      for (std::size_t k = 0; k < places.size(); ++k) {
        const double share = std::floor(um_from_mm(depths[k])) / std::max(1.0, um_from_mm(places[k].u95_mm));
        if (share < worst_share) {
          worst_share = share;
          worst = k;
        }
        steps += places[k].parts.size();
      }
      if (worst == places.size() && steps > static_cast<std::size_t>(options_.most_steps)) {
        for (std::size_t k = 0; k < places.size(); ++k) {
          // Balance first: what leads to the aim goes before what balances.
          const double volume = depths[k] * places[k].area_mm2 + (places[k].aim == StepAim::balance ? 1e3 : 0.0);
          if (volume >= smallest) continue;
          smallest = volume;
          worst = k;
        }
      }
      if (worst < places.size()) {
        places.erase(places.begin() + static_cast<std::ptrdiff_t>(worst));
        at.erase(at.begin() + static_cast<std::ptrdiff_t>(worst));
        if (linearised > 0) bending_.linearise_at(removal(places, at));
        continue;
      }
      constexpr int enough = 2;
      if (places.empty() || !bending_.known() || linearised == enough) break;
      at = depths;
      bending_.linearise_at(removal(places, at));
      ++linearised;
    }
    for (std::size_t k = 0; k < places.size(); ++k) {
      const bool as_deep_as_may_be = depths[k] > limits[k].most_mm - 1e-6 && limits[k].most_mm < places[k].most_mm;
      if (places[k].aim == StepAim::balance && as_deep_as_may_be) findings.deep = true;
      if (depths[k] > mm_from_um(limits_.most_depth_um) - 1e-6)
        (places[k].aim == StepAim::balance ? findings.deep : findings.aim_is_deep) = true;
      depths[k] = mm_from_um(std::floor(um_from_mm(depths[k]) + 1e-6));
    }
    return depths;
  }

  void name_levelled(const std::vector<Place>& places) {
    for (std::size_t f = 0; f < assessment_.faults.size(); ++f) {
      if (std::any_of(places.begin(), places.end(),
                      [&](const Place& place) { return place.fault == static_cast<int>(f); }))
        findings.levelled.push_back(assessment_.faults[f]);
    }
  }

  Field removal(const std::vector<Place>& places, const std::vector<double>& depths) const {
    Field removed = Field::Zero(map_.grid.rows, map_.grid.columns);
    for (std::size_t k = 0; k < places.size(); ++k) {
      for (const Place::Part& part : places[k].parts) {
        for (std::size_t i = 0; i < part.cut.cells.size(); ++i)
          removed.data()[part.cut.cells[i]] += part.cut.share[i] * static_cast<float>(depths[k]);
      }
    }
    return removed;
  }

  void predict(ScrapePlan& plan) {
    const Field removed = removal_of(map_.grid, plan.steps);
    for (std::size_t z = 0; z < goal_.difference_mm.size(); ++z) {
      const ZoneBalance& zone = assessment_.balance.zones.at(z);
      double change = 0.0;
      for (Eigen::Index c = map_.grid.columns / 2; c < map_.grid.columns; ++c) {
        for (Eigen::Index r = 0; r < map_.grid.rows; ++r) {
          if (assessment_.zones.label(r, c) != static_cast<int>(z) ||
              std::isnan(assessment_.balance.difference_mm(r, c)))
            continue;
          change -= static_cast<double>(removed(r, c)) - static_cast<double>(removed(r, map_.grid.mirrored(c)));
        }
      }
      const double before = zone.difference.mean_mm;
      plan.prediction.push_back(
          {zone.along, zone.across, um_from_mm(before),
           um_from_mm(before +
                      (zone.difference.cells > 0 ? change / static_cast<double>(zone.difference.cells) : 0.0))});
    }
    const double at_tip_um = um_from_mm(tolerance_mm(assessment_.balance, AlongBand::tip));
    for (std::size_t z = 0; z < 3; ++z) {
      const bool left = goal_.zone_acts.at(z) && std::abs(plan.prediction.at(z).after_um) > at_tip_um;
      findings.more_at_tip = findings.more_at_tip || left;
    }
    if (!bending_.known()) return;
    const BendingValues after = bending_.after(removed);
    for (const BendingFigure f : kBendingFigures)
      plan.figures.push_back({f, bent_.mechanics.figure(f).value, after.value.at(index_of(f))});
    const double lip = after.value.at(index_of(BendingFigure::stiffness_lip));
    constexpr double nearly = 1.005;
    findings.aim_cut_short = goal_.softer()
                                 ? lip > nearly * goal_.cane.figure[kSteeredImbalances].upper
                                 : goal_.aim.target && !plan.steps.empty() && lip < nearly * plan.softest_n_per_mm;
  }

  const ThicknessMap& map_;
  const Outline& outline_;
  const Assessment& assessment_;
  const BentReed& bent_;
  const Player& player_;
  const RemovalLimits& limits_;
  const PlanOptions& options_;
  ScrapeField field_;
  PlaceMaker maker_;
  FaultGround ground_;
  CaneBlocks blocks_;
  SteeredBending bending_;
  PlanGoal goal_;
};

}  // namespace

ScrapePlan plan_scrape(const PlanInputs& inputs, const PlanOptions& options) {
  validate(options);
  Planner planner(inputs, options);
  ScrapePlan plan = planner.run();
  return in_words(std::move(plan), planner.findings, inputs, options);
}

}  // namespace canewise
