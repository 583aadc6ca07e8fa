#include "scanproc/report/outputs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <png.h>

#include <algorithm>
#include <cstring>
#include <regex>
#include <set>
#include <sstream>

#include "scanproc/core/budget.h"
#include "scanproc/report/csv.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/report/screen.h"
#include "tests/support/results.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::Not;

const Result& result() {
  static const Result measured = test::heavy_rail_result();
  return measured;
}

std::string file(const std::string& name) {
  static const auto files = output_files(result());
  for (const auto& f : files) {
    if (f.name == name) return f.bytes;
  }
  ADD_FAILURE() << name << " is missing";
  return {};
}

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

TEST(Outputs, AreAllThereAndTheResultIsWrittenLast) {
  std::vector<std::string> names;
  for (const auto& f : output_files(result())) names.push_back(f.name);
  EXPECT_THAT(names, testing::ElementsAre("thickness.csv", "map.png", "balance.png", "report.html", "template.pdf",
                                          "bending.png", "modes.png", "result.json"));
}

// Files of an earlier run go, and only those: each name has to be on the list.
TEST(Outputs, EveryFileIsOneThatAFolderOfAMeasurementIsKnownToHold) {
  const OwnFolder own = own_result_folder();
  for (const auto& f : output_files(result(), {.save_map = {MapFormat::x3p, MapFormat::sdf}, .speech = {}}))
    EXPECT_THAT(own.names, testing::Contains(f.name));
  EXPECT_THAT(own.names, testing::Contains("table.png"));
  EXPECT_THAT(own.names, testing::Contains(own.proof));
  EXPECT_EQ(own.names.size(), 11U);
  const test::TempFolder folder;
  EXPECT_TRUE(says_format(folder.file("result.json", file("result.json")), own.format));
}

TEST(Pictures, ShowSomethingAndBalanceIsBlueLeftAndOrangeRight) {
  for (const char* name : {"map.png", "balance.png"}) {
    const Picture picture = decode(file(name));
    EXPECT_GE(picture.header.width, 600U);
    std::set<std::uint32_t> colours;
    for (std::size_t i = 0; i + 2 < picture.rgb.size(); i += 3)
      colours.insert(picture.rgb[i] << 16U | picture.rgb[i + 1] << 8U | picture.rgb[i + 2]);
    EXPECT_GT(colours.size(), 100U) << name;
  }
  // The right rail is heavy: over the reed's width, blue lies to the left of orange.
  const Picture picture = decode(file("balance.png"));
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

TEST(Csv, HoldsEveryMeasuredCellWithItsUncertainty) {
  std::istringstream lines(file("thickness.csv"));
  std::string line;
  std::getline(lines, line);
  EXPECT_EQ(line, "x_mm,y_mm,thickness_mm,u95_mm");
  const ThicknessMap& map = result().map;
  std::size_t rows = 0;
  while (std::getline(lines, line)) {
    double x, y, h, u;
    ASSERT_EQ(std::sscanf(line.c_str(), "%lf,%lf,%lf,%lf", &x, &y, &h, &u), 4) << line;
    const auto r = static_cast<Eigen::Index>(x / map.grid.cell_mm);
    const auto c = static_cast<Eigen::Index>(y / map.grid.cell_mm + 0.5 * static_cast<double>(map.grid.columns));
    ASSERT_NEAR(h, map.thickness_mm(r, c), 1e-5);
    ASSERT_NEAR(u, kCoverage95 * static_cast<double>(map.u_mm(r, c)), 1e-5);
    ++rows;
  }
  EXPECT_EQ(rows, static_cast<std::size_t>((!map.thickness_mm.isNaN()).count()));
}

TEST(Report, IsOneOfflineFileThatSaysTheSentenceFirstAndEscapesNames) {
  const std::string html = file("report.html");
  EXPECT_THAT(html,
              AllOf(HasSubstr("<h1><span data-say="), HasSubstr(">" + escaped(sentences(result().headline)) + "<")));
  EXPECT_LT(html.find("<h1>"), html.find("<img"));
  EXPECT_LT(html.find("<img"), html.find("<table"));
  EXPECT_THAT(html, HasSubstr("reed &lt;&amp;&gt; one.ply"));
  EXPECT_THAT(html, Not(HasSubstr("reed <&>")));
  const std::string written = html.substr(0, html.find("<script"));
  EXPECT_FALSE(std::regex_search(written, std::regex("(src|href)=\"(?!data:)"))) << "nothing may be fetched";
  EXPECT_THAT(written, Not(HasSubstr("http:")));
  EXPECT_THAT(written, HasSubstr("default-src 'none'")) << "and nothing can be";
  EXPECT_THAT(html, HasSubstr("light that enters the cane"));
  EXPECT_LT(html.size(), 3U << 20U);
}

// Wherever a person is told to scrape, the cautions stand beside it.
TEST(Report, TellsToScrapeOnlyWithTheCautions) {
  for (const auto caution : kCautions) EXPECT_THAT(file("report.html"), HasSubstr(escaped(sentence(Message(caution)))));
  EXPECT_THAT(screen_text(result(), "out", {}), HasSubstr("Sharp blade"));
}

TEST(Report, ShowsTheStepsOfThePlan) {
  ASSERT_FALSE(result().plan.steps.empty());
  for (const auto& step : result().plan.steps) EXPECT_THAT(file("report.html"), HasSubstr(escaped(phrase(step.where))));
}

TEST(Html, Base64AgreesWithTheStandardsVectors) {
  // RFC 4648, section 10.
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("fo"), "Zm8=");
  EXPECT_EQ(base64("foo"), "Zm9v");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
}

TEST(Screen, FitsFortyLinesHoweverMuchThereIsToSay) {
  Result much = result();
  for (int i = 0; i < 60; ++i)
    much.notes.push_back({"verbatim",
                          {{"text",
                            "A remark that is long enough to fill more than a line of the terminal, and then "
                            "some more of it."}}});
  while (much.plan.steps.size() < 8) much.plan.steps.push_back(much.plan.steps.front());
  const std::string text = screen_text(much, "out", {});
  EXPECT_LE(std::count(text.begin(), text.end(), '\n'), 40);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 110U) << line;
  EXPECT_THAT(text, HasSubstr(sentences(much.headline).substr(0, 30)));
  EXPECT_THAT(text, HasSubstr("out"));
}

TEST(Template, TellsEveryStepItsStopAndTheNextScan) {
  const test::TempFolder folder;
  const auto path = folder.file("template.pdf", file("template.pdf"));
  const auto text_path = folder.path() / "text.txt";
  ASSERT_EQ(std::system(("pdftotext " + path.string() + " " + text_path.string()).c_str()), 0);
  std::ifstream stream(text_path);
  const std::string lines{std::istreambuf_iterator<char>(stream), {}};
  const std::string text = std::regex_replace(lines, std::regex("\\s+"), " ");
  for (const auto& step : result().plan.steps) {
    EXPECT_THAT(text, HasSubstr(phrase(step.where)));
    EXPECT_THAT(text, HasSubstr(phrase(step.stop)));
  }
  EXPECT_THAT(text, HasSubstr("let the reed dry as it was and scan it again"));
  for (const auto caution : kCautions) EXPECT_THAT(text, HasSubstr(sentence(Message(caution))));
}

TEST(Template, IsAPdfOfTwoPagesAtTrueSize) {
  const test::TempFolder folder;
  const auto path = folder.file("template.pdf", file("template.pdf"));
  const auto text_path = folder.path() / "info.txt";
  ASSERT_EQ(std::system(("pdfinfo " + path.string() + " > " + text_path.string()).c_str()), 0);
  std::ifstream stream(text_path);
  const std::string info{std::istreambuf_iterator<char>(stream), {}};
  EXPECT_TRUE(std::regex_search(info, std::regex("Pages: +2"))) << info;
  EXPECT_TRUE(std::regex_search(info, std::regex("Page size: +595\\.27\\d* x 841\\.8\\d* pts \\(A4\\)"))) << info;
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
