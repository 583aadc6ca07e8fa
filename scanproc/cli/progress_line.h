#pragma once

#include "scanproc/core/progress.h"
#include "scanproc/words/speech.h"

namespace canewise {

enum class ProgressFor {
  people,    ///< One line of the terminal, and nothing where standard error is not a terminal.
  programs,  ///< {"stage":{"id":"stage.read"},"fraction":0.250} on standard error, a line a stage.
};

/// Shows stages. The terminal's line is wiped at the end of its life.
class ProgressLine {
 public:
  /// `what` the stages belong to; empty if that goes without saying.
  explicit ProgressLine(Message what, ProgressFor reader, const Speech& speech);
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  [[nodiscard]] Progress callback();

 private:
  Message what_;
  ProgressFor reader_;
  Speech speech_;
  bool on_terminal_;
};

}  // namespace canewise
