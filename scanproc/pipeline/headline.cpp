#include "scanproc/pipeline/headline.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "scanproc/core/budget.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/laid_anew.h"
#include "scanproc/scrape/place_words.h"

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

/// The zone that seems to be farthest out of tolerance, if none surely is; null if none does.
const ZoneBalance* worst_suspect(const Assessment& assessment) {
  const auto excess = [](const ZoneBalance& z) { return std::abs(z.difference.mean_mm) / z.tolerance_mm; };
  const ZoneBalance* worst = nullptr;
  for (const auto& zone : assessment.balance.zones)
    if (is_suspect(zone) && (worst == nullptr || excess(zone) > excess(*worst))) worst = &zone;
  return worst;
}

/// A difference so even over its zone that no cells stand out as a fault.
Messages words_of(Message kind, const ZoneBalance& zone) {
  const Side side = zone.difference.mean_mm > 0.0 ? Side::right : Side::left;
  return {Message{"headline.zone",
                  {{"kind", part(std::move(kind))},
                   {"place", part(the_place(Zone{zone.along, zone.across, side}))},
                   {"difference", um(um_from_mm(std::abs(zone.difference.mean_mm)))},
                   {"tolerance", um(um_from_mm(zone.tolerance_mm))}}}};
}

/// Where, by how much, and which side is at fault: the thin one if that is known, else the one that has more.
Messages words_of(Message kind, const Fault& fault) {
  const bool thin = fault.at_fault == AtFault::thinner_side;
  const Side side = thin ? fault.thinner() : fault.thicker, other = thin ? fault.thicker : fault.thinner();
  Messages words{Message{"headline.fault",
                         {{"kind", part(std::move(kind))},
                          {"place", part(the_place(fault, side))},
                          {"difference", um(um_from_mm(std::abs(fault.difference_mm)))},
                          {"how", word(thin ? "thinner" : "thicker")},
                          {"other", word(name_of(other))},
                          {"from", mm(fault.from_mm)},
                          {"to", mm(fault.to_mm)},
                          {"tolerance", um(um_from_mm(fault.tolerance_mm))}}}};
  if (thin) {
    words.push_back(fault.witness == FaultWitness::target ? Message{"headline.target_says_thin"}
                                                          : Message{"headline.reed_says_thin"});
  }
  return words;
}

}  // namespace

Message kind_of(const Result& result) {
  const CutFeatures& cut = result.assessment.cut;
  const auto* const filed = cut.filed == Verdict::within    ? "filed"
                            : cut.filed == Verdict::outside ? "unfiled"
                                                            : "cannot tell";
  return {"headline.kind",
          {{"filed", word(filed)},
           {"instrument", part({"instrument.title", {{"instrument", word(result.instrument)}}})},
           {"blank", word(name_of(cut.blank))},
           {"sure", word(cut.blank_is_sure ? "yes" : "no")}}};
}

Messages headline_of(const Result& result) {
  Message kind = kind_of(result);
  const bool chipped = result.outline.chipped;
  Messages words;
  if (const ZoneBalance* zone = worst_zone(result.assessment)) {
    const Fault* fault = fault_of(result.assessment, *zone);
    words = fault != nullptr ? words_of(std::move(kind), *fault) : words_of(std::move(kind), *zone);
  } else if (result.assessment.balance.verdict == Verdict::within) {
    words = {Message{"headline.agree",
                     {{"kind", part(std::move(kind))}, {"where", word(chipped ? "where seen" : "everywhere")}}}};
  } else if (const ZoneBalance* suspect = worst_suspect(result.assessment)) {
    const Side side = suspect->difference.mean_mm > 0.0 ? Side::right : Side::left;
    words = {Message{"headline.suspect",
                     {{"kind", part(std::move(kind))},
                      {"place", part(the_place(Zone{suspect->along, suspect->across, side}))},
                      {"difference", um(um_from_mm(std::abs(suspect->difference.mean_mm)))},
                      {"u", um(um_from_mm(kCoverage95 * suspect->difference.u_mm))},
                      {"tolerance", um(um_from_mm(suspect->tolerance_mm))}}}};
  } else {
    words = {Message{"headline.cannot_tell", {{"kind", part(std::move(kind))}}}};
  }
  if (chipped) words.push_back(Message{"headline.chipped"});
  return words;
}

Message title_of(const Result& result) {
  if (result.reed.label.empty()) return kind_of(result);
  return {"headline.titled", {{"label", text(result.reed.label)}, {"kind", part(kind_of(result))}}};
}

Message whose(const Result& result) {
  if (result.reed.label.empty()) return {};
  constexpr std::size_t letters_of_day = 10;
  const auto is_there = [](const std::string& name) { return word(name.empty() ? "no" : "yes"); };
  return {"headline.whose",
          {{"label", text(result.reed.label)},
           {"has_box", is_there(result.reed.box)},
           {"box", text(result.reed.box)},
           {"has_player", is_there(result.reed.player)},
           {"player", text(result.reed.player)},
           {"day", text(result.measured_at.substr(0, letters_of_day))}}};
}

Message handedness_of(const Result& result) {
  return {"handedness", {{"how", word(name_of(result.handedness))}, {"date", text(result.rig.handedness_found)}}};
}

Messages certainty_of(const Result& result) {
  double tip = 0.0, vamp = 0.0;
  std::size_t unprovable = 0;
  for (const auto& zone : result.assessment.balance.zones) {
    double& largest = zone.along == AlongBand::tip ? tip : vamp;
    if (!std::isnan(zone.smallest_visible_mm)) largest = std::max(largest, zone.smallest_visible_mm);
    unprovable += !can_prove_within(zone.difference.u_mm, zone.tolerance_mm);
  }
  Messages words{Message{"certainty.shows",
                         {{"tip", um(std::ceil(um_from_mm(tip)))}, {"elsewhere", um(std::ceil(um_from_mm(vamp)))}}}};
  // A grain under one rail rolls a reed by more than any law of seating says, and one scan cannot see it.
  if (is_seating_from_layings(result.rig)) {
    words.push_back(Message{"certainty.counts_layings"});
  } else if (result.datum != DatumMode::two_sided) {
    words.push_back({"certainty.if_flat", {{"flat", um(std::max(1.0, std::ceil(result.rig.priors.seating_roll_um)))}}});
  }
  if (unprovable > 0) {
    words.push_back({"certainty.too_coarse",
                     {{"unprovable", count(unprovable)}, {"zones", count(result.assessment.balance.zones.size())}}});
  }
  return words;
}

}  // namespace canewise
