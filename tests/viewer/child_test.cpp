// A child may hang, swell, crash or chatter: its caller lives on.
#include "viewer/server/child.h"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <thread>

#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using How = ChildEnd::How;

ChildEnd run(
    const std::string& script, ChildLimits limits = {}, const std::function<bool()>& cancelled = [] { return false; }) {
  return run_child(
      {{"/bin/sh", "-c", script}}, limits, [](const std::string&) {}, cancelled);
}

TEST(Child, ItsWordsAndItsEndAreTold) {
  const ChildEnd end = run("echo out; echo first >&2; printf second >&2; exit 4");
  EXPECT_EQ(end.how, How::exited);
  EXPECT_EQ(end.exit_code, 4);
  EXPECT_EQ(end.words, "first\nsecond");
  EXPECT_EQ(end.output, "") << "nobody asked for it";
}

TEST(Child, WhatItTellsComesByItsOwnDescriptorAlone) {
  std::vector<std::string> told;
  const ChildEnd end = run_child(
      {{"/bin/sh", "-c", "echo one >&3; echo '{\"stage\":{}}' >&2; echo '{\"stage\":{}}'; printf two >&3"}}, {},
      [&](const std::string& line) { told.push_back(line); }, [] { return false; });
  EXPECT_EQ(told, (std::vector<std::string>{"one", "two"}));
  EXPECT_EQ(end.words, "{\"stage\":{}}");
}

TEST(Child, ReadsItsInputAndIsHeardToTheLimit) {
  const std::string input(3000000, 'x');
  const auto nothing = [](const std::string&) {};
  const auto goes_on = [] { return false; };
  EXPECT_EQ(run_child({{"/bin/cat"}, input, input.size()}, {}, nothing, goes_on).output, input);
  const ChildEnd too_much = run_child({{"/bin/cat"}, input, 1000}, {}, nothing, goes_on);
  EXPECT_EQ(too_much.how, How::killed);
  EXPECT_LT(too_much.output.size(), 100000U);
}

TEST(Child, LateOnesAreStopped) {
  ChildLimits limits;
  limits.time = std::chrono::seconds(1);
  EXPECT_EQ(run("exec sleep 100", limits).how, How::out_of_time);
  EXPECT_EQ(run("trap '' TERM; while :; do sleep 0.2; done", limits).how, How::out_of_time) << "one that will not hear";
}

TEST(Child, CancelledOnesAreStopped) {
  std::atomic<int> asked{0};
  EXPECT_EQ(run("exec sleep 100", {}, [&] { return ++asked > 3; }).how, How::cancelled);
}

TEST(Child, WhatEndedWellIsNotCancelledAfterwards) {
  // Its last word is heard, and only then is the stop asked for: the work is done.
  const ChildEnd done = run_child(
      {{"/bin/sh", "-c", "trap '' TERM; echo done >&2; sleep 0.3; exit 0"}}, {}, [](const std::string&) {},
      [] { return true; });
  EXPECT_EQ(done.how, How::exited);
  EXPECT_EQ(done.exit_code, 0);
  EXPECT_EQ(done.words, "done");
  const ChildEnd not_done = run("trap '' TERM; sleep 0.3; exit 3", {}, [] { return true; });
  EXPECT_EQ(not_done.how, How::cancelled);
  EXPECT_EQ(not_done.exit_code, 3);
}

std::size_t open_descriptors() {
  std::size_t count = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator("/proc/self/fd")) ++count;
  return count;
}

TEST(Child, AListenerThatThrowsLeavesNoChildAndNoDescriptor) {
  const std::size_t before = open_descriptors();
  const auto start = std::chrono::steady_clock::now();
  const auto throws = [](auto&&...) -> bool { throw std::runtime_error("enough"); };
  const auto says_no = [](auto&&...) { return false; };
  EXPECT_THROW((void)run_child({{"/bin/sh", "-c", "echo word >&3; exec sleep 100"}}, {}, throws, says_no),
               std::runtime_error);
  EXPECT_THROW((void)run_child({{"/bin/sh", "-c", "exec sleep 100"}}, {}, says_no, throws), std::runtime_error);
  // One whose last line has no end is told when it is gone.
  EXPECT_THROW((void)run_child({{"/bin/sh", "-c", "printf word >&3"}}, {}, throws, says_no), std::runtime_error);
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(60)) << "nobody waits for its sleep";
  EXPECT_EQ(open_descriptors(), before);
  EXPECT_EQ(::waitpid(-1, nullptr, WNOHANG), -1) << "one was not reaped";
  EXPECT_EQ(errno, ECHILD);
}

TEST(Child, WhatItStartedEndsWithIt) {
  // The one that it leaves behind holds its stderr open, and nobody waits for that.
  const auto start = std::chrono::steady_clock::now();
  const ChildEnd end = run("sleep 100 & echo $! >&2; exit 0");
  EXPECT_LT(std::chrono::steady_clock::now() - start, std::chrono::seconds(60));
  EXPECT_EQ(end.how, How::exited);
  const auto left = static_cast<pid_t>(std::stol(end.words));
  bool gone = false;
  for (int waits = 0; waits < 3000 && !gone; ++waits) {
    std::ifstream status("/proc/" + std::to_string(left) + "/stat");
    std::string number, name, state;
    gone = !(status >> number >> name >> state) || state == "Z";
    if (!gone) std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  EXPECT_TRUE(gone);
}

double seconds_of_children() {
  rusage usage{};
  ::getrusage(RUSAGE_CHILDREN, &usage);
  return static_cast<double>(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec);
}

TEST(Child, ProcessorTimeIsLimitedEvenWhereTheClockIsNot) {
  ChildLimits limits;
  limits.processor_time = std::chrono::seconds(1);
  limits.time = std::chrono::seconds(1000);
  const double before = seconds_of_children();
  EXPECT_EQ(run("while :; do :; done", limits).how, How::out_of_time);
  // One that will not hear the first word of the kernel is ended by the second.
  EXPECT_EQ(run("trap '' XCPU; while :; do :; done", limits).how, How::killed);
  EXPECT_LT(seconds_of_children() - before, 8.0);
}

TEST(Child, FilesThatItWritesAreLimited) {
  const test::TempFolder folder;
  const std::string file = (folder.path() / "large").string();
  ChildLimits limits;
  limits.file_bytes = 1U << 16U;
  EXPECT_NE(run("head -c 1000000 /dev/zero >" + file, limits).exit_code, 0);
  EXPECT_EQ(std::filesystem::file_size(file), limits.file_bytes);
}

TEST(Child, ItHasFewFilesOpenNoCoreAndNoNewRights) {
  ChildLimits limits;
  limits.open_files = 40;
  const ChildEnd end = run("ulimit -n >&2; ulimit -c >&2; grep NoNewPrivs /proc/self/status >&2", limits);
  EXPECT_EQ(end.words, "40\n0\nNoNewPrivs:\t1");
}

TEST(Child, ItHearsSignalsThoughItsCallerDoesNot) {
  sigset_t blocked, before;
  ::sigemptyset(&blocked);
  ::sigaddset(&blocked, SIGTERM);
  ::pthread_sigmask(SIG_BLOCK, &blocked, &before);
  std::atomic<bool> listens{false};
  const ChildEnd end = run_child(
      {{"/bin/sh", "-c", "trap 'exit 7' TERM; echo ready >&3; while :; do sleep 0.1; done"}}, {},
      [&](const std::string&) { listens = true; }, [&] { return listens.load(); });
  ::pthread_sigmask(SIG_SETMASK, &before, nullptr);
  EXPECT_EQ(end.how, How::cancelled);
  EXPECT_EQ(end.exit_code, 7) << "made to, not asked";
}

TEST(ChildLimits, HalfOfWhatIsFreeIsSharedByThoseThatRunAtOnce) {
  const std::string info = "MemTotal:       65856704 kB\nMemFree:          111111 kB\nMemAvailable:   33554432 kB\n";
  EXPECT_EQ(limits_by(info, 1).memory_bytes, 16ULL << 30U);
  EXPECT_EQ(limits_by(info, 4).memory_bytes, 4ULL << 30U);
  EXPECT_EQ(limits_by(info, 0).memory_bytes, 16ULL << 30U);
}

TEST(ChildLimits, OnASmallMachineEachHasTheLeastThatItNeeds) {
  EXPECT_EQ(limits_by("MemAvailable: 300000 kB\n", 2).memory_bytes, kLeastChildMemory);
  EXPECT_EQ(limits_by("MemAvailable: 0 kB\n", 2).memory_bytes, kLeastChildMemory);
}

TEST(ChildLimits, AMachineThatDoesNotSayWhatIsFreeGetsTheUsual) {
  for (const char* info : {"", "MemFree: 5 kB\n", "MemAvailable: much\n", "MemAvailable: 99999999999999999999 kB"})
    EXPECT_EQ(limits_by(info, 2).memory_bytes, ChildLimits().memory_bytes) << info;
}

TEST(ChildLimits, ThisMachineSaysWhatIsFree) {
  const std::size_t one = limits_of_this_machine(1).memory_bytes, many = limits_of_this_machine(1000).memory_bytes;
  EXPECT_GE(one, kLeastChildMemory);
  EXPECT_EQ(many, kLeastChildMemory);
}

TEST(Child, WhatItCannotHaveItDoesNotGet) {
  ChildLimits limits;
  limits.memory_bytes = 200U << 20U;
  const ChildEnd end = run_child(
      {{"/usr/bin/env", "python3", "-c", "x = bytearray(1 << 30)"}}, limits, [](const std::string&) {},
      [] { return false; });
  EXPECT_NE(end.exit_code, 0);
  EXPECT_NE(end.words.find("MemoryError"), std::string::npos) << end.words;
}

TEST(Child, CrashesAndChatterDoNoHarm) {
  EXPECT_EQ(run("kill -SEGV $$").how, How::killed);
  const ChildEnd end = run("yes abcdefgh | head -c 3000000 >&2");
  EXPECT_EQ(end.exit_code, 0);
  EXPECT_LE(end.words.size(), 4000U);
  EXPECT_EQ(run_child(
                {{"/no/such/program"}}, {}, [](const std::string&) {}, [] { return false; })
                .exit_code,
            127);
}

TEST(Child, NoneIsLeftBehind) {
  (void)run("exit 0");
  EXPECT_EQ(::waitpid(-1, nullptr, WNOHANG), -1);
  EXPECT_EQ(errno, ECHILD);
}

}  // namespace
}  // namespace canewise
