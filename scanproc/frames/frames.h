#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace canewise {

/// The pictures of a folder: the names given, or every PNG, TIFF or JPEG there in the order of their numbers (frame-2
/// before frame-10). Throws InputError for a folder that cannot be read, holds none, or more than `most`; `what` names
/// them for people: 'frame', 'depth frame', 'line picture' or 'photograph'.
[[nodiscard]] std::vector<std::filesystem::path> picture_files(const std::filesystem::path& folder,
                                                               const std::vector<std::string>& names, std::size_t most,
                                                               std::string_view what);

}  // namespace canewise
