#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "scanproc/assess/target.h"

namespace canewise {

/// Built-in targets, sorted by name. Their data are embedded; they are invented.
[[nodiscard]] const std::vector<Target>& builtin_targets();

/// A built-in by its name, else a target file by its path. Throws InputError or UsageError that lists the names.
[[nodiscard]] Target load_target(const std::string& name_or_path);

/// JSON, version 1 of 'canewise-target'.
[[nodiscard]] Target target_from_json(const std::string& content, const std::string& where);
[[nodiscard]] std::string json_from_target(const Target& target);

/// The built-in of this instrument whose kind (blank, filed) and thickness are nearest; empty where none fits the
/// instrument.
[[nodiscard]] const Target* nearest_builtin(const ZonedMap& reed, const CutFeatures& cut, std::string_view instrument);

}  // namespace canewise
