#pragma once

#include <vector>

#include "scanproc/rig/camera.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Size in pixels as a camera has it.
[[nodiscard]] inline bool has_size(const Camera& camera, std::size_t width, std::size_t height) {
  return width == camera.width && height == camera.height;
}

/// Why a picture of this size cannot come from the camera.
[[nodiscard]] Message other_size(const Camera& camera, std::size_t width, std::size_t height);

/// Names and reasons of all that were left out, for a refusal. `why` is the member that says it; it is empty for what
/// was used.
template <typename Told>
[[nodiscard]] Messages reasons_of(const std::vector<Told>& all, Message Told::*why) {
  Messages reasons;
  for (const Told& told : all) {
    if (!(told.*why).empty())
      reasons.push_back({"board.reason", {{"name", text(told.name)}, {"advice", part(told.*why)}}});
  }
  return reasons;
}

}  // namespace canewise
