#include "scanproc/report/comparison_outputs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <png.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::ContainsRegex;
using testing::HasSubstr;
using testing::Not;

RemovedStep removed(const char* where, double planned_um, double removed_um, double u_um, Verdict verdict) {
  return {test::verbatim(where), planned_um, removed_um, u_um, verdict};
}

/// One place of every kind.
Comparison every_kind() {
  Comparison comparison;
  comparison.sentence = {test::verbatim("Cane came off.")};
  comparison.left = {test::verbatim("Nothing is left to do.")};
  comparison.steps = {removed("right rail", 30.0, 29.6, 1.0, Verdict::within),
                      removed("left rail", 20.0, 8.2, 2.1, Verdict::outside),
                      removed("right flank", 20.0, 35.0, 0.1, Verdict::outside),
                      removed("left flank", 20.0, 17.0, 4.0, Verdict::cannot_tell),
                      removed("tip", 12.0, std::nan(""), std::nan(""), Verdict::cannot_tell)};
  LearnedHand hand;
  hand.removed_over_planned = 0.8, hand.depth_per_stroke_um = 2.34, hand.u_depth_per_stroke_rel = 0.15;
  comparison.hand = hand;
  return comparison;
}

/// Half a millimetre of cells, of which one half lost 50 um.
Comparison lost_on(Side side) {
  Comparison comparison;
  comparison.sentence = {test::verbatim("Cane came off.")};
  comparison.grid = {0.5, 60, 24};
  comparison.removed_mm = Field::Zero(60, 24);
  comparison.u_mm = Field::Constant(60, 24, 0.001F);
  (side == Side::right ? comparison.removed_mm.rightCols(12) : comparison.removed_mm.leftCols(12)) = 0.05F;
  return comparison;
}

/// Mean column of the clearly blue pixels.
double blue_middle(const std::string& bytes) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  EXPECT_EQ(png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()), 1);
  image.format = PNG_FORMAT_RGB;
  std::vector<png_byte> rgb(PNG_IMAGE_SIZE(image));
  EXPECT_EQ(png_image_finish_read(&image, nullptr, rgb.data(), 0, nullptr), 1);
  double sum = 0.0, count = 0.0;
  for (std::size_t i = 0; i + 2 < rgb.size(); i += 3) {
    if (int{rgb[i + 2]} - int{rgb[i]} < 60) continue;
    sum += static_cast<double>(i / 3 % image.width), count += 1.0;
  }
  EXPECT_GT(count, 1000.0);
  return sum / count;
}

// What is not on the list is taken for the user's and kept for ever.
TEST(ComparisonOutputs, AComparisonsFolderIsKnownByItsFiles) {
  const OwnFolder own = own_comparison_folder();
  const Result reed = test::plain_result();
  std::vector<std::string> names;
  std::string proof;
  for (const auto& file : comparison_files(lost_on(Side::right), reed, reed, "a", "b", {})) {
    names.push_back(file.name);
    if (file.name == own.proof) proof = file.bytes;
  }
  EXPECT_THAT(own.names, testing::UnorderedElementsAreArray(names));
  EXPECT_EQ(nlohmann::json::parse(proof).at("format"), own.format);
}

TEST(ComparisonOutputs, TheTerminalTellsEveryPlaceWithItsIntervalAndVerdict) {
  // U95 of 1.0, 2.1, 0.1 and 4.0 um: 1.96, 4.1, never less than 1, and 7.8, to the nearest micrometre.
  const std::string screen = comparison_screen(every_kind(), test::plain_result(), "out", {});
  EXPECT_THAT(screen, testing::StartsWith("Cane came off.\n"));
  EXPECT_THAT(screen, HasSubstr("\n  1. right rail: 30 ±2 of 30 µm, as planned\n"));
  EXPECT_THAT(screen, HasSubstr("\n  2. left rail: 8 ±4 of 20 µm, too little\n"));
  EXPECT_THAT(screen, HasSubstr("\n  3. right flank: 35 ±1 of 20 µm, too much\n"));
  EXPECT_THAT(screen, HasSubstr("\n  4. left flank: 17 ±8 of 20 µm, these scans cannot tell\n"));
  EXPECT_THAT(screen, HasSubstr("\n  5. tip: - of 12 µm, not seen in both scans\n"));
  EXPECT_THAT(screen, ContainsRegex("80 % of the planned cane.*2\\.3 µm.*15 %"));
  EXPECT_THAT(screen, HasSubstr("What is left: Nothing is left to do.\n"));
  EXPECT_THAT(screen, testing::EndsWith("out\n"));
}

TEST(ComparisonOutputs, TheCautionsStandWhereThereIsMoreToScrape) {
  Result after = test::plain_result();
  EXPECT_THAT(comparison_screen(every_kind(), after, "out", {}), Not(HasSubstr("Sharp blade")));
  EXPECT_THAT(comparison_page(every_kind(), test::plain_result(), after, "", {}, {}),
              Not(HasSubstr("class=\"cautions\"")));
  after.plan.steps = {test::plain_step("right rail")};
  EXPECT_THAT(comparison_screen(every_kind(), after, "out", {}), HasSubstr("Sharp blade"));
  EXPECT_THAT(comparison_page(every_kind(), test::plain_result(), after, "", {}, {}), HasSubstr("class=\"cautions\""));
}

TEST(ComparisonOutputs, ThePageShowsEachZoneBeforeAndAfter) {
  Result before = test::plain_result(), after = test::plain_result();
  before.assessment.balance.zones[0].difference.mean_mm = 0.0243;
  before.assessment.balance.zones[0].verdict = Verdict::outside;
  after.assessment.balance.zones[0].difference.mean_mm = -0.0031;
  const std::string page = comparison_page(every_kind(), before, after, "picture", {}, {});
  EXPECT_THAT(page, ContainsRegex(">\\+24\\.3</span></td><td><span[^>]*>-3\\.1</span></td><td><span[^>]*>within<"))
      << "the verdict is the one after";
  EXPECT_THAT(page, AllOf(HasSubstr(">as planned<"), HasSubstr(">too little<"), HasSubstr(">not seen in both scans<")));
}

TEST(ComparisonOutputs, AHandIsKeptOnlyThroughTheServer) {
  const auto page = [](const PageHome& home, bool known) {
    Comparison comparison = every_kind();
    comparison.hand->known_already = known;
    return comparison_page(comparison, test::plain_result(), test::plain_result(), "", home, {});
  };
  EXPECT_THAT(page({}, false), Not(HasSubstr("id=\"hand\"")));
  EXPECT_THAT(page({.in_one_file = false, .token = "a\"b"}, false),
              HasSubstr("<div id=\"hand\" data-token=\"a&quot;b\" data-known=\"0\">"));
  EXPECT_THAT(page({.in_one_file = false, .token = "t"}, true), HasSubstr("data-known=\"1\""));
}

TEST(ComparisonOutputs, ThePictureShowsCaneThatWentOnItsSide) {
  const double left = blue_middle(removal_png(lost_on(Side::left), test::plain_result(), {}));
  const double right = blue_middle(removal_png(lost_on(Side::right), test::plain_result(), {}));
  EXPECT_GT(right, left + 50.0) << "the colour bar's own blue is in both";
}

TEST(ComparisonOutputs, ThereAreAPictureAPageAndAFileForPrograms) {
  const auto files =
      comparison_files(lost_on(Side::right), test::plain_result(), test::plain_result(), "monday", "tuesday", {});
  ASSERT_EQ(files.size(), 3U);
  EXPECT_EQ(files[0].name, "removal.png");
  EXPECT_THAT(files[0].bytes, testing::StartsWith("\x89PNG"));
  EXPECT_EQ(files[1].name, "compare.html");
  EXPECT_THAT(files[1].bytes, AllOf(HasSubstr("data:image/png;base64,"), HasSubstr("default-src 'none'")))
      << "it opens offline";
  EXPECT_EQ(files[2].name, "compare.json");
  const nlohmann::json data = nlohmann::json::parse(files[2].bytes);
  EXPECT_EQ(data.at("before"), "monday");
  EXPECT_EQ(data.at("after"), "tuesday");
  EXPECT_EQ(data.at("removed_tenths_um")[3][20], 500);
  EXPECT_EQ(data.at("removed_tenths_um")[3][2], 0);
}

}  // namespace
}  // namespace canewise
