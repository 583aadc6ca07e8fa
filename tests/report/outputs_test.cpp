#include "scanproc/report/outputs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
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

}  // namespace
}  // namespace canewise
