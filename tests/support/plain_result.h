#pragma once

#include "scanproc/pipeline/result.h"
#include "scanproc/scrape/scrape_plan.h"

namespace canewise::test {

inline Message verbatim(const char* words) { return {"verbatim", {{"text", text(words)}}}; }

/// A result made by hand, without a scan: a straight reed of 13 by 68 mm whose zones all agree, and nothing to do.
inline Result plain_result() {
  Result result;
  result.headline = {verbatim("Both sides agree.")};
  result.certainty = {verbatim("This scan is sure.")};
  result.instrument_given = true;
  result.outline.left.offset_mm = -6.5, result.outline.right.offset_mm = 6.5;
  result.outline.length_mm = 68.0;
  result.assessment.cut.vamp_length_mm.value = 33.0;
  for (const AlongBand along : kAlongBands) {
    for (const AcrossBand across : kAcrossBands) {
      ZoneBalance zone;
      zone.along = along, zone.across = across;
      zone.difference.mean_mm = 0.0, zone.difference.u_mm = 1e-3;
      zone.tolerance_mm = 1e-3 * kUsualTolerances.left_right_um.at(static_cast<std::size_t>(along));
      zone.verdict = Verdict::within;
      result.assessment.balance.zones.push_back(zone);
    }
  }
  result.mechanics.why_not = verbatim("Nobody bent it.");
  result.plan.status = PlanStatus::nothing_to_do;
  result.plan.sentence = {verbatim("Leave it alone.")};
  return result;
}

/// One place to scrape.
inline ScrapeStep plain_step(const char* where, Side side = Side::right) {
  ScrapeStep step;
  step.side = side;
  step.from_mm = 10.0, step.to_mm = 20.0;
  step.polygon = {{10.0, 4.0}, {20.0, 4.0}, {20.0, 6.0}, {10.0, 6.0}};
  step.depth_um = 24.0;
  step.strokes = 7;
  step.where = verbatim(where);
  step.stop = verbatim("Stop and play.");
  return step;
}

}  // namespace canewise::test
