#include "scanproc/scrape/plan_scrape.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/units.h"
#include "scanproc/scrape/least_cane.h"
#include "scanproc/scrape/plan_words.h"
#include "scanproc/scrape/scrape_places.h"

namespace canewise {
namespace {

/// How much of a tolerance a plan leaves: less would cost cane for nothing, more would leave no room for a hand's slip.
constexpr double kLeftOfTolerance = 0.35;
constexpr double kLeftOfImbalance = 0.4;
/// A zone that needs nothing may become uneven up to so much of its tolerance, if bending asks for it.
constexpr double kSpareOfTolerance = 0.8;
/// Where cane is not too thick, no more than this share of it is taken in one session.
constexpr double kMostShareOfThickness = 0.04, kMostShareSofter = 0.12;
/// Window about a wanted stiffness, in half strengths: a quarter below, and for an aim an eighth to either side.
constexpr double kQuarter = 0.5, kAimWindow = 0.25;

Side side_of(double signed_value) { return signed_value > 0.0 ? Side::right : Side::left; }

class Planner {
 public:
  Planner(const ThicknessMap& map, const Outline& outline, const Assessment& assessment, const BentReed& bent,
          const Player& player, const PlanOptions& options)
      : map_(map),
        outline_(outline),
        assessment_(assessment),
        bent_(bent),
        player_(player),
        options_(options),
        maker_(map, outline, assessment, options.tip_margin_mm, options.floor_tip_mm) {
    for (std::size_t z = 0; z < difference_.size(); ++z) {
      const ZoneMean& zone = assessment_.balance.zones.at(z).difference;
      difference_.at(z) = zone.mean_mm;
      area_.at(z) = static_cast<double>(zone.cells) * map_.grid.cell_mm * map_.grid.cell_mm;
    }
    findings.wanted_halves = options.aim && options.aim->halves ? *options.aim->halves : 0.0;
    aim_ = options.aim.value_or(PlanAim{assessment.target && assessment.target->chosen_by_user, std::nullopt});
  }

  ScrapePlan run() {
    ScrapePlan plan;
    look_at_bending(plan);
    decide_what_is_off();
    set_goal(plan);
    std::vector<Place> places = candidates();
    look_for_what_is_in_the_way(places);
    if (!findings.floor_in_the_way && !findings.softness_in_the_way && !vetoed()) {
      places = joined(places);
      const std::vector<double> depths = settled(places);
      for (std::size_t k = 0; k < places.size(); ++k) add_steps(plan, places[k], depths[k]);
      order(plan.steps);
    }
    if (options_.rolling_test != RollingTest::not_done && plan.steps.empty() &&
        (findings.bending_off || findings.zones_off) && !findings.floor_in_the_way && !findings.softness_in_the_way)
      findings.test_contradicts = true;
    predict(plan);
    return plan;
  }

  PlanFindings findings;

 private:
  bool test_names_side() const {
    return options_.rolling_test == RollingTest::left || options_.rolling_test == RollingTest::right;
  }
  Side named_side() const { return options_.rolling_test == RollingTest::left ? Side::left : Side::right; }
  /// Whether balance may take cane from this side: only a side that the player found less free, if the player tried.
  bool may_lose(Side side) const {
    return options_.rolling_test == RollingTest::not_done || (test_names_side() && named_side() == side);
  }
  bool vetoed() const { return findings.test_contradicts; }

  void look_at_bending(ScrapePlan& plan) {
    if (!bent_.figures) return;
    linearise(Field::Zero(map_.grid.rows, map_.grid.columns));
    const auto shape = [&](BendingFigure f) {
      return ShapeImbalance{bent_.mechanics.figure(f).value, bent_.mechanics.figure(f).u_scan,
                            values_.derivative.at(index_of(f)).by_cane(static_cast<Eigen::Index>(CanePart::left_right)),
                            CaneSpread{}.left_right_rel};
    };
    const ShapeImbalance tip = shape(BendingFigure::imbalance_tip);
    const ImbalanceBelief belief = believe(tip, options_.rolling_test);
    // A reed that bends like this hardly ever gives that answer: then it came from something else, or is wrong.
    constexpr double hardly_ever = 0.05;
    unlikely_answer_ = belief.probability < hardly_ever;
    if (unlikely_answer_) return;
    plan.cane_right_over_left = belief.cane;
    shift_ = {belief.imbalance - tip.value, shape(BendingFigure::imbalance_lip).by_cane * belief.cane, 0.0};
  }

  void decide_what_is_off() {
    const Balance& balance = assessment_.balance;
    findings.zones_off = balance.verdict == Verdict::outside;
    for (std::size_t z = 0; z < difference_.size(); ++z) {
      const ZoneBalance& zone = balance.zones.at(z);
      const double size = std::abs(zone.difference.mean_mm), u95 = kCoverage95 * zone.difference.u_mm;
      // Also what is not surely outside, if it is surely there and more than half the tolerance: the reed is on the
      // bench anyway, and a fault does not end where a zone does.
      const bool there = findings.zones_off && zone.verdict != Verdict::within &&
                         size >= std::max(u95, 0.5 * zone.tolerance_mm) &&
                         // A scan that could never call this zone even cannot say when to stop.
                         can_prove_within(zone.difference.u_mm, zone.tolerance_mm);
      if (!there || is_heart(z)) continue;
      if (may_lose(side_of(zone.difference.mean_mm))) {
        zone_acts_.at(z) = true;
      } else {
        findings.other_side_left_out = true;
      }
    }
    findings.test_contradicts =
        unlikely_answer_ && std::none_of(zone_acts_.begin(), zone_acts_.end(), [](bool acts) { return acts; });
    if (!bent_.figures) return;
    for (std::size_t f = 0; f < 2; ++f) {
      const double expected = figure_.at(f) + shift_.at(f);
      bool acts = bent_.mechanics.verdicts.at(index_of(kSteered.at(f))) == Verdict::outside;
      findings.bending_off = findings.bending_off || acts;
      if (options_.rolling_test != RollingTest::not_done) {
        constexpr double worth_acting = 0.6;
        acts = std::abs(expected) > worth_acting * kImbalanceTolerance;
      }
      if (acts && may_lose(side_of(expected))) figure_acts_.at(f) = true;
    }
    findings.bending_off = findings.bending_off || figure_acts_[0] || figure_acts_[1];
  }

  static bool is_heart(std::size_t zone) {
    return zone == static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::centre));
  }

  void set_goal(ScrapePlan& plan) {
    for (std::size_t z = 0; z < difference_.size(); ++z) {
      const double tolerance = assessment_.balance.zones.at(z).tolerance_mm;
      const double held = std::max(std::abs(difference_.at(z)), kSpareOfTolerance * tolerance);
      const double wanted = zone_acts_.at(z) ? kLeftOfTolerance * tolerance : held;
      goal_.difference_mm.at(z) = {-wanted, wanted};
      goal_.difference_held_mm.at(z) = {-held, held};
    }
    for (std::size_t k = 0; k < assessment_.zone_thickness.size(); ++k) {
      const ZoneThickness& zone = assessment_.zone_thickness[k];
      double floor = options_.floor_tip_mm;
      if (const ZoneDeviation* deviation = deviation_of(zone.zone); deviation && !std::isnan(deviation->target_mm))
        floor = std::max(floor, deviation->target_mm - options_.floor_in_tolerances * deviation->tolerance_mm);
      const double spare = zone.thickness.mean_mm - floor;
      goal_.most_removed_mm.at(k) = std::isnan(spare) ? 0.0 : std::max(0.0, spare);
    }
    if (aim_.target) add_target_goal();
    if (!bent_.figures) return;
    goal_.bending_known = true;
    for (std::size_t f = 0; f < 2; ++f) {
      const double now = std::abs(figure_.at(f) + shift_.at(f));
      const double wanted = figure_acts_.at(f) ? kLeftOfImbalance * kImbalanceTolerance
                                               : std::max(now, kSpareOfTolerance * kImbalanceTolerance);
      goal_.figure.at(f) = {-wanted - shift_.at(f), wanted - shift_.at(f)};
    }
    const StrengthScale scale = strength_scale(player_.known, CaneSpread{}.between_reeds_rel);
    const double now = figure_[2];
    double softest = now * std::exp(-kQuarter * scale.step);
    if (player_.wanted_halves && scale.has_reference)
      softest = scale.reference_n_per_mm * std::exp(scale.step * (*player_.wanted_halves - kQuarter));
    if (softer()) {
      const double wanted = now * std::exp(scale.step * *aim_.halves);
      softest = wanted * std::exp(-kAimWindow * scale.step);
      goal_.figure[2].upper = wanted * std::exp(0.5 * kAimWindow * scale.step);
    }
    goal_.figure[2].lower = softest;
    plan.softest_n_per_mm = softest;
  }

  bool softer() const { return aim_.halves && *aim_.halves < 0.0 && bent_.figures; }

  const ZoneDeviation* deviation_of(const Zone& zone) const {
    if (!assessment_.target) return nullptr;
    for (const auto& deviation : assessment_.target->zones) {
      if (deviation.zone == zone) return &deviation;
    }
    return nullptr;
  }

  /// What is surely thicker than the target on both sides comes off alike.
  void add_target_goal() {
    for (std::size_t z = 0; z < difference_.size(); ++z) {
      if (is_heart(z)) continue;
      double both = 1e9, tolerance = 0.0;
      for (const Side side : {Side::left, Side::right}) {
        const ZoneThickness& zone = assessment_.zone_thickness.at(half_zone_index(z, side));
        const ZoneDeviation* deviation = deviation_of(zone.zone);
        const double mean = deviation->deviation.mean_mm;
        const bool surely = judge(mean, deviation->deviation.u_mm, -1e9, deviation->tolerance_mm) == Verdict::outside &&
                            mean >= kCoverage95 * deviation->deviation.u_mm;
        both = std::min(both, surely ? mean : 0.0);
        tolerance = deviation->tolerance_mm;
      }
      if (!(both > 0.0)) continue;
      target_acts_.at(z) = true;
      for (const Side side : {Side::left, Side::right})
        goal_.surplus_mm.at(half_zone_index(z, side)) = both - kLeftOfTolerance * tolerance;
    }
  }

  std::vector<Place> candidates() const {
    std::vector<Place> places;
    constexpr double piece_mm = 2.2;
    const std::vector<double> ends = maker_.stations(piece_mm);
    const auto add = [&](StepAim aim, const std::vector<Side>& sides, AcrossBand across, std::size_t k) {
      if (auto place = maker_.place(aim, sides, across, ends[k], ends[k + 1])) places.push_back(std::move(*place));
    };
    const bool bending = figure_acts_[0] || figure_acts_[1];
    const double worse = std::abs(figure_[0] + shift_[0]) >= std::abs(figure_[1] + shift_[1]) && figure_acts_[0]
                             ? figure_[0] + shift_[0]
                             : figure_[1] + shift_[1];
    for (const AcrossBand across : {AcrossBand::rail, AcrossBand::flank, AcrossBand::centre}) {
      for (const Side side : {Side::left, Side::right}) {
        for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
          const std::size_t z = zone_at(across, ends[k], ends[k + 1]);
          if (is_heart(z)) continue;
          const bool thick = zone_acts_.at(z) && side_of(difference_.at(z)) == side;
          const bool stiff = bending && may_lose(side) && side_of(worse) == side;
          if (thick || stiff) add(StepAim::balance, {side}, across, k);
        }
      }
      for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
        const std::size_t z = zone_at(across, ends[k], ends[k + 1]);
        if (is_heart(z)) continue;
        if (target_acts_.at(z)) add(StepAim::target, {Side::left, Side::right}, across, k);
        if (softer() && z >= 3) add(StepAim::softer, {Side::left, Side::right}, across, k);
      }
    }
    return places;
  }

  std::size_t zone_at(AcrossBand across, double from_mm, double to_mm) const {
    const double t = 0.5 * (from_mm + to_mm) / assessment_.zones.vamp_length_mm;
    std::size_t band = 0;
    while (band + 2 < ZoneLimits::t.size() && t >= ZoneLimits::t.at(band + 1)) ++band;
    return 3 * band + static_cast<std::size_t>(across);
  }

  /// `free` lifts everything that holds back but the cane itself.
  std::vector<PlaceLimits> limits_of(const std::vector<Place>& places, double most_depth_um, bool free = false) const {
    std::vector<PlaceLimits> limits;
    for (const Place& place : places) {
      PlaceLimits limit;
      limit.surplus_mm = std::max(0.0, place.surplus_mm);
      switch (place.aim) {
        case StepAim::balance: {
          const bool bending = figure_acts_[0] || figure_acts_[1];
          const double strictest = balance_tolerance_mm(place.along.front());
          limit.most_mm =
              limit.surplus_mm + (bending ? kMostShareOfThickness * place.thickness_mm : kLeftOfTolerance * strictest);
          break;
        }
        case StepAim::target:
          limit.most_mm = limit.surplus_mm;
          break;
        case StepAim::softer:
          limit.most_mm = limit.surplus_mm = kMostShareSofter * place.thickness_mm;
          break;
      }
      limit.most_mm = std::max(0.0, std::min({limit.most_mm, mm_from_um(most_depth_um), place.most_mm}));
      if (free) limit.most_mm = 0.7 * place.thickness_mm;
      for (std::size_t f = 0; f < kSteered.size() && bent_.figures; ++f) {
        double sum = 0.0;
        for (const Place::Part& part : place.parts)
          for (const Eigen::Index cell : part.cells) sum -= static_cast<double>(by_cells_.at(f).data()[cell]);
        limit.by_depth.at(f) = sum;
      }
      limits.push_back(limit);
    }
    return limits;
  }

  LeastCane least(const std::vector<Place>& places, const std::vector<PlaceLimits>& limits) const {
    return least_cane(places, limits, difference_, area_, figure_, goal_);
  }

  /// Whether what is off comes within its tolerance, linearised; the zone that stays out furthest.
  struct Reached {
    bool all = true;
    std::optional<std::size_t> zone;
  };
  Reached reached(const std::vector<Place>& places, const std::vector<PlaceLimits>& limits,
                  const CaneGoal& goal) const {
    const std::vector<double> depths = least_cane(places, limits, difference_, area_, figure_, goal).depth_mm;
    Reached result;
    double furthest = 1.0;
    for (std::size_t z = 0; z < difference_.size(); ++z) {
      const ZoneBalance& zone = assessment_.balance.zones.at(z);
      if (!zone_acts_.at(z) || zone.verdict != Verdict::outside) continue;
      double after = difference_.at(z);
      for (std::size_t k = 0; k < places.size(); ++k) after += places[k].difference.at(z) * depths[k];
      const double share = std::abs(after) / zone.tolerance_mm;
      if (share <= furthest) continue;
      furthest = share;
      result.all = false;
      result.zone = z;
    }
    for (std::size_t f = 0; f < 2; ++f) {
      if (!figure_acts_.at(f)) continue;
      double after = figure_.at(f) + shift_.at(f);
      for (std::size_t k = 0; k < places.size(); ++k) after += limits[k].by_depth.at(f) * depths[k];
      result.all = result.all && std::abs(after) <= kImbalanceTolerance;
    }
    return result;
  }

  /// Can it be balanced at all, and if not, what forbids it?
  void look_for_what_is_in_the_way(const std::vector<Place>& places) {
    constexpr double no_limit_um = 1e6;
    const Reached told = reached(places, limits_of(places, no_limit_um), goal_);
    if (told.all) return;
    const auto free = limits_of(places, no_limit_um, true);
    CaneGoal without_floor = goal_;
    without_floor.most_removed_mm.fill(1e9);
    CaneGoal without_window = goal_;
    without_window.figure[2] = {};
    CaneGoal without_both = without_floor;
    without_both.figure[2] = {};
    if (!reached(places, free, without_both).all) return;  // Something else: heart, bark or the very tip.
    findings.softness_in_the_way =
        goal_.bending_known && reached(places, limits_of(places, no_limit_um), without_window).all;
    findings.floor_in_the_way = !findings.softness_in_the_way;
    if (findings.floor_in_the_way && told.zone) {
      const ZoneBalance& zone = assessment_.balance.zones.at(*told.zone);
      findings.too_thin = Zone{zone.along, zone.across, side_of(-zone.difference.mean_mm)};
    }
  }

  /// The places that are needed, with neighbours in a lane made one wherever that costs little: few steps beat many.
  std::vector<Place> joined(const std::vector<Place>& all) const {
    const LeastCane fine = least(all, limits_of(all, options_.most_depth_um));
    std::vector<Place> places;
    constexpr double nothing_mm = 5e-4;
    for (std::size_t k = 0; k < all.size(); ++k)
      if (fine.depth_mm[k] > nothing_mm) places.push_back(all[k]);
    constexpr double dearer = 1.25;
    for (std::size_t k = 0; k + 1 < places.size();) {
      std::vector<Place> fewer = places;
      if (auto both = union_of(places[k], places[k + 1])) {
        fewer[k] = std::move(*both);
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(k) + 1);
        if (least(fewer, limits_of(fewer, options_.most_depth_um)).cost <= dearer * fine.cost) {
          places = std::move(fewer);
          continue;
        }
      }
      ++k;
    }
    return places;
  }

  /// Two neighbours in a lane as one place; a gap of one piece between them is bridged.
  std::optional<Place> union_of(const Place& a, const Place& b) const {
    constexpr double bridged_mm = 2.6;
    const bool same_lane = a.aim == b.aim && a.across == b.across && a.parts.size() == b.parts.size() &&
                           a.parts.front().side == b.parts.front().side;
    if (!same_lane || b.from_mm - a.to_mm > bridged_mm) return std::nullopt;
    std::vector<Side> sides;
    for (const auto& part : a.parts) sides.push_back(part.side);
    return maker_.place(a.aim, sides, a.across, a.from_mm, b.to_mm);
  }

  /// Depths of the joined places, in whole micrometres: computed anew about what they do, without places too shallow to
  /// be steered and no more of them than a person can carry out.
  std::vector<double> settled(std::vector<Place>& places) {
    std::vector<double> depths(places.size(), 0.0), at = depths;
    int linearised = 0;
    while (true) {
      auto limits = limits_of(places, options_.most_depth_um);
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
        if (linearised > 0) {
          linearise(removal(places, at));
        }
        continue;
      }
      constexpr int enough = 2;
      if (places.empty() || !bent_.figures || linearised == enough) break;
      at = depths;
      linearise(removal(places, at));
      ++linearised;
    }
    for (std::size_t k = 0; k < places.size(); ++k) {
      if (depths[k] > mm_from_um(options_.most_depth_um) - 1e-6) findings.deep = true;
      depths[k] = mm_from_um(std::floor(um_from_mm(depths[k]) + 1e-6));
    }
    return depths;
  }

  Field removal(const std::vector<Place>& places, const std::vector<double>& depths) const {
    Field removed = Field::Zero(map_.grid.rows, map_.grid.columns);
    for (std::size_t k = 0; k < places.size(); ++k)
      for (const Place::Part& part : places[k].parts)
        for (const Eigen::Index cell : part.cells) removed.data()[cell] += static_cast<float>(depths[k]);
    return removed;
  }

  /// Figures and their derivatives with this much off.
  void linearise(const Field& removed_mm) {
    const bool as_it_is = (removed_mm == 0.0F).all();
    const BendingFigures& figures = *bent_.figures;
    values_ = as_it_is
                  ? figures.of(figures.plate(), true)
                  : figures.of(figures.plate_with(figures.reed().thickness_from(map_.thickness_mm - removed_mm)), true);
    for (std::size_t f = 0; f < kSteered.size(); ++f) {
      const auto k = index_of(kSteered.at(f));
      figure_.at(f) = values_.value.at(k);
      by_cells_.at(f) = figures.reed().by_cells(values_.derivative.at(k).by_thickness);
    }
  }

  void add_steps(ScrapePlan& plan, const Place& place, double depth_mm) const {
    for (const Place::Part& part : place.parts) {
      ScrapeStep step;
      step.aim = place.aim;
      step.side = part.side;
      step.across = place.across;
      step.along = place.along;
      step.polygon = part.polygon;
      step.from_mm = 1e9;
      for (const auto& point : step.polygon) {
        step.from_mm = std::min(step.from_mm, point.x_mm);
        step.to_mm = std::max(step.to_mm, point.x_mm);
      }
      step.depth_um = um_from_mm(depth_mm);
      step.u95_um = um_from_mm(place.u95_mm);
      step.volume_mm3 = depth_mm * place.area_mm2 / static_cast<double>(place.parts.size());
      const double lane_mm = 0.35 * outline_.half_width_mm(step.from_mm);
      step.strokes = std::max(1, static_cast<int>(std::lround(step.depth_um / player_.depth_per_stroke_um *
                                                              std::ceil(lane_mm / player_.tool_width_mm))));
      step.where = fmt::format("{} {}, {:.0f} to {:.0f} mm from the tip", name_of(step.side), name_of(step.across),
                               step.from_mm, step.to_mm);
      constexpr int most_strokes_between_tests = 5;
      const int pause = std::clamp((step.strokes + 2) / 3, 1, most_strokes_between_tests);
      const auto strokes = [](int count) { return fmt::format("{} stroke{}", count, count == 1 ? "" : "s"); };
      step.stop = fmt::format("Stop after every {}, wet the reed and play. {} Stop for good after {}, and scan again.",
                              strokes(pause),
                              step.aim == StepAim::balance ? "Go on only while this side still speaks less freely."
                                                           : "Go on only while it still plays harder than you want.",
                              strokes(step.strokes));
      plan.steps.push_back(std::move(step));
    }
  }

  /// Largest effect first, balance before the aim, the tip last; the two sides of a pair stay together.
  static void order(std::vector<ScrapeStep>& steps) {
    const auto reaches_tip = [](const ScrapeStep& s) { return s.along.front() == AlongBand::tip; };
    std::stable_sort(steps.begin(), steps.end(), [&](const ScrapeStep& a, const ScrapeStep& b) {
      const bool a_balance = a.aim == StepAim::balance, b_balance = b.aim == StepAim::balance;
      if (a_balance != b_balance) return a_balance;
      if (reaches_tip(a) != reaches_tip(b)) return reaches_tip(b);
      if (a.aim != StepAim::balance && a.across == b.across && a.from_mm == b.from_mm) return false;
      return a.volume_mm3 > b.volume_mm3;
    });
  }

  void predict(ScrapePlan& plan) {
    const Field removed = removal_of(map_.grid, plan.steps);
    for (std::size_t z = 0; z < difference_.size(); ++z) {
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
    if (!bent_.figures) return;
    BendingValues after;
    for (std::size_t k = 0; k < after.value.size(); ++k) after.value.at(k) = bent_.mechanics.figures.at(k).value;
    if (!plan.steps.empty()) {
      const BendingFigures& figures = *bent_.figures;
      after = figures.of(figures.plate_with(figures.reed().thickness_from(map_.thickness_mm - removed)), false);
    }
    for (const BendingFigure f : kBendingFigures)
      plan.figures.push_back({f, bent_.mechanics.figure(f).value, after.value.at(index_of(f))});
    const double lip = after.value.at(index_of(BendingFigure::stiffness_lip));
    constexpr double nearly = 1.005;
    findings.aim_cut_short = softer() ? lip > nearly * goal_.figure[2].upper
                                      : aim_.target && !plan.steps.empty() && lip < nearly * plan.softest_n_per_mm;
  }

  const ThicknessMap& map_;
  const Outline& outline_;
  const Assessment& assessment_;
  const BentReed& bent_;
  const Player& player_;
  const PlanOptions& options_;
  PlaceMaker maker_;
  PlanAim aim_;
  std::array<double, 12> difference_{}, area_{};
  std::array<bool, 12> zone_acts_{}, target_acts_{};
  std::array<bool, 2> figure_acts_{};
  bool unlikely_answer_ = false;
  SteeredValues figure_{}, shift_{};  ///< Shape's figures where linearised, and what the cane adds.
  std::array<Field, kSteered.size()> by_cells_;
  BendingValues values_;
  CaneGoal goal_;
};

}  // namespace

std::optional<PlanAim> aim_from(const std::string& words) {
  if (words == "balance") return PlanAim{};
  if (words == "target") return PlanAim{true, std::nullopt};
  const auto halves = halves_from(words);
  if (!halves || *halves == 0.0) return std::nullopt;
  return PlanAim{false, halves};
}

std::string_view name_of(PlanStatus status) {
  constexpr std::array<std::string_view, 5> names{"nothing to do", "cannot tell", "steps", "cannot save", "veto"};
  return names.at(static_cast<std::size_t>(status));
}

void validate(const PlanOptions& options) {
  if (!(options.tip_margin_mm >= 0.0 && options.tip_margin_mm <= 5.0)) {
    throw UsageError("the tip margin must be 0 to 5 mm, got " + std::to_string(options.tip_margin_mm) + ".");
  }
  if (!(options.floor_tip_mm >= 0.0 && options.floor_tip_mm <= 1.0)) {
    throw UsageError("the floor must be 0 to 1 mm, got " + std::to_string(options.floor_tip_mm) + ".");
  }
  if (!(options.floor_in_tolerances >= 0.0 && options.floor_in_tolerances <= 100.0)) {
    throw UsageError("the floor must be 0 to 100 tolerances, got " + std::to_string(options.floor_in_tolerances) + ".");
  }
  if (!(options.most_depth_um >= 1.0 && options.most_depth_um <= 1000.0)) {
    throw UsageError("the depth of one session must be 1 to 1000 µm, got " + std::to_string(options.most_depth_um) +
                     ".");
  }
  if (options.most_steps < 1 || options.most_steps > 50) {
    throw UsageError("a plan must have 1 to 50 steps, got " + std::to_string(options.most_steps) + ".");
  }
}

Field removal_of(const Grid& grid, const std::vector<ScrapeStep>& steps) {
  Field removed = Field::Zero(grid.rows, grid.columns);
  for (const ScrapeStep& step : steps) {
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      for (Eigen::Index r = 0; r < grid.rows; ++r) {
        if (grid.x_mm(r) >= step.from_mm - grid.cell_mm && grid.x_mm(r) <= step.to_mm + grid.cell_mm &&
            holds(step.polygon, grid.x_mm(r), grid.y_mm(c)))
          removed(r, c) += static_cast<float>(mm_from_um(step.depth_um));
      }
    }
  }
  return removed;
}

ScrapePlan plan_scrape(const ThicknessMap& map, const Outline& outline, const Assessment& assessment,
                       const BentReed& bent, const std::vector<ClippedReed>& clipped, const Player& player,
                       const PlanOptions& options) {
  validate(options);
  Planner planner(map, outline, assessment, bent, player, options);
  ScrapePlan plan = planner.run();
  put_in_words(plan, planner.findings, assessment, outline, bent, clipped, options);
  return plan;
}

}  // namespace canewise
