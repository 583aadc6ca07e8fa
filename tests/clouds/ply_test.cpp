// PLY bodies in which other elements and lists stand before, among and behind the vertices, in every encoding.
#include "scanproc/clouds/ply.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <random>

#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;

Cloud read(const std::string& bytes) {
  return test::with_file(bytes, [](const ScanFile& file) { return read_ply(file, 1.0); });
}
std::string refusal(const std::string& bytes) {
  return test::refusal(bytes, [](const ScanFile& file) { return read_ply(file, 1.0); });
}

enum class Encoding { ascii, little, big };

/// Writes bodies value by value in one of the encodings.
class Body {
 public:
  explicit Body(Encoding encoding) : encoding_(encoding) {}
  template <typename T>
  Body& put(T value) {
    if (encoding_ == Encoding::ascii) {
      bytes_ += fmt::format("{} ", +value);
      return *this;
    }
    std::array<char, sizeof(T)> raw{};
    std::memcpy(raw.data(), &value, sizeof(T));
    if (encoding_ == Encoding::big) std::reverse(raw.begin(), raw.end());
    bytes_.append(raw.data(), raw.size());
    return *this;
  }
  template <typename Count, typename T>
  Body& list(const std::vector<T>& values) {
    put(static_cast<Count>(values.size()));
    for (const T value : values) put(value);
    return *this;
  }
  Body& end_row() {
    if (encoding_ == Encoding::ascii) bytes_ += "\n";
    return *this;
  }
  [[nodiscard]] const std::string& bytes() const { return bytes_; }

 private:
  Encoding encoding_;
  std::string bytes_;
};

std::string file_of(Encoding encoding, const std::string& elements, const std::string& body) {
  const char* name = encoding == Encoding::ascii    ? "ascii"
                     : encoding == Encoding::little ? "binary_little_endian"
                                                    : "binary_big_endian";
  return fmt::format("ply\nformat {} 1.0\n{}end_header\n", name, elements) + body;
}

std::string xyz_element(std::size_t count) {
  return fmt::format("element vertex {}\nproperty float x\nproperty float y\nproperty float z\n", count);
}

Eigen::Matrix3Xf some_points(Eigen::Index count) {
  Eigen::Matrix3Xf points(3, count);
  std::mt19937_64 random(7);
  std::uniform_real_distribution<float> uniform(-80.0F, 80.0F);
  for (Eigen::Index i = 0; i < points.size(); ++i) points(i) = uniform(random);
  return points;
}

class EveryEncoding : public testing::TestWithParam<Encoding> {};
INSTANTIATE_TEST_SUITE_P(Ply, EveryEncoding, testing::Values(Encoding::ascii, Encoding::little, Encoding::big));

TEST_P(EveryEncoding, ListsBeforeTheVerticesAreSteppedOver) {
  const Eigen::Matrix3Xf points = some_points(500);
  Body body(GetParam());
  // Longer than a reader's piece, shorter, empty: in lists of several kinds, then a scalar element.
  for (const int length : {0, 70000, 3, 300}) {
    body.put(0.5F).list<int>(std::vector<double>(static_cast<std::size_t>(length), 1.25)).put(std::int16_t{-4});
    body.list<unsigned char>(std::vector<unsigned short>(static_cast<std::size_t>(std::min(length, 255)), 9)).end_row();
  }
  body.put(1.0).end_row().put(2.0).end_row();
  for (Eigen::Index i = 0; i < points.cols(); ++i) body.put(points(0, i)).put(points(1, i)).put(points(2, i)).end_row();
  const Cloud cloud = read(file_of(GetParam(),
                                   "element profile 4\nproperty float gain\nproperty list int double width\nproperty "
                                   "short row\nproperty list uchar ushort grey\nelement camera 2\nproperty double f\n" +
                                       xyz_element(500),
                                   body.bytes()));
  ASSERT_EQ(cloud.points_mm.cols(), 500);
  EXPECT_EQ((cloud.points_mm.cast<float>() - points).cwiseAbs().maxCoeff(), 0.0F);
}

TEST_P(EveryEncoding, ListsAmongTheCoordinatesAreSteppedOver) {
  const Eigen::Matrix3Xf points = some_points(2000);
  Body body(GetParam());
  for (Eigen::Index i = 0; i < points.cols(); ++i) {
    body.put(points(2, i)).list<unsigned char>(std::vector<float>(static_cast<std::size_t>(i % 5), 7.5F));
    body.put(points(0, i)).put(static_cast<unsigned char>(200)).put(points(1, i));
    body.list<std::uint16_t>(std::vector<int>(static_cast<std::size_t>(i % 3), -1)).end_row();
  }
  const Cloud cloud = read(file_of(GetParam(),
                                   "element vertex 2000\nproperty float z\nproperty list uchar float echo\nproperty "
                                   "float x\nproperty uchar red\nproperty float y\nproperty list ushort int seen\n",
                                   body.bytes()));
  ASSERT_EQ(cloud.points_mm.cols(), 2000);
  EXPECT_EQ((cloud.points_mm.cast<float>() - points).cwiseAbs().maxCoeff(), 0.0F);
}

/// A square of two triangles: its faces before or behind its vertices, with strips between.
std::string square(Encoding encoding, bool faces_first) {
  Body faces(encoding), vertices(encoding), strips(encoding);
  for (const std::vector<int>& corners : {std::vector<int>{0, 1, 2}, {0, 2, 3}})
    faces.put(static_cast<unsigned char>(1)).list<unsigned char>(corners).end_row();
  strips.list<int>(std::vector<int>{4, 5, 6, 7}).end_row();
  for (const auto& [x, y] : {std::pair{0.0F, 0.0F}, {1.0F, 0.0F}, {1.0F, 1.0F}, {0.0F, 1.0F}})
    vertices.put(x).put(y).put(2.0F).end_row();
  const std::string face = "element face 2\nproperty uchar seen\nproperty list uchar int vertex_indices\n",
                    strip = "element tristrips 1\nproperty list int int vertex_indices\n";
  return faces_first
             ? file_of(encoding, face + strip + xyz_element(4), faces.bytes() + strips.bytes() + vertices.bytes())
             : file_of(encoding, xyz_element(4) + strip + face, vertices.bytes() + strips.bytes() + faces.bytes());
}

TEST_P(EveryEncoding, FacesAreTheSameSurfaceBeforeAndBehindTheVertices) {
  const Cloud behind = read(square(GetParam(), false)), before = read(square(GetParam(), true));
  EXPECT_THAT(behind.format, HasSubstr("mesh"));
  EXPECT_GT(behind.points_mm.cols(), 100) << "there are points between the four corners";
  ASSERT_EQ(before.points_mm.cols(), behind.points_mm.cols());
  EXPECT_EQ((before.points_mm - behind.points_mm).cwiseAbs().maxCoeff(), 0.0);
}

TEST_P(EveryEncoding, AFileCutAnywhereIsRefused) {
  const std::string whole = square(GetParam(), true);
  const std::size_t body = whole.find("end_header\n") + 11;
  // Of a text the last word may lose its end and still be a number; its last line is left out.
  const std::size_t end = GetParam() == Encoding::ascii ? whole.rfind('\n', whole.size() - 2) - 1 : whole.size();
  for (std::size_t left = body; left < end; ++left)
    EXPECT_THAT(refusal(whole.substr(0, left)), HasSubstr("cut short")) << left;
}

TEST(PlyHostile, CountsThatTheBodyCannotHoldAreRefusedInLittleMemoryAndTime) {
  const std::string list = "element strip {}\nproperty list {} int i\n";
  for (const Encoding encoding : {Encoding::ascii, Encoding::little, Encoding::big}) {
    for (const char* count : {"1000000000000", "18446744073709551615", "2"}) {
      const std::string lists = file_of(encoding, fmt::format(fmt::runtime(list), count, "uint") + xyz_element(1),
                                        encoding == Encoding::ascii ? "4294967295 1 2\n1 2 3\n"
                                                                    : "\xff\xff\xff\xff"
                                                                      "1234567890123");
      const std::string among = file_of(
          encoding,
          fmt::format("element vertex {}\nproperty float x\nproperty float y\nproperty float z\nproperty list uint "
                      "double e\n",
                      count),
          encoding == Encoding::ascii ? "1 2 3 4000000000 1 2\n"
                                      : "123412341234\xff\xff\xff\xff"
                                        "12341234");
      const std::string nothing = file_of(encoding, fmt::format("element nothing {}\n", count) + xyz_element(0), "");
      const auto begin = std::chrono::steady_clock::now();
      EXPECT_LT(test::peak_growth([&] {
                  EXPECT_THAT(refusal(lists), HasSubstr("cut short"));
                  EXPECT_THAT(refusal(among), HasSubstr("cut short"));
                  try {
                    (void)read(nothing);  // Rows without values take no room: nothing to refuse in binary.
                  } catch (const InputError&) {
                  }
                }),
                test::kLittleMemory)
          << count;
      // A count that is believed would take hours; a second is a slow machine's.
      EXPECT_LT(std::chrono::steady_clock::now() - begin, std::chrono::seconds(1)) << count;
    }
  }
}

TEST(PlyHostile, ListsOfImpossibleLengthNameTheirRow) {
  const std::string strip = "element strip 2\nproperty list char uchar i\n" + xyz_element(1);
  EXPECT_THAT(refusal(file_of(Encoding::ascii, strip, "1 5\n-1\n1 2 3\n")),
              AllOf(HasSubstr("row 2 of its element 'strip'"), HasSubstr("'i'")));
  EXPECT_THAT(refusal(file_of(Encoding::ascii, strip, "1 5\nmany\n1 2 3\n")), HasSubstr("row 2"));
  EXPECT_THAT(refusal(file_of(Encoding::little, strip, std::string("\1\5\xff", 3) + std::string(12, '1'))),
              AllOf(HasSubstr("row 2 of its element 'strip'"), HasSubstr("'i'")));
  EXPECT_THAT(refusal(file_of(Encoding::ascii, "element strip 1\nproperty list float int i\n" + xyz_element(1),
                              "1 2\n1 2 3\n")),
              AllOf(HasSubstr("line 4"), HasSubstr("'float'")));
  // A list that goes on in the next line would shift every point: it is refused instead.
  EXPECT_THAT(refusal(file_of(Encoding::ascii, "element strip 1\nproperty list int int i\n" + xyz_element(1),
                              "4 1 2\n3 4\n1 2 3\n")),
              HasSubstr("row 1 of its element 'strip' has too few numbers"));
}

TEST(PlyHostile, ManySmallRowsBeforeThePointsTakeTimeInProportion) {
  const auto seconds = [](std::size_t rows) {
    Body body(Encoding::little);
    for (std::size_t i = 0; i < rows; ++i) body.list<unsigned char>(std::vector<int>(i % 4, 1));
    body.put(1.0F).put(2.0F).put(3.0F);
    const std::string bytes =
        file_of(Encoding::little, fmt::format("element strip {}\nproperty list uchar int i\n", rows) + xyz_element(1),
                body.bytes());
    const test::TempFolder folder;
    const auto path = folder.file("s.ply", bytes);
    const auto begin = std::chrono::steady_clock::now();
    EXPECT_EQ(read_ply(ScanFile(path), 1.0).points_mm.cols(), 1);
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  };
  const double few = seconds(100000), many = seconds(1600000);
  // Sixteen times the rows; a quadratic reader would take 256 times as long. Eightfold spare for a busy machine.
  EXPECT_LT(many, 128.0 * std::max(few, 1e-3));
}

TEST(Ply, PointsAndFacesBeyondTheRoomOfTheFirstReadingAreThereToo) {
  constexpr std::size_t points = 3'000'000;  // 72 MB of doubles; the first reading has 52.
  for (const bool text : {false, true}) {
    std::string bytes = std::string("ply\nformat ") + (text ? "ascii" : "binary_little_endian") +
                        " 1.0\nelement vertex " + std::to_string(points) +
                        "\nproperty uchar x\nproperty uchar y\nproperty uchar z\nelement face 1\n"
                        "property list uchar uchar vertex_indices\nend_header\n";
    const std::string other = text ? "1 2 3\n" : "\1\2\3", first = text ? "9 0 0\n" : std::string("\x09\0\0", 3);
    bytes += first;
    for (std::size_t k = 1; k < points; ++k) bytes += other;
    bytes += text ? "3 0 1 2\n" : std::string("\3\0\1\2", 4);
    const Cloud cloud = read(bytes);
    // Of a mesh each place counts once: two places, and no triangle between three corners of which two are one.
    ASSERT_EQ(cloud.points_mm.cols(), 2) << text;
    EXPECT_EQ(cloud.points_mm.col(0), Eigen::Vector3d(9.0, 0.0, 0.0));
    EXPECT_EQ(cloud.points_mm.col(1), Eigen::Vector3d(1.0, 2.0, 3.0));
  }
}

}  // namespace
}  // namespace canewise
