#include "scanproc/clouds/room.h"

#include <gtest/gtest.h>

#include <cstdint>
#include <vector>

#include "scanproc/core/error.h"
#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

constexpr std::uint64_t kSpare = 32U << 20U;

TEST(Room, GivesWhatItHasAndNothingOnceItWasTooSmall) {
  Room room(10);
  EXPECT_TRUE(room.take(4));
  EXPECT_TRUE(room.take(6));
  EXPECT_TRUE(room.take(0));
  EXPECT_TRUE(room.sufficed());
  EXPECT_FALSE(room.take(1));
  EXPECT_FALSE(room.take(0)) << "what follows would be without what came before";
  EXPECT_FALSE(room.sufficed());
}

/// Reads `wanted` bytes one by one; how many rooms it was given, and what the last reading stored.
struct Readings {
  int count = 0;
  std::uint64_t stored = 0;
};
Readings readings(const ScanFile& file, Reading reading, std::uint64_t wanted) {
  Readings all;
  (void)read_in_little_room(file, reading, [&](Room& room) {
    ++all.count;
    all.stored = room.take(wanted) ? wanted : 0;
    return all.stored;
  });
  return all;
}

TEST(Room, AFileThatFitsIsReadOnceAndOneThatDoesNotOnceMore) {
  test::with_file(std::string(1000, 'x'), [](const ScanFile& file) {
    for (const auto& [reading, sizes] : {std::pair{Reading::whole_text, 1U}, std::pair{Reading::in_pieces, 2U}}) {
      const std::uint64_t room = kSpare + sizes * 1000;
      EXPECT_EQ(readings(file, reading, room).count, 1);
      const Readings twice = readings(file, reading, room + 1);
      EXPECT_EQ(twice.count, 2);
      EXPECT_EQ(twice.stored, room + 1) << "the second time there is room for all";
    }
    return 0;
  });
}

TEST(Room, WhatIsRefusedIsNotReadAgain) {
  test::with_file("x", [](const ScanFile& file) {
    int count = 0;
    EXPECT_THROW((void)read_in_little_room(file, Reading::whole_text,
                                           [&](Room& room) -> int {
                                             ++count;
                                             EXPECT_FALSE(room.take(kSpare + 2));
                                             file.fail(Message("read_scan.no_points"));
                                           }),
                 InputError);
    EXPECT_EQ(count, 1);
    return 0;
  });
}

}  // namespace
}  // namespace canewise
