// Separators, decimal commas and remarks behind ';': tests/scan/read_scan_test.cpp.
#include "scanproc/clouds/text_points.h"

#include <gtest/gtest.h>

#include <string>

#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

Cloud read(const std::string& text, double mm_per_unit = 1.0) {
  return test::with_file(text, [&](const ScanFile& file) { return read_text_points(file, mm_per_unit); });
}
test::Refusal refusal_of(const std::string& text) {
  const test::TempFolder folder;
  const auto path = folder.file("a.xyz", text);
  test::Refusal refusal = test::refusal_of([&] { return read_text_points(ScanFile(path), 1.0); });
  EXPECT_EQ(refusal.file, path.string());
  return refusal;
}
const Eigen::Vector3d kFirst(1.0, 2.0, 3.0);

TEST(TextPointsSpec, TextHoldsNoControlCharactersButWhiteSpace) {
  EXPECT_TRUE(looks_like_text("1\t2 3\r\nÄ ~"));
  EXPECT_TRUE(looks_like_text(""));
  for (const char c : {'\0', '\x01', '\x0b', '\x1b', '\x1f'}) EXPECT_FALSE(looks_like_text(std::string("1 2") + c));
}

TEST(TextPointsSpec, CoordinatesAreScaledToMillimetres) {
  EXPECT_EQ(read("1 -20 300\n", 25.4).points_mm.col(0), Eigen::Vector3d(25.4, 25.4 * -20.0, 25.4 * 300.0));
}

TEST(TextPointsSpec, AHeaderTellsTheColumnsHoweverItWritesThem) {
  for (const char* names : {"z,y,x", "Z [mm], Y [mm], X [mm]", "\"z\",\"y\",\"x\"", "z_mm,y_mm,x_mm", "z(um),y,X"})
    EXPECT_EQ(read(std::string(names) + "\n3,2,1\n").points_mm.col(0), kFirst) << names;
  EXPECT_EQ(read("index x xx y grey z\n9 1 9 2 9 3\n").points_mm.col(0), kFirst) << "'xx' is no x";
}

TEST(TextPointsSpec, WithoutAHeaderTheFirstThreeColumnsCount) {
  EXPECT_EQ(read("1 2 3 red 5\n").points_mm.col(0), kFirst);
}

TEST(TextPointsSpec, ALoneCountMayStandFirst) {
  EXPECT_EQ(read("2\n1 2 3\n4 5 6\n").points_mm.cols(), 2);
  EXPECT_EQ(refusal_of("2 1\n1 2 3\n").number("line"), 1.0) << "two numbers are neither a count nor a point";
}

TEST(TextPointsSpec, LinesAreCountedAsAnEditorCountsThem) {
  for (const std::string end : {"\n", "\r\n", "\r"}) {
    const test::Refusal refusal = refusal_of("# remark" + end + end + "1 2 3" + end + "4 five 6" + end);
    EXPECT_EQ(refusal.id, "scan_text.no_number");
    EXPECT_EQ(refusal.number("line"), 4.0);
    EXPECT_EQ(refusal.text("word"), "five");
  }
}

TEST(TextPointsSpec, WhatIsNoRowIsRefusedWithItsLine) {
  const test::Refusal missing = refusal_of("1 2 3\n4 5\n");
  EXPECT_EQ(missing.id, "scan_text.number_missing");
  EXPECT_EQ(missing.number("line"), 2.0);
  EXPECT_EQ(refusal_of("1,2,3\n4,,6\n").id, "scan_text.number_missing");
  const test::Refusal header = refusal_of("a b c\n1 2 3\n");
  EXPECT_EQ(header.id, "scan_text.no_row");
  EXPECT_EQ(header.number("line"), 1.0);
  EXPECT_EQ(refusal_of("x y z\nx y z\n1 2 3\n").number("line"), 2.0) << "one header is enough";
}

TEST(TextPointsSpec, PointsThatAreNotFiniteAreDroppedAndCounted) {
  const Cloud cloud = read("1 2 3\nnan 2 3\n4 5 -inf\n7 8 9\n");
  EXPECT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.dropped_non_finite, 2U);
  EXPECT_EQ(cloud.points_mm.col(1), Eigen::Vector3d(7.0, 8.0, 9.0));
}

TEST(TextPointsSpec, ManyPointsInShortLinesFindRoom) {
  std::string text;
  for (int i = 0; i < 5000; ++i) text += "1 2 3\n";  // Six bytes a point: far more than were expected.
  EXPECT_EQ(read(text).points_mm.cols(), 5000);
}

TEST(TextPointsSpec, PointsBeyondTheRoomOfTheFirstReadingAreThereToo) {
  constexpr int many = 2'200'000;  // 53 MB of points; the first reading has 32 MiB and the file's 13 MB.
  std::string text = "4 5 6\n";
  for (int i = 2; i < many; ++i) text += "1 2 3\n";
  const Cloud cloud = read(text + "7 8 9\n");
  ASSERT_EQ(cloud.points_mm.cols(), many);
  EXPECT_EQ(cloud.points_mm.col(0), Eigen::Vector3d(4.0, 5.0, 6.0));
  EXPECT_EQ(cloud.points_mm.col(many / 2), kFirst);
  EXPECT_EQ(cloud.points_mm.col(many - 1), Eigen::Vector3d(7.0, 8.0, 9.0));
}

TEST(TextPointsSpec, ATableHasAThousandColumnsAtMost) {
  const auto table = [](std::size_t before) {
    std::string names, row;
    for (std::size_t k = 0; k < before; ++k) names += "a ", row += "9 ";
    return names + "x y z\n" + row + "1 2 3\n";
  };
  EXPECT_EQ(read(table(997)).points_mm.col(0), kFirst);
  EXPECT_EQ(refusal_of(table(998)).id, "scan_text.no_row");
}

}  // namespace
}  // namespace canewise
