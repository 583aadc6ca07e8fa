#pragma once

#include <random>

#include "fixtures/cane_faults.h"
#include "fixtures/hand.h"
#include "scanproc/scrape/plan_scrape.h"
#include "tests/support/closed_loop.h"
#include "tests/support/scans.h"

namespace canewise::test {

/// A reed with one or two faults of a size that players meet, anywhere along a rail, on either side.
inline fixtures::ReedFaults some_fault(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  fixtures::ReedFaults faults = rough_cane(seed);
  faults.heavy_rail_um = between(24.0, 60.0);
  faults.heavy_rail_side = seed % 2 == 0 ? 1 : -1;
  faults.heavy_rail_from_mm = between(5.0, 13.0);
  faults.heavy_rail_to_mm = faults.heavy_rail_from_mm + between(6.0, 12.0);
  if (seed % 3 == 0) {
    faults.thick_corner_um = between(18.0, 30.0);
    faults.thick_corner_side = seed % 4 == 0 ? 1 : -1;
  }
  return faults;
}

inline ScrapePlan plan_for(const Measurement& m, const PlanOptions& options = {}, const Player& player = {}) {
  return plan_scrape(plan_inputs(m, bent(m, player), player), options);
}

/// A figure of bending after the steps, and before them.
inline double after(const ScrapePlan& plan, BendingFigure figure) { return plan.figures.at(index_of(figure)).after; }
inline double before(const ScrapePlan& plan, BendingFigure figure) { return plan.figures.at(index_of(figure)).before; }

/// The reed after these steps, by a hand that is exactly as the plan takes it to be.
inline fixtures::Reed carried_out(const fixtures::Reed& reed, const ScrapePlan& plan) {
  fixtures::Reed scraped = reed;
  std::mt19937_64 random(1);
  for (const ScrapeStep& step : plan.steps) scraped = scraped.scraped(fixtures::cut_of(step, {}, random));
  return scraped;
}

/// True right-minus-left zone mean.
inline double true_difference_mm(const fixtures::Reed& reed, const Measurement& m, const ZoneBalance& zone) {
  const Grid& grid = m.map.grid;
  double sum = 0.0, count = 0.0;
  for (Eigen::Index c = grid.columns / 2; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      if (m.assessment.zones.label(r, c) != ZoneMap::label_of(zone.along, zone.across)) continue;
      const double x = grid.x_mm(r), y = grid.y_mm(c);
      if (!m.map.measured(r, c) || !m.map.measured(r, grid.mirrored(c))) continue;
      sum += reed.thickness_mm(x, y) - reed.thickness_mm(x, -y);
      count += 1.0;
    }
  }
  return sum / count;
}

}  // namespace canewise::test
