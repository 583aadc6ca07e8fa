#include "scanproc/report/box_picture.h"

#include <gtest/gtest.h>

#include "scanproc/images/picture.h"
#include "tests/support/results.h"

namespace canewise {
namespace {

std::uint32_t big_endian(const std::string& png, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t k = 0; k < 4; ++k) value = value << 8U | static_cast<unsigned char>(png[at + k]);
  return value;
}

TEST(BoxPicture, GrowsByRowsAndIsAPictureWithoutReedsToo) {
  const Message title{"box.picture", {{"box", text("B3")}}}, shelf{"box.shelf", {{"shelf", word("play now")}}};
  const Result result = test::heavy_rail_result();
  const std::string none = box_png(title, {}, {}),
                    five = box_png(title, std::vector(5, PicturedReed{"A", shelf, result}), {}),
                    six = box_png(title, std::vector(6, PicturedReed{"A", shelf, result}), {});
  constexpr std::size_t width_at = 16, height_at = 20;
  EXPECT_EQ(big_endian(none, width_at), big_endian(six, width_at));
  EXPECT_EQ(big_endian(none, height_at), big_endian(five, height_at));
  EXPECT_GT(big_endian(six, height_at), big_endian(five, height_at));
  EXPECT_NE(none, five);
}

// A reed that is hardly uneven looks hardly uneven, whatever lies beside it.
TEST(BoxPicture, HasOneScaleForAllReeds) {
  const Message title{"box.picture", {{"box", text("B3")}}}, shelf{"box.shelf", {{"shelf", word("play now")}}};
  const Result slight = test::heavy_rail_result({}, 12.0), heavy = test::heavy_rail_result({}, 90.0);
  const std::string alone = box_png(title, {{"A", shelf, slight}}, {}),
                    beside = box_png(title, {{"A", shelf, slight}, {"B", shelf, heavy}}, {});
  const test::TempFolder folder;
  const GreyPicture one = read_picture(ScanFile(folder.file("one.png", alone))),
                    two = read_picture(ScanFile(folder.file("two.png", beside)));
  constexpr std::size_t slot = 150, first_column = 30, first_row = 130;
  std::size_t same = 0, all = 0;
  std::size_t dark_slight = 0, dark_heavy = 0;  // In their brightest channel.
  for (std::size_t row = first_row; row < one.rows - 30; ++row) {
    for (std::size_t column = first_column; column < first_column + slot; ++column, ++all) {
      same += one.at(column, row) == two.at(column, row);
      dark_slight += two.at(column, row) < 215;
      dark_heavy += two.at(column + slot, row) < 215;
    }
  }
  EXPECT_EQ(same, all);
  EXPECT_GT(dark_heavy, dark_slight + 200);
}

}  // namespace
}  // namespace canewise
