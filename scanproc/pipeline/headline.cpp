#include "scanproc/pipeline/headline.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"
#include "scanproc/pipeline/laid_anew.h"

namespace canewise {

namespace {

/// The zone that is surely and farthest out of tolerance; null if none is.
const ZoneBalance* worst_zone(const Assessment& assessment) {
  const auto excess = [](const ZoneBalance& z) { return std::abs(z.difference.mean_mm) / z.tolerance_mm; };
  const ZoneBalance* worst = nullptr;
  for (const auto& zone : assessment.balance.zones) {
    if (zone.verdict == Verdict::outside && (worst == nullptr || excess(zone) > excess(*worst))) worst = &zone;
  }
  return worst;
}

/// A difference so even over its zone that no cells stand out as a fault.
std::string words_of(const ZoneBalance& zone) {
  const Side side = zone.difference.mean_mm > 0.0 ? Side::right : Side::left;
  return fmt::format("the {} is on average {:.0f} µm thicker than the other side (tolerance {:.0f} µm).",
                     name_of(Zone{zone.along, zone.across, side}), um_from_mm(std::abs(zone.difference.mean_mm)),
                     um_from_mm(zone.tolerance_mm));
}

/// Where, by how much, and which side is at fault: the thin one if that is known, else the one that has more.
std::string words_of(const Fault& fault) {
  const bool thin = fault.at_fault == AtFault::thinner_side;
  const Side side = thin ? fault.thinner() : fault.thicker, other = thin ? fault.thicker : fault.thinner();
  std::string words = fmt::format(
      "the {} is on average {:.0f} µm {} than the {} between {:.0f} and {:.0f} mm from the tip (tolerance {:.0f} µm).",
      place_of(fault, side), um_from_mm(std::abs(fault.difference_mm)), thin ? "thinner" : "thicker", name_of(other),
      fault.from_mm, fault.to_mm, um_from_mm(fault.tolerance_mm));
  if (thin) {
    words += fault.witness == FaultWitness::target
                 ? " Your target says that this side is thin, not the other thick."
                 : " The rest of this reed says that this side is thin, not the other thick.";
  }
  return words;
}

}  // namespace

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
  if (const ZoneBalance* zone = worst_zone(result.assessment)) {
    const Fault* fault = fault_of(result.assessment, *zone);
    return start + ": " + (fault != nullptr ? words_of(*fault) : words_of(*zone)) + chip;
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
  if (is_seating_from_layings(result.rig)) {
    text += " This counts how differently the reed lay in the scans.";
  } else if (result.datum != name_of(DatumMode::two_sided)) {
    text +=
        fmt::format(" That holds if the reed lies flat to {:.0f} µm: lay it down again and scan once more to be sure.",
                    std::max(1.0, std::ceil(result.rig.priors.seating_roll_um)));
  }
  if (unprovable > 0) {
    text += fmt::format(" In {} of {} zones it is too coarse ever to prove balance.", unprovable,
                        result.assessment.balance.zones.size());
  }
  return text;
}

}  // namespace canewise
