#include "scanproc/cli/progress_line.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>

#include "scanproc/cli/interrupt.h"

namespace canewise {

ProgressLine::ProgressLine(std::string what) : what_(std::move(what)), on_terminal_(::isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (on_terminal_) std::fputs("\r\x1b[K", stderr);
}

Progress ProgressLine::callback() {
  return [this](std::string_view stage, double fraction) {
    stop_if_interrupted();
    if (!on_terminal_) return;
    std::fputs(fmt::format("\r\x1b[K{:3.0f} %  {}{}", 100.0 * fraction, what_, stage).c_str(), stderr);
    std::fflush(stderr);
  };
}

}  // namespace canewise
