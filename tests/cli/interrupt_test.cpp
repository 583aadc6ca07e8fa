// Ctrl-C and a polite kill end the work between two stages, not in the middle of one.
#include "scanproc/cli/interrupt.h"

#include <gtest/gtest.h>

#include <csignal>
#include <cstdlib>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

/// What a process of its own ends with: 7 if it goes on after the signal and stops when asked.
void go_on_after(int signal) {
  catch_interrupts();
  if (interrupted()) std::_Exit(1);
  stop_if_interrupted();
  std::raise(signal);
  if (!interrupted()) std::_Exit(2);
  try {
    stop_if_interrupted();
  } catch (const Cancelled&) {
    std::_Exit(7);
  }
  std::_Exit(3);
}

TEST(Interrupt, TheStageUnderWayEndsAndThenTheWorkStops) {
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) EXPECT_EXIT(go_on_after(signal), testing::ExitedWithCode(7), "");
}

TEST(Interrupt, WhatWasStartedToOutliveItsTerminalDoes) {
  const auto outlives = [] {
    std::signal(SIGHUP, SIG_IGN);  // As nohup does.
    catch_interrupts();
    std::raise(SIGHUP);
    std::_Exit(interrupted() ? 1 : 0);
  };
  EXPECT_EXIT(outlives(), testing::ExitedWithCode(0), "");
}

TEST(Interrupt, WithoutASignalNothingStops) {
  EXPECT_FALSE(interrupted());
  EXPECT_NO_THROW(stop_if_interrupted());
}

}  // namespace
}  // namespace canewise
