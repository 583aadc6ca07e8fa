#include "scanproc/scrape/plan_scrape.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/units.h"
#include "scanproc/scrape/plan_words.h"
#include "scanproc/scrape/scrape_region.h"

namespace canewise {
namespace {

/// A stretch of a lane that should lose cane, before it becomes a step.
struct Stretch {
  StepAim aim;
  Side side;
  AcrossBand across;
  std::vector<AlongBand> along;
  double from_mm, to_mm;
  double wanted_mm3 = 0.0;    ///< Volume that brings the zones' means to where they should be.
  double u95_mm = 0.0;        ///< Largest of its zones.
  double strictest_mm = 0.0;  ///< Smallest tolerance of its zones.
};

const ZoneBalance& zone_of(const Balance& balance, AlongBand along, AcrossBand across) {
  return balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across)));
}

class Planner {
 public:
  Planner(const ThicknessMap& map, const Outline& outline, const Assessment& assessment, const Player& player,
          const PlanOptions& options)
      : map_(map),
        outline_(outline),
        assessment_(assessment),
        player_(player),
        options_(options),
        field_(map, outline, assessment, options.tip_margin_mm),
        cell_mm2_(map.grid.cell_mm * map.grid.cell_mm) {}

  ScrapePlan run() {
    ScrapePlan plan;
    const bool off_balance = assessment_.balance.verdict == Verdict::outside;
    if (off_balance) add_balance_steps(plan);
    if (plan.status != PlanStatus::cannot_save) {
      if (!heed_rolling_test(plan)) {
        plan.status = PlanStatus::veto;
      } else {
        if (assessment_.target && assessment_.target->chosen_by_user) add_target_steps(plan);
        order(plan);
        predict(plan);
        if (!plan.steps.empty()) plan.status = PlanStatus::steps;
      }
    }
    put_in_words(plan, assessment_, outline_, options_, deep_);
    return plan;
  }

 private:
  /// Where along the zone the surplus sits: the hull of the rows above a third of its peak.
  std::pair<double, double> surplus_range(const Zone& zone) const {
    const auto rows = field_.surplus_along(zone);
    double peak = 0.0;
    for (const auto& row : rows) peak = std::max(peak, row.surplus_mm);
    double from = 1e9, to = -1e9;
    for (const auto& row : rows) {
      if (row.surplus_mm < 0.35 * peak) continue;
      from = std::min(from, row.x_mm - 0.5 * map_.grid.cell_mm);
      to = std::max(to, row.x_mm + 0.5 * map_.grid.cell_mm);
    }
    return {from, to};
  }

  /// Mean over the stretch's free cells that brings its zones where they should be.
  double depth_of(const Stretch& stretch, const std::vector<PlanPoint>& polygon) const {
    Eigen::Index cells = 0;
    for (const AlongBand along : stretch.along)
      cells += field_.cells_in(polygon, {along, stretch.across, stretch.side});
    return cells > 0 ? stretch.wanted_mm3 / (cell_mm2_ * static_cast<double>(cells)) : 0.0;
  }

  /// Joins neighbours in a lane while one depth serves them all to within their tolerances.
  std::vector<Stretch> joined(std::vector<Stretch> stretches) const {
    std::vector<Stretch> result;
    for (Stretch& next : stretches) {
      if (!result.empty()) {
        Stretch& last = result.back();
        const bool same_lane = last.side == next.side && last.across == next.across && last.aim == next.aim;
        if (same_lane && next.from_mm - last.to_mm < 1.0) {
          Stretch both = last;
          both.along.insert(both.along.end(), next.along.begin(), next.along.end());
          both.to_mm = next.to_mm;
          both.wanted_mm3 += next.wanted_mm3;
          both.u95_mm = std::max(last.u95_mm, next.u95_mm);
          both.strictest_mm = std::min(last.strictest_mm, next.strictest_mm);
          const auto depth = [&](const Stretch& s) { return depth_of(s, polygon_of(s)); };
          const double together = depth(both);
          constexpr double share_of_tolerance = 0.4;
          if (std::abs(depth(last) - together) < share_of_tolerance * both.strictest_mm &&
              std::abs(depth(next) - together) < share_of_tolerance * both.strictest_mm) {
            last = std::move(both);
            continue;
          }
        }
      }
      result.push_back(std::move(next));
    }
    return result;
  }

  std::vector<PlanPoint> polygon_of(const Stretch& s) const {
    return field_.lane_polygon(s.side, s.across, s.from_mm, s.to_mm);
  }

  double floor_mm(const Zone& zone) const {
    double floor = options_.floor_tip_mm;
    if (assessment_.target) {
      for (const auto& deviation : assessment_.target->zones) {
        if (deviation.zone == zone && !std::isnan(deviation.target_mm)) {
          floor = std::max(floor, deviation.target_mm - options_.floor_in_tolerances * deviation.tolerance_mm);
        }
      }
    }
    return floor;
  }

  double thickness_mm(const Zone& zone) const {
    for (const auto& z : assessment_.zone_thickness) {
      if (z.zone == zone) return z.thickness.mean_mm - field_.mean_removed_mm(zone);
    }
    return std::nan("");
  }

  /// How deep the stretch may go before one of its zones is thinner than its floor.
  double allowed_depth_mm(const Stretch& stretch, const std::vector<PlanPoint>& polygon) const {
    double allowed = 1e9;
    for (const AlongBand along : stretch.along) {
      const Zone zone{along, stretch.across, stretch.side};
      const auto cells = static_cast<double>(field_.cells_in(polygon, zone));
      if (cells < 1.0) continue;
      const auto all = static_cast<double>(zone_of(assessment_.balance, along, stretch.across).difference.cells);
      allowed = std::min(allowed, (thickness_mm(zone) - floor_mm(zone)) * all / cells);
    }
    for (Eigen::Index c = 0; c < map_.grid.columns; ++c) {
      for (Eigen::Index r = 0; r < map_.grid.rows; ++r) {
        if (!field_.free(r, c) || !holds(polygon, map_.grid.x_mm(r), map_.grid.y_mm(c))) continue;
        allowed = std::min(allowed, map_.thickness_mm(r, c) - field_.removed_mm(r, c) - options_.floor_tip_mm);
      }
    }
    return std::max(0.0, allowed);
  }

  bool add_step(ScrapePlan& plan, const Stretch& stretch) {
    ScrapeStep step;
    step.polygon = polygon_of(stretch);
    if (step.polygon.empty()) return false;
    const double wanted = depth_of(stretch, step.polygon);
    double depth = std::min(wanted, allowed_depth_mm(stretch, step.polygon));
    if (wanted - depth > 0.5 * stretch.strictest_mm) floor_in_the_way_ = true;
    if (um_from_mm(depth) > options_.most_depth_um) {
      depth = mm_from_um(options_.most_depth_um);
      deep_ = true;
    }
    const double rounded = mm_from_um(std::floor(um_from_mm(depth)));
    if (rounded < stretch.u95_mm || rounded <= 0.0) return false;
    step.aim = stretch.aim;
    step.side = stretch.side;
    step.across = stretch.across;
    step.along = stretch.along;
    step.from_mm = 1e9;
    for (const auto& point : step.polygon) {
      step.from_mm = std::min(step.from_mm, point.x_mm);
      step.to_mm = std::max(step.to_mm, point.x_mm);
    }
    step.depth_um = um_from_mm(rounded);
    step.u95_um = um_from_mm(stretch.u95_mm);
    Eigen::Index cells = 0;
    for (const AlongBand along : step.along) cells += field_.cells_in(step.polygon, {along, step.across, step.side});
    step.volume_mm3 = rounded * cell_mm2_ * static_cast<double>(cells);
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
    field_.remove(step.polygon, rounded);
    plan.steps.push_back(std::move(step));
    return true;
  }

  void add_balance_steps(ScrapePlan& plan) {
    for (const AcrossBand across : {AcrossBand::rail, AcrossBand::flank, AcrossBand::centre}) {
      for (const Side side : {Side::left, Side::right}) {
        std::vector<Stretch> stretches;
        for (const AlongBand along : kAlongBands) {
          if (along == AlongBand::middle && across == AcrossBand::centre) continue;  // The heart.
          const ZoneBalance& zone = zone_of(assessment_.balance, along, across);
          const double surplus = (side == Side::right ? 1.0 : -1.0) * zone.difference.mean_mm;
          const double u95 = kCoverage95 * zone.difference.u_mm;
          if (zone.verdict == Verdict::within) continue;
          // Also what is not surely outside, if it is surely there and more than half the tolerance: the reed is on
          // the bench anyway, and a fault does not end where a zone does.
          if (!(surplus >= std::max(u95, 0.5 * zone.tolerance_mm))) continue;
          const auto [from, to] = surplus_range({along, across, side});
          if (!(to > from)) continue;
          stretches.push_back({StepAim::balance,
                               side,
                               across,
                               {along},
                               from,
                               to,
                               surplus * cell_mm2_ * static_cast<double>(zone.difference.cells),
                               u95,
                               zone.tolerance_mm});
        }
        for (const Stretch& stretch : joined(std::move(stretches))) add_step(plan, stretch);
      }
    }
    if (!floor_in_the_way_) return;
    // Would the reed be in balance with what the floor leaves to take?
    for (const ZoneBalance& zone : assessment_.balance.zones) {
      if (zone.verdict == Verdict::outside && std::abs(after_mm(zone)) > zone.tolerance_mm) {
        plan.steps.clear();
        plan.status = PlanStatus::cannot_save;
        const Side thin = zone.difference.mean_mm > 0 ? Side::left : Side::right;
        plan.sentence = fmt::format(
            "This reed cannot be balanced by scraping: its {} {} in the {} is so thin that taking the other side down "
            "to it "
            "would leave the reed too soft{}.",
            name_of(thin), name_of(zone.across), name_of(zone.along),
            assessment_.target && !assessment_.target->chosen_by_user ? ", as far as the nearest built-in cut can tell"
                                                                      : "");
        plan.alternatives = {
            "Clip 0.1 to 0.5 mm off the tip if it plays too soft as it is: the tip moves into thicker cane.",
            "Lay it aside: cane moves over the first weeks.",
            "Give it to a player who wants it softer, or keep it for practice."};
        return;
      }
    }
  }

  /// Right minus left of a zone after the steps so far.
  double after_mm(const ZoneBalance& zone) const {
    return zone.difference.mean_mm - field_.mean_removed_mm({zone.along, zone.across, Side::right}) +
           field_.mean_removed_mm({zone.along, zone.across, Side::left});
  }

  void add_target_steps(ScrapePlan& plan) {
    const auto deviation_of = [&](const Zone& zone) -> const ZoneDeviation& {
      for (const auto& deviation : assessment_.target->zones) {
        if (deviation.zone == zone) return deviation;
      }
      throw std::logic_error("every half zone has a deviation");
    };
    for (const AcrossBand across : {AcrossBand::rail, AcrossBand::flank, AcrossBand::centre}) {
      std::vector<Stretch> left, right;
      for (const AlongBand along : kAlongBands) {
        if (along == AlongBand::middle && across == AcrossBand::centre) continue;
        const auto surplus = [&](Side side) {
          const ZoneDeviation& deviation = deviation_of({along, across, side});
          const double rest = deviation.deviation.mean_mm - field_.mean_removed_mm(deviation.zone);
          const bool surely = judge(rest, deviation.deviation.u_mm, -1e9, deviation.tolerance_mm) == Verdict::outside;
          return surely && rest >= kCoverage95 * deviation.deviation.u_mm ? rest : 0.0;
        };
        // The same from both sides, so that balance stays as it is.
        const double both = std::min(surplus(Side::left), surplus(Side::right));
        if (both <= 0.0) continue;
        const double from = ZoneLimits::t.at(static_cast<std::size_t>(along)) * assessment_.zones.vamp_length_mm;
        const double to = ZoneLimits::t.at(static_cast<std::size_t>(along) + 1) * assessment_.zones.vamp_length_mm;
        for (auto* list : {&left, &right}) {
          const Zone zone{along, across, list == &left ? Side::left : Side::right};
          const ZoneDeviation& deviation = deviation_of(zone);
          list->push_back({StepAim::target,
                           zone.side,
                           across,
                           {along},
                           from,
                           to,
                           both * cell_mm2_ * static_cast<double>(deviation.deviation.cells),
                           kCoverage95 * deviation.deviation.u_mm,
                           deviation.tolerance_mm});
        }
      }
      // Both sides or neither: a step on one side alone would put the reed out of balance.
      const auto lefts = joined(std::move(left)), rights = joined(std::move(right));
      for (std::size_t k = 0; k < std::min(lefts.size(), rights.size()); ++k) {
        const ScrapeField before = field_;
        const auto count = static_cast<std::ptrdiff_t>(plan.steps.size());
        if (add_step(plan, lefts[k]) && add_step(plan, rights[k])) continue;
        plan.steps.erase(plan.steps.begin() + count, plan.steps.end());
        field_ = before;
      }
    }
  }

  /// No more steps than a person can carry out: balance steps first, the largest; then target steps, which come in
  /// pairs.
  void shorten(ScrapePlan& plan) const {
    const auto most = static_cast<std::size_t>(options_.most_steps);
    if (plan.steps.size() <= most) return;
    const auto larger = [](const ScrapeStep& a, const ScrapeStep& b) { return a.volume_mm3 > b.volume_mm3; };
    std::vector<ScrapeStep> balance, kept;
    std::vector<std::array<ScrapeStep, 2>> pairs;
    for (std::size_t k = 0; k < plan.steps.size(); ++k) {
      if (plan.steps[k].aim == StepAim::balance) {
        balance.push_back(plan.steps[k]);
      } else if (k + 1 < plan.steps.size()) {
        pairs.push_back({plan.steps[k], plan.steps[k + 1]});
        ++k;
      }
    }
    std::stable_sort(balance.begin(), balance.end(), larger);
    std::stable_sort(pairs.begin(), pairs.end(), [&](const auto& a, const auto& b) { return larger(a[0], b[0]); });
    for (const auto& step : balance) {
      if (kept.size() < most) kept.push_back(step);
    }
    for (const auto& pair : pairs) {
      if (kept.size() + 2 <= most) kept.insert(kept.end(), pair.begin(), pair.end());
    }
    plan.steps = std::move(kept);
  }

  /// Largest effect first, balance before target, the tip last.
  void order(ScrapePlan& plan) const {
    shorten(plan);
    const auto reaches_tip = [](const ScrapeStep& s) {
      return std::find(s.along.begin(), s.along.end(), AlongBand::tip) != s.along.end();
    };
    std::stable_sort(plan.steps.begin(), plan.steps.end(), [&](const ScrapeStep& a, const ScrapeStep& b) {
      if (a.aim != b.aim) return a.aim == StepAim::balance;
      if (reaches_tip(a) != reaches_tip(b)) return reaches_tip(b);
      return a.volume_mm3 > b.volume_mm3;
    });
  }

  void predict(ScrapePlan& plan) {
    carry_out(plan);
    for (const auto& zone : assessment_.balance.zones) {
      plan.prediction.push_back(
          {zone.along, zone.across, um_from_mm(zone.difference.mean_mm), um_from_mm(after_mm(zone))});
    }
  }

  /// Only a side that the player found less free loses cane. False if nothing is left: the test contradicts the map.
  bool heed_rolling_test(ScrapePlan& plan) {
    if (plan.steps.empty() || options_.rolling_test == RollingTest::not_done) return true;
    const std::size_t before = plan.steps.size();
    std::erase_if(plan.steps, [&](const ScrapeStep& s) {
      return options_.rolling_test != (s.side == Side::left ? RollingTest::left : RollingTest::right);
    });
    if (plan.steps.empty()) return false;
    if (plan.steps.size() < before) {
      plan.remarks.emplace_back(
          "Places on the other side are left alone because your rolling test spoke for one side only. Scan again after "
          "these steps.");
      carry_out(plan);
    }
    return true;
  }

  /// The field as it is after these steps and no others.
  void carry_out(const ScrapePlan& plan) {
    field_ = ScrapeField(map_, outline_, assessment_, options_.tip_margin_mm);
    for (const auto& step : plan.steps) field_.remove(step.polygon, mm_from_um(step.depth_um));
  }

  const ThicknessMap& map_;
  const Outline& outline_;
  const Assessment& assessment_;
  const Player& player_;
  const PlanOptions& options_;
  ScrapeField field_;
  double cell_mm2_;
  bool floor_in_the_way_ = false;
  bool deep_ = false;
};

}  // namespace

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

ScrapePlan plan_scrape(const ThicknessMap& map, const Outline& outline, const Assessment& assessment,
                       const Player& player, const PlanOptions& options) {
  validate(options);
  return Planner(map, outline, assessment, player, options).run();
}

}  // namespace canewise
