#include "scanproc/compare/comparison_words.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"
#include "scanproc/scrape/place_words.h"

namespace canewise {
namespace {

Message sentence_of(const Comparison& out) {
  std::vector<const RemovedStep*> off;
  std::size_t good = 0;
  for (const RemovedStep& step : out.steps) {
    good += step.as_planned == Verdict::within;
    if (step.as_planned == Verdict::outside) off.push_back(&step);
  }
  if (out.steps.empty()) {
    if (out.left_right_only) return {"comparison.no_plan_one_side"};
    return {"comparison.no_plan",
            {{"volume", number(out.volume_mm3, 1)}, {"u", number(kCoverage95 * out.u_volume_mm3, 1)}}};
  }
  if (good == out.steps.size()) return {"comparison.as_planned", {{"places", count(out.steps.size())}}};
  if (off.empty()) return {"comparison.cannot_tell_everywhere"};
  const RemovedStep& worst = **std::max_element(off.begin(), off.end(), [](const auto* a, const auto* b) {
    return std::abs(a->removed_um - a->planned_um) < std::abs(b->removed_um - b->planned_um);
  });
  const double over = worst.removed_um - worst.planned_um;
  return {"comparison.off_plan",
          {{"where", part(worst.where)},
           {"over", um(std::abs(over))},
           {"how", word(over > 0.0 ? "more" : "less")},
           {"removed", um(worst.removed_um)},
           {"u", um(std::max(1.0, kCoverage95 * worst.u_um))},
           {"planned", um(worst.planned_um)}}};
}

}  // namespace

Comparison in_words(Comparison out, const Result& before, const Result& after) {
  out.sentence = {sentence_of(out)};
  out.left = after.plan.sentence;
  if (out.left_right_only) {
    out.remarks.push_back(
        {"comparison.two_states", {{"before", word(name_of(before.state))}, {"after", word(name_of(after.state))}}});
  }
  if (out.left_right_only && std::any_of(out.steps.begin(), out.steps.end(),
                                         [](const RemovedStep& step) { return std::isnan(step.removed_um); }))
    out.remarks.push_back(Message{"comparison.both_sides_alike"});
  if (before.datum != after.datum && (before.datum == DatumMode::two_sided || after.datum == DatumMode::two_sided)) {
    out.remarks.push_back(Message{"comparison.two_ways"});
  }
  if (before.state == MoistureState::unknown && after.state == MoistureState::unknown) {
    out.remarks.push_back(Message{"comparison.states_unknown"});
  }
  constexpr double worth_saying = 0.005;
  if (!out.left_right_only && std::abs(out.swelling_rel) > std::max(worth_saying, kCoverage95 * out.u_swelling_rel)) {
    out.remarks.push_back({"comparison.swelling",
                           {{"percent", number(100.0 * std::abs(out.swelling_rel), 1)},
                            {"how", word(out.swelling_rel > 0.0 ? "swollen" : "dried")}}});
  }
  if (out.clipped_mm > 0.0) {
    out.remarks.push_back(
        {"comparison.clipped", {{"by", mm(out.clipped_mm, 2)}, {"u", mm(kCoverage95 * out.u_clipped_mm, 2)}}});
  }
  if (out.elsewhere) {
    const Arguments lost{{"place", part(the_place(out.elsewhere->zone))}, {"lost", um(out.elsewhere->removed_um)}};
    out.remarks.push_back(before.plan.steps.empty() ? Message{"comparison.most_came_off", lost}
                                                    : Message{"comparison.gone_elsewhere", lost});
  }
  return out;
}

}  // namespace canewise
