#include "scanproc/clouds/records.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <limits>
#include <string>

#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

double little(const std::string& bytes, ScalarType type) { return decode_scalar(bytes.data(), type, false); }
double big(const std::string& bytes, ScalarType type) { return decode_scalar(bytes.data(), type, true); }

TEST(Records, EveryTypeHasItsSize) {
  EXPECT_EQ(size_of(ScalarType::int8), 1U);
  EXPECT_EQ(size_of(ScalarType::uint8), 1U);
  EXPECT_EQ(size_of(ScalarType::int16), 2U);
  EXPECT_EQ(size_of(ScalarType::uint16), 2U);
  EXPECT_EQ(size_of(ScalarType::int32), 4U);
  EXPECT_EQ(size_of(ScalarType::uint32), 4U);
  EXPECT_EQ(size_of(ScalarType::float32), 4U);
  EXPECT_EQ(size_of(ScalarType::float64), 8U);
}

TEST(Records, EveryTypeIsDecodedInEitherByteOrder) {
  // Two's complement and IEEE 754, by hand.
  EXPECT_EQ(little("\xFE", ScalarType::int8), -2.0);
  EXPECT_EQ(little("\xFE", ScalarType::uint8), 254.0);
  EXPECT_EQ(little("\x01\xFF", ScalarType::int16), -255.0);
  EXPECT_EQ(big("\x01\xFF", ScalarType::int16), 511.0);
  EXPECT_EQ(little("\x01\xFF", ScalarType::uint16), 65281.0);
  EXPECT_EQ(little("\xFE\xFF\xFF\xFF", ScalarType::int32), -2.0);
  EXPECT_EQ(big("\xFE\xFF\xFF\xFF", ScalarType::int32), -16777217.0);
  EXPECT_EQ(little("\xFE\xFF\xFF\xFF", ScalarType::uint32), 4294967294.0);
  EXPECT_EQ(big(std::string("\xC0\x20\0\0", 4), ScalarType::float32), -2.5);
  EXPECT_EQ(little(std::string("\0\0\x20\xC0", 4), ScalarType::float32), -2.5);
  EXPECT_EQ(big(std::string("\x3F\xF8\0\0\0\0\0\0", 8), ScalarType::float64), 1.5);
  EXPECT_EQ(little(std::string("\0\0\0\0\0\0\xF8\x3F", 8), ScalarType::float64), 1.5);
}

/// Records of 17 bytes: y as a 16-bit number, two bytes of something else, x as a double, z as a float, a byte more.
constexpr std::size_t kStride = 17;
RecordLayout mixed_layout() {
  return {kStride, {4, 0, 12}, {ScalarType::float64, ScalarType::int16, ScalarType::float32}};
}
std::string mixed_record(double x, std::int16_t y, float z) {
  std::string bytes;
  const auto put = [&](auto value) { bytes.append(reinterpret_cast<const char*>(&value), sizeof(value)); };
  put(y), put(std::uint16_t{0xABCD}), put(x), put(z), put('!');
  return bytes;
}
Cloud read(const std::string& bytes, std::uint64_t offset, std::uint64_t count, double mm_per_unit = 1.0) {
  return test::with_file(bytes, [&](const ScanFile& file) {
    return read_records(file, {offset, count}, mixed_layout(), mm_per_unit);
  });
}

TEST(Records, CoordinatesAreFoundByTheLayoutAndScaled) {
  const Cloud cloud = read("head" + mixed_record(0.1, -3, 2.5F) + mixed_record(7.0, 400, -1.0F), 4, 2, 25.4);
  ASSERT_EQ(cloud.points_mm.cols(), 2);
  EXPECT_EQ(cloud.points_mm.col(0), Eigen::Vector3d(25.4 * 0.1, 25.4 * -3.0, 25.4 * 2.5));
  EXPECT_EQ(cloud.points_mm.col(1), Eigen::Vector3d(25.4 * 7.0, 25.4 * 400.0, -25.4));
}

TEST(Records, AFileHoldsAsManyRecordsAsItHasRoomFor) {
  const std::string bytes = "head" + mixed_record(1, 2, 3) + mixed_record(4, 5, 6) + std::string(kStride - 1, 'x');
  EXPECT_EQ(read(bytes, 4, 2).points_mm.cols(), 2);
  const test::Refusal refusal = test::refusal_of([&] { return read(bytes, 4, 3); });
  EXPECT_EQ(refusal.id, "records.short");
  EXPECT_EQ(refusal.number("promised"), 3.0);
  EXPECT_EQ(refusal.number("room"), 2.0);
  EXPECT_EQ(test::refusal_of([&] { return read(bytes, 1000, 1); }).number("room"), 0.0) << "it begins behind the end";
}

TEST(Records, PointsThatAreNotFiniteAreDroppedCountedAndLeaveTheOrder) {
  // Enough for several parts; every seventh point has a NaN or an infinite coordinate, and so has the very last.
  constexpr int count = 50001;
  std::string bytes;
  std::vector<double> expected;
  for (int i = 0; i < count; ++i) {
    const bool good = i % 7 != 0 && i + 1 < count;
    const double x = good || i % 2 == 0 ? i : kNone;
    const float z = good || i % 2 != 0 ? 0.5F : std::numeric_limits<float>::infinity();
    bytes += mixed_record(x, 1, z);
    if (good) expected.push_back(i);
  }
  const Cloud cloud = read(bytes, 0, count);
  ASSERT_EQ(static_cast<std::size_t>(cloud.points_mm.cols()), expected.size());
  EXPECT_EQ(cloud.dropped_non_finite, count - expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i)
    ASSERT_EQ(cloud.points_mm(0, static_cast<Eigen::Index>(i)), expected[i]);
}

TEST(Records, FinitePointsMoveToTheFrontOfTheirRange) {
  Eigen::Matrix3Xd points(3, 6);
  points << 0, 1, kNone, 3, 4, 5,                               //
      0, 1, 2, 3, -std::numeric_limits<double>::infinity(), 5,  //
      0, 1, 2, 3, 4, 5;
  EXPECT_EQ(keep_finite(points, 1, 5), 2U);
  EXPECT_EQ(points.col(1), Eigen::Vector3d(1, 1, 1));
  EXPECT_EQ(points.col(2), Eigen::Vector3d(3, 3, 3));
  EXPECT_EQ(points.col(5), Eigen::Vector3d(5, 5, 5)) << "beyond the range nothing moves";
}

TEST(Records, PartsAreJoinedWithoutTheirGaps) {
  // Four columns a part, of which as many are kept as the part's number leaves after division by four, and one more.
  Cloud cloud;
  cloud.points_mm.resize(3, static_cast<Eigen::Index>(4 * kParallelParts));
  std::array<std::size_t, kParallelParts> begins{}, kept{};
  std::vector<double> expected;
  for (std::size_t part = 0; part < kParallelParts; ++part) {
    begins.at(part) = 4 * part;
    kept.at(part) = part % 4 + 1;
    for (std::size_t k = 0; k < 4; ++k) {
      const auto value = static_cast<double>(10 * part + k);
      cloud.points_mm.col(static_cast<Eigen::Index>(4 * part + k)).setConstant(value);
      if (k < kept.at(part)) expected.push_back(value);
    }
  }
  join_parts(cloud, begins, kept);
  EXPECT_EQ(cloud.dropped_non_finite, 4 * kParallelParts - expected.size());
  ASSERT_EQ(static_cast<std::size_t>(cloud.points_mm.cols()), expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i)
    EXPECT_EQ(cloud.points_mm.col(static_cast<Eigen::Index>(i)), Eigen::Vector3d::Constant(expected[i]));
}

TEST(Records, PointsThatComeOneByOneAreScaledAndCountedBeyondWhatWasExpected) {
  CloudBuilder builder(2, 0.001);
  for (int i = 0; i < 100; ++i) builder.add(i, i % 10 == 3 ? kNone : 2.0 * i, -i);
  EXPECT_EQ(builder.seen(), 100U);
  const Cloud cloud = std::move(builder).finish("by hand");
  EXPECT_EQ(cloud.format, "by hand");
  EXPECT_EQ(cloud.dropped_non_finite, 10U);
  ASSERT_EQ(cloud.points_mm.cols(), 90);
  EXPECT_EQ(cloud.points_mm.col(3), 0.001 * Eigen::Vector3d(4.0, 8.0, -4.0)) << "the point after the first one dropped";
  EXPECT_EQ(cloud.points_mm.col(89), 0.001 * Eigen::Vector3d(99.0, 198.0, -99.0));
}

TEST(Records, WhatTheUnitMakesInfiniteIsNoPoint) {
  CloudBuilder builder(1, 1000.0);
  builder.add(1e306, 0.0, 0.0);
  builder.add(1.0, 2.0, 3.0);
  const Cloud cloud = std::move(builder).finish("in metres");
  EXPECT_TRUE(cloud.points_mm.allFinite()) << "as a cloud promises";
  EXPECT_EQ(cloud.dropped_non_finite, 1U);
}

TEST(Records, NoPointsAreNoCloud) {
  const Cloud cloud = CloudBuilder(0, 1.0).finish("nothing");
  EXPECT_EQ(cloud.points_mm.cols(), 0);
  EXPECT_EQ(read("head", 4, 0).points_mm.cols(), 0);
}

}  // namespace
}  // namespace canewise
