#pragma once

#include <string>
#include <vector>

#include "scanproc/pipeline/result.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// A reed of a box as the picture shows it.
struct PicturedReed {
  std::string label;
  Message shelf;
  Result result;
};

/// box.png: how much thicker each place of every reed is than its partner on the other side, all on one scale, so that
/// a reed that is hardly uneven looks hardly uneven.
[[nodiscard]] std::string box_png(const Message& title, const std::vector<PicturedReed>& reeds, const Speech& speech);

}  // namespace canewise
