#include "scanproc/compare/comparison.h"

#include <optional>
#include <utility>
#include <vector>

#include "scanproc/compare/comparison_words.h"
#include "scanproc/compare/difference.h"
#include "scanproc/compare/learned_hand.h"
#include "scanproc/compare/removed_cane.h"
#include "scanproc/compare/removed_places.h"
#include "scanproc/compare/same_reed.h"
#include "scanproc/core/error.h"
#include "scanproc/scrape/scrape_steps.h"

namespace canewise {
namespace {

void check_strokes(const std::vector<double>& shares, const std::vector<ScrapeStep>& steps) {
  if (shares.size() > 1 && shares.size() != steps.size()) {
    throw UsageError(
        {"comparison.shares_of_strokes", {{"shares", count(shares.size())}, {"steps", count(steps.size())}}});
  }
}

}  // namespace

Comparison compare(const Result& before, const Result& after, const CompareOptions& options) {
  check_that_it_is_one_reed(before, after);
  check_strokes(options.strokes_done, before.plan.steps);
  const bool left_right_only = before.state != after.state;
  const Clip clip = clip_between(before, after);
  const Field planned_mm = removal_of(before.map.grid, before.plan.steps);
  const PlannedCane planned{left_right_only ? left_over_right(planned_mm) : planned_mm, planned_mm};
  Difference difference = difference_between(before, after, clip, planned_mm);
  if (left_right_only) difference = left_over_right(std::move(difference));
  RemovedCane removed = freed_of_layings(std::move(difference), before, clip);

  Comparison out;
  out.scraping = scraping_name(before);
  out.grid = before.map.grid;
  out.left_right_only = left_right_only;
  out.clipped_mm = clip.clipped_mm;
  out.u_clipped_mm = clip.u_clipped_mm;
  out.swelling_rel = removed.swelling_rel;
  out.u_swelling_rel = removed.u_swelling_rel;
  if (!left_right_only) {
    const Volume volume = volume_off_vamp(removed, before);
    check_that_none_grew(removed, before);
    out.volume_mm3 = volume.mm3;
    out.u_volume_mm3 = volume.u_mm3;
  }
  out.steps = removed_steps(removed, before, planned);
  if (auto hand = hand_seen(removed, before, planned, options.strokes_done))
    if (weigh_in(*hand, options.player, out.scraping)) out.hand = hand;
  out.elsewhere = lost_elsewhere(removed, before);
  out.removed_mm = std::move(removed.difference.removed_mm);
  out.u_mm = std::move(removed.u_mm);
  return in_words(std::move(out), before, after);
}

}  // namespace canewise
