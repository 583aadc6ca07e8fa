#include "scanproc/pipeline/pipeline.h"

#include <utility>

#include "scanproc/core/error.h"
#include "scanproc/core/utc.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/datum/rig_correction.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/pipeline/keep.h"
#include "scanproc/pipeline/known_reeds.h"
#include "scanproc/pipeline/laid_anew.h"
#include "scanproc/pipeline/measure_loaded.h"
#include "scanproc/pipeline/notes.h"
#include "scanproc/pipeline/version.h"
#include "scanproc/thickness/light_depth.h"

namespace canewise {
namespace {

const Instrument& instrument_of(const Aligned& aligned, const Instrument* given) {
  return given != nullptr ? *given
                          : *guess_instrument(aligned.outline.length_mm, 2.0 * aligned.outline.half_width_mm(0.0));
}

/// What is known before anything is measured.
Result begin(const MeasureInputs& inputs, const MeasureOptions& options) {
  Result result;
  result.program_version = kVersion;
  result.measured_at = now_utc();
  result.state = options.state;
  result.player = inputs.player;
  if (inputs.cane && inputs.cane->state != options.state) {
    throw UsageError(
        {"cane.other_state", {{"bent", word(name_of(inputs.cane->state))}, {"scanned", word(name_of(options.state))}}});
  }
  result.cane = inputs.cane;
  result.instrument_given = !options.instrument.empty();
  result.handedness = inputs.rig.mirrored                   ? HandednessSource::rig_file
                      : inputs.rig.handedness_found.empty() ? HandednessSource::assumed
                                                            : HandednessSource::mark;
  return result;
}

void add(Messages& notes, const Messages& more) { notes.insert(notes.end(), more.begin(), more.end()); }

Assessment judge(const Result& measured, const Aligned& aligned, const Instrument& instrument,
                 const std::optional<Target>& target) {
  return assess({.map = measured.map,
                 .aligned = aligned,
                 .instrument = instrument,
                 .chosen = target ? &*target : nullptr,
                 .rig = identity_of(measured.rig)});
}

BentReed bend(const Result& assessed, BendOptions options) {
  options.clip = true;
  return bend_reed({.map = assessed.map,
                    .outline = assessed.outline,
                    .assessment = assessed.assessment,
                    .player = assessed.player,
                    .instrument = assessed.instrument,
                    .state = assessed.state,
                    .measured_cane = assessed.cane ? &*assessed.cane : nullptr},
                   options);
}

ScrapePlan plan(const Result& assessed, const BentReed& bent, const SeatingFromScans& seating, PlanOptions options) {
  options.seating_in_doubt = seating.in_doubt;
  return plan_scrape({.map = assessed.map,
                      .outline = assessed.outline,
                      .assessment = assessed.assessment,
                      .bent = bent,
                      .player = assessed.player,
                      .limits = find_instrument(assessed.instrument)->removal},
                     options);
}

}  // namespace

Result measure_loaded(LoadedScans scans, const MeasureInputs& inputs, const MeasureOptions& options,
                      const Progress& stage) {
  Result result = begin(inputs, options);
  result.notes = scans.notes;

  stage({"stage.find"}, 0.3);
  for (Cloud& cloud : scans.clouds) add(result.notes, correct_by_rig(cloud, inputs.rig));
  const Instrument* const given = find_instrument(options.instrument);
  const WholeScans whole = whole_scans(scans);
  Aligned aligned = place_reed(std::move(scans.clouds), inputs.rig, {options.datum, given});
  const Instrument& instrument = instrument_of(aligned, given);
  result.instrument = instrument.name;
  result.datum = aligned.datum;
  result.outline = aligned.outline;
  result.frame = aligned.uncertainty;
  result.plate_noise_mm = aligned.plate_noise_mm;
  result.spacing_mm = aligned.spacing_mm;
  add(result.notes, aligned.notes);
  add(result.notes, slow_error_notes(aligned, inputs.rig.priors));

  stage({"stage.thickness"}, 0.4);
  const SeatingFromScans seating =
      seating_from(whole, inputs.rig, {options.laid_anew, aligned.datum, given, options.thickness});
  result.rig = seating.rig;
  add(result.notes, seating.notes);
  if (seating.layings) stand_on_own_plates(*aligned.registration);
  result.registration = aligned.registration;
  result.map = measure_thickness(aligned, result.rig.priors, options.thickness);
  if (seating.layings) keep_noise_of_one(*seating.layings, result.map.noise);
  if (inputs.rig.light) correct_light(result.map, *inputs.rig.light);

  stage({"stage.judge"}, 0.6);
  result.assessment = judge(result, aligned, instrument, inputs.target);
  if (aligned.datum == DatumMode::two_sided) {
    const TableForm table = assess_table(result.map, result.outline, options.table_tolerance_um);
    if (table.known()) result.table = table;
  }
  const double vamp_length_mm = result.assessment.cut.vamp_length_mm.value;
  result.relative_thickness_mm = sample_for_target(result.map, result.outline, vamp_length_mm);
  result.texture = vamp_texture(aligned, result.map, vamp_length_mm);
  result.budgets = budgets_of(result.assessment, result.map.common);
  add(result.notes, result_notes(result));

  stage({"stage.bend"}, 0.7);
  KnownReedsNow known = bend_known_reeds(std::move(result.player), result.instrument, result.cane.has_value());
  result.player = std::move(known.player);
  add(result.notes, known.notes);
  BentReed bent = bend(result, options.bending);
  result.clipped = bent.clipped;
  if (!bent.mechanics.known()) result.notes.push_back(bent.mechanics.why_not);

  stage({"stage.plan"}, 0.8);
  result.plan = plan(result, bent, seating, options.plan);
  result.mechanics = std::move(bent.mechanics);
  result.headline = headline_of(result);
  result.certainty = certainty_of(result);
  scans.finish();
  result.scans = std::move(scans.sources);
  return options.whole ? result : keep(std::move(result));
}

Result measure(const MeasureInputs& inputs, const MeasureOptions& options, const Progress& progress,
               const std::stop_token& stop) {
  check(options);
  const Progress stage = stoppable(progress, stop);
  stage({"stage.read"}, 0.0);
  LoadedScans scans = load_scans(inputs.scans, {options.unit, options.pitch_mm, &inputs.rig, stage});
  Result result = measure_loaded(std::move(scans), inputs, options, stage);
  stage({"stage.measured"}, 0.9);
  return result;
}

}  // namespace canewise
