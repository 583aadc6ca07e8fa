#pragma once

#include <filesystem>
#include <string>

#include "scanproc/pipeline/result.h"

namespace canewise {

/// result.json, as result.schema.json describes it. Numbers that a scan does not show are null.
[[nodiscard]] std::string json_from_result(const Result& result);

/// Reads what json_from_result wrote, of this version. The common effects' fields and the slopes are not stored: the
/// map comes back with thickness_mm and u_mm alone. Throws InputError that names `where`.
[[nodiscard]] Result result_from_json(const std::string& text, const std::string& where);
/// `path` is a result.json or a folder that holds one.
[[nodiscard]] Result read_result(const std::filesystem::path& path);

}  // namespace canewise
