#pragma once

#include <string>

namespace canewise {

/// PNG of an image of 32-bit pixels with blue in the lowest byte, as Cairo keeps them. libpng is called directly
/// because its fast setting halves the time of a picture and Cairo's own writer has no setting.
[[nodiscard]] std::string png_from_rgb24(const unsigned char* pixels, int width, int height, int stride);

}  // namespace canewise
