#pragma once

#include <string>
#include <vector>

#include "scanproc/core/output_folder.h"
#include "scanproc/ledger/ledger.h"

namespace canewise {

/// The whole ledger as JSON: {"format": "canewise-ledger", "version": 1, "tables": {"player": [...], ...}}, every table
/// of tables.h with its entries in the order of their keys, columns that are not known left out. Two ledgers that hold
/// the same give the same bytes.
[[nodiscard]] std::string json_from_ledger(const Ledger& ledger);

/// Fills an empty ledger with what json_from_ledger wrote: all of it, or nothing. Throws InputError that names `where`
/// and the entry for what is no such file, UsageError if the ledger holds anything.
void fill_from_json(Ledger& ledger, const std::string& json, const std::string& where);

/// One file for each table, for spreadsheets: comma-separated as RFC 4180 has it, UTF-8, columns named in the first
/// line. Words that a spreadsheet would take for a formula (they begin with = + - @) get an apostrophe before them, so
/// the way back is the JSON file.
[[nodiscard]] std::vector<OutputFile> csv_from_ledger(const Ledger& ledger);

}  // namespace canewise
