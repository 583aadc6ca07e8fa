#include "scanproc/core/error.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/pipeline/measure_loaded.h"

namespace canewise {

std::vector<OneOfSeveral> measure_each(const MeasureInputs& inputs, const MeasureOptions& options,
                                       const Progress& progress, const std::stop_token& stop) {
  check(options);
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
