#include "scanproc/compare/same_reed.h"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"

namespace canewise {
namespace {

void check_size(const Measured& before, const Measured& after, double spare_mm, std::string_view name) {
  if (!std::isfinite(before.value) || !std::isfinite(after.value)) return;
  const double u95 = kCoverage95 * std::hypot(before.u, after.u);
  if (std::abs(before.value - after.value) > spare_mm + u95) {
    refuse_another_reed(
        {"comparison.other_size", {{"what", word(name)}, {"by", mm(std::abs(before.value - after.value), 2)}}});
  }
}

/// A reed gets shorter by what was clipped, and never longer.
void check_length(const Result& before, const Result& after) {
  constexpr double most_clipped_mm = 3.0, u_edges_mm = 0.3;
  const double shorter = before.outline.length_mm - after.outline.length_mm;
  if (shorter > most_clipped_mm) refuse_another_reed({"comparison.shorter", {{"by", mm(shorter, 1)}}});
  if (shorter < -u_edges_mm) {
    throw NotMeasurable({"comparison.longer", {{"by", mm(-shorter, 1)}}});
  }
}

}  // namespace

void refuse_another_reed(Message why) {
  throw NotMeasurable({"comparison.not_one_reed", {{"why", part(std::move(why))}}});
}

void check_that_it_is_one_reed(const Result& before, const Result& after) {
  const auto same_file = [](const ScanSource& a, const ScanSource& b) { return a.sha256 == b.sha256; };
  if (!before.scans.empty() &&
      std::equal(before.scans.begin(), before.scans.end(), after.scans.begin(), after.scans.end(), same_file)) {
    throw NotMeasurable(Message{"comparison.same_scan"});
  }
  if (before.instrument != after.instrument) {
    const auto title = [](const Result& result) {
      return part({"instrument.title", {{"instrument", word(result.instrument)}}});
    };
    refuse_another_reed({"comparison.other_instrument", {{"before", title(before)}, {"after", title(after)}}});
  }
  // Cane swells by some hundredths, wet against dry by more; scanners' edges differ by some more.
  check_size(before.assessment.cut.stock_height_mm, after.assessment.cut.stock_height_mm,
             before.state == after.state ? 0.12 : 0.35, "stock height");
  check_size(before.assessment.cut.butt_width_mm, after.assessment.cut.butt_width_mm, 0.25, "butt width");
  check_length(before, after);
}

}  // namespace canewise
