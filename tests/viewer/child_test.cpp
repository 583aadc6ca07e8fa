// A child may hang, swell, crash or chatter: its caller lives on.
#include "viewer/server/child.h"

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <thread>

namespace canewise {
namespace {

using How = ChildEnd::How;

ChildEnd run(
    const std::string& script, ChildLimits limits = {}, const std::function<bool()>& cancelled = [] { return false; }) {
  return run_child(
      {"/bin/sh", "-c", script}, limits, [](const std::string& line) { return line.starts_with("#"); }, cancelled);
}

TEST(Child, ItsWordsAndItsEndAreTold) {
  const ChildEnd end = run("echo out; echo '#25' >&2; echo first >&2; printf second >&2; exit 4");
  EXPECT_EQ(end.how, How::exited);
  EXPECT_EQ(end.exit_code, 4);
  EXPECT_EQ(end.words, "first\nsecond");
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

TEST(Child, WhatItCannotHaveItDoesNotGet) {
  ChildLimits limits;
  limits.memory_bytes = 200U << 20U;
  const ChildEnd end = run_child(
      {"/usr/bin/env", "python3", "-c", "x = bytearray(1 << 30)"}, limits, [](const std::string&) { return false; },
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
                {"/no/such/program"}, {}, [](const std::string&) { return false; }, [] { return false; })
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
