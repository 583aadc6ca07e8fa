#include "calib/usable_pictures.h"

namespace canewise {

Message other_size(const Camera& camera, std::size_t width, std::size_t height) {
  return {"calib.other_size",
          {{"width", number(static_cast<double>(width))},
           {"height", number(static_cast<double>(height))},
           {"camera_width", number(static_cast<double>(camera.width))},
           {"camera_height", number(static_cast<double>(camera.height))}}};
}

}  // namespace canewise
