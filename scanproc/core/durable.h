#pragma once

#include <filesystem>
#include <string>

namespace canewise {

// Single steps that change a disk. All throw std::system_error with the system's number: who calls them knows what was
// meant to be written and says so in an OutputError.

/// A new file with these bytes, on the disk when this returns. Fails if something of that name is there.
void write_new_file(const std::filesystem::path& path, const std::string& bytes);

/// Puts on the disk which names a folder holds. One that cannot be asked to (its file system has no such thing, or it
/// may not be read) counts as done.
void sync_folder(const std::filesystem::path& folder);

/// Gives `from` the name `to`; a file that has it goes.
void rename_path(const std::filesystem::path& from, const std::filesystem::path& to);

/// Lets two names change places in one step. False, and nothing done, where system or file system has no such step.
[[nodiscard]] bool exchange_paths(const std::filesystem::path& a, const std::filesystem::path& b);

/// Lets `to` be what `from` is: a hard link, or a copy where the file system has no hard links; of a folder all that it
/// holds, with its mode and date. Links are not followed. On the disk when this returns, but for the name `to`.
void link_or_copy(const std::filesystem::path& from, const std::filesystem::path& to);

}  // namespace canewise
