// Surface data files. Layout, data types and markers: ISO 25178-71 (editions 1.0 and 2.0) and the elder kin, as the
// project's handbook of published values (C7) lists them.
#include "scanproc/heights/sdf.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "fixtures/write_surface.h"
#include "scanproc/scan/read_scan.h"
#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::StartsWith;
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

HeightMap read(const std::string& bytes) { return test::with_file(bytes, read_sdf); }
std::string refusal(const std::string& bytes) { return test::refusal(bytes, read_sdf); }

/// Whole hundredths of a millimetre, which an 8-bit height of that step still holds; no two rows or columns alike, and
/// the gaps lie in no symmetrical places.
HeightMap hundredths() {
  HeightMap map;
  map.columns = 7;
  map.rows = 5;
  map.step_x_mm = 0.016;
  map.step_y_mm = 0.25;
  for (int i = 0; i < 35; ++i) map.z_mm.push_back(0.01 * ((i * i * 7 + 3 * i) % 255 - 127));
  map.z_mm[2] = map.z_mm[17] = map.z_mm[34] = kMissing;
  return map;
}

struct Kind {
  const char* magic;
  int data_type;
};

class EveryEditionAndType : public testing::TestWithParam<Kind> {};

TEST_P(EveryEditionAndType, GivesTheSameHeights) {
  const auto [magic, data_type] = GetParam();
  const HeightMap truth = hundredths();
  const HeightMap map = read(fixtures::sdf_file(truth, {.magic = magic, .data_type = data_type, .z_scale = 1e-5}));
  EXPECT_EQ(map.columns, 7U);
  EXPECT_EQ(map.rows, 5U);
  EXPECT_DOUBLE_EQ(map.step_x_mm, 0.016);
  EXPECT_DOUBLE_EQ(map.step_y_mm, 0.25);
  EXPECT_EQ(map.origin_x_mm, 0.0);
  EXPECT_EQ(map.format, magic[0] == 'a' ? "SDF, ascii" : "SDF, binary");
  // Whole numbers pass exactly; their product with the scale is rounded three times, at 1.3 mm. A single-precision
  // height of up to 127 steps of 0.01 mm may be written as text or as bits: half its last place.
  EXPECT_LE(test::greatest_difference(map.z_mm, truth.z_mm), data_type == 3 ? 0.5 * 0x1p-17 * 0.01 : 1e-15);
}

INSTANTIATE_TEST_SUITE_P(All, EveryEditionAndType,
                         testing::Values(Kind{"aISO-1.0", 5}, Kind{"aISO-1.0", 6}, Kind{"aISO-1.0", 7},
                                         Kind{"bISO-1.0", 5}, Kind{"bISO-1.0", 6}, Kind{"bISO-1.0", 7},
                                         Kind{"aBCR-1.0", 5}, Kind{"aBCR-1.0", 6}, Kind{"aBCR-1.0", 7},
                                         Kind{"bBCR-1.0", 5}, Kind{"bBCR-1.0", 6}, Kind{"bBCR-1.0", 7},
                                         Kind{"aISO-2.0", 3}, Kind{"aISO-2.0", 4}, Kind{"aISO-2.0", 5},
                                         Kind{"aISO-2.0", 6}, Kind{"aISO-2.0", 7}, Kind{"bISO-2.0", 3},
                                         Kind{"bISO-2.0", 4}, Kind{"bISO-2.0", 5}, Kind{"bISO-2.0", 6},
                                         Kind{"bISO-2.0", 7}),
                         [](const auto& kind) {
                           return fmt::format("{}{}_{}", kind.param.magic[0] == 'a' ? "Ascii" : "Binary",
                                              std::string_view(kind.param.magic + 1, 3), kind.param.magic[5]) +
                                  fmt::format("_type{}", kind.param.data_type);
                         });

std::string text_file(const std::string& magic, const std::string& counts_and_type, const std::string& rest) {
  return magic + "\r\nManufacID = X\r\nCreateDate = 000000000000\r\nModDate = 000000000000\r\n" + counts_and_type +
         "Xscale = 1.0e-6\r\nYscale = 2.0e-6\r\nZscale = 1.0e-6\r\nZresolution = -1\r\nCompression = 0\r\nCheckType = "
         "0\r\n*\r\n" +
         rest;
}

std::string two_by_three(const std::string& magic, const std::string& rest) {
  return text_file(magic, "NumPoints = 2\r\nNumProfiles = 3\r\nDataType = 7\r\n", rest);
}

TEST(Sdf, TheExampleOfTheStandardsAnnex) {
  // ISO 25178-71, annex A, as adapted in the handbook (C7).
  const std::string text =
      "aISO-2.0\r\nManufacID = ISO/TC213\r\nCreateDate = 140120261200\r\nModDate = 140120261200\r\nNumPoints = 3\r\n"
      "NumProfiles = 2\r\nXscale = 1.000000e-6\r\nYscale = 1.000000e-6\r\nZscale = 1.000000e-6\r\nZresolution = "
      "-1\r\nCompression = 0\r\nDataType = 3\r\nCheckType = 0\r\n*\r\n-1.000000 0.6948286 0.3170994\r\n0.4897644 BAD "
      "-0.6463130\r\n*\r\n<Remark>an example</Remark>\r\n*\r\n";
  const HeightMap map = read(text);
  ASSERT_EQ(map.columns, 3U);
  ASSERT_EQ(map.rows, 2U);
  EXPECT_DOUBLE_EQ(map.step_x_mm, 1e-3);
  EXPECT_DOUBLE_EQ(map.step_y_mm, 1e-3);
  const std::vector<double> um{-1.000000, 0.6948286, 0.3170994, 0.4897644, kMissing, -0.6463130};
  std::vector<double> z_mm;
  for (const double z : um) z_mm.push_back(1e-3 * z);
  EXPECT_LE(test::greatest_difference(map.z_mm, z_mm), 1e-18);  // A few roundings of a thousandth.
}

TEST(Sdf, TheElderKinStoreTheLastRowFirst) {
  const std::string body = "1 2\r\n3 4\r\n5 6\r\n*\r\n";
  EXPECT_THAT(read(two_by_three("aISO-1.0", body)).z_mm,
              testing::Pointwise(testing::DoubleEq(), {1e-3, 2e-3, 3e-3, 4e-3, 5e-3, 6e-3}));
  EXPECT_THAT(read(two_by_three("aBCR-1.0", body)).z_mm,
              testing::Pointwise(testing::DoubleEq(), {5e-3, 6e-3, 3e-3, 4e-3, 1e-3, 2e-3}));
}

TEST(Sdf, HeightsMayStandInLinesOfAnyLengthAndTheLastStarMayLack) {
  // C7, 'field oddities': some files lack the last '*'; values are separated by any white space.
  const std::vector<double> wanted = read(two_by_three("aISO-1.0", "1 2\r\n3 4\r\n5 6\r\n*\r\n")).z_mm;
  for (const char* body : {"1 2 3 4 5 6", "1\n2\n3\n4\n5\n6\n", "\r\n\t1\t2 3\r\n\r\n4  5 6 *",
                           "1 2 3 4 5 6\r\n*\r\nany "
                           "= trailer\r\n*\r\n"}) {
    EXPECT_EQ(read(two_by_three("aISO-1.0", body)).z_mm, wanted) << body;
  }
}

TEST(Sdf, NextToAMarkerIsAHeight) {
  // C7: only the lowest value of a type means 'not measured'; its neighbour is a height.
  const std::string int16 = fixtures::sdf_file(hundredths(), {.data_type = 5, .z_scale = 1e-5});
  EXPECT_TRUE(std::isnan(read(test::patched(int16, 81, std::int16_t{-32768})).z_mm[0]));
  EXPECT_DOUBLE_EQ(read(test::patched(int16, 81, std::int16_t{-32767})).z_mm[0], -327.67);
  const std::string int32 = fixtures::sdf_file(hundredths(), {.data_type = 6, .z_scale = 1e-5});
  EXPECT_DOUBLE_EQ(read(test::patched(int32, 81, std::int32_t{-2147483647})).z_mm[0], -21474836.47);
  EXPECT_DOUBLE_EQ(read(test::patched(int32, 81, std::int32_t{-32768})).z_mm[0], -327.68);
  const std::string int8 = fixtures::sdf_file(hundredths(), {.magic = "bISO-2.0", .data_type = 4, .z_scale = 1e-5});
  EXPECT_TRUE(std::isnan(read(test::patched(int8, 85, std::int8_t{-128})).z_mm[0]));
  EXPECT_DOUBLE_EQ(read(test::patched(int8, 85, std::int8_t{-127})).z_mm[0], -1.27);
  const std::string float64 = fixtures::sdf_file(hundredths(), {});
  for (const double not_measured :
       {std::numeric_limits<double>::lowest(), kMissing, std::numeric_limits<double>::infinity()}) {
    EXPECT_TRUE(std::isnan(read(test::patched(float64, 81, not_measured)).z_mm[0])) << not_measured;
  }
}

TEST(Sdf, AMakersNameThatEndsInRubbishDoesNoHarm) {
  // C7, 'field oddities': some writers end ManufacID with NUL and whatever was in memory.
  std::string bytes = fixtures::sdf_file(hundredths(), {});
  const std::vector<double> wanted = read(bytes).z_mm;
  std::memcpy(bytes.data() + 8, "XY\0\xff\x80*\r\n=\0", 10);
  EXPECT_EQ(test::differing_bits(read(bytes).z_mm, wanted), 0U);
}

TEST(Sdf, AsAScanOnlyMeasuredNodesArePointsAndTheUnitIsKnown) {
  const HeightMap truth = hundredths();
  const Cloud cloud = test::with_file(fixtures::sdf_file(truth, {}), [](const ScanFile& f) { return read_scan(f); });
  ASSERT_EQ(cloud.points_mm.cols(), 32);
  EXPECT_TRUE(cloud.unit_known);
  EXPECT_EQ(cloud.dropped_non_finite, 0U) << "a node that was not measured is no damage";
  // Node 17 of 7 columns is missing, so node 18 (column 4, row 2) is the 17th point from nought, after two gaps.
  EXPECT_LT((cloud.points_mm.col(16) - Eigen::Vector3d(4 * 0.016, 2 * 0.25, truth.z_mm[18])).norm(), 1e-15);
}

// ---------------------------------------------------------------------------------------------------------------------
// What is refused.
// ---------------------------------------------------------------------------------------------------------------------

// Offsets of edition 1.0's header, C7.
constexpr std::size_t kPoints = 42, kProfiles = 44, kXScale = 46, kZScale = 62, kCompression = 78, kDataType = 79,
                      kCheckType = 80;

TEST(Sdf, CompressionAndCheckSumsAreRefused) {
  const std::string good = fixtures::sdf_file(hundredths(), {});
  EXPECT_THAT(refusal(test::patched(good, kCompression, std::uint8_t{1})), HasSubstr("compressed"));
  EXPECT_THAT(refusal(test::patched(good, kCheckType, std::uint8_t{1})), HasSubstr("check sum"));
  EXPECT_THAT(refusal("aISO-1.0\nNumPoints = 2\nNumProfiles = 2\nXscale = 1\nYscale = 1\nZscale = 1\nCompression = "
                      "2\nDataType = 7\nCheckType = 0\n*\n1 2 3 4\n"),
              HasSubstr("compressed"));
}

TEST(Sdf, ATypeThatTheEditionDoesNotHaveIsRefused) {
  // C7: types 3 and 4 exist in edition 2.0 only.
  for (const char* magic : {"bISO-1.0", "bBCR-1.0"}) {
    const std::string good = fixtures::sdf_file(hundredths(), {.magic = magic});
    for (const int type : {0, 1, 2, 3, 4, 8, 255}) {
      EXPECT_THAT(refusal(test::patched(good, kDataType, static_cast<std::uint8_t>(type))),
                  HasSubstr("data type " + std::to_string(type)));
    }
  }
  for (const char* magic : {"aISO-1.0", "aBCR-1.0"}) {
    EXPECT_THAT(refusal(text_file(magic, "NumPoints = 2\r\nNumProfiles = 2\r\nDataType = 3\r\n", "1 2 3 4")),
                HasSubstr("data type 3"));
  }
  EXPECT_THAT(refusal(text_file("aISO-2.0", "NumPoints = 2\r\nNumProfiles = 2\r\nDataType = 2\r\n", "1 2 3 4")),
              HasSubstr("data type 2"));
}

TEST(Sdf, ASingleProfileIsRefused) {
  EXPECT_THAT(refusal(text_file("aISO-1.0", "NumPoints = 4\r\nNumProfiles = 1\r\nDataType = 7\r\n", "1 2 3 4")),
              HasSubstr("single profile"));
  EXPECT_THAT(refusal(test::patched(fixtures::sdf_file(hundredths(), {}), kProfiles, std::uint16_t{1})),
              HasSubstr("single profile"));
}

TEST(Sdf, ScalesThatMeanNothingAreRefused) {
  const std::string good = fixtures::sdf_file(hundredths(), {});
  for (const double scale : {0.0, -1e-6, kMissing, std::numeric_limits<double>::infinity()}) {
    for (const std::size_t where : {kXScale, kXScale + 8, kZScale})
      EXPECT_THAT(refusal(test::patched(good, where, scale)), HasSubstr("scale")) << scale << " at " << where;
  }
  EXPECT_THAT(refusal("aISO-1.0\nNumPoints = 2\nNumProfiles = 2\nXscale = 1\nYscale = 1\nZscale = 0\nCompression = "
                      "0\nDataType = 7\nCheckType = 0\n*\n1 2 3 4\n"),
              HasSubstr("scale"));
  // A header that never names one.
  EXPECT_THAT(refusal("aISO-1.0\nNumPoints = 2\nNumProfiles = 2\nXscale = 1\nYscale = 1\nCompression = 0\nDataType = "
                      "7\nCheckType = 0\n*\n1 2 3 4\n"),
              HasSubstr("scale"));
}

TEST(Sdf, AFileThatWasCutShortIsRefusedWhereverItWasCut) {
  for (const char* magic : {"bISO-1.0", "bISO-2.0", "bBCR-1.0"}) {
    const std::string good = fixtures::sdf_file(hundredths(), {.magic = magic});
    for (const std::size_t left : {std::size_t{8}, std::size_t{60}, std::size_t{80}, good.size() - 1})
      EXPECT_THAT(refusal(good.substr(0, left)), HasSubstr("cut short")) << magic << " " << left;
  }
  for (const char* magic : {"aISO-1.0", "aISO-2.0", "aBCR-1.0"}) {
    const std::string good = fixtures::sdf_file(hundredths(), {.magic = magic});
    // In the middle of a number nothing shows, so the last cut is before the last one.
    const std::size_t before_last = good.find_last_of(" \n", good.find_last_of("0123456789BAD"));
    for (const std::size_t left : {std::size_t{8}, std::size_t{100}, good.size() / 2, before_last})
      EXPECT_THAT(refusal(good.substr(0, left)), HasSubstr("cut short")) << magic << " " << left;
  }
}

TEST(Sdf, CountsThatTheFileCannotHoldAreRefusedBeforeAnythingIsAllocated) {
  const std::string first = fixtures::sdf_file(hundredths(), {});
  const std::string second = fixtures::sdf_file(hundredths(), {.magic = "bISO-2.0"});
  constexpr std::uint32_t most = 0xFFFFFFFFU;
  const std::string largest = test::patched(test::patched(second, 42, most), 46, most);
  const std::string text =
      text_file("aISO-2.0", "NumPoints = 4294967295\r\nNumProfiles = 4294967295\r\nDataType = 7\r\n", "1 2 3 4");
  EXPECT_LT(test::peak_growth([&] {
              for (const auto& bytes : {test::patched(first, kPoints, std::uint16_t{65535}),
                                        test::patched(second, 42, std::uint32_t{500000000}), largest, text})
                EXPECT_THAT(refusal(bytes), HasSubstr("too short"));
            }),
            test::kLittleMemory);
  EXPECT_THAT(refusal(test::patched(first, kPoints, std::uint16_t{0})), HasSubstr("no heights"));
  EXPECT_THAT(refusal(test::patched(first, kProfiles, std::uint16_t{0})), HasSubstr("no heights"));
}

TEST(Sdf, WordsThatAreNoNumbersAreShownWithTheirPlace) {
  EXPECT_THAT(refusal(text_file("aISO-1.0", "NumPoints = two\r\nNumProfiles = 3\r\nDataType = 7\r\n", "1 2 3 4 5 6")),
              testing::AllOf(HasSubstr("line 5"), HasSubstr("'two'")));
  EXPECT_THAT(refusal(text_file("aISO-1.0", "NumPoints = -2\r\nNumProfiles = 3\r\nDataType = 7\r\n", "1 2 3 4 5 6")),
              HasSubstr("'-2' is not a whole number"));
  EXPECT_THAT(refusal(two_by_three("aISO-1.0", "1 2 3 bad 5 6")),
              testing::AllOf(HasSubstr("height 4"), HasSubstr("'bad'")));
  EXPECT_THAT(refusal("cISO-1.0" + std::string(100, '\0')), HasSubstr("no surface data file"));
}

// ---------------------------------------------------------------------------------------------------------------------
// What is written.
// ---------------------------------------------------------------------------------------------------------------------

/// Heights over the whole range that a double has near a millimetre, and some that are awkward to write as text.
HeightMap any_heights() {
  HeightMap map;
  map.columns = 211;
  map.rows = 97;
  map.step_x_mm = 0.1 / 3.0;
  map.step_y_mm = 0.0071;
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal(0.0, 3.0);
  std::uniform_int_distribution<int> exponent(-60, 4);
  for (std::size_t i = 0; i < map.columns * map.rows; ++i)
    map.z_mm.push_back(i % 11 == 3 ? kMissing : std::ldexp(normal(random), i % 2 == 0 ? 0 : exponent(random)));
  map.z_mm[0] = 0.1;
  map.z_mm[1] = -0.0;
  map.z_mm[2] = std::numeric_limits<double>::denorm_min();
  map.z_mm[4] = 1e300;
  return map;
}

TEST(SdfWriter, ReadsBackBitEqualInBothEncodings) {
  const HeightMap map = any_heights();
  for (const SdfEncoding encoding : {SdfEncoding::ascii, SdfEncoding::binary}) {
    const HeightMap back = read(sdf_bytes(map, encoding));
    EXPECT_EQ(back.columns, map.columns);
    EXPECT_EQ(back.rows, map.rows);
    EXPECT_DOUBLE_EQ(back.step_x_mm, map.step_x_mm);
    EXPECT_DOUBLE_EQ(back.step_y_mm, map.step_y_mm);
    EXPECT_EQ(test::differing_bits(back.z_mm, map.z_mm), 0U);
    EXPECT_TRUE(std::isnan(back.z_mm[3]));
    EXPECT_TRUE(std::signbit(back.z_mm[1]));
  }
}

TEST(SdfWriter, BinaryHeaderIsThatOfEditionOne) {
  // Every field at the place that C7 gives it; little-endian.
  HeightMap map = hundredths();
  const std::string bytes = sdf_bytes(map, SdfEncoding::binary);
  EXPECT_EQ(bytes.size(), 81U + 8U * 35U);
  EXPECT_EQ(bytes.substr(0, 8), "bISO-1.0");
  EXPECT_EQ(bytes.substr(8, 10).find('\0'), std::string::npos) << "ManufacID is padded with spaces";
  EXPECT_EQ(bytes.substr(18, 24), std::string(24, '0'));
  EXPECT_EQ(test::number_at<std::uint16_t>(bytes, kPoints), 7);
  EXPECT_EQ(test::number_at<std::uint16_t>(bytes, kProfiles), 5);
  EXPECT_DOUBLE_EQ(test::number_at<double>(bytes, 46), 0.016e-3);
  EXPECT_DOUBLE_EQ(test::number_at<double>(bytes, 54), 0.25e-3);
  EXPECT_GT(test::number_at<double>(bytes, 62), 0.0);
  EXPECT_LT(test::number_at<double>(bytes, 70), 0.0) << "a resolution that is not known is negative";
  EXPECT_EQ(bytes.substr(78, 3), std::string("\0\7\0", 3));
  EXPECT_DOUBLE_EQ(test::number_at<double>(bytes, 81) * test::number_at<double>(bytes, 62), 1e-3 * map.z_mm[0]);
  EXPECT_EQ(test::number_at<double>(bytes, 81 + 8 * 17), std::numeric_limits<double>::lowest());
}

TEST(SdfWriter, TextHasTheLinesOfEditionOneInOrder) {
  const std::string text = sdf_bytes(hundredths(), SdfEncoding::ascii);
  EXPECT_THAT(text, StartsWith("aISO-1.0\r\nManufacID = "));
  std::size_t at = 0;
  for (const char* name : {"ManufacID", "CreateDate", "ModDate", "NumPoints", "NumProfiles", "Xscale", "Yscale",
                           "Zscale", "Zresolution", "Compression", "DataType", "CheckType"}) {
    const std::size_t found = text.find("\r\n" + std::string(name) + " = ");
    ASSERT_NE(found, std::string::npos) << name;
    EXPECT_GE(found, at) << name;
    at = found;
  }
  EXPECT_EQ(text.find("\r\n*\r\n", at), text.find("\r\n", at + 2)) << "a star follows the last of them";
  EXPECT_THAT(text, HasSubstr(" BAD "));
  EXPECT_THAT(text, testing::EndsWith("\r\n*\r\n"));
}

TEST(SdfWriter, TakesEditionTwoWhereSixteenBitsCannotCountTheNodes) {
  HeightMap map;
  map.rows = 2;
  map.step_x_mm = map.step_y_mm = 0.001;
  for (const auto& [columns, edition, header] : {std::tuple{65535U, "ISO-1.0", 81U}, {65536U, "ISO-2.0", 85U}}) {
    map.columns = columns;
    map.z_mm.assign(2 * map.columns, 0.5);
    map.z_mm.back() = 1.5;
    const std::string bytes = sdf_bytes(map, SdfEncoding::binary);
    EXPECT_EQ(bytes.substr(1, 7), edition);
    EXPECT_EQ(bytes.size(), header + 16U * columns);
    EXPECT_EQ(test::differing_bits(read(bytes).z_mm, map.z_mm), 0U);
    const std::string text = sdf_bytes(map, SdfEncoding::ascii);
    EXPECT_EQ(text.substr(1, 7), edition);
    EXPECT_EQ(test::differing_bits(read(text).z_mm, map.z_mm), 0U);
  }
  // The same for rows.
  std::swap(map.columns, map.rows);
  EXPECT_THAT(sdf_bytes(map, SdfEncoding::binary), StartsWith("bISO-2.0"));
}

TEST(SdfWriter, AnEmptyGridIsNoMap) {
  EXPECT_THROW((void)sdf_bytes({}, SdfEncoding::binary), std::invalid_argument);
  HeightMap no_rows;
  no_rows.columns = 3;
  EXPECT_THROW((void)sdf_bytes(no_rows, SdfEncoding::ascii), std::invalid_argument);
}

}  // namespace
}  // namespace canewise
