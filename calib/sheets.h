#pragma once

#include <string>
#include <vector>

#include "calib/board.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// A board at 1:1 on A4 with a ruler to check the printer, and what to do with it; PDF. Throws UsageError for a board
/// that the page cannot hold.
[[nodiscard]] std::string board_pdf(const Board& board, const Speech& speech);

/// Two pages: a step gauge and a reference plate from cheap common parts, with their limits; PDF.
[[nodiscard]] std::string gauge_pdf(const Speech& speech);

}  // namespace canewise
