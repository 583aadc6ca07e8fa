#include "scanproc/pipeline/load_scans.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

std::string row(int x, int y, int z) {
  return std::to_string(x) + " " + std::to_string(y) + " " + std::to_string(z) + "\n";
}
/// 300 points over 299 mm.
std::string in_millimetres() {
  std::string text;
  for (int i = 0; i < 300; ++i) text += row(i, i % 13, 7 * i % 5);
  return text;
}
/// 300 points over 68.77 mm.
std::string in_micrometres() {
  std::string text;
  for (int i = 0; i < 300; ++i) text += row(230 * i, 1000 * (i % 13), 100 * (i % 7));
  return text;
}

// Digests by another program (Python's hashlib) of these very bytes.
TEST(LoadScans, EveryFileIsRecordedInTheOrderGiven) {
  const test::TempFolder folder;
  LoadedScans scans =
      load_scans({folder.file("first scan.xyz", in_millimetres()), folder.file("b.txt", in_micrometres())}, {});
  ASSERT_EQ(scans.clouds.size(), 2U);
  ASSERT_EQ(scans.sources.size(), 2U);
  EXPECT_EQ(scans.sources[0].file, "first scan.xyz") << "without its folders";
  EXPECT_EQ(scans.sources[1].file, "b.txt");
  for (const ScanSource& source : scans.sources) {
    EXPECT_EQ(source.points, 300U);
    EXPECT_EQ(source.dropped_non_finite, 0U);
    EXPECT_FALSE(source.format.empty());
    EXPECT_EQ(source.sha256, "") << "computed meanwhile";
  }
  scans.finish();
  EXPECT_EQ(scans.sources[0].sha256, "5f74aa8db627c44cb2ed042f8125053c14dca90e45308f4c6eaa739180a8d057");
  EXPECT_EQ(scans.sources[1].sha256, "945ae64d9ef5003f7760ea7671c3fa3fe0c1155d553fd876b50e5ec7d69d72d3");
  scans.finish();
  EXPECT_EQ(scans.sources[0].sha256.size(), 64U) << "asked twice it stays";
}

TEST(LoadScans, AUnitThatOnlyOneCanBeIsTakenAndSaid) {
  const test::TempFolder folder;
  const LoadedScans scans =
      load_scans({folder.file("a.xyz", in_millimetres()), folder.file("b.xyz", in_micrometres())}, {});
  EXPECT_EQ(scans.sources[0].unit, "mm");
  EXPECT_FALSE(scans.sources[0].unit_guessed);
  EXPECT_EQ(scans.sources[1].unit, "um");
  EXPECT_TRUE(scans.sources[1].unit_guessed);
  EXPECT_NEAR(scans.clouds[0].points_mm.row(0).maxCoeff(), 299.0, 1e-9);
  EXPECT_NEAR(scans.clouds[1].points_mm.row(0).maxCoeff(), 68.77, 1e-9);
  EXPECT_NEAR(scans.clouds[1].points_mm.row(1).maxCoeff(), 12.0, 1e-9);
  ASSERT_EQ(scans.notes.size(), 1U);
  EXPECT_EQ(scans.notes.front().id, "note.unit_guessed");
  EXPECT_EQ(std::get<std::string>(scans.notes.front().arguments.at("unit")), "um");
}

TEST(LoadScans, AGivenUnitIsNoGuess) {
  const auto in = [](LengthUnit unit) {
    LoadOptions options;
    options.unit = unit;
    return options;
  };
  const test::TempFolder folder;
  const auto path = folder.file("b.xyz", in_micrometres());
  const LoadedScans scans = load_scans({path}, in(LengthUnit::um));
  EXPECT_EQ(scans.sources[0].unit, "um");
  EXPECT_FALSE(scans.sources[0].unit_guessed);
  EXPECT_TRUE(scans.notes.empty());
  EXPECT_NEAR(scans.clouds[0].points_mm.row(0).maxCoeff(), 68.77, 1e-9);
  EXPECT_THROW((void)load_scans({path}, in(LengthUnit::in)), NotMeasurable) << "2.7 km";
}

TEST(LoadScans, PointsThatAreNoneAreCountedAndSaid) {
  const test::TempFolder folder;
  const LoadedScans scans =
      load_scans({folder.file("a.xyz", in_millimetres() + "nan 1 2\n3 inf 4\n" + row(150, 2, 1))}, {});
  EXPECT_EQ(scans.sources[0].points, 301U);
  EXPECT_EQ(scans.sources[0].dropped_non_finite, 2U);
  ASSERT_EQ(scans.notes.size(), 1U);
  EXPECT_EQ(scans.notes.front().id, "note.points_not_finite");
  EXPECT_EQ(std::get<std::int64_t>(scans.notes.front().arguments.at("points")), 2);
}

TEST(LoadScans, WhatIsNoScanOrNoReedIsRefusedBeforeAnyOtherIsMeasured) {
  const test::TempFolder folder;
  const auto good = folder.file("a.xyz", in_millimetres());
  EXPECT_THROW((void)load_scans({good, folder.path() / "missing.ply"}, {}), InputError);
  EXPECT_THROW((void)load_scans({good, folder.file("empty.xyz", "")}, {}), InputError);
  std::string far_too_large;
  for (int i = 0; i < 300; ++i) far_too_large += row(10000 * i, 0, 0);  // 3000 of any unit above a micrometre.
  EXPECT_THROW((void)load_scans({folder.file("large.xyz", far_too_large)}, {}), NotMeasurable);
}

}  // namespace
}  // namespace canewise
