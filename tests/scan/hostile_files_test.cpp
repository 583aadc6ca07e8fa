// What strangers' files may do to a reader: each must be refused in words, with the file's name, quickly and in little
// memory.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>

#include "fixtures/write_cloud.h"
#include "scanproc/core/error.h"
#include "scanproc/scan/read_scan.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::HasSubstr;

std::string refusal(const std::string& bytes) {
  const test::TempFolder folder;
  const auto path = folder.file("bad.ply", bytes);
  try {
    (void)read_scan(ScanFile(path));
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), HasSubstr("bad.ply"));
    return error.what();
  }
  ADD_FAILURE() << "was read without complaint";
  return {};
}

std::string ply_header(const std::string& format, const std::string& count, const std::string& property = "float") {
  return "ply\nformat " + format + " 1.0\nelement vertex " + count + "\nproperty " + property + " x\nproperty " +
         property + " y\nproperty " + property + " z\nend_header\n";
}

TEST(HostileFiles, MissingEmptyAndOtherThings) {
  EXPECT_THROW(ScanFile("/nowhere/at/all.ply"), InputError);
  EXPECT_THROW(ScanFile("/tmp"), InputError);
  EXPECT_THROW(ScanFile("/dev/zero"), InputError);
  EXPECT_THAT(refusal(""), HasSubstr("empty"));
  EXPECT_THAT(refusal(std::string("\x7f"
                                  "ELF\0\0\1\2",
                                  8)),
              HasSubstr("no format"));
}

TEST(HostileFiles, CountsThatTheFileCannotHoldAreRefusedBeforeAnythingIsAllocated) {
  for (const char* format : {"ascii", "binary_little_endian", "binary_big_endian"}) {
    EXPECT_THAT(refusal(ply_header(format, "1000000000000") + "1 2 3\n"), HasSubstr("promises")) << format;
    EXPECT_THAT(refusal(ply_header(format, "18446744073709551615") + "1 2 3\n"), HasSubstr("promises")) << format;
  }
  EXPECT_THAT(refusal(ply_header("ascii", "99999999999999999999999") + "1 2 3\n"), HasSubstr("count"));
  EXPECT_THAT(refusal(ply_header("ascii", "-5") + "1 2 3\n"), HasSubstr("count"));
  const std::string pcd =
      "VERSION 0.7\nFIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\nWIDTH 1000000000000\nHEIGHT 1\nPOINTS "
      "1000000000000\n";
  for (const char* data : {"ascii", "binary"})
    EXPECT_THAT(refusal(pcd + "DATA " + data + "\n1 2 3\n"), HasSubstr("promises")) << data;
  EXPECT_THAT(refusal(pcd + "DATA binary_compressed\n" + std::string(40, 'a')), HasSubstr("cut short"));
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  EXPECT_LT(usage.ru_maxrss, 200 * 1024) << "kilobytes; the refusals must not have allocated";
}

TEST(HostileFiles, WidthTimesHeightThatOverflows) {
  EXPECT_THAT(refusal("VERSION 0.7\nFIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\nWIDTH 4294967296\nHEIGHT "
                      "4294967297\nDATA binary\nxxxxxxxxxxxx"),
              HasSubstr("impossibly large"));
}

TEST(HostileFiles, ACompressedPartThatLies) {
  const std::string head =
      "VERSION 0.7\nFIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\nWIDTH 300000000\nHEIGHT 1\nPOINTS "
      "300000000\nDATA binary_compressed\n";
  const auto with = [&](unsigned int packed, unsigned int unpacked) {
    return head + std::string(reinterpret_cast<char*>(&packed), 4) +
           std::string(reinterpret_cast<char*>(&unpacked), 4) + std::string(100, '\x20');
  };
  EXPECT_THAT(refusal(with(100, 3600000000U)), HasSubstr("does not hold"));
  EXPECT_THAT(refusal(with(4000000000U, 12)), HasSubstr("cut short"));
  Cloud cloud;
  cloud.points_mm = Eigen::Matrix3Xd::Random(3, 200);
  std::string good = fixtures::pcd_compressed(cloud);
  good[good.size() - 5] = static_cast<char>(good[good.size() - 5] ^ 0x55);
  std::string cut = fixtures::pcd_compressed(cloud);
  cut.resize(cut.size() - 10);
  EXPECT_THAT(refusal(cut), HasSubstr("cut short"));
}

TEST(HostileFiles, TruncationIsSaidWithThePlace) {
  Cloud cloud;
  cloud.points_mm = Eigen::Matrix3Xd::Random(3, 100);
  std::string text = fixtures::ply_ascii(cloud);
  text.resize(text.size() * 2 / 3);
  EXPECT_THAT(refusal(text), HasSubstr("point"));
  std::string binary = fixtures::ply_binary(cloud);
  binary.resize(binary.size() - 7);
  EXPECT_THAT(refusal(binary), HasSubstr("100 points, but the file has room for 99"));
}

TEST(HostileFiles, HeadersThatAreNoHeaders) {
  EXPECT_THAT(refusal("ply\nformat binary_middle_endian 1.0\nelement vertex 1\n"), HasSubstr("unknown format"));
  EXPECT_THAT(refusal("ply\n" + std::string(100000, 'x')), HasSubstr("end_header"));
  EXPECT_THAT(refusal("ply\nshape round\nformat ascii 1.0\n"), HasSubstr("unknown word"));
  EXPECT_THAT(refusal("ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\n"), HasSubstr("end_header"));
  EXPECT_THAT(refusal("ply\nformat ascii 1.0\nproperty float x\nend_header\n"), HasSubstr("before any element"));
  EXPECT_THAT(refusal(ply_header("ascii", "1", "quaternion") + "1 2 3\n"), HasSubstr("unknown type"));
  EXPECT_THAT(refusal("ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nend_header\n1 2\n"),
              HasSubstr("'z'"));
  EXPECT_THAT(
      refusal("ply\nelement vertex 1\nproperty float x\nproperty float y\nproperty float z\nend_header\n1 2 3\n"),
      HasSubstr("no format"));
  EXPECT_THAT(refusal("VERSION 0.7\nFIELDS x y z\nSIZE 4 4\n"), HasSubstr("2 entries for 3"));
  EXPECT_THAT(refusal("VERSION 0.7\nFIELDS x y z\nSIZE 0 4 4\n"), HasSubstr("impossible"));
  EXPECT_THAT(
      refusal("VERSION 0.7\nFIELDS x y z\nSIZE 4 4 4\nTYPE F F F\nCOUNT 1 1 1\nWIDTH 1\nHEIGHT 1\nDATA zipped\n1"),
      HasSubstr("zipped"));
}

TEST(HostileFiles, RowsThatAreTooShortEndTheReadingAtOnce) {
  // Five thousand fields of 65000 entries each, promised for two thousand one-number lines: once minutes of looking for
  // words.
  std::string head = "VERSION 0.7\nFIELDS x y z", size = "\nSIZE 4 4 4", type = "\nTYPE F F F", count = "\nCOUNT 1 1 1";
  for (int i = 0; i < 4000; ++i) head += " f", size += " 4", type += " F", count += " 65000";
  std::string lines;
  for (int i = 0; i < 2000; ++i) lines += "1 2 3 4\n";
  EXPECT_THAT(refusal(head + size + type + count + "\nWIDTH 2000\nHEIGHT 1\nPOINTS 2000\nDATA ascii\n" + lines),
              HasSubstr("too few numbers"));
  EXPECT_THAT(refusal(ply_header("ascii", "2") + "1 2\n1 2 3\n"), HasSubstr("too few numbers"));
}

TEST(HostileFiles, TextThatIsNoPointsNamesTheLine) {
  EXPECT_THAT(refusal("1 2 3\n4 5 6\n7 eight 9\n"), HasSubstr("line 3"));
  EXPECT_THAT(refusal("1 2 3\n4 5\n"), HasSubstr("line 2"));
  EXPECT_THAT(refusal("dear diary\n"), HasSubstr("line 1"));
  EXPECT_THAT(refusal("# only comments\n\n"), HasSubstr("no points"));
  EXPECT_THAT(refusal("nan nan nan\n"), HasSubstr("finite"));
  EXPECT_THAT(refusal(ply_header("ascii", "0")), HasSubstr("no points"));
}

}  // namespace
}  // namespace canewise
