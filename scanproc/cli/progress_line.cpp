#include "scanproc/cli/progress_line.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>

#include "scanproc/cli/interrupt.h"

namespace canewise {

ProgressLine::ProgressLine(std::string what, ProgressFor reader)
    : what_(std::move(what)),
      reader_(reader),
      on_terminal_(reader == ProgressFor::people && ::isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (on_terminal_) std::fputs("\r\x1b[K", stderr);
}

Progress ProgressLine::callback() {
  return [this](std::string_view stage, double fraction) {
    stop_if_interrupted();
    if (reader_ == ProgressFor::programs)
      std::fputs(fmt::format("{{\"stage\":\"{}{}\",\"fraction\":{:.3f}}}\n", what_, stage, fraction).c_str(), stderr);
    if (!on_terminal_) return;
    std::fputs(fmt::format("\r\x1b[K{:3.0f} %  {}{}", 100.0 * fraction, what_, stage).c_str(), stderr);
    std::fflush(stderr);
  };
}

}  // namespace canewise
