// X3P surfaces. Container, names, order of elements and the amendment's sample: ISO 25178-72 (2017, Amd 1:2020), as the
// project's handbook of published values (C8) lists them.
#include "scanproc/heights/x3p.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "fixtures/write_surface.h"
#include "scanproc/bytes/zip_archive.h"
#include "scanproc/scan/read_scan.h"
#include "tests/heights/x3p_files.h"

namespace canewise {
namespace {

using namespace test::x3p;
using testing::AllOf;
using testing::HasSubstr;
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

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

}  // namespace
}  // namespace canewise
