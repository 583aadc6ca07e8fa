#include "scanproc/compare/removed_places.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "scanproc/compare/same_reed.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"
#include "scanproc/scrape/scrape_region.h"
#include "scanproc/scrape/scrape_steps.h"

namespace canewise {
namespace {

using Index = Eigen::Index;

constexpr double kOffClip_mm = 0.3;  // What lies nearer to a clipped tip's edge may be the edge.

bool on_vamp(const RemovedCane& removed, const Result& before, Index r, Index c) {
  const Grid& grid = removed.difference.grid;
  const double x = grid.x_mm(r);
  return x < before.assessment.cut.vamp_length_mm.value - 1.0 && before.outline.holds(x, grid.y_mm(c), 0.3) &&
         x > removed.clipped_mm + kOffClip_mm;
}

/// Where the vamp surely changed.
struct Changed {
  double gone_mm2 = 0.0, grown_mm2 = 0.0;
};

Changed changed_on_vamp(const RemovedCane& removed, const Result& before) {
  const Difference& difference = removed.difference;
  Changed changed;
  for (Index c = 0; c < difference.grid.columns; ++c) {
    for (Index r = 0; r < difference.grid.rows; ++r) {
      constexpr double sure = 3.0, least_mm = 0.008;
      const double off_mm = difference.removed_mm(r, c);
      if (std::isnan(off_mm) || !on_vamp(removed, before, r, c) ||
          std::abs(off_mm) < std::max(least_mm, sure * static_cast<double>(removed.u_mm(r, c))))
        continue;
      (off_mm > 0.0 ? changed.gone_mm2 : changed.grown_mm2) += square(difference.grid.cell_mm);
    }
  }
  return changed;
}

double tolerated_um(double planned_um) { return std::max(5.0, 0.25 * planned_um); }

RemovedStep removed_step(const RemovedCane& removed, const ScrapeStep& step, const PlannedCane& planned) {
  const Grid& grid = removed.difference.grid;
  double from_mm = std::numeric_limits<double>::infinity(), to_mm = -from_mm;
  for (const PlanPoint& p : step.polygon) from_mm = std::min(from_mm, p.x_mm), to_mm = std::max(to_mm, p.x_mm);
  const auto here = [&](Index r, Index c) {
    const double x = grid.x_mm(r);
    return x > removed.clipped_mm + kOffClip_mm && x >= from_mm && x <= to_mm && holds(step.polygon, x, grid.y_mm(c));
  };
  const CellMean mean = mean_where(removed, planned.shown_mm, here);
  // What all steps together were to leave here, with the tool's soft borders: layers of one fault lie over each other.
  const double planned_mm = mean_where(removed, planned.whole_mm, here).planned_mm;
  RemovedStep found;
  found.where = step.where;
  found.planned_um = mean.cells > 0 ? um_from_mm(planned_mm) : step.depth_um;
  constexpr Index fewest = 8;
  // What came off both sides alike shows in no left-right difference.
  constexpr double whole = 0.9;
  const bool hidden = removed.difference.left_right_only && !(mean.planned_mm > whole * planned_mm);
  if (mean.cells < fewest || hidden) {
    found.removed_um = found.u_um = std::nan("");
    return found;
  }
  found.removed_um = um_from_mm(mean.mean_mm);
  found.u_um = um_from_mm(mean.u_mm);
  const double tolerated = tolerated_um(found.planned_um);
  found.as_planned = judge(found.removed_um - found.planned_um, found.u_um, -tolerated, tolerated);
  return found;
}

/// The plan as far as its strokes were made.
std::vector<ScrapeStep> worked_steps(const std::vector<ScrapeStep>& steps, const std::vector<double>& shares) {
  std::vector<ScrapeStep> worked;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const double share = shares.empty() ? 1.0 : shares.size() == 1 ? shares.front() : shares[k];
    if (!(share > 0.0)) continue;
    worked.push_back(steps[k]);
    worked.back().depth_um *= share;
    worked.back().volume_mm3 *= share;
  }
  return worked;
}

/// About the places, so that a hand that slips a little is not taken for a light one.
CellMean mean_about(const RemovedCane& removed, const std::vector<ScrapeStep>& steps, const Field& planned_mm) {
  const Grid& grid = removed.difference.grid;
  return mean_where(removed, planned_mm, [&](Index r, Index c) {
    const double x = grid.x_mm(r), y = grid.y_mm(c);
    return x >= removed.clipped_mm + kOffClip_mm &&
           std::any_of(steps.begin(), steps.end(), [&](const ScrapeStep& step) { return within_slip(step, x, y); });
  });
}

/// Only what both scans saw can be counted, and only if that is most of it; left over right, a pair is nothing.
bool mostly_seen(const CellMean& mean, const std::vector<ScrapeStep>& steps, const Grid& grid) {
  double whole = 0.0;
  for (const ScrapeStep& step : steps) whole += step.volume_mm3;
  constexpr double most = 0.5;
  return mean.cells > 0 && mean.planned_mm * static_cast<double>(mean.cells) * square(grid.cell_mm) > most * whole;
}

/// A zone without what was planned in it.
CellMean mean_of_zone(const RemovedCane& removed, const Result& before, const ZoneThickness& zone) {
  const Grid& grid = removed.difference.grid;
  const double vamp = before.assessment.cut.vamp_length_mm.value;
  const auto a = static_cast<std::size_t>(zone.zone.along), e = static_cast<std::size_t>(zone.zone.across);
  return mean_where(removed, [&](Index r, Index c) {
    const double x = grid.x_mm(r), y = grid.y_mm(c), t = x / vamp,
                 share = std::abs(y) / before.outline.half_width_mm(x);
    if ((y < 0.0) != (zone.zone.side == Side::left) || !on_vamp(removed, before, r, c)) return false;
    if (t < ZoneLimits::t.at(a) || t >= ZoneLimits::t.at(a + 1)) return false;
    if (share < ZoneLimits::e.at(e) || share >= ZoneLimits::e.at(e + 1)) return false;
    return std::none_of(before.plan.steps.begin(), before.plan.steps.end(),
                        [&](const ScrapeStep& step) { return within_slip(step, x, y); });
  });
}

/// A zone behind the tip, which may curl, is thicker by more than any way of lying, swelling or light explains.
bool a_zone_grew(const RemovedCane& removed, const Result& before) {
  const auto& zones = before.assessment.zone_thickness;
  return std::any_of(zones.begin(), zones.end(), [&](const ZoneThickness& zone) {
    if (zone.zone.along == AlongBand::tip) return false;
    const CellMean mean = mean_of_zone(removed, before, zone);
    constexpr Index fewest = 20;
    constexpr double sure = 5.0, least_mm = 0.015;
    return mean.cells >= fewest && mean.mean_mm < -std::max(least_mm, sure * mean.u_mm);
  });
}

}  // namespace

Volume volume_off_vamp(const RemovedCane& removed, const Result& before) {
  const CellMean vamp = mean_where(removed, [&](Index r, Index c) { return on_vamp(removed, before, r, c); });
  if (vamp.cells == 0) throw NotMeasurable(Message{"comparison.no_vamp"});
  const double area = static_cast<double>(vamp.cells) * square(removed.difference.grid.cell_mm);
  return {vamp.mean_mm * area, vamp.u_mm * area};
}

void check_that_none_grew(const RemovedCane& removed, const Result& before) {
  const auto [gone_mm2, grown_mm2] = changed_on_vamp(removed, before);
  constexpr double more_than_dust_mm2 = 4.0, another_reed_mm2 = 40.0;
  if ((grown_mm2 > another_reed_mm2 && gone_mm2 > another_reed_mm2) ||
      (grown_mm2 > more_than_dust_mm2 && gone_mm2 > more_than_dust_mm2 && a_zone_grew(removed, before))) {
    refuse_another_reed(
        {"comparison.thicker_and_thinner", {{"thicker", number(grown_mm2)}, {"thinner", number(gone_mm2)}}});
  }
  if (grown_mm2 > more_than_dust_mm2 && grown_mm2 > 2.0 * gone_mm2) {
    throw NotMeasurable({"comparison.more_cane", {{"thicker", number(grown_mm2)}}});
  }
}

std::vector<RemovedStep> removed_steps(const RemovedCane& removed, const Result& before, const PlannedCane& planned) {
  std::vector<RemovedStep> steps;
  for (const ScrapeStep& step : before.plan.steps) steps.push_back(removed_step(removed, step, planned));
  return steps;
}

std::optional<LostElsewhere> lost_elsewhere(const RemovedCane& removed, const Result& before) {
  std::optional<LostElsewhere> elsewhere;
  for (const ZoneThickness& zone : before.assessment.zone_thickness) {
    const CellMean mean = mean_of_zone(removed, before, zone);
    constexpr Index fewest = 20;
    constexpr double sure = 3.0, least_mm = 0.005;
    if (mean.cells < fewest || mean.mean_mm < std::max(least_mm, sure * mean.u_mm) ||
        (elsewhere && um_from_mm(mean.mean_mm) < elsewhere->removed_um))
      continue;
    elsewhere = {zone.zone, um_from_mm(mean.mean_mm)};
  }
  return elsewhere;
}

std::optional<LearnedHand> hand_seen(const RemovedCane& removed, const Result& before, const PlannedCane& planned,
                                     const std::vector<double>& strokes_done) {
  const Grid& grid = removed.difference.grid;
  const std::vector<ScrapeStep> worked = worked_steps(before.plan.steps, strokes_done);
  if (worked.empty()) return std::nullopt;
  const Field worked_mm = removal_of(grid, worked);
  const Field made_mm = removed.difference.left_right_only ? left_over_right(worked_mm) : worked_mm;
  const CellMean all = mean_about(removed, before.plan.steps, planned.shown_mm),
                 made = mean_about(removed, worked, made_mm);
  if (!mostly_seen(all, before.plan.steps, grid) || !mostly_seen(made, worked, grid)) return std::nullopt;
  if (!(made.mean_mm > 2.0 * made.u_mm)) return std::nullopt;  // Nothing was done, or nothing is seen.
  LearnedHand hand;
  hand.removed_over_planned = all.mean_mm / all.planned_mm;
  hand.u_removed_over_planned = all.u_mm / all.planned_mm;
  // Told strokes were made as `before.player` says.
  hand.seen_um = before.player.depth_per_stroke_um * made.mean_mm / made.planned_mm;
  hand.u_seen_rel = made.u_mm / made.mean_mm;
  return hand;
}

}  // namespace canewise
