#include "scanproc/pipeline/comparison_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/core/budget.h"

namespace canewise {
namespace {

std::string sentence_of(const Comparison& out) {
  std::vector<const RemovedStep*> off;
  std::size_t good = 0;
  for (const RemovedStep& step : out.steps) {
    good += step.as_planned == Verdict::within;
    if (step.as_planned == Verdict::outside) off.push_back(&step);
  }
  if (out.steps.empty()) {
    return out.left_right_only
               ? "There was no plan to compare with; the picture shows what one side lost over the other."
               : fmt::format("There was no plan to compare with; {:.1f} ± {:.1f} mm³ came off the vamp.",
                             out.volume_mm3, kCoverage95 * out.u_volume_mm3);
  }
  if (good == out.steps.size())
    return out.steps.size() == 1 ? "The place lost what was planned." : "All places lost what was planned.";
  if (off.empty()) return "Nothing is surely off the plan, but these scans cannot tell everywhere.";
  const RemovedStep& worst = **std::max_element(off.begin(), off.end(), [](const auto* a, const auto* b) {
    return std::abs(a->removed_um - a->planned_um) < std::abs(b->removed_um - b->planned_um);
  });
  const double over = worst.removed_um - worst.planned_um;
  return fmt::format("The {}: {:.0f} µm {} than planned ({:.0f} ±{:.0f} µm of {:.0f} µm).", worst.where, std::abs(over),
                     over > 0.0 ? "more" : "less", worst.removed_um, std::max(1.0, kCoverage95 * worst.u_um),
                     worst.planned_um);
}

}  // namespace

void put_in_words(Comparison& out, const Result& before, const Result& after) {
  out.sentence = sentence_of(out);
  out.left = after.plan.sentence;
  if (out.left_right_only) {
    out.remarks.push_back(fmt::format(
        "One scan was made {}, the other {}: cane swells when wet, so only what one side lost over the other can be "
        "told. Scan both times in one state.",
        name_of(before.state), name_of(after.state)));
  }
  if (out.left_right_only && std::any_of(out.steps.begin(), out.steps.end(),
                                         [](const RemovedStep& step) { return std::isnan(step.removed_um); }))
    out.remarks.emplace_back("What was to come off both sides alike cannot be told from such scans.");
  if (before.datum != after.datum && (before.datum == "two-sided" || after.datum == "two-sided")) {
    out.remarks.emplace_back(
        "One scan was made from both sides, the other from above: the first gives the cane alone, the second what lies "
        "under the table too. Scan both times in one way.");
  }
  if (before.state == MoistureState::unknown && after.state == MoistureState::unknown) {
    out.remarks.emplace_back("The moisture of both scans is not known; say it when measuring (--state), dry is best.");
  }
  constexpr double worth_saying = 0.005;
  if (!out.left_right_only && std::abs(out.swelling_rel) > std::max(worth_saying, kCoverage95 * out.u_swelling_rel)) {
    out.remarks.push_back(fmt::format("Cane that nobody touched is {:.1f} % {} than before: it {}; that is taken out.",
                                      100.0 * std::abs(out.swelling_rel),
                                      out.swelling_rel > 0.0 ? "thicker" : "thinner",
                                      out.swelling_rel > 0.0 ? "has swollen" : "has dried"));
  }
  if (out.clipped_mm > 0.0) {
    out.remarks.push_back(fmt::format("The tip was clipped by {:.2f} ± {:.2f} mm in between.", out.clipped_mm,
                                      kCoverage95 * out.u_clipped_mm));
  }
  if (out.elsewhere) {
    out.remarks.push_back(
        before.plan.steps.empty()
            ? fmt::format("Most came off the {}: {:.0f} µm.", name_of(out.elsewhere->zone), out.elsewhere->removed_um)
            : fmt::format("About {:.0f} µm are gone from the {} too, where nothing was planned.",
                          out.elsewhere->removed_um, name_of(out.elsewhere->zone)));
  }
}

}  // namespace canewise
