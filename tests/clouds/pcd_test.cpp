// The three encodings read alike: tests/scan/read_scan_test.cpp; headers that lie: tests/scan/hostile_files_test.cpp.
#include "scanproc/clouds/pcd.h"

#include <gtest/gtest.h>

#include <cstdint>
#include <string>

#include "fixtures/write_cloud.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

Cloud read(const std::string& bytes, double mm_per_unit = 1.0) {
  return test::with_file(bytes, [&](const ScanFile& file) { return read_pcd(file, mm_per_unit); });
}
test::Refusal refusal_of(const std::string& bytes) {
  const test::TempFolder folder;
  const auto path = folder.file("a.pcd", bytes);
  test::Refusal refusal = test::refusal_of([&] { return read_pcd(ScanFile(path), 1.0); });
  EXPECT_EQ(refusal.file, path.string());
  EXPECT_EQ(refusal.exit_code, ExitCode::bad_input);
  return refusal;
}

/// A header for `points` points with the rows that one is about to test.
std::string header(const std::string& rows, int points, const std::string& data) {
  return "# .PCD v0.7\nVERSION 0.7\n" + rows + "WIDTH " + std::to_string(points) +
         "\nHEIGHT 1\nVIEWPOINT 5 6 7 0 1 0 0\nPOINTS " + std::to_string(points) + "\nDATA " + data + "\n";
}
const std::string kPlain = "FIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\n";

TEST(PcdSpec, IsToldByItsFirstWords) {
  EXPECT_TRUE(looks_like_pcd("# .PCD v0.7 - Point Cloud Data file format\n"));
  EXPECT_TRUE(looks_like_pcd("VERSION 0.7\n"));
  EXPECT_TRUE(looks_like_pcd("VERSION .7\n"));
  EXPECT_FALSE(looks_like_pcd("VERSION 2\n"));
  EXPECT_FALSE(looks_like_pcd("# PCD\n"));
}

TEST(PcdSpec, FieldsMayStandInAnyOrderAmongOthers) {
  const Cloud cloud =
      read(header("FIELDS z rgb x intensity y\nSIZE 4 4 4 4 4\nTYPE F U F F F\nCOUNT 1 2 1 1 1\n", 2, "ascii") +
               "3 9 9 1 0.5 2\n-6 9 9 4 0.5 5\n",
           2.0);
  ASSERT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.points_mm.col(0), Eigen::Vector3d(2.0, 4.0, 6.0)) << "in millimetres; the viewpoint moves nothing";
  EXPECT_EQ(cloud.points_mm.col(1), Eigen::Vector3d(8.0, 10.0, -12.0));
  EXPECT_FALSE(cloud.unit_known);
}

TEST(PcdSpec, BinaryFieldsHaveTheirOwnTypesAndSizes) {
  std::string bytes = header("FIELDS z rgb x y\nSIZE 2 4 8 1\nTYPE I U F U\nCOUNT 1 2 1 1\n", 2, "binary");
  const auto point = [&](double x, std::uint8_t y, std::int16_t z) {
    const auto put = [&](auto value) { bytes.append(reinterpret_cast<const char*>(&value), sizeof(value)); };
    put(z), put(std::uint32_t{77}), put(std::uint32_t{78}), put(x), put(y);
  };
  point(0.1, 200, -3);
  point(1e6, 7, 300);
  const Cloud cloud = read(bytes);
  ASSERT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.points_mm.col(0), Eigen::Vector3d(0.1, 200.0, -3.0));
  EXPECT_EQ(cloud.points_mm.col(1), Eigen::Vector3d(1e6, 7.0, 300.0));
}

TEST(PcdSpec, PointsThatWereNotMeasuredAreDroppedAndCounted) {
  const Cloud cloud = read(header(kPlain, 3, "ascii") + "1 2 3\nnan nan nan\n4 5 6\n");
  EXPECT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.dropped_non_finite, 1U);
}

TEST(PcdSpec, WithoutPointsTheCountIsWidthTimesHeight) {
  const std::string rows = "VERSION 0.7\n" + kPlain;
  EXPECT_EQ(read(rows + "WIDTH 3\nHEIGHT 2\nDATA ascii\n1 2 3\n1 2 3\n1 2 3\n1 2 3\n1 2 3\n1 2 3\n").points_mm.cols(),
            6);
  EXPECT_EQ(refusal_of(rows + "HEIGHT 2\nDATA ascii\n1 2 3\n").id, "pcd.no_count");
}

TEST(PcdSpec, ARefusalNamesTheFieldOrThePoint) {
  EXPECT_EQ(
      refusal_of(header("FIELDS x y w\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\n", 1, "ascii") + "1 2 3\n").text("field"),
      "z");
  const test::Refusal type =
      refusal_of(header("FIELDS x y z\nSIZE 4 2 4\nTYPE F F F\nCOUNT 1 1 1\n", 1, "binary") + std::string(10, 'x'));
  EXPECT_EQ(type.id, "pcd.field_type");
  EXPECT_EQ(type.text("field"), "y");
  const test::Refusal word = refusal_of(header(kPlain, 3, "ascii") + "1 2 3\n4 5 6\n7 eight 9\n");
  EXPECT_EQ(word.id, "pcd.no_number");
  EXPECT_EQ(word.number("point"), 3.0);
  EXPECT_EQ(word.text("word"), "eight");
  const test::Refusal few = refusal_of(header(kPlain, 3, "ascii") + "1 2 3\n4 5\n7 8 9 10 11 12\n");
  EXPECT_EQ(few.id, "pcd.few_numbers");
  EXPECT_EQ(few.number("point"), 2.0);
  const test::Refusal end = refusal_of(header(kPlain, 3, "ascii") + "1.000 2.000 3.000\n4.000 5.000 6.000\n");
  EXPECT_EQ(end.id, "pcd.ends_early");
  EXPECT_EQ(end.number("points"), 2.0);
  EXPECT_EQ(end.number("promised"), 3.0);
}

TEST(PcdSpec, AFieldHasAtMost65536Entries) {
  const auto rows = [](const std::string& count) {
    return "FIELDS x y z other\nSIZE 4 4 4 1\nTYPE F F F U\nCOUNT 1 1 1 " + count + "\n";
  };
  const std::string record(12 + 65536, '\0');
  EXPECT_EQ(read(header(rows("65536"), 1, "binary") + record).points_mm.cols(), 1);
  const test::Refusal refusal = refusal_of(header(rows("65537"), 1, "binary") + record + "x");
  EXPECT_EQ(refusal.id, "pcd.impossible_value");
  EXPECT_EQ(refusal.text("keyword"), "COUNT");
  EXPECT_EQ(refusal.text("word"), "65537");
}

TEST(PcdSpec, AHeaderEndsWithinItsFirst65536Bytes) {
  const std::string head = header(kPlain, 1, "ascii");
  EXPECT_EQ(read("# " + std::string(65536 - 3 - head.size(), 'x') + "\n" + head + "1 2 3\n").points_mm.cols(), 1);
  const test::Refusal refusal = refusal_of("# " + std::string(65536, 'x') + "\n" + head + "1 2 3\n");
  EXPECT_EQ(refusal.id, "pcd.no_data_line");
  EXPECT_EQ(refusal.number("bytes"), 65536.0);
}

TEST(PcdSpec, ACompressedPartHoldsAsManyPointsAsItsHeaderSays) {
  Cloud cloud;
  cloud.points_mm.resize(3, 40);
  for (Eigen::Index i = 0; i < 40; ++i) cloud.points_mm.col(i) << 0.5 * static_cast<double>(i), -2.0, 0.25;
  const std::string good = fixtures::pcd_compressed(cloud);
  EXPECT_EQ(read(good).points_mm, cloud.points_mm);
  std::string other = good;
  other.replace(other.find("POINTS 40"), 9, "POINTS 39");
  const test::Refusal refusal = refusal_of(other);
  EXPECT_EQ(refusal.id, "pcd.compressed_count");
  EXPECT_EQ(refusal.number("promised"), 39.0);
}

}  // namespace
}  // namespace canewise
