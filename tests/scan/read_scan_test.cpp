#include "scanproc/scan/read_scan.h"

#include <gtest/gtest.h>

#include <random>

#include "fixtures/write_cloud.h"
#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

Cloud some_points() {
  Cloud cloud;
  cloud.points_mm.resize(3, 5000);
  std::mt19937_64 random(1);
  std::uniform_real_distribution<double> uniform(-80.0, 80.0);
  for (Eigen::Index i = 0; i < cloud.points_mm.size(); ++i) cloud.points_mm(i) = uniform(random);
  return cloud;
}

struct Sample {
  std::string name;
  std::string bytes;
  double tolerance_mm;  ///< Text was written with six decimals; a float of 80 has a step of 7.6e-6.
};

class EveryFormat : public testing::TestWithParam<int> {
 protected:
  static std::vector<Sample> samples() {
    using namespace fixtures;
    const Cloud c = some_points();
    return {{"ply ascii", ply_ascii(c), 1e-6},
            {"ply little float", ply_binary(c), 5e-6},
            {"ply big float", ply_binary(c, true), 5e-6},
            {"ply little double", ply_binary(c, false, true), 0.0},
            {"ply big double", ply_binary(c, true, true), 0.0},
            {"pcd ascii", pcd_ascii(c), 1e-6},
            {"pcd binary", pcd_binary(c), 5e-6},
            {"pcd compressed", pcd_compressed(c), 5e-6},
            {"comma, header", text_points(c, ',', true), 1e-6},
            {"comma", text_points(c, ',', false), 1e-6},
            {"semicolon, header", text_points(c, ';', true), 1e-6},
            {"semicolon, decimal comma", text_points(c, ';', true, ','), 1e-6},
            {"tab", text_points(c, '\t', false), 1e-6},
            {"tab, decimal comma", text_points(c, '\t', false, ','), 1e-6},
            {"blank", text_points(c, ' ', false), 1e-6},
            {"blank, decimal comma", text_points(c, ' ', false, ','), 1e-6}};
  }
};

TEST_P(EveryFormat, GivesTheSamePoints) {
  const Sample sample = samples().at(static_cast<std::size_t>(GetParam()));
  SCOPED_TRACE(sample.name);
  const test::TempFolder folder;
  // The suffix is wrong on purpose: the content decides.
  const Cloud read = read_scan(ScanFile(folder.file("scan.stl", sample.bytes)));
  const Cloud truth = some_points();
  ASSERT_EQ(read.points_mm.cols(), truth.points_mm.cols());
  EXPECT_LE((read.points_mm - truth.points_mm).cwiseAbs().maxCoeff(), sample.tolerance_mm);
  EXPECT_EQ(read.dropped_non_finite, 0U);
}
INSTANTIATE_TEST_SUITE_P(All, EveryFormat, testing::Range(0, 16));

Cloud read_text(const std::string& text, LengthUnit unit = LengthUnit::mm) {
  const test::TempFolder folder;
  return read_scan(ScanFile(folder.file("scan.xyz", text)), {.unit = unit});
}

TEST(TextPoints, CommentsHeaderOrderAndCountLinesAreUnderstood) {
  const Cloud cloud = read_text("# from a scanner\n3\n// another comment\n1 2 3\n\n4 5 6\n% more\n7 8 9\n");
  ASSERT_EQ(cloud.points_mm.cols(), 3);
  EXPECT_EQ(cloud.points_mm(2, 1), 6.0);
  const Cloud swapped = read_text("intensity;z;y;x\n9;3;2;1\n9;6;5;4\n");
  ASSERT_EQ(swapped.points_mm.cols(), 2);
  EXPECT_EQ(swapped.points_mm(0, 0), 1.0);
  EXPECT_EQ(swapped.points_mm(2, 1), 6.0);
}

TEST(TextPoints, WindowsLineEndsPlusSignsExponentsAndAByteOrderMarkAreUnderstood) {
  const Cloud cloud = read_text("\xEF\xBB\xBFx,y,z\r\n+1.5e1, -2, 3\r\n1,2,3\r\n");
  ASSERT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.points_mm(0, 0), 15.0);
  EXPECT_EQ(cloud.points_mm(1, 0), -2.0);
}

TEST(TextPoints, DecimalCommasMayComeAfterWholeNumbers) {
  const Cloud cloud = read_text("0;0;0\n1,5;2,5;3,5\n");
  ASSERT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.points_mm(2, 1), 3.5);
}

TEST(TextPoints, ASemicolonBeginsARemarkWhereItPartsNoColumns) {
  Eigen::Matrix3Xd wanted(3, 2);
  wanted << 1, 4, 2, 5, 3, 6;
  for (const char* text :
       {"; from a profile sensor\n;\n; 12 lines; 2024\n1 2 3\n; 9 9 9\n4 5 6\n;end\n",
        "; header\nx,y,z ; in millimetres\n1,2,3\n4,5,6 ; the last\n", "1\t2\t3 ;first row\n;\t9\t9\t9\n4\t5\t6;\n",
        "1 2 3; first row\n4 5 6\n", "; with columns of its own\nx;y;z\n; units: mm\n1;2;3\n;\n; between\n4;5;6\n",
        ";a remark\nid;x;y;z\n1;1;2;3\n;4;5;6\n"}) {
    EXPECT_EQ(read_text(text).points_mm, wanted) << text;
  }
}

TEST(TextPoints, ANumberThatIsMissingIsNoRemark) {
  // An empty first column, before and behind what tells that ';' parts them, and a second point in the same line.
  for (const char* text : {"1;2;3\n;5;6\n", ";2;3\n4;5;6\n", "x;y;z\n;2,5;3,5\n", "1,5;2;3\n;5;left\n",
                           "1 2 3; 4 5 6\n", "1 2 3\n4 5 ;6\n", "1,2,3\n4,5;remark\n"}) {
    EXPECT_THROW((void)read_text(text), InputError) << text;
  }
}

TEST(ReadScan, UnitsScaleToMillimetres) {
  EXPECT_EQ(read_text("1 2 3\n", LengthUnit::in).points_mm(0, 0), 25.4);
  EXPECT_EQ(read_text("1 2 3\n", LengthUnit::m).points_mm(1, 0), 2000.0);
  EXPECT_EQ(read_text("1000 2 3\n", LengthUnit::um).points_mm(0, 0), 1.0);
}

TEST(ReadScan, PointsWithoutFiniteCoordinatesAreDroppedAndCounted) {
  const Cloud cloud = read_text("1 2 3\nnan 2 3\n4 inf 6\n7 8 9\n");
  EXPECT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.dropped_non_finite, 2U);
  // The same in binary, spread over both halves so that both threads meet some.
  Cloud holes = some_points();
  for (Eigen::Index i = 0; i < holes.points_mm.cols(); i += 10) holes.points_mm(i % 3, i) = std::nan("");
  const test::TempFolder folder;
  const Cloud read = read_scan(ScanFile(folder.file("s.ply", fixtures::ply_binary(holes))));
  EXPECT_EQ(read.dropped_non_finite, 500U);
  ASSERT_EQ(read.points_mm.cols(), 4500);
  EXPECT_TRUE(read.points_mm.allFinite());
  EXPECT_NEAR(read.points_mm(0, 4499), holes.points_mm(0, 4999), 5e-6);
}

TEST(Ply, ExtraPropertiesAndElementsAreSkipped) {
  std::string bytes =
      "ply\nformat binary_little_endian 1.0\nelement camera 2\nproperty double f\nelement vertex 2\nproperty uchar "
      "red\nproperty float z\n"
      "property double x\nproperty short y\nproperty float quality\nelement face 1\nproperty list uchar int "
      "vertex_indices\nend_header\n";
  const auto put = [&](auto value) { bytes.append(reinterpret_cast<const char*>(&value), sizeof(value)); };
  put(1.0), put(2.0);
  for (int i = 0; i < 2; ++i) {
    put(static_cast<unsigned char>(7)), put(3.0F + static_cast<float>(i)), put(1.0 + i), put(static_cast<short>(2 + i)),
        put(0.5F);
  }
  put(static_cast<unsigned char>(3)), put(0), put(1), put(1);
  const test::TempFolder folder;
  const Cloud cloud = read_scan(ScanFile(folder.file("s.ply", bytes)));
  ASSERT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.points_mm.col(1), Eigen::Vector3d(2.0, 3.0, 4.0));
}

}  // namespace
}  // namespace canewise
