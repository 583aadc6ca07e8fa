#include "scanproc/drawing/png_bytes.h"

#include <gtest/gtest.h>
#include <png.h>

#include <array>
#include <cstddef>
#include <vector>

namespace canewise {
namespace {

/// Red, green and blue of each pixel, row after row, by libpng's own reader.
std::vector<int> decoded(const std::string& bytes, png_uint_32 width, png_uint_32 height) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  EXPECT_EQ(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()), 1);
  EXPECT_EQ(image.width, width);
  EXPECT_EQ(image.height, height);
  EXPECT_EQ(image.format & PNG_FORMAT_FLAG_ALPHA, 0U) << "a picture has no holes";
  image.format = PNG_FORMAT_RGB;
  std::vector<png_byte> rgb(PNG_IMAGE_SIZE(image));
  EXPECT_EQ(png_image_finish_read(&image, nullptr, rgb.data(), 0, nullptr), 1);
  return {rgb.begin(), rgb.end()};
}

TEST(PngBytes, EveryPixelKeepsItsPlaceAndItsColours) {
  constexpr int width = 3, height = 2, stride = 16;  // Four bytes a row beyond the pixels.
  std::array<unsigned char, stride * height> pixels{};
  pixels.fill(0xEE);  // The fourth byte of a pixel and the bytes beyond a row are no colour.
  std::vector<int> expected;
  for (std::size_t row = 0; row < height; ++row) {
    for (std::size_t column = 0; column < width; ++column) {
      const auto red = static_cast<unsigned char>(10 + 50 * column + row), green = static_cast<unsigned char>(red + 90),
                 blue = static_cast<unsigned char>(200 - 30 * row - column);
      unsigned char* pixel = pixels.data() + row * stride + 4 * column;
      pixel[0] = blue, pixel[1] = green, pixel[2] = red;
      expected.insert(expected.end(), {red, green, blue});
    }
  }
  EXPECT_EQ(decoded(png_from_rgb24(pixels.data(), width, height, stride), width, height), expected);
}

TEST(PngBytes, ASinglePixelIsAPictureToo) {
  const std::array<unsigned char, 4> pixel{1, 2, 3, 0};
  EXPECT_EQ(decoded(png_from_rgb24(pixel.data(), 1, 1, 4), 1, 1), (std::vector<int>{3, 2, 1}));
}

}  // namespace
}  // namespace canewise
