#include "scanproc/pipeline/load_scans.h"

#include "scanproc/pipeline/unit_guess.h"
#include "scanproc/scan/read_scan.h"

namespace canewise {
namespace {

std::string name_to_show(const std::filesystem::path& path) {
  // A folder may be named with a slash at its end.
  return (path.has_filename() ? path : path.parent_path()).filename().string();
}

}  // namespace

void LoadedScans::finish() {
  for (std::size_t i = 0; i < digests.size(); ++i) {
    if (digests[i].valid()) sources[i].sha256 = digests[i].get();
  }
}

LoadedScans load_scans(const std::vector<std::filesystem::path>& paths, const LoadOptions& options) {
  LoadedScans scans;
  for (const auto& path : paths) {
    // Reading refuses what is no file before the digest looks at it.
    Cloud cloud =
        read_scan(path, {.tiff = {options.unit, options.pitch_mm}, .rig = options.rig, .progress = options.progress});
    scans.digests.push_back(std::async(std::launch::async, [path] { return scan_sha256(path); }));
    LengthUnit unit = LengthUnit::mm;
    bool guessed = false;
    if (!cloud.unit_known) {
      unit = options.unit ? *options.unit : guess_unit(cloud);
      guessed = !options.unit && unit != LengthUnit::mm;
      if (options.unit) check_unit(cloud, unit);
      rescale(cloud, unit);
    }
    ScanSource source{name_to_show(path),         {},      cloud.format,
                      std::string(name_of(unit)), guessed, static_cast<std::size_t>(cloud.points_mm.cols()),
                      cloud.dropped_non_finite};
    if (guessed) {
      scans.notes.push_back({"note.unit_guessed", {{"unit", text(source.unit)}}});
    }
    if (cloud.dropped_non_finite > 0)
      scans.notes.push_back({"note.points_not_finite", {{"points", count(cloud.dropped_non_finite)}}});
    scans.notes.insert(scans.notes.end(), cloud.notes.begin(), cloud.notes.end());
    scans.clouds.push_back(std::move(cloud));
    scans.sources.push_back(std::move(source));
  }
  return scans;
}

}  // namespace canewise
