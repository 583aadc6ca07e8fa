#include "scanproc/pipeline/notes.h"

#include <algorithm>
#include <cmath>

#include "scanproc/core/units.h"
#include "scanproc/pipeline/rig_notes.h"

namespace canewise {
namespace {

Messages coverage_notes(const Result& result) {
  const double covered = covered_share(result.map, result.outline);
  constexpr double whole = 0.98;
  if (covered >= whole) return {};
  return {
      {"note.coverage", {{"percent", number(std::floor(100.0 * covered))}, {"cell", mm(result.map.grid.cell_mm, 2)}}}};
}

Messages target_notes(const Result& result) {
  if (!result.assessment.target) return {Message{"note.no_target"}};
  Messages notes;
  const Target& target = result.assessment.target->target;
  if (target.instrument != result.instrument)
    notes.push_back({"note.target_of_other_instrument", {{"instrument", text(target.instrument)}}});
  const bool target_known = target.state != MoistureState::unknown, reed_known = result.state != MoistureState::unknown;
  if (result.assessment.target->chosen_by_user && target_known != reed_known)
    notes.push_back(Message{"note.one_moisture_known"});
  if (target_known && reed_known && target.state != result.state) {
    notes.push_back({"note.target_of_other_state",
                     {{"target", word(name_of(target.state))}, {"reed", word(name_of(result.state))}}});
  }
  return notes;
}

}  // namespace

Messages slow_error_notes(const Aligned& aligned, const Priors& priors) {
  Messages notes;
  constexpr double worth_saying_mm = 0.0015;
  if (aligned.slow.seen && aligned.slow.sd_mm > worth_saying_mm) {
    notes.push_back({"note.heights_drift",
                     {{"drift", um(um_from_mm(aligned.slow.sd_mm), 1)}, {"over", mm(aligned.slow.length_mm)}}});
  }
  const double bow_mm = *std::max_element(aligned.slow.form_mm.begin(), aligned.slow.form_mm.end());
  if (bow_mm > 2.0 * mm_from_um(priors.plate_form_um))
    notes.push_back({"note.plate_bent", {{"bow", um(um_from_mm(bow_mm))}}});
  if (!aligned.slow.seen && aligned.assumed_slow_mm > mm_from_um(priors.smooth_um))
    notes.push_back({"note.drift_assumed", {{"drift", um(um_from_mm(aligned.assumed_slow_mm), 1)}}});
  return notes;
}

Messages result_notes(const Result& result) {
  Messages notes;
  for (const Messages& more : {coverage_notes(result), target_notes(result), rig_notes(result)})
    notes.insert(notes.end(), more.begin(), more.end());
  return notes;
}

}  // namespace canewise
