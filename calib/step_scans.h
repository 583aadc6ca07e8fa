#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "scanproc/clouds/cloud.h"
#include "scanproc/core/error.h"
#include "scanproc/core/progress.h"
#include "scanproc/core/units.h"
#include "scanproc/pipeline/result.h"
#include "scanproc/rig/rig.h"

namespace canewise {

// What the steps share: files, names and dates.

/// Day of a step, UTC.
[[nodiscard]] std::string today();

/// What is wrong with a file or folder, behind its name.
[[nodiscard]] Message in_file(const std::filesystem::path& path, const Error& error);

/// A file that a list names: a relative path starts where the list lies.
[[nodiscard]] std::filesystem::path beside(const std::filesystem::path& list, const std::string& name);

/// Progress of one of several parts of a step, which is `what` and takes `share` of it.
[[nodiscard]] Progress within(const Progress& progress, const Message& what, double from, double share);

/// What is done with one of several scans; `scan` counts from 1.
[[nodiscard]] Message stage_of_scan(std::size_t scan, std::size_t scans, const Message& stage);

/// Reads one scan of a reed with the rig as it stands.
[[nodiscard]] Cloud load_one(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
                             const Progress& progress);

/// The same without guessing the unit by a reed's size: a strip or an empty plate has none.
[[nodiscard]] Cloud load_plain(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
                               const Progress& progress);

/// Measures one scan with the rig as it stands. What cannot be measured is refused with its name.
[[nodiscard]] Result measure_one(const std::filesystem::path& path, std::optional<LengthUnit> unit, const Rig& rig,
                                 const Progress& progress);

/// A result folder or result.json as it is; anything else is a scan and is measured with the rig.
[[nodiscard]] Result result_of(const std::filesystem::path& path, const Rig& rig, const Progress& progress);

}  // namespace canewise
