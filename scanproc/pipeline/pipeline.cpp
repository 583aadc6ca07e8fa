#include "scanproc/pipeline/pipeline.h"

#include <algorithm>
#include <cmath>
#include <future>
#include <string_view>

#include "scanproc/core/error.h"
#include "scanproc/core/utc.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/datum/rig_correction.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/pipeline/laid_anew.h"
#include "scanproc/pipeline/load_scans.h"
#include "scanproc/pipeline/rig_notes.h"
#include "scanproc/pipeline/version.h"
#include "scanproc/thickness/light_depth.h"

namespace canewise {
namespace {

const Instrument& instrument_for(const Outline& outline, const std::string& name) {
  if (!name.empty()) return *find_instrument(name);
  return *guess_instrument(outline.length_mm, 2.0 * outline.half_width_mm(0.0));
}

void check_instrument_name(const std::string& name) {
  if (name.empty() || find_instrument(name) != nullptr) return;
  throw UsageError({"pipeline.no_instrument", {{"name", text(name)}, {"known", text(instrument_names())}}});
}

std::vector<Texture> vamp_texture(const Aligned& aligned, const ThicknessMap& map, double vamp_length_mm) {
  std::vector<Texture> patches;
  const double x = 0.45 * vamp_length_mm;
  for (const double side : {-0.5, 0.5}) {
    if (auto patch = measure_texture(aligned, map, x, side * aligned.outline.half_width_mm(x)))
      patches.push_back(*patch);
  }
  return patches;
}

std::vector<BudgetTable> budget_tables(const Result& result) {
  const auto& zones = result.assessment.zone_thickness;
  const auto thickness_of = [&](AlongBand along, AcrossBand across) -> const ZoneMean& {
    for (const auto& zone : zones) {
      if (zone.zone.along == along && zone.zone.across == across) return zone.thickness;
    }
    throw std::logic_error("every zone was measured");
  };
  const auto difference_of = [&](AlongBand along, AcrossBand across) -> const ZoneMean& {
    return result.assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across))).difference;
  };
  const auto& common = result.map.common;
  return {budget_of({"quantity.tip_thickness"}, thickness_of(AlongBand::tip, AcrossBand::centre), common),
          budget_of({"quantity.heart_thickness"}, thickness_of(AlongBand::middle, AcrossBand::centre), common),
          budget_of({"quantity.rails_at_tip"}, difference_of(AlongBand::tip, AcrossBand::rail), common),
          budget_of({"quantity.rails_in_middle"}, difference_of(AlongBand::middle, AcrossBand::rail), common)};
}

void add_coverage_note(const Result& result, Messages& notes) {
  const double covered = covered_share(result.map, result.outline);
  constexpr double whole = 0.98;
  if (covered >= whole) return;
  notes.push_back(
      {"note.coverage", {{"percent", number(std::floor(100.0 * covered))}, {"cell", mm(result.map.grid.cell_mm, 2)}}});
}

/// Said where it is more than a scanner for reeds should have, and where nothing shows it.
void add_slow_error_note(const Aligned& aligned, const Priors& priors, Messages& notes) {
  constexpr double worth_saying_mm = 0.0015;
  if (aligned.slow.seen && aligned.slow.sd_mm > worth_saying_mm) {
    notes.push_back({"note.heights_drift",
                     {{"drift", um(um_from_mm(aligned.slow.sd_mm), 1)}, {"over", mm(aligned.slow.length_mm)}}});
  }
  const double bow_mm = *std::max_element(aligned.slow.form_mm.begin(), aligned.slow.form_mm.end());
  if (bow_mm > 2.0 * mm_from_um(priors.plate_form_um))
    notes.push_back({"note.plate_bent", {{"bow", um(um_from_mm(bow_mm))}}});
  if (!aligned.slow.seen && aligned.assumed_slow_mm > mm_from_um(priors.smooth_um)) {
    notes.push_back({"note.drift_assumed", {{"drift", um(um_from_mm(aligned.assumed_slow_mm), 1)}}});
  }
}

void add_target_notes(const Result& result, Messages& notes) {
  if (!result.assessment.target) {
    notes.push_back(Message{"note.no_target"});
    return;
  }
  const Target& target = result.assessment.target->target;
  if (target.instrument != result.instrument) {
    notes.push_back({"note.target_of_other_instrument", {{"instrument", text(target.instrument)}}});
  }
  if (result.assessment.target->chosen_by_user &&
      (target.state == "unknown") != (result.state == MoistureState::unknown)) {
    notes.push_back(Message{"note.one_moisture_known"});
  }
  if (target.state != "unknown" && result.state != MoistureState::unknown && target.state != name_of(result.state)) {
    notes.push_back(
        {"note.target_of_other_state", {{"target", word(target.state)}, {"reed", word(name_of(result.state))}}});
  }
}

void check_options(const MeasureOptions& options) {
  validate(options.thickness);
  validate(options.bending);
  validate(options.plan);
  check_instrument_name(options.instrument);
  constexpr double largest_um = 1000.0;
  if (!(options.table_tolerance_um > 0.0 && options.table_tolerance_um <= largest_um)) {
    throw UsageError(Message{"pipeline.table_tolerance"});
  }
}

/// Whole scans of a reed tell how it seats. Empty where there are none.
std::optional<Layings> heed_each_laying(const std::vector<Cloud>& scans, const std::vector<ScanSource>& sources,
                                        const MeasureInputs& inputs, const MeasureOptions& options, Aligned& aligned,
                                        Result& result, bool& in_doubt) {
  const auto refuse = [&options](std::string_view why) {
    if (options.laid_anew) throw UsageError({"pipeline.not_laid_anew", {{"why", word(why)}}});
    return std::optional<Layings>();
  };
  if (aligned.datum != DatumMode::plate) return refuse("not on a plate");
  if (scans.size() < 2) return refuse("one scan");
  for (std::size_t i = 0; i < sources.size(); ++i) {
    for (std::size_t k = i + 1; k < sources.size(); ++k)
      if (sources[i].sha256 == sources[k].sha256) return refuse("named twice");
  }
  auto layings = layings_of(
      scans, inputs.rig, options.instrument.empty() ? nullptr : find_instrument(options.instrument), options.thickness);
  if (!layings) return refuse("partial");
  const SeatingSeen seating = heed_layings(*layings, options.laid_anew, result.rig);
  result.notes.push_back(seating.note);
  in_doubt = seating.in_doubt;
  stand_on_own_plates(*aligned.registration);
  result.registration = aligned.registration;
  return layings;
}

/// Everything after reading.
Result measure_loaded(LoadedScans scans, const MeasureInputs& inputs, const MeasureOptions& options,
                      const Progress& stage) {
  Result result;
  result.program_version = kVersion;
  result.measured_at = now_utc();
  result.state = options.state;
  result.rig = inputs.rig;
  result.player = inputs.player;
  result.notes = scans.notes;
  result.handedness = inputs.rig.mirrored                   ? HandednessSource::rig_file
                      : inputs.rig.handedness_found.empty() ? HandednessSource::assumed
                                                            : HandednessSource::mark;

  stage({"stage.find"}, 0.3);
  for (Cloud& cloud : scans.clouds) {
    const auto corrections = correct_by_rig(cloud, inputs.rig);
    result.notes.insert(result.notes.end(), corrections.begin(), corrections.end());
  }
  const Instrument* wanted = options.instrument.empty() ? nullptr : find_instrument(options.instrument);
  // Whole scans in several places are measured one by one as well, to see how the reed seats.
  const std::vector<Cloud> each = scans.clouds.size() > 1 ? scans.clouds : std::vector<Cloud>();
  if (!each.empty()) scans.finish();  // For the digests: one scan named twice is no second laying.
  Aligned aligned = place_reed(std::move(scans.clouds), inputs.rig, {options.datum, wanted});
  const Instrument& instrument = instrument_for(aligned.outline, options.instrument);
  result.datum = name_of(aligned.datum);
  result.registration = aligned.registration;
  result.instrument = instrument.name;
  result.instrument_given = wanted != nullptr;
  result.outline = aligned.outline;
  result.frame = aligned.uncertainty;
  result.plate_noise_mm = aligned.plate_noise_mm;
  result.spacing_mm = aligned.spacing_mm;
  result.notes.insert(result.notes.end(), aligned.notes.begin(), aligned.notes.end());

  add_slow_error_note(aligned, inputs.rig.priors, result.notes);

  stage({"stage.thickness"}, 0.4);
  PlanOptions plan_options = options.plan;
  const auto layings =
      heed_each_laying(each, scans.sources, inputs, options, aligned, result, plan_options.seating_in_doubt);
  result.map = measure_thickness(aligned, result.rig.priors, options.thickness);
  if (layings) keep_noise_of_one(*layings, result.map.noise);
  if (inputs.rig.light) correct_light(result.map, *inputs.rig.light);

  stage({"stage.judge"}, 0.6);
  result.assessment =
      assess(result.map, aligned, instrument, inputs.target ? &*inputs.target : nullptr, identity_of(result.rig));
  if (aligned.datum == DatumMode::two_sided) {
    result.table = assess_table(result.map, result.outline, options.table_tolerance_um);
  }
  const double vamp_length_mm = result.assessment.cut.vamp_length_mm.value;
  result.relative_thickness_mm = sample_for_target(result.map, result.outline, vamp_length_mm);
  result.texture = vamp_texture(aligned, result.map, vamp_length_mm);
  result.budgets = budget_tables(result);
  add_coverage_note(result, result.notes);
  add_target_notes(result, result.notes);
  const auto about_rig = rig_notes(result);
  result.notes.insert(result.notes.end(), about_rig.begin(), about_rig.end());

  stage({"stage.bend"}, 0.7);
  // Clipping asks for meshes of its own: meanwhile.
  auto clipped = std::async(std::launch::async, [&result, &inputs, &options] {
    try {
      return clipped_reeds(result.map, result.outline, result.assessment.cut.bark, inputs.player, result.instrument,
                           cane_in(options.state).cane);
    } catch (const NotMeasurable&) {
      return std::vector<ClippedReed>();  // Bending says why.
    }
  });
  BentReed bent = bend_reed(result.map, result.outline, result.assessment, inputs.player, result.instrument,
                            options.state, options.bending);
  if (bent.mechanics.known()) {
    result.clipped = clipped.get();
  } else {
    result.notes.push_back(bent.mechanics.why_not);
  }

  stage({"stage.plan"}, 0.8);
  result.plan =
      plan_scrape(result.map, result.outline, result.assessment, bent, result.clipped, inputs.player, plan_options);
  result.mechanics = std::move(bent.mechanics);
  result.headline = headline_of(result);
  result.certainty = certainty_of(result);
  scans.finish();
  result.scans = std::move(scans.sources);
  return result;
}

/// Progress that heeds a wish to stop.
Progress stoppable(const Progress& progress, const std::stop_token& stop) {
  return [&progress, &stop](const Message& name, double fraction) {
    if (stop.stop_requested()) throw Cancelled();
    if (progress) progress(name, fraction);
  };
}

}  // namespace

Result measure(const MeasureInputs& inputs, const MeasureOptions& options, const Progress& progress,
               const std::stop_token& stop) {
  check_options(options);
  const Progress stage = stoppable(progress, stop);
  stage({"stage.read"}, 0.0);
  Result result = measure_loaded(load_scans(inputs.scans, {options.unit, options.pitch_mm, &inputs.rig, stage}), inputs,
                                 options, stage);
  stage({"stage.measured"}, 0.9);
  return result;
}

std::vector<OneOfSeveral> measure_each(const MeasureInputs& inputs, const MeasureOptions& options,
                                       const Progress& progress, const std::stop_token& stop) {
  check_options(options);
  if (inputs.scans.size() != 1) throw UsageError(Message{"pipeline.each_takes_one_scan"});
  if (options.datum && *options.datum != DatumMode::plate) throw UsageError(Message{"pipeline.each_on_a_plate"});
  const Progress stage = stoppable(progress, stop);
  stage({"stage.read"}, 0.0);
  LoadedScans scans = load_scans(inputs.scans, {options.unit, options.pitch_mm, &inputs.rig, stage});
  scans.finish();
  const std::vector<Cloud> parts = split_reeds(scans.clouds.front(), inputs.rig);
  MeasureOptions on_plate = options;
  on_plate.datum = DatumMode::plate;
  std::vector<OneOfSeveral> all;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Argument which = count(i + 1), of = count(parts.size());
    const Progress stage_of_reed = [&](const Message& what, double fraction) {
      stage({"stage.of_reed", {{"number", which}, {"of", of}, {"what", part(what)}}},
            (static_cast<double>(i) + fraction) / static_cast<double>(parts.size()));
    };
    LoadedScans one;
    one.clouds.push_back(parts[i]);
    one.sources = scans.sources;
    one.notes = scans.notes;
    one.notes.push_back({"note.reed_of_several", {{"number", which}, {"of", of}}});
    OneOfSeveral entry;
    try {
      entry.result = measure_loaded(std::move(one), inputs, on_plate, stage_of_reed);
    } catch (const NotMeasurable& error) {
      entry.refusal = error.message();
    }
    all.push_back(std::move(entry));
  }
  return all;
}

}  // namespace canewise
