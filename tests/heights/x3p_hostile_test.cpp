// X3P surfaces from strangers: what they may not cost, name or say.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/bytes/zip_archive.h"
#include "scanproc/scan/read_scan.h"
#include "tests/heights/x3p_files.h"

namespace canewise {
namespace {

using namespace test::x3p;
using testing::AllOf;
using testing::HasSubstr;

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

}  // namespace
}  // namespace canewise
