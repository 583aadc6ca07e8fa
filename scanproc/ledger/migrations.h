#pragma once

#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

// For this folder alone: nobody else sees SQLite.
namespace SQLite {
class Database;
}

namespace canewise {

/// 'cane': by this SQLite's own header says that a file is a ledger.
inline constexpr int kLedgerApplication = 0x63616e65;

/// The steps from each version of the file to the next; version 1 is made by the first. Steps are never changed after a
/// release, only added.
[[nodiscard]] std::span<const std::string_view> migrations();

/// Brings a ledger up to date, each step whole or not at all. One that holds anything is backed up beside itself first.
/// Throws InputError for a file that is no ledger, whose tables are not those of its version, or of a version that
/// these steps do not know.
void migrate(SQLite::Database& database, const std::filesystem::path& path, std::span<const std::string_view> steps);

/// Tables, indexes and everything else that a file defines, in one order.
[[nodiscard]] std::vector<std::string> definitions_of(SQLite::Database& database);
/// The same of a new file after these steps.
[[nodiscard]] std::vector<std::string> definitions_at(std::span<const std::string_view> steps);

/// Copies a whole database into a new file that is on the disk when this returns. Throws OutputError.
void copy_database(SQLite::Database& database, const std::filesystem::path& copy);

}  // namespace canewise
