// Stages as lines for programs, as one line of a terminal, or not at all.
#include "scanproc/cli/progress_line.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <thread>

#include "scanproc/cli/interrupt.h"
#include "scanproc/core/error.h"

namespace canewise {
namespace {

std::string all_of(int descriptor) {
  std::string all;
  std::array<char, 4096> bytes{};
  for (ssize_t n = 0; (n = ::read(descriptor, bytes.data(), bytes.size())) > 0;)
    all.append(bytes.data(), static_cast<std::size_t>(n));
  return all;
}

/// What `work` writes to the descriptor that it is given.
template <typename Work>
std::string written(const Work& work) {
  std::array<int, 2> ends{};
  EXPECT_EQ(::pipe(ends.data()), 0);
  std::string all;
  std::thread reader([&] { all = all_of(ends[0]); });
  work(ends[1]);
  ::close(ends[1]);
  reader.join();
  ::close(ends[0]);
  return all;
}

/// What stands on a terminal that is standard error while `work` runs.
template <typename Work>
std::string on_terminal(const Work& work) {
  const int master = ::posix_openpt(O_RDWR | O_NOCTTY | O_NONBLOCK);
  EXPECT_TRUE(master >= 0 && ::grantpt(master) == 0 && ::unlockpt(master) == 0);
  const int terminal = ::open(::ptsname(master), O_RDWR | O_NOCTTY), before = ::dup(STDERR_FILENO);
  ::dup2(terminal, STDERR_FILENO);
  work();
  std::fflush(stderr);
  ::dup2(before, STDERR_FILENO);
  const std::string all = all_of(master);
  for (const int each : {before, terminal, master}) ::close(each);
  return all;
}

TEST(WriteLine, ALongLineArrivesWhole) {
  const std::string line(1'000'000, 'x');  // More than a pipe holds.
  EXPECT_EQ(written([&](int to) { write_line(to, line); }), line + "\n");
}

TEST(WriteLine, ASignalWhileItWaitsForTheReaderLosesNothing) {
  struct sigaction notes {};
  struct sigaction before {};
  notes.sa_handler = [](int) {};  // Without SA_RESTART: what waits is interrupted.
  ::sigaction(SIGUSR1, &notes, &before);
  std::array<int, 2> ends{};
  ASSERT_EQ(::pipe(ends.data()), 0);
  const std::string line(1'000'000, 'x');
  const pthread_t writer = ::pthread_self();
  std::string all;
  std::thread reader([&] {
    // The first ends a write that fills the pipe, the next ones writes that have not begun.
    for (int k = 0; k < 3; ++k) {
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
      ::pthread_kill(writer, SIGUSR1);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    all = all_of(ends[0]);
  });
  write_line(ends[1], line);
  ::close(ends[1]);
  reader.join();
  ::close(ends[0]);
  ::sigaction(SIGUSR1, &before, nullptr);
  EXPECT_EQ(all.size(), line.size() + 1);
}

TEST(WriteLine, AReaderThatWentAwayMissesItAndNothingElseHappens) {
  const auto before = std::signal(SIGPIPE, SIG_IGN);
  std::array<int, 2> ends{};
  ASSERT_EQ(::pipe(ends.data()), 0);
  ::close(ends[0]);
  EXPECT_NO_THROW(write_line(ends[1], "{}"));
  ::close(ends[1]);
  EXPECT_NO_THROW(write_line(ends[1], "{}")) << "closed";
  std::signal(SIGPIPE, before);
}

TEST(ProgressLine, ProgramsGetALineOfJsonForEachStage) {
  EXPECT_EQ(written([](int to) {
              ProgressLine line({}, to, {Language::german});
              const Progress progress = line.callback();
              progress({"stage.read"}, 0.25);
              progress({"verbatim", {{"text", text("a\"\n")}}}, 1.0);
            }),
            "{\"stage\":{\"id\":\"stage.read\"},\"fraction\":0.250}\n"
            "{\"stage\":{\"id\":\"verbatim\",\"text\":{\"text\":\"a\\\"\\\\x0a\"}},\"fraction\":1.000}\n");
}

TEST(ProgressLine, WhatTheStagesBelongToComesWithThem) {
  EXPECT_EQ(
      written([](int to) {
        ProgressLine line({"stage.plan"}, to, {});
        line.callback()({"stage.read"}, 0.5);
      }),
      "{\"stage\":{\"id\":\"cli.stage_of\",\"stage\":[{\"id\":\"stage.read\"}],\"what\":[{\"id\":\"stage.plan\"}]},"
      "\"fraction\":0.500}\n");
}

TEST(ProgressLine, PeopleSeeOneLineThatIsWipedInTheEnd) {
  EXPECT_EQ(on_terminal([] {
              ProgressLine line({}, {}, {});
              line.callback()({"stage.read"}, 0.254);
              line.callback()({"stage.plan"}, 1.0);
            }),
            "\r\x1b[K 25 %  reading the scan\r\x1b[K100 %  planning\r\x1b[K");
  EXPECT_EQ(on_terminal([] {
              ProgressLine line({"verbatim", {{"text", text("a.ply")}}}, {}, {Language::german});
              line.callback()({"stage.read"}, 0.0);
            }),
            "\r\x1b[K  0 %  a.ply: liest den Scan\r\x1b[K");
}

TEST(ProgressLine, ATerminalIsLeftAloneWhereProgramsAreTold) {
  EXPECT_EQ(on_terminal([] {
              (void)written([](int to) {
                ProgressLine line({}, to, {});
                line.callback()({"stage.read"}, 0.5);
              });
            }),
            "");
}

TEST(ProgressLine, NothingIsSaidWhereNobodyLooks) {
  testing::internal::CaptureStderr();  // To a file, which is no terminal.
  {
    ProgressLine line({}, {}, {});
    line.callback()({"stage.read"}, 0.5);
  }
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

TEST(ProgressLine, TheNextStageDoesNotBeginOnceAStopWasAskedFor) {
  const auto stopped = [] {
    catch_interrupts();
    ProgressLine line({}, {}, {});
    line.callback()({"stage.read"}, 0.0);
    std::raise(SIGTERM);
    try {
      line.callback()({"stage.plan"}, 0.5);
    } catch (const Cancelled&) {
      std::_Exit(7);
    }
    std::_Exit(0);
  };
  EXPECT_EXIT(stopped(), testing::ExitedWithCode(7), "");
}

}  // namespace
}  // namespace canewise
