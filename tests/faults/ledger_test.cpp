// Every call that changes the ledger's files fails once, or the process is killed there: what was kept before is there,
// and the entry is there whole or not at all. What was said to be kept is.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "scanproc/ledger/exchange.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;

struct LedgerFaults : testing::Test {
  test::TempFolder outside;
  fs::path work = outside.path() / "work", old = outside.path() / "old";

  /// The exit code; -1 if it was killed. `struck` says whether the call was reached.
  int run(const std::string& arguments, long at, const std::string& kind, bool& struck) const {
    const fs::path told = outside.path() / "struck.txt", err = outside.path() / "err.txt";
    fs::remove(told);
    const std::string line = fmt::format(
        "cd {} && exec env LD_PRELOAD={} CANEWISE_FAULT_BELOW={} CANEWISE_FAULT_AT={} CANEWISE_FAULT_KIND={} "
        "CANEWISE_FAULT_TOLD={} CANEWISE_FAULT_CLOCK=1780308000 {} {} >/dev/null 2>{}",
        work.string(), CANEWISE_FAILING_FILES, work.string(), at, kind, told.string(), CANEWISE_COMMAND, arguments,
        err.string());
    const int status = std::system(line.c_str());
    struck = fs::exists(told);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }
  /// What the ledger holds, to a reader who comes later; empty if there is none.
  [[nodiscard]] std::string held() const {
    const fs::path file = work / "ledger.sqlite";
    if (!fs::exists(file)) return {};
    const Ledger ledger(file, Ledger::Access::make);
    EXPECT_TRUE(ledger.faults().empty());
    return json_from_ledger(ledger);
  }
  void restore() const {
    fs::remove_all(work);
    fs::copy(old, work, fs::copy_options::recursive);
  }

  void strike_all(const std::string& arguments) {
    fs::create_directories(work);
    fs::remove_all(old);
    fs::copy(work, old, fs::copy_options::recursive);
    const std::string before = held();
    restore();
    bool struck = false;
    ASSERT_EQ(run(arguments, 0, "none", struck), 0);
    const std::string after = held();
    ASSERT_NE(before, after);
    int runs = 0;
    for (long at = 1; at < 200; ++at) {
      bool any = false;
      for (const char* kind : {"kill-before", "ENOSPC", "kill-after", "EIO"}) {
        SCOPED_TRACE(fmt::format("{}: {} at call {}", arguments, kind, at));
        restore();
        const int code = run(arguments, at, kind, struck);
        any = any || struck;
        runs += struck;
        // An empty ledger that was begun holds nothing, as none does.
        const std::string found = held();
        const bool is_old = found == before || (before.empty() && found.find("\"name\"") == std::string::npos);
        EXPECT_TRUE(is_old || found == after) << found;
        if (code == 0) {
          EXPECT_EQ(found, after) << "it was said to be kept";
        } else if (code != -1) {
          EXPECT_TRUE(code == 6 || code == 3) << code;
        }
        if (HasFailure()) return;
      }
      if (!any) break;
    }
    fmt::print("{}: {} faults struck\n", arguments, runs);
    EXPECT_GE(runs, 20);
  }
};

TEST_F(LedgerFaults, ABoxInANewLedger) { strike_all("box add B3 --strength 3"); }

TEST_F(LedgerFaults, ABoxInAnOlderLedger) {
  fs::create_directories(work);
  {
    Ledger ledger(work / "ledger.sqlite", Ledger::Access::make);
    ledger.insert("box", {{"name", "B1"}});
  }
  strike_all("box add B3 --holds 2");
}

}  // namespace
}  // namespace canewise
