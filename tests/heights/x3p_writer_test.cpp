// X3P surfaces as canewise writes them. Names of members, order of elements, types and units: ISO 25178-72 (2017, Amd
// 1:2020), as the project's handbook of published values (C8) lists them.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <zip.h>

#include <pugixml.hpp>
#include <random>

#include "tests/heights/x3p_files.h"

namespace canewise {
namespace {

using namespace test::x3p;
using testing::ElementsAre;
using testing::HasSubstr;
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

/// Members by name, in their order, unpacked without the project's own reader.
std::vector<std::pair<std::string, std::string>> unpacked(const std::string& bytes) {
  zip_error_t error;
  zip_error_init(&error);
  zip_t* archive =
      zip_open_from_source(zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error), ZIP_CHECKCONS, &error);
  std::vector<std::pair<std::string, std::string>> members;
  for (zip_uint64_t i = 0; archive != nullptr && i < static_cast<zip_uint64_t>(zip_get_num_entries(archive, 0)); ++i) {
    zip_stat_t status;
    zip_stat_index(archive, i, 0, &status);
    std::string member(static_cast<std::size_t>(status.size), '\0');
    zip_file_t* file = zip_fopen_index(archive, i, 0);
    EXPECT_EQ(zip_fread(file, member.data(), member.size()), static_cast<zip_int64_t>(member.size()));
    zip_fclose(file);
    members.emplace_back(status.name, member);
  }
  zip_discard(archive);
  return members;
}

std::vector<std::string> children_of(const pugi::xml_node& node) {
  std::vector<std::string> names;
  for (const auto& child : node.children()) names.emplace_back(child.name());
  return names;
}

HeightMap single_precision_heights() {
  HeightMap map;
  map.columns = 301;
  map.rows = 83;
  map.step_x_mm = 0.025;
  map.step_y_mm = 0.05;
  map.origin_x_mm = -3.75;
  map.origin_y_mm = 12.5;
  std::mt19937_64 random(11);
  std::normal_distribution<float> normal(1.5F, 2.0F);
  for (std::size_t i = 0; i < map.columns * map.rows; ++i)
    map.z_mm.push_back(i % 17 == 4 ? kMissing : static_cast<double>(normal(random)));
  return map;
}

TEST(X3pWriter, KeepsThePublishedRules) {
  // C8: names of members, order of elements, check sums, types and units.
  const HeightMap map = single_precision_heights();
  const auto members = unpacked(x3p_bytes(map, {"2026-01-31T12:00:00Z", "left < right & no more"}));
  ASSERT_EQ(members.size(), 3U);
  EXPECT_EQ(members[0].first, "main.xml");
  EXPECT_EQ(members[1].first, "bindata/data.bin");
  EXPECT_EQ(members[2].first, "md5checksum.hex");
  const auto& [xml, data, sum] = std::tie(members[0].second, members[1].second, members[2].second);
  EXPECT_EQ(data.size(), 8 * map.columns * map.rows);
  EXPECT_EQ(sum, fixtures::md5_hex(xml) + " *main.xml\n");

  pugi::xml_document document;
  ASSERT_TRUE(document.load_buffer(xml.data(), xml.size()));
  const pugi::xml_node root = document.document_element();
  EXPECT_STREQ(root.name(), "p:ISO5436_2");
  EXPECT_STREQ(root.attribute("xmlns:p").value(), "http://www.opengps.eu/2008/ISO5436_2");
  EXPECT_THAT(children_of(root), ElementsAre("Record1", "Record2", "Record3", "Record4"));

  const pugi::xml_node record1 = root.child("Record1");
  EXPECT_THAT(children_of(record1), ElementsAre("Revision", "FeatureType", "Axes"));
  EXPECT_THAT(record1.child_value("Revision"),
              testing::AnyOf(testing::StrEq("ISO5436 - 2000"), testing::StrEq("ISO25178-72:2017/DAM1")));
  EXPECT_STREQ(record1.child_value("FeatureType"), "SUR");
  const pugi::xml_node axes = record1.child("Axes");
  EXPECT_THAT(children_of(axes), ElementsAre("CX", "CY", "CZ"));
  for (const auto& [name, type, increment, offset] :
       {std::tuple{"CX", "I", 0.025e-3, -3.75e-3}, {"CY", "I", 0.05e-3, 12.5e-3}, {"CZ", "A", 1.0, 0.0}}) {
    const pugi::xml_node axis = axes.child(name);
    EXPECT_THAT(children_of(axis), ElementsAre("AxisType", "DataType", "Increment", "Offset"));
    EXPECT_STREQ(axis.child_value("AxisType"), type);
    EXPECT_STREQ(axis.child_value("DataType"), "D");
    EXPECT_DOUBLE_EQ(axis.child("Increment").text().as_double(), increment);
    EXPECT_DOUBLE_EQ(axis.child("Offset").text().as_double(), offset);
  }

  const pugi::xml_node record2 = root.child("Record2");
  EXPECT_THAT(children_of(record2), ElementsAre("Date", "Instrument", "CalibrationDate", "ProbingSystem", "Comment"));
  EXPECT_STREQ(record2.child_value("Date"), "2026-01-31T12:00:00Z");
  EXPECT_STREQ(record2.child_value("Comment"), "left < right & no more");
  EXPECT_THAT(children_of(record2.child("Instrument")), ElementsAre("Manufacturer", "Model", "Serial", "Version"));
  EXPECT_THAT(children_of(record2.child("ProbingSystem")), ElementsAre("Type", "Identification"));
  EXPECT_STREQ(record2.child("ProbingSystem").child_value("Type"), "Software");

  const pugi::xml_node record3 = root.child("Record3");
  EXPECT_THAT(children_of(record3), ElementsAre("MatrixDimension", "DataLink"));
  EXPECT_THAT(children_of(record3.child("MatrixDimension")), ElementsAre("SizeX", "SizeY", "SizeZ"));
  EXPECT_EQ(record3.child("MatrixDimension").child("SizeX").text().as_uint(), map.columns);
  EXPECT_EQ(record3.child("MatrixDimension").child("SizeY").text().as_uint(), map.rows);
  EXPECT_EQ(record3.child("MatrixDimension").child("SizeZ").text().as_uint(), 1U);
  EXPECT_THAT(children_of(record3.child("DataLink")), ElementsAre("PointDataLink", "MD5ChecksumPointData"));
  EXPECT_STREQ(record3.child("DataLink").child_value("PointDataLink"), "bindata/data.bin");
  EXPECT_EQ(record3.child("DataLink").child_value("MD5ChecksumPointData"), fixtures::md5_hex(data));
  EXPECT_STREQ(root.child("Record4").child_value("ChecksumFile"), "md5checksum.hex");

  // Metres, little-endian, x fastest; NaN where nothing was measured.
  const std::size_t node = 2 * map.columns + 5;
  EXPECT_DOUBLE_EQ(test::number_at<double>(data, 8 * node), 1e-3 * map.z_mm[node]);
  EXPECT_TRUE(std::isnan(test::number_at<double>(data, 8 * 4)));
}

TEST(X3pWriter, SinglePrecisionHeightsReadBackAsTheSameNumbers) {
  const HeightMap map = single_precision_heights();
  const HeightMap back = read_map(x3p_bytes(map, {"2026-01-31T12:00:00Z", ""}));
  EXPECT_EQ(back.columns, map.columns);
  EXPECT_EQ(back.rows, map.rows);
  EXPECT_DOUBLE_EQ(back.step_x_mm, map.step_x_mm);
  EXPECT_DOUBLE_EQ(back.step_y_mm, map.step_y_mm);
  EXPECT_DOUBLE_EQ(back.origin_x_mm, map.origin_x_mm);
  EXPECT_DOUBLE_EQ(back.origin_y_mm, map.origin_y_mm);
  // The metres of the file cost a double its last bit, which no single-precision number has.
  std::vector<double> rounded;
  for (const double z : back.z_mm) rounded.push_back(static_cast<double>(static_cast<float>(z)));
  EXPECT_EQ(test::differing_bits(rounded, map.z_mm), 0U);
}

TEST(X3pWriter, EqualMapsGiveEqualBytes) {
  const HeightMap map = single_precision_heights();
  EXPECT_EQ(x3p_bytes(map, {"2026-01-31T12:00:00Z", "a"}), x3p_bytes(map, {"2026-01-31T12:00:00Z", "a"}));
  EXPECT_NE(x3p_bytes(map, {"2026-01-31T12:00:00Z", "a"}), x3p_bytes(map, {"2026-01-31T12:00:00Z", "b"}));
}

TEST(X3pWriter, AnEmptyGridIsNoMap) { EXPECT_THROW((void)x3p_bytes({}, {}), std::invalid_argument); }

}  // namespace
}  // namespace canewise
