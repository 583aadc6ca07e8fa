#include "scanproc/pipeline/headline.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"

namespace canewise {

std::string kind_of(const Result& result) {
  const CutFeatures& cut = result.assessment.cut;
  const std::string filed = cut.filed == Verdict::within ? "filed " : cut.filed == Verdict::outside ? "unfiled " : "";
  const std::string blank = cut.blank_is_sure ? std::string(name_of(cut.blank)) + " blank"
                                              : "probably " + std::string(name_of(cut.blank)) + " blank";
  return fmt::format("{}{} reed, {}", filed, result.instrument_title, blank);
}

std::string headline_of(const Result& result) {
  const std::string kind = kind_of(result);
  const std::string start =
      std::string(1, static_cast<char>(std::toupper(static_cast<unsigned char>(kind[0])))) + kind.substr(1);
  const std::string chip = result.outline.chipped ? " The tip is chipped." : "";
  const ZoneBalance* worst = nullptr;
  const auto excess = [](const ZoneBalance& z) { return std::abs(z.difference.mean_mm) / z.tolerance_mm; };
  for (const auto& zone : result.assessment.balance.zones) {
    if (zone.verdict == Verdict::outside && (worst == nullptr || excess(zone) > excess(*worst))) worst = &zone;
  }
  if (worst != nullptr) {
    const Side side = worst->difference.mean_mm > 0 ? Side::right : Side::left;
    return fmt::format("{}: the {} is on average {:.0f} µm thicker than its partner (tolerance {:.0f} µm).{}", start,
                       name_of(Zone{worst->along, worst->across, side}),
                       um_from_mm(std::abs(worst->difference.mean_mm)), um_from_mm(worst->tolerance_mm), chip);
  }
  if (result.assessment.balance.verdict == Verdict::within) {
    return start + ": left and right agree within tolerance" +
           (result.outline.chipped ? " where they can be seen." : " everywhere.") + chip;
  }
  return start + ": nothing is surely out of balance, but this scan cannot tell everywhere." + chip;
}

std::string certainty_of(const Result& result) {
  double tip = 0.0, vamp = 0.0;
  std::size_t unprovable = 0;
  for (const auto& zone : result.assessment.balance.zones) {
    double& largest = zone.along == AlongBand::tip ? tip : vamp;
    if (!std::isnan(zone.smallest_visible_mm)) largest = std::max(largest, zone.smallest_visible_mm);
    unprovable += !can_prove_within(zone.difference.u_mm, zone.tolerance_mm);
  }
  std::string text = fmt::format(
      "A scan like this shows left-right differences of {:.0f} µm or more at the tip and of {:.0f} µm or more "
      "elsewhere, "
      "95 times in 100.",
      std::ceil(um_from_mm(tip)), std::ceil(um_from_mm(vamp)));
  // A grain under one rail rolls a reed by more than any law of seating says, and one scan cannot see it.
  if (result.datum != name_of(DatumMode::two_sided)) {
    text += fmt::format(" That holds if the reed lies flat to {:.0f} µm: lay it anew and scan again to be sure.",
                        std::max(1.0, std::ceil(result.rig.priors.seating_roll_um)));
  }
  if (unprovable > 0) {
    text += fmt::format(" In {} of {} zones it is too coarse ever to prove balance.", unprovable,
                        result.assessment.balance.zones.size());
  }
  return text;
}

}  // namespace canewise
