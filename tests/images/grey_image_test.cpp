// Depth frames that are none: tests/frames/depth_test.cpp; TIFF height maps: tests/heights/tiff_map_test.cpp.
#include "scanproc/images/grey_image.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

#include "fixtures/write_surface.h"
#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

TEST(GreyImage, FormatsAreToldByTheirFirstBytes) {
  EXPECT_TRUE(looks_like_png("\x89PNG\r\n\x1a\nmore"));
  EXPECT_FALSE(looks_like_png("\x89PNG\n\x1a\n")) << "line ends were converted on its way";
  EXPECT_FALSE(looks_like_png(""));
  // TIFF 6.0, section 2, and BigTIFF: either byte order, 42 or 43.
  for (const std::string& head :
       {std::string("II*\0", 4), std::string("MM\0*", 4), std::string("II+\0", 4), std::string("MM\0+", 4)})
    EXPECT_TRUE(looks_like_tiff(head + "more")) << head;
  for (const std::string& head : {std::string("II\0*", 4), std::string("MM*\0", 4), std::string("II"), std::string()})
    EXPECT_FALSE(looks_like_tiff(head)) << head;
}

TEST(GreyImage, DepthsAreThoseOfTheFileRowAfterRow) {
  const DepthImage truth{3, 2, {1, 256, 65535, 0, 300, 4660}};
  const auto read = [](const std::string& bytes) {
    return test::with_file(bytes, [](const ScanFile& file) { return read_depth_image(file, 3, 2); });
  };
  EXPECT_EQ(read(fixtures::png_16_bit(truth)).values, truth.values);
  EXPECT_EQ(read(fixtures::tiff_16_bit(truth)).values, truth.values);
  const DepthImage direct =
      test::with_file(fixtures::tiff_16_bit(truth), [](const ScanFile& file) { return read_tiff_depth(file, 3, 2); });
  EXPECT_EQ(direct.columns, 3U);
  EXPECT_EQ(direct.rows, 2U);
}

TEST(GreyImage, FloatingHeightsKeepTheirPlacesAndWhatIsNotFinite) {
  HeightMap map;
  map.columns = 3, map.rows = 2;
  map.z_mm = {0.5, -1.25, 2.0, std::numeric_limits<double>::quiet_NaN(), 3.0, 4.0};
  const FloatImage image = test::with_file(fixtures::tiff_floats(map, 1.0, 0.05), read_tiff_floats);
  ASSERT_EQ(image.columns, 3U);
  ASSERT_EQ(image.rows, 2U);
  EXPECT_EQ(test::differing_bits(image.values, map.z_mm), 0U);
  EXPECT_NEAR(image.pitch_x_mm.value(), 0.05, 1e-9);  // Stored as 200 pixels a centimetre.
  EXPECT_NEAR(image.pitch_y_mm.value(), 0.05, 1e-9);
  EXPECT_EQ(test::with_file(fixtures::tiff_floats(map, 1.0, 0.0), read_tiff_floats).pitch_x_mm, std::nullopt)
      << "a file that states no resolution has no pitch";
}

}  // namespace
}  // namespace canewise
