#include "scanproc/drawing/canvas.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <png.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <set>

#include "scanproc/core/error.h"
#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::HasSubstr;

constexpr Colour kRed{1.0, 0.0, 0.0}, kBlack{0.0, 0.0, 0.0};

/// What a canvas shows, by libpng's own reader.
struct Shown {
  int width = 0, height = 0;
  std::vector<png_byte> rgb;
  explicit Shown(Canvas canvas) {
    const std::string bytes = std::move(canvas).finish();
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    EXPECT_EQ(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()), 1);
    image.format = PNG_FORMAT_RGB;
    width = static_cast<int>(image.width), height = static_cast<int>(image.height);
    rgb.resize(PNG_IMAGE_SIZE(image));
    EXPECT_EQ(png_image_finish_read(&image, nullptr, rgb.data(), 0, nullptr), 1);
  }
  [[nodiscard]] int at(int x, int y, int channel) const {
    return rgb.at(static_cast<std::size_t>(3 * (y * width + x) + channel));
  }
  /// Pixels clearly darker than paper, as (x, y).
  [[nodiscard]] std::set<std::pair<int, int>> inked() const {
    std::set<std::pair<int, int>> pixels;
    for (int y = 0; y < height; ++y)
      for (int x = 0; x < width; ++x)
        if (at(x, y, 1) < 128) pixels.emplace(x, y);
    return pixels;
  }
  /// Leftmost and rightmost of them.
  [[nodiscard]] std::pair<int, int> extent() const {
    std::pair<int, int> span{width, -1};
    for (const auto& [x, y] : inked()) span = {std::min(span.first, x), std::max(span.second, x)};
    return span;
  }
};

std::set<std::pair<int, int>> block(int from_x, int from_y, int to_x, int to_y) {
  std::set<std::pair<int, int>> pixels;
  for (int y = from_y; y <= to_y; ++y)
    for (int x = from_x; x <= to_x; ++x) pixels.emplace(x, y);
  return pixels;
}

TEST(Canvas, APngIsWhitePaperOfTheStatedPixels) {
  const Shown shown(Canvas::png(7, 5));
  EXPECT_EQ(shown.width, 7);
  EXPECT_EQ(shown.height, 5);
  for (const png_byte value : shown.rgb) EXPECT_EQ(value, 255);
}

TEST(Canvas, ARectangleLiesRightOfAndBelowItsCorner) {
  Canvas canvas = Canvas::png(9, 8);
  canvas.rectangle({{2, 1}, 4, 3}, kRed);
  const Shown shown(std::move(canvas));
  EXPECT_EQ(shown.inked(), block(2, 1, 5, 3)) << "y grows downwards";
  EXPECT_EQ(shown.at(2, 1, 0), 255);
  EXPECT_EQ(shown.at(2, 1, 2), 0);
}

TEST(Canvas, ALineIsAsWideAsToldAndEndsAtItsPoints) {
  Canvas canvas = Canvas::png(12, 9);
  canvas.line({2, 4}, {9, 4}, {kBlack, 2.0});  // Two pixels: the rows above and below y = 4.
  EXPECT_EQ(Shown(std::move(canvas)).inked(), block(2, 3, 8, 4));
}

TEST(Canvas, ADashedLineHasGapsAsLongAsItsDashes) {
  Canvas canvas = Canvas::png(130, 9);
  canvas.line({5, 4}, {125, 4}, {.colour = kBlack, .width = 2.0, .dashed = true});
  const auto inked = static_cast<double>(Shown(std::move(canvas)).inked().size());
  EXPECT_NEAR(inked, 0.5 * 120 * 2, 13.0) << "half of a whole line, but for a dash of 6 pixels at its end";
}

TEST(Canvas, APolylineIsClosedOnlyIfAsked) {
  const std::vector<CanvasPoint> three_sides{{2, 2}, {12, 2}, {12, 12}, {2, 12}};
  for (const bool closed : {false, true}) {
    Canvas canvas = Canvas::png(15, 15);
    canvas.polyline(three_sides, {kBlack, 2.0}, closed);
    const auto inked = Shown(std::move(canvas)).inked();
    EXPECT_TRUE(inked.contains({12, 7}));
    EXPECT_EQ(inked.contains({2, 7}), closed);
    EXPECT_FALSE(inked.contains({7, 7})) << "it is not filled";
  }
}

TEST(Canvas, APolygonIsFilledAsOpaqueAsTold) {
  Canvas canvas = Canvas::png(12, 8);
  canvas.polygon({{1, 1}, {5, 1}, {5, 7}, {1, 7}}, kBlack);
  canvas.polygon({{6, 2}, {10, 2}, {10, 6}, {6, 6}}, kBlack, 0.25);
  const Shown shown(std::move(canvas));
  EXPECT_EQ(shown.at(4, 6, 0), 0);
  EXPECT_NEAR(shown.at(8, 4, 0), 0.75 * 255, 1.0) << "three quarters of the paper show through";
  EXPECT_EQ(shown.at(11, 4, 0), 255);
}

TEST(Canvas, TextStandsAtItsAnchor) {
  constexpr double size = 20.0, x = 100.0;
  const auto extent = [&](Anchor anchor) {
    Canvas canvas = Canvas::png(200, 40);
    canvas.text({x, 30}, "HHHH", {size, kBlack}, anchor);
    return Shown(std::move(canvas)).extent();
  };
  const double width = Canvas::png(1, 1).text_width("HHHH", size);
  EXPECT_GT(width, 2.0 * size);
  // An H stands a tenth of its size inside of its place; hinting moves it by a pixel or two.
  constexpr double bearing = 0.2 * size;
  EXPECT_NEAR(extent(Anchor::left).first, x, bearing);
  EXPECT_NEAR(extent(Anchor::right).second, x, bearing);
  EXPECT_NEAR(extent(Anchor::middle).first, x - 0.5 * width, bearing);
  EXPECT_NEAR(extent(Anchor::middle).second, x + 0.5 * width, bearing);
}

TEST(Canvas, TextWidthGrowsWithLettersSizeAndWeight) {
  const Canvas canvas = Canvas::png(1, 1);
  EXPECT_EQ(canvas.text_width("", 20.0), 0.0);
  EXPECT_NEAR(canvas.text_width("HHHH", 20.0), 4.0 * canvas.text_width("H", 20.0), 0.5);
  EXPECT_NEAR(canvas.text_width("HHHH", 40.0), 2.0 * canvas.text_width("HHHH", 20.0), 3.0) << "but for hinting";
  EXPECT_GT(canvas.text_width("HHHH", 20.0, true), canvas.text_width("HHHH", 20.0));
}

TEST(Canvas, ALabelBringsItsLightGround) {
  Canvas canvas = Canvas::png(80, 40);
  canvas.rectangle({{0, 0}, 80, 40}, kBlack);
  const double width = canvas.text_width("12", 16.0);
  canvas.label({40, 26}, "12", 16.0);
  const Shown shown(std::move(canvas));
  const int left_of_the_text = static_cast<int>(40 - 0.5 * width - 2.0);
  EXPECT_GT(shown.at(left_of_the_text, 20, 0), 200);
  EXPECT_LT(shown.at(2, 20, 0), 10) << "only about the text";
}

TEST(Canvas, AParagraphBreaksBetweenWordsAndTellsWhereItEnds) {
  Canvas canvas = Canvas::png(300, 200);
  constexpr double size = 12.0, top = 20.0;
  const double two_words = canvas.text_width("HHHH HHHH", size);
  const auto height = [&](const std::string& words) {
    return canvas.paragraph({10, top}, words, {size}, two_words + 1.0) - top;
  };
  const double one_line = height("HHHH HHHH");
  EXPECT_GT(one_line, size);
  EXPECT_LT(one_line, 2.0 * size);
  EXPECT_EQ(height(""), 0.0);
  EXPECT_NEAR(height("HHHH HHHH HHHH"), 2.0 * one_line, 1e-9);
  EXPECT_NEAR(height("HHHH  HHHH\nHHHH HHHH HHHH"), 3.0 * one_line, 1e-9) << "white space of any kind parts words";
  EXPECT_NEAR(height("HHHHHHHHHHHHHHHH"), one_line, 1e-9) << "a word too long for the line is not lost";
  EXPECT_LE(Shown(std::move(canvas)).extent().first, 14) << "lines begin at the left";
}

TEST(Canvas, APdfHasItsSizeInMillimetresAndItsPages) {
  Canvas canvas = Canvas::pdf(100.0, 50.0);
  canvas.rectangle({{10, 10}, 20, 5}, kBlack);
  canvas.next_page();
  canvas.rectangle({{10, 10}, 20, 5}, kBlack);
  const test::TempFolder folder;
  const auto path = folder.file("drawing.pdf", std::move(canvas).finish());
  const auto said = folder.path() / "info.txt";
  ASSERT_EQ(std::system(("pdfinfo " + path.string() + " > " + said.string()).c_str()), 0);
  std::ifstream stream(said);
  const std::string info{std::istreambuf_iterator<char>(stream), {}};
  EXPECT_THAT(info, testing::ContainsRegex("Pages: +2"));
  EXPECT_THAT(info, testing::ContainsRegex("Page size: +283\\.46[0-9]* x 141\\.73[0-9]* pts")) << "72 points an inch";
}

TEST(Canvas, AMillimetreOfAPdfIsAMillimetreOnPaper) {
  Canvas canvas = Canvas::pdf(100.0, 50.0);
  canvas.rectangle({{10, 5}, 30, 20}, kBlack);
  const test::TempFolder folder;
  const auto path = folder.file("drawing.pdf", std::move(canvas).finish());
  // At 254 dots an inch a dot is a tenth of a millimetre.
  ASSERT_EQ(
      std::system(
          ("pdftoppm -r 254 -gray -singlefile " + path.string() + " " + (folder.path() / "page").string()).c_str()),
      0);
  std::ifstream page(folder.path() / "page.pgm", std::ios::binary);
  std::string magic;
  int width = 0, height = 0, most = 0;
  page >> magic >> width >> height >> most;
  page.get();
  const std::string grey{std::istreambuf_iterator<char>(page), {}};
  ASSERT_EQ(grey.size(), static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  int left = width, right = -1, upper = height, lower = -1;
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      if (static_cast<unsigned char>(grey[static_cast<std::size_t>(y * width + x)]) > 100) continue;
      left = std::min(left, x), right = std::max(right, x), upper = std::min(upper, y), lower = std::max(lower, y);
    }
  }
  EXPECT_NEAR(left, 100, 1);
  EXPECT_NEAR(right, 399, 1);
  EXPECT_NEAR(upper, 50, 1);
  EXPECT_NEAR(lower, 249, 1);
}

TEST(Canvas, APictureThatCannotBeMadeIsRefusedInWords) {
  // The library's limit is 32767 pixels a side.
  EXPECT_NO_THROW((void)Canvas::png(32767, 1));
  for (const auto& [width, height] : {std::pair{32768, 1}, {1, 32768}, {-1, 4}}) {
    const test::Refusal refusal = test::refusal_of([&, w = width, h = height] { return Canvas::png(w, h); });
    EXPECT_EQ(refusal.exit_code, ExitCode::cannot_write);
    EXPECT_EQ(refusal.id, "drawing.failed");
    EXPECT_THAT(refusal.words, HasSubstr("invalid")) << "why";
  }
}

}  // namespace
}  // namespace canewise
