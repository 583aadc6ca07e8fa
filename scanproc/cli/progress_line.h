#pragma once

#include <string>

#include "scanproc/core/progress.h"

namespace canewise {

enum class ProgressFor {
  people,    ///< One line of the terminal, and nothing where standard error is not a terminal.
  programs,  ///< {"stage":"...","fraction":0.25} on standard error, a line a stage.
};

/// Shows stages. The terminal's line is wiped at the end of its life.
class ProgressLine {
 public:
  explicit ProgressLine(std::string what = {}, ProgressFor reader = ProgressFor::people);
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  [[nodiscard]] Progress callback();

 private:
  std::string what_;
  ProgressFor reader_;
  bool on_terminal_;
};

}  // namespace canewise
