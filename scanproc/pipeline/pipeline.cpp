#include "scanproc/pipeline/pipeline.h"

#include <chrono>
#include <ctime>
#include <future>

#include "scanproc/core/error.h"
#include "scanproc/datum/align.h"
#include "scanproc/pipeline/headline.h"
#include "scanproc/pipeline/unit_guess.h"
#include "scanproc/pipeline/version.h"
#include "scanproc/scan/read_scan.h"

namespace canewise {
namespace {

std::string now_utc() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm utc{};
  gmtime_r(&now, &utc);
  std::array<char, 32> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &utc);
  return text.data();
}

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

void add_input_notes(const Cloud& cloud, const ScanSource& source, std::vector<std::string>& notes) {
  if (source.unit_guessed) {
    notes.push_back("The file does not say its unit; only " + source.unit + " makes a reed of it. Say --units " +
                    source.unit + " to be sure.");
  }
  if (cloud.dropped_non_finite > 0) {
    notes.push_back(std::to_string(cloud.dropped_non_finite) + " points without finite coordinates left out.");
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

}  // namespace

Result measure(const MeasureInputs& inputs, const MeasureOptions& options, const Progress& progress,
               const std::stop_token& stop) {
  validate(options.thickness);
  validate(options.plan);
  check_instrument_name(options.instrument);
  const auto stage = [&](std::string_view name, double fraction) {
    if (stop.stop_requested()) throw Cancelled();
    if (progress) progress(name, fraction);
  };
  Result result;
  result.program_version = kVersion;
  result.measured_at = now_utc();
  result.state = options.state;
  result.rig = inputs.rig;
  result.player = inputs.player;
  if (inputs.rig.mirrored) result.handedness = "corrected by the rig file";

  stage("reading the scan", 0.0);
  const ScanFile file(inputs.scan);
  auto hash = std::async(std::launch::async, [&file] { return file.sha256(); });
  Cloud cloud = read_scan(file);
  const LengthUnit unit = options.unit ? *options.unit : guess_unit(cloud);
  if (options.unit) check_unit(cloud, unit);
  rescale(cloud, unit);
  ScanSource source{inputs.scan.filename().string(),
                    {},
                    cloud.format,
                    std::string(name_of(unit)),
                    !options.unit && unit != LengthUnit::mm,
                    static_cast<std::size_t>(cloud.points_mm.cols()),
                    cloud.dropped_non_finite};
  add_input_notes(cloud, source, result.notes);

  stage("finding plate and reed", 0.2);
  const Instrument* wanted = options.instrument.empty() ? nullptr : find_instrument(options.instrument);
  const Aligned aligned = align(std::move(cloud), inputs.rig, wanted);
  const Instrument& instrument = instrument_for(aligned.outline, options.instrument);
  result.instrument = instrument.name;
  result.instrument_title = instrument.title;
  result.instrument_given = wanted != nullptr;
  result.outline = aligned.outline;
  result.frame = aligned.uncertainty;
  result.plate_noise_mm = aligned.plate_noise_mm;
  result.spacing_mm = aligned.spacing_mm;
  result.notes.insert(result.notes.end(), aligned.notes.begin(), aligned.notes.end());

  stage("measuring the thickness", 0.4);
  result.map = measure_thickness(aligned, inputs.rig.priors, options.thickness);

  stage("judging balance and cut", 0.6);
  result.assessment = assess(result.map, aligned, instrument, inputs.target ? &*inputs.target : nullptr);
  const double vamp_length_mm = result.assessment.cut.vamp_length_mm.value;
  result.relative_thickness_mm = sample_for_target(result.map, result.outline, vamp_length_mm);
  result.texture = vamp_texture(aligned, result.map, vamp_length_mm);
  result.budgets = budget_tables(result);
  add_target_notes(result, result.notes);

  // Bending joins here: Mechanics from the map and the player, read by the plan.

  stage("planning", 0.8);
  result.plan = plan_scrape(result.map, result.outline, result.assessment, inputs.player, options.plan);
  result.headline = headline_of(result);
  result.certainty = certainty_of(result);
  source.sha256 = hash.get();
  result.scans.push_back(std::move(source));
  stage("done measuring", 0.9);
  return result;
}

}  // namespace canewise
