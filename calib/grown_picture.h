#pragma once

#include <cmath>
#include <functional>
#include <string>
#include <utility>

#include "scanproc/drawing/canvas.h"

namespace canewise {

/// A picture that grows with its words: `draw` draws it and returns how high it is.
[[nodiscard]] inline std::string grown_png(int width_px, const std::function<double(Canvas&)>& draw) {
  Canvas scratch = Canvas::png(1, 1);
  Canvas canvas = Canvas::png(width_px, static_cast<int>(std::ceil(draw(scratch))));
  draw(canvas);
  return std::move(canvas).finish();
}

}  // namespace canewise
