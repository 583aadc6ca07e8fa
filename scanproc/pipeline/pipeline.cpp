#include "scanproc/pipeline/pipeline.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <future>

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
  throw UsageError("there is no instrument '" + name + "'. Known are: " + instrument_names() + ".");
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
  return {budget_of("thickness of the tip", thickness_of(AlongBand::tip, AcrossBand::centre), common),
          budget_of("thickness of the heart", thickness_of(AlongBand::middle, AcrossBand::centre), common),
          budget_of("left-right difference of the rails at the tip", difference_of(AlongBand::tip, AcrossBand::rail),
                    common),
          budget_of("left-right difference of the rails in the middle",
                    difference_of(AlongBand::middle, AcrossBand::rail), common)};
}

void add_coverage_note(const Result& result, std::vector<std::string>& notes) {
  const double covered = covered_share(result.map, result.outline);
  constexpr double whole = 0.98;
  if (covered >= whole) return;
  std::array<char, 200> text{};
  std::snprintf(
      text.data(), text.size(),
      "The scan shows %.0f %% of the reed. The rest stays empty: nothing is filled in from farther than one cell "
      "(%g mm) away.",
      std::floor(100.0 * covered), result.map.grid.cell_mm);
  notes.emplace_back(text.data());
}

/// Said where it is more than a scanner for reeds should have, and where nothing shows it.
void add_slow_error_note(const Aligned& aligned, const Priors& priors, std::vector<std::string>& notes) {
  constexpr double worth_saying_mm = 0.0015;
  if (aligned.slow.seen && aligned.slow.sd_mm > worth_saying_mm) {
    notes.push_back(fmt::format(
        "The plate beside the reed shows that the scanner's heights drift by {:.1f} µm over about {:.0f} mm.",
        um_from_mm(aligned.slow.sd_mm), aligned.slow.length_mm));
  }
  const double bow_mm = *std::max_element(aligned.slow.form_mm.begin(), aligned.slow.form_mm.end());
  if (bow_mm > 2.0 * mm_from_um(priors.plate_form_um)) {
    notes.push_back(fmt::format(
        "The plate in view is bent by {:.0f} µm over 30 mm, or the scanner bends what it sees: the thickness "
        "is less sure by as much. Use a flat plate, or find out with 'canewise calibrate plate'.",
        um_from_mm(bow_mm)));
  }
  if (!aligned.slow.seen && aligned.assumed_slow_mm > mm_from_um(priors.smooth_um)) {
    notes.push_back(
        fmt::format("The scanner's heights are assumed to drift by {:.1f} µm from place to place, because too little "
                    "plate is in view to see it.",
                    um_from_mm(aligned.assumed_slow_mm)));
  }
}

void add_target_notes(const Result& result, std::vector<std::string>& notes) {
  if (!result.assessment.target) {
    notes.emplace_back(
        "There is no built-in target for this instrument; make one from your best reeds with 'canewise target make'.");
    return;
  }
  const Target& target = result.assessment.target->target;
  if (target.instrument != result.instrument) {
    notes.push_back("The target is for another instrument (" + target.instrument + "): the comparison says little.");
  }
  if (result.assessment.target->chosen_by_user &&
      (target.state == "unknown") != (result.state == MoistureState::unknown)) {
    notes.emplace_back(
        "Of target and reed only one's moisture is known: cane swells when wet, so the deviation may not be one of the "
        "cut.");
  }
  if (target.state != "unknown" && result.state != MoistureState::unknown && target.state != name_of(result.state)) {
    notes.push_back("The target was measured " + target.state + ", this reed " + std::string(name_of(result.state)) +
                    ": cane swells when wet, so the deviation is not one of the cut.");
  }
}

void check_options(const MeasureOptions& options) {
  validate(options.thickness);
  validate(options.bending);
  validate(options.plan);
  check_instrument_name(options.instrument);
  constexpr double largest_um = 1000.0;
  if (!(options.table_tolerance_um > 0.0 && options.table_tolerance_um <= largest_um)) {
    throw UsageError("the table's tolerance must be a number of micrometres up to 1000.");
  }
}

/// Whole scans of a reed tell how it seats. Empty where there are none.
std::optional<Layings> heed_each_laying(const std::vector<Cloud>& scans, const std::vector<ScanSource>& sources,
                                        const MeasureInputs& inputs, const MeasureOptions& options, Aligned& aligned,
                                        Result& result, bool& in_doubt) {
  const auto refuse = [&options](const char* why) {
    if (options.laid_anew) {
      throw UsageError(
          std::string("--laid-anew takes two or more scans of one reed on a plate, each of the whole reed, "
                      "which was lifted and laid down again in between; ") +
          why);
    }
    return std::optional<Layings>();
  };
  if (aligned.datum != DatumMode::plate) return refuse("these are not scans on a plate.");
  if (scans.size() < 2) return refuse("this is one scan.");
  for (std::size_t i = 0; i < sources.size(); ++i) {
    for (std::size_t k = i + 1; k < sources.size(); ++k)
      if (sources[i].sha256 == sources[k].sha256) return refuse("here one scan is named twice.");
  }
  auto layings = layings_of(
      scans, inputs.rig, options.instrument.empty() ? nullptr : find_instrument(options.instrument), options.thickness);
  if (!layings) return refuse("one of these shows only a part of it.");
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
  result.handedness = inputs.rig.mirrored ? "corrected by the rig file"
                      : inputs.rig.handedness_found.empty()
                          ? result.handedness
                          : "proved by a mark on the plate, " + inputs.rig.handedness_found;

  stage("finding the reed and its datum", 0.3);
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
  result.instrument_title = instrument.title;
  result.instrument_given = wanted != nullptr;
  result.outline = aligned.outline;
  result.frame = aligned.uncertainty;
  result.plate_noise_mm = aligned.plate_noise_mm;
  result.spacing_mm = aligned.spacing_mm;
  result.notes.insert(result.notes.end(), aligned.notes.begin(), aligned.notes.end());

  add_slow_error_note(aligned, inputs.rig.priors, result.notes);

  stage("measuring the thickness", 0.4);
  PlanOptions plan_options = options.plan;
  const auto layings =
      heed_each_laying(each, scans.sources, inputs, options, aligned, result, plan_options.seating_in_doubt);
  result.map = measure_thickness(aligned, result.rig.priors, options.thickness);
  if (layings) keep_noise_of_one(*layings, result.map.noise);
  if (inputs.rig.light) correct_light(result.map, *inputs.rig.light);

  stage("judging balance and cut", 0.6);
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

  stage("bending the reed", 0.7);
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

  stage("planning", 0.8);
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
  return [&progress, &stop](std::string_view name, double fraction) {
    if (stop.stop_requested()) throw Cancelled();
    if (progress) progress(name, fraction);
  };
}

}  // namespace

Result measure(const MeasureInputs& inputs, const MeasureOptions& options, const Progress& progress,
               const std::stop_token& stop) {
  check_options(options);
  const Progress stage = stoppable(progress, stop);
  stage("reading the scan", 0.0);
  Result result = measure_loaded(load_scans(inputs.scans, {options.unit, options.pitch_mm, &inputs.rig, stage}), inputs,
                                 options, stage);
  stage("done measuring", 0.9);
  return result;
}

std::vector<OneOfSeveral> measure_each(const MeasureInputs& inputs, const MeasureOptions& options,
                                       const Progress& progress, const std::stop_token& stop) {
  check_options(options);
  if (inputs.scans.size() != 1) throw UsageError("--each takes one scan with several reeds on a plate.");
  if (options.datum && *options.datum != DatumMode::plate) throw UsageError("--each measures on a plate only.");
  const Progress stage = stoppable(progress, stop);
  stage("reading the scan", 0.0);
  LoadedScans scans = load_scans(inputs.scans, {options.unit, options.pitch_mm, &inputs.rig, stage});
  scans.finish();
  const std::vector<Cloud> parts = split_reeds(scans.clouds.front(), inputs.rig);
  MeasureOptions on_plate = options;
  on_plate.datum = DatumMode::plate;
  std::vector<OneOfSeveral> all;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string name = "reed " + std::to_string(i + 1) + " of " + std::to_string(parts.size()) + ", ";
    const Progress stage_of_reed = [&](std::string_view what, double fraction) {
      stage(name + std::string(what), (static_cast<double>(i) + fraction) / static_cast<double>(parts.size()));
    };
    LoadedScans one;
    one.clouds.push_back(parts[i]);
    one.sources = scans.sources;
    one.notes = scans.notes;
    one.notes.push_back("Reed " + std::to_string(i + 1) + " of " + std::to_string(parts.size()) +
                        " in this scan, counted from the left.");
    OneOfSeveral entry;
    try {
      entry.result = measure_loaded(std::move(one), inputs, on_plate, stage_of_reed);
    } catch (const NotMeasurable& error) {
      entry.refusal = error.what();
    }
    all.push_back(std::move(entry));
  }
  return all;
}

}  // namespace canewise
