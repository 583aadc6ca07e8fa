#include "scanproc/report/bend_test_outputs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/bendtest/bend_test_words.h"
#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using testing::HasSubstr;

BendTest by_hand() {
  BendTest test;
  test.tested_at = "2026-03-01T10:00:00Z";
  test.reed.label = "B3-7 <&>";
  test.mass_g = 100.0;
  test.edge_mm = 28.0;
  test.grid = {0.5, 56, 26};
  test.cane.left_right = 0.04;
  test.cane.covariance.diagonal().setConstant(1e-4);
  test.told = {true, false, true, false, false, true};
  BentBy weight;
  weight.side = LoadSide::left;
  weight.at_mm = 5.2;
  weight.measured_mm = weight.computed_mm = weight.u_mm = Field::Constant(56, 26, 0.2F);
  weight.at_thread_mm = 0.231;
  weight.u_at_thread_mm = 0.002;
  test.weights = {weight};
  test.relative_thickness_mm = Eigen::ArrayXXd::Constant(2, 2, 0.5);
  test.sentence = learned_words(test);
  test.remarks = {Message{"bendtest.more_places"}};
  return test;
}

TEST(BendTestOutputs, ThePageSaysWhatWasLearnedAndShowsItAndIsOneFile) {
  const Outline outline = test::plain_result().outline;
  const auto files = bend_test_files(by_hand(), outline, {});
  ASSERT_EQ(files.size(), 3U);
  const std::string& page = files[1].bytes;
  EXPECT_THAT(page, HasSubstr("The cane of the right side is 4.0 ± 2.0 % stiffer than the left."));
  EXPECT_THAT(page, HasSubstr("data:image/png;base64,"));
  EXPECT_THAT(page, HasSubstr("100 g at the left rail, 5.2 mm from the tip"));
  EXPECT_THAT(page, HasSubstr("231 ±4"));
  EXPECT_THAT(page, HasSubstr("mostly assumed"));
  EXPECT_THAT(page, HasSubstr("B3-7 &lt;&amp;&gt;"));
  EXPECT_THAT(page, testing::Not(HasSubstr("B3-7 <&>")));
  EXPECT_EQ(files[0].bytes.substr(1, 3), "PNG");
  for (const OutputFile& file : files)
    EXPECT_THAT(own_bend_test_folder().names, testing::Contains(file.name)) << "else it is left behind";
}

TEST(BendTestOutputs, TheScreenSaysHowFarItWentAndWhatToDoNext) {
  const std::string screen = bend_test_screen(by_hand(), "out", {});
  EXPECT_THAT(screen, HasSubstr("231 µm ± 4 µm down"));
  EXPECT_THAT(screen, HasSubstr("--bend-test out"));
  EXPECT_THAT(screen, HasSubstr("hang the weight at all three places"));
}

TEST(BendTestOutputs, ThePictureGrowsWithEveryWeight) {
  const Outline outline = test::plain_result().outline;
  BendTest test = by_hand();
  const auto height = [&] {
    const std::string png = deflection_png(test, outline, {});
    const auto byte = [&](std::size_t k) { return static_cast<unsigned>(static_cast<unsigned char>(png.at(k))); };
    return byte(22) * 256U + byte(23);
  };
  const unsigned one = height();
  test.weights.push_back(test.weights.front());
  EXPECT_GT(height(), one + 300U);
}

TEST(BendTestOutputs, TheSheetIsOnePageInEveryLanguageAndTheSameEveryTime) {
  for (const Language language : {Language::english, Language::german, Language::french}) {
    const std::string sheet = bend_test_sheet_pdf({language});
    EXPECT_EQ(sheet.substr(0, 5), "%PDF-");
    EXPECT_THAT(sheet, HasSubstr("/Count 1"));
    EXPECT_EQ(sheet, bend_test_sheet_pdf({language}));
  }
}

}  // namespace
}  // namespace canewise
