#include "scanproc/scrape/plan_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"

namespace canewise {
namespace {

bool has_balance_steps(const ScrapePlan& plan) {
  return std::any_of(plan.steps.begin(), plan.steps.end(),
                     [](const ScrapeStep& s) { return s.aim == StepAim::balance; });
}

/// What the player should know although no step follows from it.
void remark(ScrapePlan& plan, const Assessment& assessment, const Outline& outline, const PlanOptions& options,
            bool deep) {
  const ZoneBalance& heart =
      assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(AlongBand::middle, AcrossBand::centre)));
  if (heart.verdict == Verdict::outside) {
    plan.remarks.push_back(
        fmt::format("The heart sits towards the {} side. It is left alone, so that part of the imbalance stays.",
                    name_of(heart.difference.mean_mm > 0 ? Side::right : Side::left)));
  }
  if (deep && !plan.steps.empty()) {
    plan.remarks.push_back(
        fmt::format("This reed is far out. More than {:.0f} µm is never taken in one go: do these steps, scan again, "
                    "and think of asking a teacher or "
                    "technician, or of laying it aside.",
                    options.most_depth_um));
  }
  if (outline.chipped) {
    plan.remarks.emplace_back(
        "The tip's edge is chipped. Clipping may remove the chip; scraping will not. Lay the reed aside if in "
        "doubt.");
  }
  if (assessment.target && assessment.target->chosen_by_user) {
    const auto thin = std::count_if(
        assessment.target->zones.begin(), assessment.target->zones.end(),
        [](const ZoneDeviation& z) { return z.verdict == Verdict::outside && z.deviation.mean_mm < 0.0; });
    if (thin > 0) {
      plan.remarks.push_back(
          fmt::format("In {} of {} zones this reed is already thinner than your target: scraping leads further away "
                      "from it there.",
                      thin, assessment.target->zones.size()));
    }
  }
}

/// The zone that comes nearest to being out, among those that the scan cannot tell; null if none is past half its
/// tolerance.
const ZoneBalance* most_suspect(const Balance& balance) {
  const ZoneBalance* suspect = nullptr;
  double most = 0.5;
  for (const auto& zone : balance.zones) {
    const double share = std::abs(zone.difference.mean_mm) / zone.tolerance_mm;
    if (zone.verdict != Verdict::cannot_tell || !(share > most)) continue;
    most = share;
    suspect = &zone;
  }
  return suspect;
}

}  // namespace

void put_in_words(ScrapePlan& plan, const Assessment& assessment, const Outline& outline, const PlanOptions& options,
                  bool deep) {
  remark(plan, assessment, outline, options, deep);
  if (plan.status == PlanStatus::cannot_save) return;  // Said where it was found.
  if (plan.status == PlanStatus::veto) {
    plan.sentence =
        "Take nothing off: the side that is thicker is not the one that speaks less freely in your rolling test. Cane "
        "need not be as "
        "stiff as it is thick. Repeat the scan and the test.";
    return;
  }
  plan.needs_rolling_test = has_balance_steps(plan) && options.rolling_test == RollingTest::not_done;
  if (!plan.steps.empty()) {
    const ScrapeStep& first = plan.steps.front();
    plan.sentence =
        fmt::format("{} step{}; first the {}, about {:.0f} µm, some {} light strokes, then play.", plan.steps.size(),
                    plan.steps.size() == 1 ? "" : "s", first.where, first.depth_um, first.strokes);
    return;
  }
  switch (assessment.balance.verdict) {
    case Verdict::within:
      plan.status = PlanStatus::nothing_to_do;
      plan.sentence = "Take nothing off: left and right agree everywhere within tolerance.";
      break;
    case Verdict::cannot_tell:
      plan.status = PlanStatus::cannot_tell;
      plan.sentence = "Take nothing off: nothing is surely out of balance, but this scan cannot tell everywhere.";
      if (const ZoneBalance* suspect = most_suspect(assessment.balance)) {
        const Side side = suspect->difference.mean_mm > 0 ? Side::right : Side::left;
        plan.sentence += fmt::format(" If anything, the {} is thick, by {:.0f} µm: scan again, more finely if you can.",
                                     name_of(Zone{suspect->along, suspect->across, side}),
                                     um_from_mm(std::abs(suspect->difference.mean_mm)));
      }
      break;
    case Verdict::outside:
      plan.status = PlanStatus::cannot_tell;
      plan.sentence =
          "Take nothing off: what is out of balance lies where cane must stay (heart, bark or the very tip) or is "
          "smaller "
          "than this scan can steer.";
      break;
  }
}

}  // namespace canewise
