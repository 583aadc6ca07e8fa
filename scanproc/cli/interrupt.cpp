#include "scanproc/cli/interrupt.h"

#include <csignal>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

// The only thing that a signal handler may touch.
volatile std::sig_atomic_t caught = 0;

}  // namespace

void catch_interrupts() {
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    // What was started to go on without a terminal (nohup) goes on.
    if (std::signal(signal, [](int) { caught = 1; }) == SIG_IGN) std::signal(signal, SIG_IGN);
  }
}

bool interrupted() { return caught != 0; }

void stop_if_interrupted() {
  if (interrupted()) throw Cancelled();
}

}  // namespace canewise
