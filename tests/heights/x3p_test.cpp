// X3P surfaces. Container, names, order of elements and the amendment's sample: ISO 25178-72 (2017, Amd 1:2020), as the
// project's handbook of published values (C8) lists them.
#include "scanproc/heights/x3p.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <zip.h>

#include <pugixml.hpp>
#include <random>

#include "fixtures/write_surface.h"
#include "scanproc/bytes/zip_archive.h"
#include "scanproc/scan/read_scan.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

Cloud read(const std::string& bytes) { return test::with_file(bytes, read_x3p); }
HeightMap read_map(const std::string& bytes) { return test::with_file(bytes, read_x3p_map); }
std::string refusal(const std::string& bytes) { return test::refusal(bytes, read_x3p); }

/// A 23 x 17 patch with gaps; no two rows or columns alike.
HeightMap patch() {
  HeightMap map;
  map.columns = 23;
  map.rows = 17;
  map.step_x_mm = 0.05;
  map.step_y_mm = 0.08;
  for (int i = 0; i < 23 * 17; ++i)
    map.z_mm.push_back(i % 13 == 5 ? kMissing : 1.5 + 0.03 * (i % 23) - 0.02 * (i / 23) + 1e-4 * (i * i % 97));
  return map;
}

Eigen::Matrix3Xd points_of(const HeightMap& map) {
  std::vector<Eigen::Vector3d> points;
  for (std::size_t i = 0; i < map.z_mm.size(); ++i) {
    if (std::isnan(map.z_mm[i])) continue;
    points.emplace_back(map.origin_x_mm + map.step_x_mm * static_cast<double>(i % map.columns),
                        map.origin_y_mm + map.step_y_mm * static_cast<double>(i / map.columns), map.z_mm[i]);
  }
  return Eigen::Map<Eigen::Matrix3Xd>(points.front().data(), 3, static_cast<Eigen::Index>(points.size()));
}

struct Style {
  const char* name;
  fixtures::X3pStyle style;
  double z_tolerance_mm, xy_tolerance_mm;
};

void PrintTo(const Style& style, std::ostream* out) { *out << style.name; }

// Double: a few roundings at 2 mm. Single: half its last place, 2^-25 of the number below 4 mm, written in metres.
constexpr double kDouble = 2e-15, kSingle = 4.0 * 0x1p-25;

class EveryStyle : public testing::TestWithParam<Style> {};

TEST_P(EveryStyle, GivesTheSamePointsWithinItsStorageStep) {
  const Style& sample = GetParam();
  const Cloud cloud = read(fixtures::x3p_file(patch(), sample.style));
  const Eigen::Matrix3Xd truth = points_of(patch());
  ASSERT_EQ(cloud.points_mm.cols(), truth.cols());
  const Eigen::Matrix3Xd apart = (cloud.points_mm - truth).cwiseAbs();
  EXPECT_LE(apart.row(2).maxCoeff(), sample.z_tolerance_mm);
  EXPECT_LE(apart.topRows(2).maxCoeff(), sample.xy_tolerance_mm);
  EXPECT_TRUE(cloud.unit_known);
  EXPECT_EQ(cloud.dropped_non_finite, 0U) << "a place that was not measured is no damage";
  EXPECT_THAT(test::each_in_english(cloud.notes), testing::IsEmpty());
}

// A whole number of steps is half a step from the height at most, and a rounding of the product.
INSTANTIATE_TEST_SUITE_P(
    All, EveryStyle,
    testing::Values(
        Style{"doubles", {}, kDouble, kDouble}, Style{"doubles_of_um", {.z_increment_m = 1e-6}, kDouble, kDouble},
        Style{"doubles_with_validity", {.with_validity = true}, kDouble, kDouble},
        Style{"floats", {.z_type = 'F'}, kSingle, kDouble},
        Style{"floats_of_nm", {.z_type = 'F', .z_increment_m = 1e-9}, kSingle, kDouble},
        Style{"int16_of_um", {.z_type = 'I', .z_increment_m = 1e-6, .with_validity = true}, 0.5e-3 + kDouble, kDouble},
        Style{"int16_of_100_nm",
              {.z_type = 'I', .z_increment_m = 1e-7, .with_validity = true},
              0.5e-4 + kDouble,
              kDouble},
        Style{"int32_of_nm", {.z_type = 'L', .z_increment_m = 1e-9, .with_validity = true}, 0.5e-6 + kDouble, kDouble},
        Style{"own_axes", {.absolute_axes = true}, kDouble, kDouble},
        Style{"own_axes_in_floats", {.absolute_axes = true, .xy_type = 'F'}, kDouble, kSingle},
        Style{"own_axes_floats_throughout", {.z_type = 'F', .absolute_axes = true, .xy_type = 'F'}, kSingle, kSingle},
        Style{"own_axes_int16_heights",
              {.z_type = 'I', .z_increment_m = 1e-6, .absolute_axes = true, .xy_type = 'F', .with_validity = true},
              0.5e-3 + kDouble,
              kSingle},
        Style{"in_the_xml", {.as_list_in_xml = true}, kDouble, kDouble},
        Style{"in_the_xml_of_um", {.z_increment_m = 1e-6, .as_list_in_xml = true}, kDouble, kDouble},
        Style{"in_the_xml_own_axes", {.absolute_axes = true, .as_list_in_xml = true}, kDouble, kDouble},
        Style{"point_list", {.point_list = true}, kDouble, kDouble},
        Style{"point_list_in_floats", {.z_type = 'F', .xy_type = 'F', .point_list = true}, kSingle, kSingle},
        Style{"point_list_in_the_xml", {.as_list_in_xml = true, .point_list = true}, kDouble, kDouble},
        Style{"point_list_of_nm_with_validity",
              {.z_type = 'L', .z_increment_m = 1e-9, .point_list = true, .with_validity = true},
              0.5e-6 + kDouble,
              kDouble}),
    [](const auto& style) { return style.param.name; });

TEST(X3p, AMatrixOfHeightsIsAHeightMapAndTheOtherKindsAreNot) {
  const HeightMap truth = patch();
  const HeightMap map = read_map(fixtures::x3p_file(truth, {}));
  EXPECT_EQ(map.columns, truth.columns);
  EXPECT_EQ(map.rows, truth.rows);
  EXPECT_DOUBLE_EQ(map.step_x_mm, 0.05);
  EXPECT_DOUBLE_EQ(map.step_y_mm, 0.08);
  EXPECT_LE(test::greatest_difference(map.z_mm, truth.z_mm), kDouble);
  for (const fixtures::X3pStyle& style : {fixtures::X3pStyle{.absolute_axes = true}, {.point_list = true}}) {
    EXPECT_THAT(test::refusal(fixtures::x3p_file(truth, style), read_x3p_map), HasSubstr("no regular height map"));
  }
}

TEST(X3p, IsToldByItsContent) {
  const Cloud cloud =
      test::with_file(fixtures::x3p_file(patch(), {}), [](const ScanFile& file) { return read_scan(file); });
  EXPECT_EQ(cloud.points_mm.cols(), points_of(patch()).cols());
}

// ---------------------------------------------------------------------------------------------------------------------
// Descriptions written by hand.
// ---------------------------------------------------------------------------------------------------------------------

struct Description {
  std::string axes =
      "<CX><AxisType>I</AxisType><DataType>D</DataType><Increment>1e-3</Increment><Offset>0</Offset></CX>"
      "<CY><AxisType>I</AxisType><DataType>D</DataType><Increment>1e-3</Increment><Offset>0</Offset></CY>"
      "<CZ><AxisType>A</AxisType><DataType>D</DataType><Increment>1</Increment><Offset>0</Offset></CZ>";
  std::string dimension = "<MatrixDimension><SizeX>2</SizeX><SizeY>2</SizeY><SizeZ>1</SizeZ></MatrixDimension>";
  std::string data =
      "<DataList><Datum>0.001</Datum><Datum>0.002</Datum><Datum>0.003</Datum><Datum>0.004</Datum></DataList>";
  std::string prologue;
};

std::string xml_of(const Description& d) {
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + d.prologue +
         "<p:ISO5436_2 xmlns:p=\"http://www.opengps.eu/2008/ISO5436_2\"><Record1><Revision>ISO25178-72:2017/DAM1"
         "</Revision><FeatureType>SUR</FeatureType><Axes>" +
         d.axes + "</Axes></Record1><Record3>" + d.dimension + d.data +
         "</Record3><Record4><ChecksumFile>md5checksum.hex</ChecksumFile></Record4></p:ISO5436_2>\n";
}

std::string link_to(const std::string& member, const std::string& data) {
  return "<DataLink><PointDataLink>" + member + "</PointDataLink><MD5ChecksumPointData>" + fixtures::md5_hex(data) +
         "</MD5ChecksumPointData></DataLink>";
}

std::string matrix(const std::string& x, const std::string& y, const std::string& z = "1") {
  return fmt::format("<MatrixDimension><SizeX>{}</SizeX><SizeY>{}</SizeY><SizeZ>{}</SizeZ></MatrixDimension>", x, y, z);
}

TEST(X3p, TheAmendmentsSample) {
  // The 4 x 4 sample of ISO 25178-72:2017/Amd 1:2020 (C8); an empty Datum is a place that was not measured.
  std::string list;
  for (const char* um :
       {"4.86219120804151", "3.46341436648013", "-8.08368571682830", "-5.79793099037002", "8.57622027393310",
        "1.04759602566142", "1.01879225277798", "", "8.23683772970184", "7.97872489327661", "-5.57459388341694",
        "-2.33247858849220", "6.75397146760858", "4.20737549074718", "6.42069248110950", "-2.15696638464903"})
    list += *um == '\0' ? "<Datum/>\n" : "<Datum>" + std::string(um) + "e-6</Datum>\n";
  Description d;
  d.axes =
      "<CX><AxisType>I</AxisType><DataType>D</DataType><Increment>1.6016e-6</Increment><Offset>0</Offset></CX>"
      "<CY><AxisType>I</AxisType><DataType>D</DataType><Increment>1.6016e-6</Increment><Offset>0</Offset></CY>"
      "<CZ><AxisType>A</AxisType><DataType>D</DataType><Increment>1</Increment><Offset>0</Offset></CZ>";
  d.dimension = matrix("4", "4");
  d.data = "<DataList>" + list + "</DataList>";
  const std::string bytes = fixtures::x3p_from(xml_of(d), {});
  const HeightMap map = read_map(bytes);
  EXPECT_EQ(map.columns, 4U);
  EXPECT_EQ(map.rows, 4U);
  EXPECT_DOUBLE_EQ(map.step_x_mm, 1.6016e-3);
  EXPECT_DOUBLE_EQ(map.step_y_mm, 1.6016e-3);
  EXPECT_TRUE(std::isnan(map.z_mm.at(7)));
  const Cloud cloud = read(bytes);
  ASSERT_EQ(cloud.points_mm.cols(), 15);
  const Eigen::ArrayXd z_m = 1e-3 * cloud.points_mm.row(2).transpose().array();
  // C8 gives nine digits of both, the last one of the second cut instead of rounded: a unit of it.
  EXPECT_NEAR(z_m.mean(), 1.90801071e-6, 0.5e-14);
  EXPECT_NEAR(std::sqrt((z_m - z_m.mean()).square().mean()), 5.37212268e-6, 1e-14);
}

TEST(X3p, AnAxisWithoutIncrementHoldsMetresAndOffsetsMoveThePoints) {
  // C8: 'a missing z Increment means 1'; 'global = Rotation (Increment stored) + Offset'.
  Description d;
  d.axes =
      "<CX><AxisType>I</AxisType><DataType>D</DataType><Increment>1e-3</Increment><Offset>0.010</Offset></CX>"
      "<CY><AxisType>I</AxisType><DataType>D</DataType><Increment>2e-3</Increment><Offset>-0.020</Offset></CY>"
      "<CZ><AxisType>A</AxisType><DataType>D</DataType><Offset>0.005</Offset></CZ>";
  const Cloud cloud = read(fixtures::x3p_from(xml_of(d), {}));
  Eigen::Matrix3Xd wanted(3, 4);
  wanted << 10, 11, 10, 11, -20, -20, -18, -18, 6, 7, 8, 9;
  ASSERT_EQ(cloud.points_mm.cols(), 4);
  EXPECT_LT((cloud.points_mm - wanted).cwiseAbs().maxCoeff(), 1e-14);
}

std::string rotation(const Eigen::Matrix3d& r) {
  std::string text = "<Rotation>";
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) text += fmt::format("<r{0}{1}>{2}</r{0}{1}>", i + 1, j + 1, r(i, j));
  }
  return text + "</Rotation>";
}

TEST(X3p, RotationTurnsThePointsBeforeTheOffsetIsAdded) {
  // C8: 'global = Rotation (r11..r33) x (Increment x stored) + Offset'. A turn that sends x to y, y to z and z to x.
  Eigen::Matrix3d turn;
  turn << 0, 0, 1, 1, 0, 0, 0, 1, 0;
  Description d;
  d.axes =
      "<CX><AxisType>I</AxisType><DataType>D</DataType><Increment>1e-3</Increment><Offset>0.010</Offset></CX>"
      "<CY><AxisType>I</AxisType><DataType>D</DataType><Increment>2e-3</Increment><Offset>0.020</Offset></CY>"
      "<CZ><AxisType>A</AxisType><DataType>D</DataType><Increment>10</Increment><Offset>0.030</Offset></CZ>" +
      rotation(turn);
  const std::string bytes = fixtures::x3p_from(xml_of(d), {});
  const Cloud cloud = read(bytes);
  // Nodes (0, 0), (1, 0), (0, 2), (1, 2) mm at heights of 10, 20, 30 and 40 mm.
  Eigen::Matrix3Xd wanted(3, 4);
  wanted << 20, 30, 40, 50, 20, 21, 20, 21, 30, 30, 32, 32;
  ASSERT_EQ(cloud.points_mm.cols(), 4);
  EXPECT_LT((cloud.points_mm - wanted).cwiseAbs().maxCoeff(), 1e-13);
  EXPECT_THAT(test::refusal(bytes, read_x3p_map), HasSubstr("turned"));
}

TEST(X3p, AMatrixThatIsNoRotationIsRefused) {
  const Eigen::Matrix3d one = Eigen::Matrix3d::Identity();
  Eigen::Matrix3d mirror = one, sheared = one;
  mirror(0, 0) = -1.0;
  sheared(0, 1) = 0.1;
  for (const Eigen::Matrix3d& wrong : {Eigen::Matrix3d(1.1 * one), mirror, sheared, Eigen::Matrix3d(0.0 * one)}) {
    Description d;
    d.axes += rotation(wrong);
    EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {})), HasSubstr("no rotation")) << wrong;
  }
  Description incomplete;
  incomplete.axes += "<Rotation><r11>1</r11><r22>1</r22><r33>1</r33></Rotation>";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(incomplete), {})), HasSubstr("no rotation"));
}

TEST(X3p, NamespacePrefixAndCommentsDoNotMatter) {
  std::string xml = xml_of({});
  const std::string plain = "<ISO5436_2 xmlns=\"http://www.opengps.eu/2008/ISO5436_2\">";
  xml.replace(xml.find("<p:ISO5436_2"), xml.find("<Record1>") - xml.find("<p:ISO5436_2"), plain + "<!-- remark -->");
  xml.replace(xml.find("</p:ISO5436_2>"), 14, "</ISO5436_2>");
  EXPECT_EQ(read(fixtures::x3p_from(xml, {})).points_mm, read(fixtures::x3p_from(xml_of({}), {})).points_mm);
}

// ---------------------------------------------------------------------------------------------------------------------
// Check sums.
// ---------------------------------------------------------------------------------------------------------------------

TEST(X3p, DataThatDoNotMatchTheirCheckSumAreRefused) {
  EXPECT_THAT(refusal(fixtures::x3p_file(patch(), {.wrong_sum = true})),
              AllOf(HasSubstr("bindata/data.bin"), HasSubstr("check sum")));
  // The validity member's too.
  Description d;
  const std::string data(32, '\1'), valid(1, '\xf');
  d.data = link_to("d", data);
  d.data.insert(d.data.find("</DataLink>"), "<ValidPointsLink>v</ValidPointsLink><MD5ChecksumValidPoints>" +
                                                fixtures::md5_hex("other") + "</MD5ChecksumValidPoints>");
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {{"d", data}, {"v", valid}})), HasSubstr("check sum"));
  // And data without any sum.
  Description without;
  without.data = "<DataLink><PointDataLink>d</PointDataLink></DataLink>";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(without), {{"d", data}})), HasSubstr("MD5ChecksumPointData"));
}

TEST(X3p, ADescriptionThatDoesNotMatchItsCheckSumIsRefused) {
  const std::string xml = xml_of({});
  EXPECT_THAT(
      refusal(zip_bytes({{"main.xml", xml}, {"md5checksum.hex", fixtures::md5_hex(xml + " ") + " *main.xml\n"}})),
      AllOf(HasSubstr("main.xml"), HasSubstr("check sum")));
  EXPECT_THAT(refusal(zip_bytes({{"main.xml", xml}, {"md5checksum.hex", "short"}})), HasSubstr("check sum"));
}

TEST(X3p, ABareDigestInAnyCaseIsAccepted) {
  // C8: 'accept a bare digest, any case'.
  const std::string xml = xml_of({});
  std::string upper = fixtures::md5_hex(xml);
  for (char& c : upper) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  for (const std::string& sum : {fixtures::md5_hex(xml), upper, upper + "  main.xml\r\n"})
    EXPECT_EQ(read(zip_bytes({{"main.xml", xml}, {"md5checksum.hex", sum}})).points_mm.cols(), 4) << sum;
}

TEST(X3p, AMissingCheckSumIsSaid) {
  const Cloud cloud = read(zip_bytes({{"main.xml", xml_of({})}}));
  EXPECT_EQ(cloud.points_mm.cols(), 4);
  EXPECT_THAT(test::each_in_english(cloud.notes), ElementsAre(HasSubstr("no check sum")));
}

// ---------------------------------------------------------------------------------------------------------------------
// Archives that were unpacked and packed again with their folder.
// ---------------------------------------------------------------------------------------------------------------------

using Members = std::vector<std::pair<std::string, std::string>>;

/// The members of a surface file, each put into `folder`.
Members members_in(const std::string& folder, const std::string& data, const Description& d) {
  const std::string xml = xml_of(d);
  return {{folder + "main.xml", xml},
          {folder + "md5checksum.hex", fixtures::md5_hex(xml)},
          {folder + "bindata/data.bin", data}};
}

std::string four_heights() {
  std::string data;
  for (const double z : {1e-3, 2e-3, 3e-3, 4e-3}) data.append(reinterpret_cast<const char*>(&z), sizeof(z));
  return data;
}

Description linked(const std::string& data) {
  Description d;
  d.data = link_to("bindata/data.bin", data);
  return d;
}

TEST(X3pInAFolder, GivesTheSamePointsAsAtTheRootWithItsCheckSums) {
  const std::string data = four_heights();
  const Eigen::Matrix3Xd wanted = read(zip_bytes(members_in("", data, linked(data)))).points_mm;
  ASSERT_EQ(wanted.cols(), 4);
  for (const std::string folder : {"reed 7/", "scans/today/reed/"}) {
    const Cloud cloud = read(zip_bytes(members_in(folder, data, linked(data))));
    EXPECT_EQ(cloud.points_mm, wanted) << folder;
    EXPECT_THAT(test::each_in_english(cloud.notes), testing::IsEmpty()) << "the check sum lies in the folder too";
    Members wrong_sum = members_in(folder, data, linked(data));
    wrong_sum[1].second = fixtures::md5_hex("another");
    EXPECT_THAT(refusal(zip_bytes(wrong_sum)), HasSubstr("check sum")) << folder;
    Members wrong_data = members_in(folder, data, linked(data));
    wrong_data[2].second.back() = '\1';
    EXPECT_THAT(refusal(zip_bytes(wrong_data)), HasSubstr("check sum")) << folder;
  }
}

TEST(X3pInAFolder, LinksThatStartAtTheRootAreFoundAndTheOwnFolderGoesFirst) {
  const std::string data = four_heights(), other(32, '\1');
  Description d;
  d.data = link_to("reed/bindata/data.bin", data);
  const Members at_root = members_in("reed/", data, d);
  EXPECT_EQ(read(zip_bytes(at_root)).points_mm.cols(), 4);
  Members both = members_in("reed/", data, linked(data));
  both.emplace_back("bindata/data.bin", other);
  EXPECT_EQ(read(zip_bytes(both)).points_mm.cols(), 4) << "another surface's data at the root are not taken";
}

TEST(X3pInAFolder, TheLeastDeepDescriptionIsTheSurfaceAndTwoOfEqualDepthAreRefused) {
  const std::string data = four_heights();
  Members members = members_in("reed/", data, linked(data));
  members.emplace_back("reed/history/main.xml", "<a/>");
  members.emplace_back("__MACOSX/reed/._main.xml", "resource");
  EXPECT_EQ(read(zip_bytes(members)).points_mm.cols(), 4);
  members.emplace_back("main.xml", xml_of({}));
  EXPECT_EQ(read(zip_bytes(members)).points_mm.cols(), 4);
  const Members left = members_in("left/", data, linked(data));
  Members two = members_in("right/", data, linked(data));
  two.insert(two.end(), left.begin(), left.end());
  EXPECT_THAT(refusal(zip_bytes(two)), AllOf(HasSubstr("more than one surface"), HasSubstr("'left/main.xml'")));
}

TEST(X3pInAFolder, NamesThatLeaveTheArchiveAreNoFolders) {
  const std::string data = four_heights();
  for (const std::string folder : {"../reed/", "reed/../../", "/reed/", "C:/reed/", "reed\\"})
    EXPECT_THAT(refusal(zip_bytes(members_in(folder, data, linked(data)))), HasSubstr("without main.xml")) << folder;
  Description d;
  d.data = link_to("../data.bin", data);
  Members outside = members_in("reed/", data, d);
  outside.emplace_back("data.bin", data);
  EXPECT_THAT(refusal(zip_bytes(outside)), HasSubstr("'../data.bin'"));
}

// ---------------------------------------------------------------------------------------------------------------------
// What strangers' files may do.
// ---------------------------------------------------------------------------------------------------------------------

TEST(X3pHostile, EntitiesAreNeverLookedAt) {
  Description d;
  d.prologue = "<!DOCTYPE a [<!ENTITY b \"bb\"><!ENTITY c \"&b;&b;&b;&b;\">]>\n";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {})), HasSubstr("entities"));
  d.prologue = "<!DOCTYPE ISO5436_2 SYSTEM \"file:///etc/passwd\">\n";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {})), HasSubstr("entities"));
  d.prologue = "<!-- --><!ENTITY b \"bb\">\n";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {})), HasSubstr("entities"));
}

TEST(X3pHostile, LinksThatLeaveTheArchiveAreNotFollowed) {
  const std::string data(32, '\1');
  for (const char* name : {"../x", "/etc/passwd", "bindata/../../x", "..\\x", "C:\\x", "\\\\host\\x", ""}) {
    // Even where a member of that very name lies in the archive.
    Description d;
    d.data = link_to(name, data);
    std::vector<std::pair<std::string, std::string>> members;
    if (*name != '\0') members.emplace_back(name, data);
    EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), members)), HasSubstr("not in the archive")) << name;
  }
  // The same for the validity member.
  Description d;
  d.data = link_to("d", data);
  d.data.insert(d.data.find("</DataLink>"), "<ValidPointsLink>../v</ValidPointsLink><MD5ChecksumValidPoints>" +
                                                fixtures::md5_hex("v") + "</MD5ChecksumValidPoints>");
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {{"d", data}, {"../v", "v"}})), HasSubstr("'../v'"));
}

TEST(X3pHostile, AMemberThatUnpacksToFarMoreThanTheFileIsRefusedUnread) {
  // 25 million heights of nought: 200 MB in an archive of some 200 kB. Made elsewhere, so that making it is not
  // measured.
  const test::TempFolder folder;
  const auto path = folder.path() / "bomb.x3p";
  (void)test::peak_growth([&] {
    const std::string data(200'000'000, '\0');
    Description d;
    d.dimension = matrix("5000", "5000");
    d.data = link_to("bindata/data.bin", data);
    const std::string xml = xml_of(d);
    (void)folder.file("bomb.x3p", zip_bytes({{"main.xml", xml},
                                             {"bindata/data.bin", data},
                                             {"md5checksum.hex", fixtures::md5_hex(xml) + " *main.xml\n"}}));
  });
  const auto file_bytes = static_cast<std::int64_t>(std::filesystem::file_size(path));
  ASSERT_LT(file_bytes, 300'000);
  const std::int64_t growth = test::peak_growth([&] {
    try {
      (void)read_x3p(ScanFile(path));
      ADD_FAILURE() << "was read without complaint";
    } catch (const InputError& error) {
      EXPECT_THAT(error.what(), AllOf(HasSubstr("bomb.x3p"), HasSubstr("far more")));
    }
  });
  EXPECT_LT(growth, (64 << 20) + 3 * file_bytes);
}

TEST(X3pHostile, AStatedSizeThatIsALieCostsNoMemory) {
  // 100 heights are promised and stated, 20 million of them packed.
  const std::string data(160'000'000, '\0');
  Description d;
  d.dimension = matrix("10", "10");
  d.data = link_to("data.bin", data.substr(0, 800));
  std::string bytes = fixtures::x3p_from(xml_of(d), {{"data.bin", data}});
  // Unpacked sizes lie 24 bytes into an entry of the central directory and 22 into a member's own header; the names
  // follow at 46 and 30 (.ZIP file format specification, 4.3.12 and 4.3.7).
  std::size_t lies = 0;
  for (std::size_t at = bytes.find("data.bin"); at != std::string::npos; at = bytes.find("data.bin", at + 1)) {
    for (const auto& [signature, name_at, size_at] :
         {std::tuple{std::string("PK\x01\x02"), 46U, 24U}, {std::string("PK\x03\x04"), 30U, 22U}}) {
      if (at < name_at || bytes.compare(at - name_at, 4, signature) != 0) continue;
      bytes = test::patched(bytes, at - name_at + size_at, std::uint32_t{800});
      ++lies;
    }
  }
  ASSERT_EQ(lies, 2U);
  EXPECT_LT(test::peak_growth([&] { EXPECT_THAT(refusal(bytes), HasSubstr("damaged")); }), test::kLittleMemory);
}

TEST(X3pHostile, AListThatIsFarLargerThanItsFileIsRefused) {
  const test::TempFolder folder;
  (void)test::peak_growth([&] {
    std::string list;
    for (int i = 0; i < 1'000'000; ++i) list += "<Datum>0</Datum>";
    Description d;
    d.dimension = matrix("1000", "1000");
    d.data = "<DataList>" + list + "</DataList>";
    (void)folder.file("list.x3p", fixtures::x3p_from(xml_of(d), {}));
  });
  const auto path = folder.path() / "list.x3p";
  const std::int64_t growth = test::peak_growth([&] {
    try {
      (void)read_x3p(ScanFile(path));
      ADD_FAILURE() << "was read without complaint";
    } catch (const InputError& error) {
      EXPECT_THAT(error.what(), HasSubstr("too many points"));
    }
  });
  EXPECT_LT(growth, (64 << 20) + 3 * static_cast<std::int64_t>(std::filesystem::file_size(path)));
}

TEST(X3pHostile, SizesThatTheDataDoNotHaveAreRefusedBeforeAnythingIsAllocated) {
  const std::string data(32, '\1');
  const auto with_size = [&](const std::string& dimension) {
    Description d;
    d.dimension = dimension;
    d.data = link_to("d", data);
    return fixtures::x3p_from(xml_of(d), {{"d", data}});
  };
  EXPECT_LT(test::peak_growth([&] {
              EXPECT_THAT(refusal(with_size(matrix("1000000", "1000"))), HasSubstr("promises 1000000000 points"));
              for (const auto& huge : {matrix("4294967295", "4294967295"), matrix("4294967295", "2", "4294967295"),
                                       matrix("4294967295", "4294967295", "4294967295")})
                EXPECT_THAT(refusal(with_size(huge)), HasSubstr("more points than any scanner")) << huge;
              for (const char* none : {"18446744073709551617", "0", "-1", "2.5", "", "many"})
                EXPECT_THAT(refusal(with_size(matrix(none, "2"))), AllOf(HasSubstr("SizeX"), HasSubstr("no count")));
            }),
            test::kLittleMemory);
  // The same for a list in the description, whose length is not known before it is counted.
  Description few;
  few.dimension = matrix("1000000", "1000");
  EXPECT_LT(test::peak_growth([&] { EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(few), {})), HasSubstr("lists 4")); }),
            test::kLittleMemory);
  few.dimension = matrix("3", "1");
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(few), {})), HasSubstr("lists more"));
}

TEST(X3pHostile, OtherArchivesAreToldFromSurfaces) {
  EXPECT_THAT(refusal(zip_bytes({{"scan.ply", "ply\n"}})), HasSubstr("without main.xml"));
  EXPECT_THAT(refusal(zip_bytes({{"folder/not_main.xml", xml_of({})}})), HasSubstr("without main.xml"));
  EXPECT_THAT(refusal(zip_bytes({{"main.xml", "<a><b/></a>"}})), HasSubstr("no surface"));
  EXPECT_THAT(refusal(zip_bytes({{"main.xml", "<a><b></a>"}})), HasSubstr("damaged at byte"));
  std::vector<std::pair<std::string, std::string>> many{{"main.xml", xml_of({})}};
  for (int i = 0; i < 1001; ++i) many.emplace_back("m" + std::to_string(i), "");
  EXPECT_THAT(refusal(zip_bytes(many)), HasSubstr("thousands of files"));
}

TEST(X3pHostile, ADamagedArchiveIsRefused) {
  const std::string good = fixtures::x3p_file(patch(), {});
  for (const std::size_t left : {std::size_t{4}, std::size_t{100}, good.size() / 2, good.size() - 1})
    EXPECT_THAT(refusal(good.substr(0, left)), HasSubstr("damaged")) << left;
  // One bit of the packed heights.
  std::string flipped = good;
  const std::size_t at = flipped.find("bindata/data.bin") + 16 + 100;
  flipped.at(at) = static_cast<char>(flipped.at(at) ^ 4);
  EXPECT_THAT(refusal(flipped), AllOf(HasSubstr("bindata/data.bin"), HasSubstr("damaged")));
}

TEST(X3pHostile, DescriptionsThatMeanNothingAreRefused) {
  const auto with_axes = [](const std::string& x, const std::string& z) {
    Description d;
    d.axes = "<CX>" + x + "</CX><CY><AxisType>I</AxisType><Increment>1e-3</Increment></CY><CZ>" + z + "</CZ>";
    return fixtures::x3p_from(xml_of(d), {});
  };
  const std::string good_x = "<AxisType>I</AxisType><Increment>1e-3</Increment>";
  const std::string good_z = "<AxisType>A</AxisType><DataType>D</DataType>";
  EXPECT_EQ(read(with_axes(good_x, good_z)).points_mm.cols(), 4);  // What is refused below is the change alone.
  EXPECT_THAT(refusal(with_axes("<AxisType>X</AxisType><Increment>1</Increment>", good_z)), HasSubstr("AxisType"));
  EXPECT_THAT(refusal(with_axes("<AxisType>I</AxisType>", good_z)), HasSubstr("Increment"));
  EXPECT_THAT(refusal(with_axes("<AxisType>I</AxisType><Increment>0</Increment>", good_z)), HasSubstr("Increment"));
  EXPECT_THAT(refusal(with_axes("<AxisType>I</AxisType><Increment>wide</Increment>", good_z)), HasSubstr("'wide'"));
  EXPECT_THAT(refusal(with_axes(good_x, "<AxisType>A</AxisType><DataType>Q</DataType>")), HasSubstr("'Q'"));
  EXPECT_THAT(refusal(with_axes(good_x, "<AxisType>A</AxisType><DataType>D</DataType><Increment>0</Increment>")),
              HasSubstr("Increment"));
  Description d;
  d.dimension = "<ListDimension>4</ListDimension>";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {})), HasSubstr("without their own x and y"));
  d = {};
  d.data = "";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {})), HasSubstr("neither data nor a link"));
  d.data = "<DataList><Datum>1</Datum><Datum>one</Datum></DataList>";
  EXPECT_THAT(refusal(fixtures::x3p_from(xml_of(d), {})), AllOf(HasSubstr("point 2"), HasSubstr("'one'")));
}

// ---------------------------------------------------------------------------------------------------------------------
// What is written.
// ---------------------------------------------------------------------------------------------------------------------

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
