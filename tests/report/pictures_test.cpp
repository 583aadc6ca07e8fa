// The pictures and the printed template of a reed with a heavy right rail.
#include "scanproc/report/pictures.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <png.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "scanproc/report/page_frame.h"
#include "tests/support/results.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::HasSubstr;

const Result& result() {
  static const Result measured = test::heavy_rail_result();
  return measured;
}

using Draw = std::string (*)(const Result&, const Speech&);
constexpr std::array<std::pair<const char*, Draw>, 4> kPictures{
    {{"map", map_png}, {"balance", balance_png}, {"bending", bending_png}, {"modes", modes_png}}};

struct Picture {
  png_image header{};
  std::vector<png_byte> rgb;
};

Picture decode(const std::string& bytes) {
  Picture picture;
  picture.header.version = PNG_IMAGE_VERSION;
  EXPECT_EQ(png_image_begin_read_from_memory(&picture.header, bytes.data(), bytes.size()), 1);
  picture.header.format = PNG_FORMAT_RGB;
  picture.rgb.resize(PNG_IMAGE_SIZE(picture.header));
  EXPECT_EQ(png_image_finish_read(&picture.header, nullptr, picture.rgb.data(), 0, nullptr), 1);
  return picture;
}

TEST(Pictures, ShowSomethingAndBalanceIsBlueLeftAndOrangeRight) {
  for (const auto& [name, draw] : kPictures) {
    const Picture picture = decode(draw(result(), {}));
    EXPECT_GE(picture.header.width, 600U);
    std::set<std::uint32_t> colours;
    for (std::size_t i = 0; i + 2 < picture.rgb.size(); i += 3)
      colours.insert(picture.rgb[i] << 16U | picture.rgb[i + 1] << 8U | picture.rgb[i + 2]);
    EXPECT_GT(colours.size(), 100U) << name;
  }
  // The right rail is heavy: over the reed's width, blue lies to the left of orange.
  const Picture picture = decode(balance_png(result(), {}));
  double blue_x = 0, blue_n = 0, orange_x = 0, orange_n = 0;
  const std::size_t width = picture.header.width;
  for (std::size_t y = 300; y < 900; ++y) {
    for (std::size_t x = 100; x < 520; ++x) {
      const png_byte* p = &picture.rgb[3 * (y * width + x)];
      const int blueness = int{p[2]} - int{p[0]};
      if (blueness > 60) blue_x += static_cast<double>(x), blue_n += 1;
      if (blueness < -60) orange_x += static_cast<double>(x), orange_n += 1;
    }
  }
  ASSERT_GT(blue_n, 500);
  ASSERT_GT(orange_n, 500);
  EXPECT_LT(blue_x / blue_n + 150.0, orange_x / orange_n);
}

TEST(Pictures, SpeakTheReadersLanguage) {
  for (const auto& [name, draw] : kPictures) {
    std::set<std::string> drawn;
    for (const Language language : kLanguages) drawn.insert(draw(result(), {language}));
    EXPECT_EQ(drawn.size(), kLanguages.size()) << name;
  }
}

// A table bowed by 40 um is another picture than a flat one, whatever is written on it.
TEST(Pictures, TheTablesShowsHowItDepartsFromItsPlane) {
  Result both = result();
  const Grid& grid = both.map.grid;
  both.table = TableForm{};
  const auto drawn = [&](double bow_mm) {
    both.map.table_mm = Field::Zero(grid.rows, grid.columns);
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const double t = 2.0 * grid.x_mm(r) / (static_cast<double>(grid.rows) * grid.cell_mm) - 1.0;
      both.map.table_mm.row(r) += static_cast<float>(bow_mm * (1.0 - t * t));
    }
    return decode(table_png(both, {})).rgb;
  };
  const auto flat = drawn(0.0), bowed = drawn(0.04);
  ASSERT_EQ(flat.size(), bowed.size());
  std::size_t others = 0;
  for (std::size_t i = 0; i < flat.size(); ++i) others += flat[i] != bowed[i];
  EXPECT_GT(others, flat.size() / 50);
}

/// What one of poppler's tools writes about the template.
std::string template_by(const std::string& tool, const std::string& to) {
  const test::TempFolder folder;
  const auto path = folder.file("template.pdf", template_pdf(result(), {})), said = folder.path() / "said.txt";
  EXPECT_EQ(std::system((tool + " " + path.string() + to + said.string()).c_str()), 0);
  std::ifstream stream(said);
  return {std::istreambuf_iterator<char>(stream), {}};
}

TEST(Template, TellsEveryStepItsStopAndTheNextScan) {
  const std::string text = std::regex_replace(template_by("pdftotext", " "), std::regex("\\s+"), " ");
  for (const auto& step : result().plan.steps) {
    EXPECT_THAT(text, HasSubstr(phrase(step.where)));
    EXPECT_THAT(text, HasSubstr(phrase(step.stop)));
  }
  EXPECT_THAT(text, HasSubstr("let the reed dry as it was and scan it again"));
  for (const auto caution : kCautions) EXPECT_THAT(text, HasSubstr(sentence(Message(caution))));
}

TEST(Template, IsAPdfOfTwoPagesAtTrueSize) {
  const std::string info = template_by("pdfinfo", " > ");
  EXPECT_TRUE(std::regex_search(info, std::regex("Pages: +2"))) << info;
  EXPECT_TRUE(std::regex_search(info, std::regex("Page size: +595\\.27\\d* x 841\\.8\\d* pts \\(A4\\)"))) << info;
  const test::TempFolder folder;
  const auto path = folder.file("template.pdf", template_pdf(result(), {}));
  // At 254 dpi a pixel is a tenth of a millimetre: the ruler's line must be 500 pixels long.
  ASSERT_EQ(std::system(("pdftoppm -r 254 -gray -f 1 -l 1 -singlefile " + path.string() + " " +
                         (folder.path() / "page").string())
                            .c_str()),
            0);
  std::ifstream page(folder.path() / "page.pgm", std::ios::binary);
  std::string magic;
  std::size_t width = 0, height = 0, most = 0;
  page >> magic >> width >> height >> most;
  page.get();
  std::vector<unsigned char> grey(width * height);
  page.read(reinterpret_cast<char*>(grey.data()), static_cast<std::streamsize>(grey.size()));
  std::size_t longest = 0;
  for (std::size_t y = height * 9 / 10; y < height; ++y) {
    std::size_t run = 0;
    for (std::size_t x = 0; x < width; ++x) {
      run = grey[y * width + x] < 140 ? run + 1 : 0;
      longest = std::max(longest, run);
    }
  }
  EXPECT_NEAR(static_cast<double>(longest), 500.0, 4.0);
}

}  // namespace
}  // namespace canewise
