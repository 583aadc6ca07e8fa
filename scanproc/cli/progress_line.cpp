#include "scanproc/cli/progress_line.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "scanproc/cli/interrupt.h"
#include "scanproc/words/message_json.h"

namespace canewise {

using nlohmann::json;

ProgressLine::ProgressLine(Message what, ProgressFor reader, const Speech& speech)
    : what_(std::move(what)),
      reader_(reader),
      speech_(speech),
      on_terminal_(reader == ProgressFor::people && ::isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (on_terminal_) std::fputs("\r\x1b[K", stderr);
}

Progress ProgressLine::callback() {
  return [this](const Message& stage, double fraction) {
    stop_if_interrupted();
    const bool for_programs = reader_ == ProgressFor::programs;
    if (!for_programs && !on_terminal_) return;
    const Message whole =
        what_.empty() ? stage : Message{"cli.stage_of", {{"what", part(what_)}, {"stage", part(stage)}}};
    if (for_programs) {
      const std::string told = json(whole).dump(-1, ' ', false, json::error_handler_t::replace);
      std::fputs(fmt::format("{{\"stage\":{},\"fraction\":{:.3f}}}\n", told, fraction).c_str(), stderr);
    } else {
      std::fputs(fmt::format("\r\x1b[K{:3.0f} %  {}", 100.0 * fraction, phrase(whole, speech_)).c_str(), stderr);
    }
    std::fflush(stderr);
  };
}

}  // namespace canewise
