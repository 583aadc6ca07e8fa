#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace canewise {

/// A kind of folder that canewise writes as a whole.
struct OwnFolder {
  std::string proof;               ///< The JSON file by which such a folder is known.
  std::string format;              ///< What that file says of itself under "format", in any version.
  std::vector<std::string> names;  ///< All files that canewise ever writes into such a folder.
};

/// Whether a JSON object says on its uppermost level that its "format" is this. At most the first 16 MiB are read, and
/// no further than to that key; what cannot be read says nothing.
[[nodiscard]] bool says_format(const std::filesystem::path& json_file, const std::string& format);

/// Throws OutputError if `folder` is a file, or holds something and is not of that kind. Changes nothing.
void refuse_foreign(const std::filesystem::path& folder, const OwnFolder& own);

}  // namespace canewise
