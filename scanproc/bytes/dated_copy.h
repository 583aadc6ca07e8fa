#pragma once

#include <filesystem>
#include <string>

namespace canewise {

/// Writes the bytes and, if a file of that name is there, keeps that beside it as NAME-before-DATE.EXTENSION; both or
/// neither. The copy is on the disk first: killed in the middle, the old file is there once or twice, or the new one
/// with the copy. Returns the copy's name, or nothing. Throws OutputError.
std::string write_keeping_old(const std::filesystem::path& path, const std::string& bytes);

}  // namespace canewise
