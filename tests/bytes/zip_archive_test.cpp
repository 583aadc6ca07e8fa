#include "scanproc/bytes/zip_archive.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdint>
#include <string>

#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

using testing::ElementsAre;
using Members = std::vector<std::pair<std::string, std::string>>;

/// An archive that lies in a file of its own.
class Packed {
 public:
  explicit Packed(const std::string& bytes) : file_(folder_.file("surface.x3p", bytes)), archive_(file_) {}
  explicit Packed(const Members& members) : Packed(zip_bytes(members)) {}
  const ZipArchive* operator->() const { return &archive_; }

 private:
  test::TempFolder folder_;
  ScanFile file_;
  ZipArchive archive_;
};

/// Text that packs to less than itself.
std::string long_text() {
  std::string text;
  for (int i = 0; i < 400; ++i) text += "line " + std::to_string(i * i) + "\n";
  return text;
}

TEST(ZipArchive, MembersComeBackByteForByte) {
  const std::string binary("\0\1\2\xff", 4);
  const Packed packed(Members{{"main.xml", long_text()}, {"bindata/data.bin", binary}, {"empty", ""}});
  EXPECT_EQ(packed->read_member("main.xml", 1 << 20), long_text());
  EXPECT_EQ(packed->read_member("bindata/data.bin", 4), binary);
  EXPECT_EQ(packed->read_member("empty", 0), "");
  EXPECT_EQ(packed->size_of_member("main.xml"), long_text().size());
  EXPECT_EQ(packed->size_of_member("data.bin"), std::nullopt) << "a name is looked up as it is";
}

TEST(ZipArchive, IsPackedAndTheSameContentGivesTheSameBytes) {
  const Members members{{"main.xml", long_text()}};
  EXPECT_LT(zip_bytes(members).size(), long_text().size());
  EXPECT_EQ(zip_bytes(members), zip_bytes(members));
}

TEST(ZipArchive, FoldersThatHoldAMemberComeLeastDeepFirst) {
  const Packed packed(Members{{"deep/er/main.xml", "a"},
                              {"z/main.xml", "b"},
                              {"main.xml", "c"},
                              {"a/main.xml", "d"},
                              {"notmain.xml", "e"},
                              {"a/main.xml.old", "f"}});
  EXPECT_THAT(packed->folders_of("main.xml"), ElementsAre("", "z/", "a/", "deep/er/"));
  EXPECT_THAT(packed->folders_of("other.xml"), testing::IsEmpty());
}

TEST(ZipArchive, NamesThatLeaveTheArchiveAreNeverThere) {
  const Members leaving{
      {"../main.xml", "a"}, {"/main.xml", "b"}, {"x/../../main.xml", "c"}, {"C:/main.xml", "d"}, {"x\\main.xml", "e"}};
  const Packed packed(leaving);
  EXPECT_THAT(packed->folders_of("main.xml"), testing::IsEmpty());
  for (const auto& [name, bytes] : leaving) {
    EXPECT_EQ(packed->size_of_member(name), std::nullopt) << name;
    EXPECT_EQ(test::refusal_of([&, n = name] { return packed->read_member(n, 10); }).id, "zip.no_member") << name;
  }
}

TEST(ZipArchive, AMemberIsReadUpToItsLimitAndNoFurther) {
  const Packed packed(Members{{"data.bin", std::string(1000, 'x')}});
  EXPECT_EQ(packed->read_member("data.bin", 1000).size(), 1000U);
  const test::Refusal refusal = test::refusal_of([&] { return packed->read_member("data.bin", 999); });
  EXPECT_EQ(refusal.id, "zip.too_large");
  EXPECT_EQ(refusal.text("member"), "data.bin");
  EXPECT_THAT(refusal.file, testing::EndsWith("surface.x3p"));
}

TEST(ZipArchive, HoldsAtMostAThousandMembers) {
  Members members;
  for (int i = 0; i < 1000; ++i) members.emplace_back("m" + std::to_string(i), "x");
  EXPECT_EQ(Packed(members)->size_of_member("m999"), 1U);
  members.emplace_back("one more", "x");
  const test::Refusal refusal = test::refusal_of([&] { return Packed(members)->size_of_member("m0"); });
  EXPECT_EQ(refusal.id, "zip.many_members");
  EXPECT_THAT(refusal.file, testing::EndsWith("surface.x3p"));
}

TEST(ZipArchive, ADamagedArchiveOrMemberIsRefused) {
  const std::string good = zip_bytes({{"main.xml", long_text()}});
  for (const std::string& bytes : {std::string("no archive at all"), good.substr(0, good.size() - 30)})
    EXPECT_EQ(test::refusal_of([&] { return Packed(bytes)->size_of_member("main.xml"); }).id, "zip.damaged");
  // In the middle of the packed member, whose check sum no longer fits.
  std::string flipped = good;
  const std::size_t middle = good.find("PK\x01\x02") / 2;
  flipped[middle] = static_cast<char>(flipped[middle] ^ 0x10);
  const test::Refusal refusal = test::refusal_of([&] { return Packed(flipped)->read_member("main.xml", 1 << 20); });
  EXPECT_EQ(refusal.id, "zip.damaged_member");
  EXPECT_EQ(refusal.text("member"), "main.xml");
}

TEST(ZipArchive, MembersPackedOtherwiseThanUsualAreNotUnpacked) {
  // The method stands 8 bytes into a member's header and 10 bytes into its entry (APPNOTE.TXT, 4.3.7 and 4.3.12).
  const std::string good = zip_bytes({{"main.xml", long_text()}});
  const std::size_t entry = good.find("PK\x01\x02");
  ASSERT_EQ(test::number_at<std::uint16_t>(good, entry + 10), 8U);
  for (const std::uint16_t method : {std::uint16_t{12}, std::uint16_t{14}, std::uint16_t{93}, std::uint16_t{95}}) {
    const Packed packed(test::patched(test::patched(good, entry + 10, method), 8, method));
    const test::Refusal refusal = test::refusal_of([&] { return packed->read_member("main.xml", 1 << 20); });
    EXPECT_EQ(refusal.id, "zip.packing") << "bzip2, LZMA, Zstandard, xz: " << method;
    EXPECT_EQ(refusal.text("member"), "main.xml");
  }
}

TEST(ZipArchive, AStatedSizeThatIsALieIsRefused) {
  // The unpacked size stands 24 bytes into an entry of the central directory (APPNOTE.TXT of the zip format, 4.3.12).
  const std::string good = zip_bytes({{"main.xml", long_text()}});
  const std::size_t size_at = good.find("PK\x01\x02") + 24;
  ASSERT_EQ(test::number_at<std::uint32_t>(good, size_at), long_text().size());
  for (const std::uint32_t lie : {std::uint32_t{1}, static_cast<std::uint32_t>(long_text().size() + 500)}) {
    const Packed packed(test::patched(good, size_at, lie));
    EXPECT_EQ(test::refusal_of([&] { return packed->read_member("main.xml", 1 << 20); }).id, "zip.damaged_member")
        << lie;
  }
}

}  // namespace
}  // namespace canewise
