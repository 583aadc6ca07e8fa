// Photographs and frames: every kind that cameras write, and what is no picture.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "fixtures/virtual_rig.h"
#include "fixtures/write_surface.h"
#include "scanproc/core/error.h"
#include "scanproc/images/picture.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using ::testing::HasSubstr;
using ::testing::ThrowsMessage;

GreyPicture ramp() {
  GreyPicture picture;
  picture.columns = 21, picture.rows = 9;
  for (std::size_t i = 0; i < 21 * 9; ++i) picture.values.push_back(static_cast<std::uint16_t>((i * 7) % 256));
  return picture;
}

GreyPicture read(const std::string& bytes) {
  const test::TempFolder folder;
  return read_picture(ScanFile(folder.file("picture.any", bytes)));
}

TEST(Pictures, GreyPngComesBackExactly) {
  const GreyPicture back = read(fixtures::png_8_bit(ramp()));
  EXPECT_EQ(back.columns, 21U);
  EXPECT_EQ(back.rows, 9U);
  EXPECT_EQ(back.full_scale, 255);
  EXPECT_EQ(back.values, ramp().values);
}

TEST(Pictures, SixteenBitsKeepTheirRange) {
  DepthImage image{3, 2, {0, 1, 256, 300, 40000, 65535}};
  for (const std::string& bytes : {fixtures::png_16_bit(image), fixtures::tiff_16_bit(image)}) {
    const GreyPicture back = read(bytes);
    EXPECT_EQ(back.full_scale, 65535);
    EXPECT_EQ(back.values, image.values);
  }
}

TEST(Pictures, JpegIsReadAndColourGivesItsBrightestChannel) {
  const GreyPicture grey = read(fixtures::jpeg_8_bit(ramp(), false));
  for (std::size_t i = 0; i < grey.values.size(); ++i) EXPECT_NEAR(grey.values[i], ramp().values[i], 2) << i;
  GreyPicture flat;
  flat.columns = 16, flat.rows = 16;
  flat.values.assign(256, 200);
  const GreyPicture colour = read(fixtures::jpeg_8_bit(flat, true));
  EXPECT_NEAR(colour.at(8, 8), 200, 3);
}

TEST(Pictures, WhatIsNoPictureSaysSo) {
  EXPECT_THAT([] { (void)read("hello"); }, ThrowsMessage<InputError>(HasSubstr("no PNG, TIFF or JPEG")));
  EXPECT_THROW((void)read(""), InputError);
  for (const std::string& whole :
       {fixtures::png_8_bit(ramp()), fixtures::jpeg_8_bit(ramp(), false), fixtures::jpeg_8_bit(ramp(), true)}) {
    // The last bytes of a JPEG only say that it ends; everything that is cut before loses rows.
    for (const double share : {0.2, 0.5, 0.8}) {
      const auto length = static_cast<std::size_t>(share * static_cast<double>(whole.size()));
      EXPECT_THROW((void)read(whole.substr(0, length)), InputError) << share << " of " << whole.size();
    }
  }
}

TEST(Pictures, ASizeThatNoCameraHasIsRefusedBeforeAnythingIsMade) {
  std::string bytes = fixtures::png_8_bit(ramp());
  bytes[16] = 0x00, bytes[17] = 0x0F, bytes[18] = 0x00,
  bytes[19] = 0x00;  // Width; the check sum no longer fits either.
  EXPECT_THROW((void)read(bytes), InputError);
  std::string jpeg = fixtures::jpeg_8_bit(ramp(), false);
  const auto frame = jpeg.find("\xFF\xC0");
  ASSERT_NE(frame, std::string::npos);
  jpeg[frame + 5] = static_cast<char>(0xF0), jpeg[frame + 6] = 0;
  jpeg[frame + 7] = static_cast<char>(0xF0), jpeg[frame + 8] = 0;
  EXPECT_THAT([&] { (void)read(jpeg); }, ThrowsMessage<InputError>(HasSubstr("61440 by 61440")));
}

}  // namespace
}  // namespace canewise
