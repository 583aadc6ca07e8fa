#include "scanproc/cli/interrupt.h"

#include <csignal>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

// The only thing that a signal handler may touch.
volatile std::sig_atomic_t caught = 0;

}  // namespace

void catch_interrupts() {
  const auto note = [](int) { caught = 1; };
  for (const int signal : {SIGINT, SIGTERM}) std::signal(signal, note);
  // What was started to outlive its terminal (nohup) does.
  if (std::signal(SIGHUP, note) == SIG_IGN) std::signal(SIGHUP, SIG_IGN);
}

bool interrupted() { return caught != 0; }

void stop_if_interrupted() {
  if (interrupted()) throw Cancelled();
}

}  // namespace canewise
