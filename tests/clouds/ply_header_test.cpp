#include "scanproc/clouds/ply_header.h"

#include <gtest/gtest.h>

#include <string>

#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

PlyHeader read(const std::string& bytes) { return test::with_file(bytes, read_ply_header); }
test::Refusal refusal_of(const std::string& bytes) {
  const test::TempFolder folder;
  const auto path = folder.file("a.ply", bytes);
  test::Refusal refusal = test::refusal_of([&] { return read_ply_header(ScanFile(path)); });
  EXPECT_EQ(refusal.file, path.string());
  return refusal;
}

TEST(PlyHeader, TellsElementsAndPropertiesInTheBodysOrder) {
  const std::string text =
      "ply\nformat binary_big_endian 1.0\ncomment by hand\nobj_info none\nelement face 7\nproperty uchar "
      "seen\nproperty "
      "list ushort int vertex_indices\nelement vertex 12\nproperty float x\nproperty double y\nend_header\n";
  const PlyHeader header = read(text + "body");
  EXPECT_EQ(header.encoding, PlyEncoding::big_endian);
  EXPECT_EQ(header.body_offset, text.size());
  ASSERT_EQ(header.elements.size(), 2U);
  const PlyElement& face = header.elements[0];
  EXPECT_EQ(face.name, "face");
  EXPECT_EQ(face.count, 7U);
  ASSERT_EQ(face.properties.size(), 2U);
  EXPECT_EQ(face.properties[0].name, "seen");
  EXPECT_FALSE(face.properties[0].is_list);
  EXPECT_EQ(face.properties[1].name, "vertex_indices");
  EXPECT_TRUE(face.properties[1].is_list);
  EXPECT_EQ(face.properties[1].count_type, ScalarType::uint16);
  EXPECT_EQ(face.properties[1].type, ScalarType::int32);
  const PlyElement& vertex = header.elements[1];
  EXPECT_EQ(vertex.count, 12U);
  EXPECT_EQ(vertex.properties[1].type, ScalarType::float64);
}

TEST(PlyHeader, KnowsAnElementsLists) {
  const PlyHeader header = read(
      "ply\nformat ascii 1.0\nelement face 1\nproperty uchar seen\nproperty list ushort double d\nelement vertex "
      "1\nproperty float x\nproperty short y\nend_header\n");
  EXPECT_TRUE(header.elements[0].has_list());
  EXPECT_EQ(header.elements[0].least_bytes(), 3U) << "of a list only its count";
  EXPECT_FALSE(header.elements[1].has_list());
  EXPECT_EQ(header.elements[1].least_bytes(), 6U);
}

TEST(PlyHeader, EveryTypeHasTwoNames) {
  const struct {
    const char *elder, *newer;
    ScalarType type;
  } names[] = {{"char", "int8", ScalarType::int8},        {"uchar", "uint8", ScalarType::uint8},
               {"short", "int16", ScalarType::int16},     {"ushort", "uint16", ScalarType::uint16},
               {"int", "int32", ScalarType::int32},       {"uint", "uint32", ScalarType::uint32},
               {"float", "float32", ScalarType::float32}, {"double", "float64", ScalarType::float64}};
  for (const auto& name : names) {
    for (const std::string word : {name.elder, name.newer}) {
      const PlyHeader header = read("ply\nformat ascii 1.0\nelement e 1\nproperty " + word + " p\nend_header\n");
      EXPECT_EQ(header.elements.at(0).properties.at(0).type, name.type) << word;
    }
  }
}

TEST(PlyHeader, LinesMayEndAsOnAnySystem) {
  for (const std::string end : {"\n", "\r\n", "\r"}) {
    const std::string text = "ply" + end + "format binary_little_endian 1.0" + end + "end_header" + end;
    const PlyHeader header = read(text + "body");
    EXPECT_EQ(header.encoding, PlyEncoding::little_endian);
    EXPECT_EQ(header.body_offset, text.size());
  }
}

TEST(PlyHeader, ARefusalNamesTheLine) {
  const std::string start = "ply\nformat ascii 1.0\nelement vertex 1\n";
  const auto at_line_4 = [&](const std::string& line) {
    const test::Refusal refusal = refusal_of(start + line + "\nend_header\n");
    EXPECT_EQ(refusal.number("line"), 4.0) << line;
    return refusal.id;
  };
  EXPECT_EQ(at_line_4("property quaternion q"), "ply.unknown_type");
  EXPECT_EQ(at_line_4("property list nothing int i"), "ply.unknown_count_type");
  EXPECT_EQ(at_line_4("property list double int i"), "ply.count_type");
  EXPECT_EQ(at_line_4("property float"), "ply.property_name");
  EXPECT_EQ(at_line_4("element face"), "ply.unreadable_count");
  EXPECT_EQ(at_line_4("element face -1"), "ply.unreadable_count");
  EXPECT_EQ(at_line_4("format xml 1.0"), "ply.unknown_format");
  EXPECT_EQ(at_line_4("shape round"), "ply.unknown_word");
  const test::Refusal first = refusal_of("ply\nproperty float x\nend_header\n");
  EXPECT_EQ(first.id, "ply.property_first");
  EXPECT_EQ(first.number("line"), 2.0);
  EXPECT_EQ(refusal_of("ply\nelement vertex 1\nend_header\n").id, "ply.no_format");
  EXPECT_EQ(refusal_of("ply\nformat ascii 1.0\nelement vertex 1\n").id, "ply.no_end");
}

/// A header of exactly `size` bytes.
std::string header_of(std::size_t size) {
  const std::string begin = "ply\nformat binary_little_endian 1.0\ncomment ", end = "\nend_header\n";
  return begin + std::string(size - begin.size() - end.size(), 'x') + end;
}

TEST(PlyHeader, EndsWithinItsFirst65536Bytes) {
  EXPECT_EQ(read(header_of(65536) + "body").body_offset, 65536U);
  const test::Refusal refusal = refusal_of(header_of(65536 + 20) + "body");
  EXPECT_EQ(refusal.id, "ply.no_end");
  EXPECT_EQ(refusal.number("bytes"), 65536.0);
}

TEST(PlyHeader, WhereItsLastLineEndIsCutOffTheBodyDoesNotBeginEarly) {
  // One byte more than is looked at, the line end: read a byte too early, a binary body would give other points.
  try {
    EXPECT_EQ(read(header_of(65537) + "body").body_offset, 65537U);
  } catch (const InputError&) {  // Refused is as good.
  }
}

}  // namespace
}  // namespace canewise
