#include "scanproc/cli/progress_line.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "scanproc/cli/interrupt.h"
#include "scanproc/words/message_json.h"

namespace canewise {

using nlohmann::json;

void write_line(int descriptor, const std::string& line) {
  const std::string whole = line + "\n";
  for (std::size_t done = 0; done < whole.size();) {
    const ssize_t wrote = ::write(descriptor, whole.data() + done, whole.size() - done);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0) return;
    done += static_cast<std::size_t>(wrote);
  }
}

ProgressLine::ProgressLine(Message what, ProgramLines programs, const Speech& speech)
    : what_(std::move(what)),
      programs_(programs),
      speech_(speech),
      on_terminal_(!programs && ::isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (on_terminal_) std::fputs("\r\x1b[K", stderr);
}

Progress ProgressLine::callback() {
  return [this](const Message& stage, double fraction) {
    stop_if_interrupted();
    if (!programs_ && !on_terminal_) return;
    const Message whole =
        what_.empty() ? stage : Message{"cli.stage_of", {{"what", part(what_)}, {"stage", part(stage)}}};
    if (programs_) {
      const std::string told = json(whole).dump(-1, ' ', false, json::error_handler_t::replace);
      return write_line(*programs_, fmt::format("{{\"stage\":{},\"fraction\":{:.3f}}}", told, fraction));
    }
    std::fputs(fmt::format("\r\x1b[K{:3.0f} %  {}", 100.0 * fraction, phrase(whole, speech_)).c_str(), stderr);
    std::fflush(stderr);
  };
}

}  // namespace canewise
