// A writer killed at any moment: what it was told to be kept is there, and nothing is half there.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <thread>

#include "scanproc/ledger/ledger.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

/// Adds boxes with two reeds each, and says after each that it is kept.
[[noreturn]] void write_until_killed(const std::filesystem::path& path, int told, int round) {
  Ledger ledger(path, Ledger::Access::make);
  for (std::int32_t k = 0;; ++k) {
    const std::string box = std::to_string(round) + "." + std::to_string(k);
    ledger.in_one_step([&] {
      ledger.insert("box", {{"name", box}});
      for (const char* reed : {"-1", "-2"})
        ledger.insert("reed",
                      {{"label", box + reed}, {"box", box}, {"stage", "new"}, {"added_at", "2026-12-01T10:00:00Z"}});
    });
    (void)!::write(told, &k, sizeof k);
  }
}

TEST(LedgerKilled, LosesNothingThatWasAcknowledgedAndKeepsNothingHalf) {
  const test::TempFolder folder;
  const auto path = folder.path() / "ledger.sqlite";
  constexpr int rounds = 40;
  std::int64_t acknowledged = 0;
  for (int round = 0; round < rounds; ++round) {
    int ends[2];
    ASSERT_EQ(::pipe(ends), 0);
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      ::close(ends[0]);
      write_until_killed(path, ends[1], round);
    }
    ::close(ends[1]);
    // Also while it is made, in the first rounds.
    std::this_thread::sleep_for(std::chrono::microseconds(1500 * round + 200));
    ::kill(child, SIGKILL);
    ::waitpid(child, nullptr, 0);
    std::int32_t last = -1, number = 0;
    while (::read(ends[0], &number, sizeof number) == sizeof number) last = number;
    ::close(ends[0]);
    if (!std::filesystem::exists(path)) continue;
    const Ledger ledger(path, Ledger::Access::make);
    for (std::int32_t k = 0; k <= last; ++k)
      EXPECT_TRUE(ledger.has("box", std::to_string(round) + "." + std::to_string(k)));
    acknowledged += last + 1;
    EXPECT_EQ(ledger.count_of("reed"), 2 * ledger.count_of("box")) << "a box with one reed";
    EXPECT_TRUE(ledger.faults().empty());
    if (HasFailure()) return;
  }
  EXPECT_GT(acknowledged, rounds) << "the writers were killed too early to show anything";
}

}  // namespace
}  // namespace canewise
