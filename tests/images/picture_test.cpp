// Formats, ranges and damaged files: tests/images/pictures_test.cpp.
#include "scanproc/images/picture.h"

#include <gtest/gtest.h>
#include <png.h>
#include <tiffio.h>

#include <array>
#include <cstdint>
#include <string>

#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

/// Two pixels by one, interleaved.
std::string png_of(png_uint_32 format, const std::vector<png_byte>& values) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = 2, image.height = 1, image.format = format;
  png_alloc_size_t size = PNG_IMAGE_PNG_SIZE_MAX(image);
  std::string bytes(size, '\0');
  EXPECT_EQ(png_image_write_to_memory(&image, bytes.data(), &size, 0, values.data(), 0, nullptr), 1);
  bytes.resize(size);
  return bytes;
}

/// A TIFF of two pixels by one with so many samples a pixel.
GreyPicture from_tiff(int samples, int bits, int planar, std::vector<std::uint8_t> values) {
  const test::TempFolder folder;
  const auto path = folder.path() / "a.tif";
  TIFF* tiff = TIFFOpen(path.c_str(), "w");
  TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, 2U);
  TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, 1U);
  TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, bits);
  TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, samples);
  TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, samples > 2 ? PHOTOMETRIC_RGB : PHOTOMETRIC_MINISBLACK);
  TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, planar);
  if (samples % 2 == 0) {
    const std::uint16_t opacity = EXTRASAMPLE_UNASSALPHA;
    TIFFSetField(tiff, TIFFTAG_EXTRASAMPLES, 1, &opacity);
  }
  const int planes = planar == PLANARCONFIG_SEPARATE ? samples : 1;
  for (int plane = 0; plane < planes; ++plane)
    TIFFWriteScanline(tiff, values.data(), 0, static_cast<std::uint16_t>(plane));
  TIFFClose(tiff);
  return read_picture(ScanFile(path));
}

using Values = std::vector<std::uint16_t>;

TEST(Picture, PixelsAreFoundByColumnAndRow) {
  const GreyPicture picture{3, 2, 255, {0, 1, 2, 10, 11, 12}};
  EXPECT_EQ(picture.at(2, 0), 2);
  EXPECT_EQ(picture.at(1, 1), 11);
}

TEST(Picture, OfColoursTheBrightestChannelCountsWhicheverItIs) {
  const auto read = [](const std::string& bytes) { return test::with_file(bytes, read_picture).values; };
  EXPECT_EQ(read(png_of(PNG_FORMAT_RGB, {200, 3, 4, 5, 210, 6})), (Values{200, 210}));
  EXPECT_EQ(read(png_of(PNG_FORMAT_RGB, {7, 8, 190, 9, 9, 9})), (Values{190, 9}));
  EXPECT_EQ(from_tiff(3, 8, PLANARCONFIG_CONTIG, {200, 3, 4, 5, 6, 210}).values, (Values{200, 210}));
  const std::array<std::uint16_t, 8> interleaved{1, 300, 2, 9, 40, 5, 6, 9};
  Values brightest(2);
  brightest_of(interleaved.data(), 2, 4, brightest.data());
  EXPECT_EQ(brightest, (Values{300, 40}));
}

TEST(Picture, OpacityIsNoBrightness) {
  const auto read = [](const std::string& bytes) { return test::with_file(bytes, read_picture).values; };
  EXPECT_EQ(read(png_of(PNG_FORMAT_RGBA, {20, 3, 4, 255, 5, 21, 6, 255})), (Values{20, 21}));
  EXPECT_EQ(read(png_of(PNG_FORMAT_GA, {30, 255, 31, 255})), (Values{30, 31}));
  EXPECT_EQ(from_tiff(4, 8, PLANARCONFIG_CONTIG, {20, 3, 4, 255, 5, 21, 6, 255}).values, (Values{20, 21}));
  EXPECT_EQ(from_tiff(2, 8, PLANARCONFIG_CONTIG, {30, 255, 31, 255}).values, (Values{30, 31}));
}

TEST(Picture, ATiffInPlanesOrOfOtherBitsIsNoPhotograph) {
  EXPECT_EQ(test::refusal_of([] {
              return from_tiff(3, 8, PLANARCONFIG_SEPARATE, {1, 2, 3, 4, 5, 6});
            }).id,
            "tiff.no_photograph");
  EXPECT_EQ(test::refusal_of([] { return from_tiff(1, 32, PLANARCONFIG_CONTIG, std::vector<std::uint8_t>(8)); }).id,
            "tiff.no_photograph");
}

TEST(Picture, ASizeForWhichTheFileIsFarTooSmallIsRefused) {
  const test::TempFolder folder;
  const ScanFile small(folder.file("a.png", std::string(1000, 'x')));
  // 24 MiB are free, and each byte of the file may stand for 48 of the picture.
  constexpr std::size_t pixels = ((24U << 20U) + 48'000) / 2;
  EXPECT_NO_THROW(check_picture_size(small, 1000, pixels / 1000));
  EXPECT_EQ(test::refusal_of([&] { check_picture_size(small, 1000, pixels / 1000 + 1); }).id, "photo.too_packed");
  EXPECT_NO_THROW(check_picture_size(small, 1000, pixels / 4000, 8));
  const test::Refusal refusal = test::refusal_of([&] { check_picture_size(small, 1000, pixels / 4000 + 1, 8); });
  EXPECT_EQ(refusal.id, "photo.too_packed");
  EXPECT_EQ(refusal.number("columns"), 1000.0);
  EXPECT_EQ(refusal.file, small.path().string());
}

TEST(Picture, ASizeThatNoPhotographHasIsRefusedWithTheFile) {
  const test::TempFolder folder;
  const ScanFile file(folder.file("a.png", std::string(4'000'000, 'x')));
  EXPECT_NO_THROW(check_picture_size(file, 10000, 10000)) << "a hundred million pixels";
  EXPECT_NO_THROW(check_picture_size(file, 30000, 3333));
  EXPECT_NO_THROW(check_picture_size(file, 1, 1));
  for (const auto& [columns, rows] : {std::pair<std::size_t, std::size_t>{10000, 10001},
                                      {30001, 1},
                                      {1, 30001},
                                      {std::size_t{1} << 40U, std::size_t{1} << 40U}}) {
    const test::Refusal refusal = test::refusal_of([&, c = columns, r = rows] { check_picture_size(file, c, r); });
    EXPECT_EQ(refusal.id, "photo.too_large");
    EXPECT_EQ(refusal.number("columns"), static_cast<double>(columns));
    EXPECT_EQ(refusal.number("rows"), static_cast<double>(rows));
    EXPECT_EQ(refusal.file, file.path().string());
  }
  EXPECT_EQ(test::refusal_of([&] { check_picture_size(file, 0, 5); }).id, "photo.no_pixels");
  EXPECT_EQ(test::refusal_of([&] { check_picture_size(file, 5, 0); }).id, "photo.no_pixels");
}

TEST(Picture, AJpegIsToldByItsFirstBytes) {
  EXPECT_TRUE(looks_like_jpeg("\xFF\xD8\xFF\xE0"));
  EXPECT_FALSE(looks_like_jpeg("\xFF\xD8"));
  EXPECT_FALSE(looks_like_jpeg("JFIF"));
}

}  // namespace
}  // namespace canewise
