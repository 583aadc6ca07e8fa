#pragma once

#include <optional>
#include <string>

#include "scanproc/core/progress.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// Where lines for programs go, as an open descriptor: {"stage":{"id":"stage.read"},"fraction":0.250}, a line a stage.
/// Nothing: the stages are for people, in one line of the terminal, and nowhere where standard error is no terminal.
using ProgramLines = std::optional<int>;

/// One line of JSON, whole; a reader that went away misses it.
void write_line(int descriptor, const std::string& line);

/// Shows stages. The terminal's line is wiped at the end of its life.
class ProgressLine {
 public:
  /// `what` the stages belong to; empty if that goes without saying.
  ProgressLine(Message what, ProgramLines programs, const Speech& speech);
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  [[nodiscard]] Progress callback();

 private:
  Message what_;
  ProgramLines programs_;
  Speech speech_;
  bool on_terminal_;
};

}  // namespace canewise
