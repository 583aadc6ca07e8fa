#include "scanproc/cli/ledger_options.h"

#include <algorithm>

#include "scanproc/cli/print_out.h"
#include "scanproc/ledger/tables.h"

namespace canewise {
namespace {

std::string option_of(std::string_view column) {
  std::string option = "--" + std::string(column);
  std::replace(option.begin(), option.end(), '_', '-');
  return option;
}

}  // namespace

void add_ledger_option(CLI::App& verb, LedgerArguments& arguments, const Speech& speech) {
  verb.add_option("--ledger", arguments.ledger, phrase({"cli.ledger_file"}, speech));
}

void add_column_options(CLI::App& verb, LedgerArguments& arguments, std::string_view table,
                        const std::vector<std::string_view>& but_not, const Speech& speech) {
  for (const Column& column : table_named(table).columns) {
    if (std::find(but_not.begin(), but_not.end(), column.name) != but_not.end()) continue;
    const std::string name(column.name);
    verb.add_option_function<std::string>(
        option_of(column.name), [&arguments, name](const std::string& typed) { arguments.columns[name] = typed; },
        phrase({"cli.column", {{"column", word(column.name)}, {"needed", word(column.is_required ? "yes" : "no")}}},
               speech));
  }
}

Row columns_of(const LedgerArguments& arguments, std::string_view table) {
  Row row;
  for (const Column& column : table_named(table).columns) {
    const auto typed = arguments.columns.find(std::string(column.name));
    if (typed != arguments.columns.end()) row.emplace(column.name, cell_from_text(column, typed->second));
  }
  return row;
}

void tell_if_new(const Ledger& ledger, const Speech& speech) {
  if (ledger.is_new()) print_out(phrase({"cli.ledger_begun", {{"file", text(ledger.path().string())}}}, speech) + "\n");
}

}  // namespace canewise
