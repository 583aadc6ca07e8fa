#include "calib/step_scans.h"

#include <utility>

#include "scanproc/core/utc.h"
#include "scanproc/pipeline/load_scans.h"
#include "scanproc/pipeline/pipeline.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/scan/read_scan.h"

namespace canewise {

std::string today() { return now_utc().substr(0, 10); }

Message in_file(const std::filesystem::path& path, const Error& error) {
  return {"in_file", {{"file", text(path.string())}, {"what", part(error.message())}}};
}

std::filesystem::path beside(const std::filesystem::path& list, const std::string& name) {
  const std::filesystem::path path(name);
  return path.is_absolute() ? path : list.parent_path() / path;
}

Progress within(const Progress& progress, const Message& what, double from, double share) {
  return [progress, what, from, share](const Message& stage, double fraction) {
    if (progress)
      progress({"stage_calib.within", {{"what", part(what)}, {"stage", part(stage)}}}, from + share * fraction);
  };
}

Message stage_of_scan(std::size_t scan, std::size_t scans, const Message& stage) {
  return {"stage_calib.scan_of", {{"scan", count(scan)}, {"scans", count(scans)}, {"stage", part(stage)}}};
}

Cloud load_one(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
               const Progress& progress) {
  LoadedScans scans = load_scans({path}, {unit, std::nullopt, &rig, progress});
  scans.finish();
  return std::move(scans.clouds.front());
}

Cloud load_plain(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
                 const Progress& progress) {
  Cloud cloud = read_scan(path, {.tiff = {unit, std::nullopt}, .rig = &rig, .progress = progress});
  if (!cloud.unit_known && unit) cloud.points_mm *= mm_per(*unit);
  return cloud;
}

Result measure_one(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
                   const Progress& progress) {
  MeasureInputs inputs;
  inputs.scans = {path};
  inputs.rig = rig;
  MeasureOptions options;
  options.unit = unit;
  options.whole = true;
  try {
    return measure(inputs, options, progress);
  } catch (const NotMeasurable& refused) {
    throw NotMeasurable(in_file(path, refused));
  }
}

Result result_of(const std::filesystem::path& path, const Rig& rig, const Progress& progress) {
  std::error_code error;
  const bool is_result = path.extension() == ".json" || std::filesystem::exists(path / "result.json", error);
  return is_result ? read_result(path) : measure_one(path, std::nullopt, rig, progress);
}

}  // namespace canewise
