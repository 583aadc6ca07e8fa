// Single depth images: what is one, and what is not.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <png.h>

#include "fixtures/write_surface.h"
#include "scanproc/images/grey_image.h"
#include "scanproc/scan/read_scan.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;

DepthImage some_image(std::size_t columns = 37, std::size_t rows = 21) {
  DepthImage image;
  image.columns = columns;
  image.rows = rows;
  for (std::size_t i = 0; i < columns * rows; ++i)
    image.values.push_back(static_cast<std::uint16_t>(i * 7919 % 65536));  // Both bytes, each their own.
  image.values[0] = 65535;
  image.values[1] = 0;
  image.values[2] = 0x1234;
  return image;
}

DepthImage image_of(const std::string& bytes, std::size_t columns = 37, std::size_t rows = 21) {
  return test::with_file(bytes, [&](const ScanFile& file) { return read_depth_image(file, columns, rows); });
}
std::string image_refusal(const std::string& bytes, std::size_t columns = 37, std::size_t rows = 21) {
  return test::refusal(bytes, [&](const ScanFile& file) { return read_depth_image(file, columns, rows); });
}

/// A PNG of any kind, its samples all nought.
std::string png_of(int bits, int colour, int interlace = PNG_INTERLACE_NONE) {
  std::string bytes;
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
  png_infop info = png_create_info_struct(png);
  png_set_write_fn(
      png, &bytes,
      [](png_structp p, png_bytep data, std::size_t size) {
        static_cast<std::string*>(png_get_io_ptr(p))->append(reinterpret_cast<char*>(data), size);
      },
      nullptr);
  png_set_IHDR(png, info, 37, 21, bits, colour, interlace, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  if (colour == PNG_COLOR_TYPE_PALETTE) {
    const png_color black{0, 0, 0};
    png_set_PLTE(png, info, &black, 1);
  }
  png_write_info(png, info);
  const int passes = png_set_interlace_handling(png);
  const std::vector<png_byte> row(37 * 8, 0);
  for (int i = 0; i < 21 * passes; ++i) png_write_row(png, row.data());
  png_write_end(png, info);
  png_destroy_write_struct(&png, &info);
  return bytes;
}

TEST(DepthImages, PngAndTiffOfSixteenBitsGiveTheirValues) {
  const DepthImage truth = some_image();
  for (const auto& bytes : {fixtures::png_16_bit(truth), fixtures::tiff_16_bit(truth)}) {
    const DepthImage image = image_of(bytes);
    EXPECT_EQ(image.columns, 37U);
    EXPECT_EQ(image.rows, 21U);
    EXPECT_EQ(image.values, truth.values);
  }
}

TEST(DepthImages, PicturesOfDepthAreNoDepths) {
  EXPECT_EQ(image_of(png_of(16, PNG_COLOR_TYPE_GRAY)).values, std::vector<std::uint16_t>(37 * 21, 0));
  EXPECT_THAT(image_refusal(png_of(8, PNG_COLOR_TYPE_GRAY)), HasSubstr("16 bits"));
  EXPECT_THAT(image_refusal(png_of(1, PNG_COLOR_TYPE_GRAY)), HasSubstr("16 bits"));
  EXPECT_THAT(image_refusal(png_of(8, PNG_COLOR_TYPE_RGB)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(16, PNG_COLOR_TYPE_RGB)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(16, PNG_COLOR_TYPE_GRAY_ALPHA)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(8, PNG_COLOR_TYPE_PALETTE)), HasSubstr("no plain grey"));
  EXPECT_THAT(image_refusal(png_of(16, PNG_COLOR_TYPE_GRAY, PNG_INTERLACE_ADAM7)), HasSubstr("no plain grey"));
  HeightMap heights;
  heights.columns = 37;
  heights.rows = 21;
  heights.z_mm.assign(37 * 21, 1.0);
  EXPECT_THAT(image_refusal(fixtures::tiff_floats(heights, 1.0, 0.1)), HasSubstr("16-bit whole numbers"));
  EXPECT_THAT(image_refusal("P5\n37 21\n65535\n"), HasSubstr("neither PNG nor TIFF"));
}

TEST(DepthImages, TheSizeMustBeTheCamerasOwn) {
  for (const auto& bytes : {fixtures::png_16_bit(some_image()), fixtures::tiff_16_bit(some_image())}) {
    EXPECT_THAT(image_refusal(bytes, 38, 21), AllOf(HasSubstr("is 37 by 21 pixels"), HasSubstr("says 38 by 21")));
    EXPECT_THAT(image_refusal(bytes, 37, 20), HasSubstr("says 37 by 20"));
    EXPECT_THAT(image_refusal(bytes, 21, 37), HasSubstr("says 21 by 37"));
  }
}

TEST(DepthImages, DamagedOnesAreRefused) {
  const std::string png = fixtures::png_16_bit(some_image()), tiff = fixtures::tiff_16_bit(some_image());
  for (const std::size_t left : {std::size_t{8}, std::size_t{20}, std::size_t{60}, png.size() / 2})
    EXPECT_THAT(image_refusal(png.substr(0, left)), HasSubstr("damaged PNG")) << left;
  std::string flipped = png;
  flipped[png.size() / 2] = static_cast<char>(flipped[png.size() / 2] ^ 1);
  EXPECT_THAT(image_refusal(flipped), HasSubstr("damaged PNG"));
  for (const std::size_t left : {std::size_t{8}, tiff.size() / 2})
    EXPECT_THAT(image_refusal(tiff.substr(0, left)), HasSubstr("damaged")) << left;
}

TEST(DepthImages, ASizeThatTheFileCannotHoldIsRefusedBeforeAnythingIsAllocated) {
  const std::string png = fixtures::png_16_bit(some_image());
  EXPECT_LT(test::peak_growth([&] { EXPECT_THAT(image_refusal(png, 20000, 20000), HasSubstr("far too small")); }),
            test::kLittleMemory);
}

TEST(DepthImages, AsAScanAPictureAsksForItsFolder) {
  EXPECT_THAT(test::refusal(fixtures::png_16_bit(some_image()), [](const ScanFile& file) { return read_scan(file); }),
              HasSubstr("folder"));
}

}  // namespace
}  // namespace canewise
