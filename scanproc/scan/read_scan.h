#pragma once

#include <filesystem>
#include <optional>

#include "scanproc/bytes/scan_file.h"
#include "scanproc/clouds/cloud.h"
#include "scanproc/core/progress.h"
#include "scanproc/core/units.h"
#include "scanproc/heights/height_map.h"
#include "scanproc/heights/tiff_map.h"
#include "scanproc/rig/rig.h"

namespace canewise {

struct ReadOptions {
  LengthUnit unit = LengthUnit::mm;  ///< Of files that say none.
  TiffMapOptions tiff = {};
  const Rig* rig = nullptr;  ///< For frames of a laser line or a depth camera; not owned.
  Progress progress = {};    ///< Told of frames.
};

/// Reads a scan; the format is told by the content, never by the suffix. Throws InputError for a file that is not a
/// known format, is damaged, or holds no finite point.
[[nodiscard]] Cloud read_scan(const ScanFile& file, const ReadOptions& options = {});

/// The same for a file, a depth camera's folder, or a folder of laser-line frames, which needs a calibrated rig.
[[nodiscard]] Cloud read_scan(const std::filesystem::path& path, const ReadOptions& options = {});

/// Reads a file that is a height map. Throws InputError for other scans, too.
[[nodiscard]] HeightMap read_height_map(const ScanFile& file, const ReadOptions& options = {});

/// 64 hex digits that tell a scan file, or a folder's camera file and frames, from every other.
[[nodiscard]] std::string scan_sha256(const std::filesystem::path& path);

}  // namespace canewise
