#include "scanproc/cli/ledger_options.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace canewise {
namespace {

struct LedgerOptions : testing::Test {
  CLI::App app;
  LedgerArguments arguments;

  Row typed(const std::string& table, std::vector<std::string> words) {
    add_ledger_option(app, arguments, {});
    add_column_options(app, arguments, table, {}, {});
    std::reverse(words.begin(), words.end());  // As the parser wants them.
    app.parse(std::move(words));
    return columns_of(arguments, table);
  }
};

TEST_F(LedgerOptions, EveryColumnIsAnOptionAndItsKindIsHeeded) {
  const Row row = typed("box", {"--ledger", "mine.sqlite", "--strength", "3 1/2", "--holds", "10", "--bought-on",
                                "2026-12-01", "--is-set-aside", "no", "--note", ""});
  EXPECT_EQ(arguments.ledger, "mine.sqlite");
  EXPECT_EQ(row, (Row{{"strength", "3 1/2"},
                      {"holds", std::int64_t{10}},
                      {"bought_on", "2026-12-01"},
                      {"is_set_aside", std::int64_t{0}},
                      {"note", Cell()}}));
}

}  // namespace
}  // namespace canewise
