#pragma once

#include <CLI/CLI.hpp>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "scanproc/ledger/ledger.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// What a verb of the ledger is given: where the ledger lies, and columns of one of its tables.
struct LedgerArguments {
  std::string ledger = kLedgerFile;
  std::map<std::string, std::string> columns;  ///< As typed, by the column's name.
};

/// --ledger.
void add_ledger_option(CLI::App& verb, LedgerArguments& arguments, const Speech& speech);

/// An option for every column of the table but these: 'bought_on' is --bought-on. Both must outlive the parser.
void add_column_options(CLI::App& verb, LedgerArguments& arguments, std::string_view table,
                        const std::vector<std::string_view>& but_not, const Speech& speech);

/// The columns that were typed, as cell_from_text reads them.
[[nodiscard]] Row columns_of(const LedgerArguments& arguments, std::string_view table);

/// Says once that a ledger was begun, so that nobody begins one by mistake.
void tell_if_new(const Ledger& ledger, const Speech& speech);

}  // namespace canewise
