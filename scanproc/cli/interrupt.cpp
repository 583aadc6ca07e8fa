#include "scanproc/cli/interrupt.h"

#include <csignal>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

// The only thing that a signal handler may touch.
volatile std::sig_atomic_t caught = 0;

}  // namespace

void catch_interrupts() {
  for (const int signal : {SIGINT, SIGTERM}) std::signal(signal, [](int) { caught = 1; });
}

bool interrupted() { return caught != 0; }

void stop_if_interrupted() {
  if (interrupted()) throw Cancelled();
}

}  // namespace canewise
