#include "scanproc/report/map_files.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/bytes/zip_archive.h"
#include "scanproc/heights/sdf.h"
#include "scanproc/heights/x3p.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using testing::HasSubstr;

/// Three rows along the reed, two columns across; one cell was not measured.
Result small_map() {
  Result result = test::plain_result();
  result.measured_at = "2026-11-25T10:00:00Z";
  result.map.grid = {0.25, 3, 2};
  result.map.thickness_mm.resize(3, 2);
  result.map.thickness_mm << 0.1F, 0.2F,  //
      0.3F, std::nanf(""),                //
      0.5F, 0.6F;
  return result;
}

void expect_the_cells(const HeightMap& heights, const Field& thickness_mm) {
  ASSERT_EQ(heights.columns, 3U) << "x runs along the reed";
  ASSERT_EQ(heights.rows, 2U);
  EXPECT_NEAR(heights.step_x_mm, 0.25, 1e-12);
  EXPECT_NEAR(heights.step_y_mm, 0.25, 1e-12);
  for (Eigen::Index c = 0; c < 2; ++c) {
    for (Eigen::Index r = 0; r < 3; ++r) {
      const auto height = static_cast<float>(heights.z_mm.at(static_cast<std::size_t>(3 * c + r)));
      if (r == 1 && c == 1) {
        EXPECT_TRUE(std::isnan(height)) << "not measured stays empty";
      } else {
        EXPECT_EQ(height, thickness_mm(r, c)) << r << ", " << c;
      }
    }
  }
}

TEST(MapFiles, AMapIsAHeightMapFromTheTipAndToTheRight) {
  const HeightMap heights = height_map_of(small_map().map);
  expect_the_cells(heights, small_map().map.thickness_mm);
  EXPECT_EQ(heights.origin_x_mm, 0.125) << "the first cell's middle";
  EXPECT_EQ(heights.origin_y_mm, -0.125) << "the left one's";
}

TEST(MapFiles, AnX3pFileReadsBackAndSaysWhatItIs) {
  const OutputFile file = map_file(small_map(), MapFormat::x3p);
  EXPECT_EQ(file.name, "thickness.x3p");
  const HeightMap back = test::with_file(file.bytes, read_x3p_map);
  expect_the_cells(back, small_map().map.thickness_mm);
  EXPECT_NEAR(back.origin_x_mm, 0.125, 1e-12);
  EXPECT_NEAR(back.origin_y_mm, -0.125, 1e-12);
  const std::string xml =
      test::with_file(file.bytes, [](const ScanFile& f) { return ZipArchive(f).read_member("main.xml", 1 << 16); });
  EXPECT_THAT(xml, HasSubstr("<Date>2026-11-25T10:00:00Z</Date>"));
  EXPECT_THAT(xml, HasSubstr("x from the tip, y to the right. Both sides agree."));
}

TEST(MapFiles, AnX3pFileSpeaksTheReadersLanguage) {
  const auto comment = [](Language language) {
    const OutputFile file = map_file(small_map(), MapFormat::x3p, {language});
    const std::string xml =
        test::with_file(file.bytes, [](const ScanFile& f) { return ZipArchive(f).read_member("main.xml", 1 << 16); });
    const std::size_t begin = xml.find("<Comment>");
    return xml.substr(begin, xml.find("</Comment>") - begin);
  };
  EXPECT_NE(comment(Language::german), comment(Language::english));
}

TEST(MapFiles, AnSdfFileReadsBack) {
  const OutputFile file = map_file(small_map(), MapFormat::sdf);
  EXPECT_EQ(file.name, "thickness.sdf");
  expect_the_cells(test::with_file(file.bytes, read_sdf), small_map().map.thickness_mm);
}

}  // namespace
}  // namespace canewise
