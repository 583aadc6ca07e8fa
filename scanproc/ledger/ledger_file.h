#pragma once

#include <filesystem>

#include "scanproc/ledger/ledger.h"

// For this folder alone: nobody else sees SQLite.
namespace SQLite {
class Database;
}

namespace canewise {

/// Whether something is there to be opened. Throws InputError for what can be no ledger: a folder, a pipe, a link to
/// nothing, an empty file to be read, and a file beside which a foreign journal lies.
[[nodiscard]] bool is_ledger_file(const std::filesystem::path& path, Ledger::Access access);

/// The file as it lies there, where nothing can be written beside it; refused if what was written last may stand in a
/// file beside it that cannot be taken in.
[[nodiscard]] SQLite::Database open_unwritable(const std::filesystem::path& path);

/// Lets ORDER BY sort as people do: 'B3-2' before 'B3-10', whatever the case of a to z (COLLATE people). For ORDER BY
/// alone: a file that needed it could be opened by nobody else.
void add_people_order(SQLite::Database& database);

}  // namespace canewise
