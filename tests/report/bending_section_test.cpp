// What a page says of how the reed bends; every number by hand.
#include "scanproc/report/bending_section.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <regex>
#include <string>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using test::verbatim;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

/// A reed whose bending is made up, in round numbers.
Result bent() {
  Result result = test::plain_result();
  Mechanics& m = result.mechanics;
  m.why_not = {};
  m.cane = verbatim("cane of which little is known");
  m.sentence = {verbatim("it bends <evenly>.")};
  m.strength.sentence = {verbatim("like the reference.")};
  m.strength.advice = verbatim("play it.");
  m.figures = {
      {{1.0, 0.1, 0.5}, {2.0, 0.1, 0.5}, {3.0, 0.1, 0.5}, {4.0, 0.1, 0.5}, {0.05, 0.01, 0.02}, {-0.06, 0.01, 0.02}}};
  m.modes = {{{1200.0, 10.0, 100.0}, "bending", {}}, {{2400.0, 20.0, 200.0}, "twisting", {}}};
  Closing& c = m.closing;
  c.mouthpiece.left.tip_opening_mm = 1.0, c.mouthpiece.right.tip_opening_mm = 1.1;
  c.mouthpiece.left.length_mm = 18.0;
  c.lip_force_n = 1.5;
  c.curve = {{0.0, 1.0, 1.0, 1.0, 0.0, 0.0}, {200.0, 0.5, 0.5, 0.5, 0.0, 0.0}};
  c.pressure_kpa = 8.0, c.u_pressure_kpa = 1.0;
  c.right_minus_left_um = 30.0;
  return result;
}

/// With the marks of HTML taken out and cells kept apart.
std::string words_of(const Result& result, const Speech& speech = {}) {
  const std::string page = bending_section(result, {}, {.in_one_file = false}, speech);
  return std::regex_replace(std::regex_replace(page, std::regex("</t[dh]>"), "|"), std::regex("<[^>]*>"), "");
}

TEST(BendingSection, WhereNothingIsKnownItSaysWhyAndNothingElse) {
  EXPECT_EQ(words_of(test::plain_result()), "How it bendsNobody bent it.");
}

TEST(BendingSection, SaysHowItBendsHowStrongItIsAndThatTheRollingTestDecides) {
  EXPECT_THAT(words_of(bent()),
              testing::StartsWith("How it bendsIt bends &lt;evenly&gt;. Cane of even shape is not always evenly stiff: "
                                  "the rolling test decides.Like the reference. Play it."));
}

// 1.96 times 0.1 and 0.5; times 0.01 and 0.02 in percent; times 10, 100, 20 and 200.
TEST(BendingSection, FiguresCarryWhatScanAndCaneLeaveOpenAs95PercentIntervals) {
  const std::string words = words_of(bent());
  for (const char* row :
       {"|stiffness of the tip, left|1.00 N/mm|±0.20|±0.98|", "|stiffness of the tip, centre|2.00 N/mm|±0.20|±0.98|",
        "|stiffness of the tip, right|3.00 N/mm|±0.20|±0.98|", "|stiffness under the lip|4.00 N/mm|±0.20|±0.98|",
        "|imbalance at the tip|5.0 %, right against left|±2.0|±3.9|",
        "|imbalance under the lip|-6.0 %, right against left|±2.0|±3.9|", "|mode 1, bending|1200 Hz|±20|±196|",
        "|mode 2, twisting|2400 Hz|±39|±392|"})
    EXPECT_THAT(words, HasSubstr(row));
}

// Nobody trusts a closing pressure as such.
TEST(BendingSection, SaysOnWhichFacingItLiesAndWhetherItClosesButNoPressure) {
  Result result = bent();
  EXPECT_THAT(words_of(result),
              HasSubstr("On an invented example of a facing (1.05 mm open, 18 mm long), lip force 1.5 N. At half the "
                        "pressure that closes it"));
  EXPECT_THAT(words_of(result), Not(HasSubstr("kPa")));
  result.mechanics.lying = {13.0, 12.0, 0.0, 0.0};
  EXPECT_THAT(words_of(result),
              HasSubstr("Half closed by the lip, the reed lies on the left rail from 13 mm behind the "
                        "tip, on the right from 12 mm."));
  result.mechanics.closing.mouthpiece.facing_is_invented = false;
  result.mechanics.closing.pressure_kpa = std::nan("");
  const std::string words = words_of(result);
  EXPECT_THAT(words, AllOf(HasSubstr("On your facing (1.05 mm open, 18 mm long), lip force 1.5 N."),
                           HasSubstr("It stays open however hard anyone blows.")));
  EXPECT_THAT(words, Not(HasSubstr("At half the pressure"))) << "there is none";
}

TEST(BendingSection, TheFacingsOwnShareIsSaidWhereItIsWorthIt) {
  Result result = bent();
  result.mechanics.closing.facing_right_minus_left_um = 0.9;
  EXPECT_THAT(words_of(result), AllOf(HasSubstr("right minus left, is +30 µm."), Not(HasSubstr("the facing itself"))));
  result.mechanics.closing.facing_right_minus_left_um = -12.0;
  EXPECT_THAT(words_of(result), HasSubstr("is +30 µm, of which the facing itself makes -12 µm."));
}

TEST(BendingSection, OtherOpeningsAreListedIfThereAreAny) {
  Result result = bent();
  EXPECT_THAT(words_of(result), Not(HasSubstr("With another tip opening")));
  result.mechanics.closing.others = {{0.95, 1.2}, {1.15, 0.85}};
  EXPECT_THAT(words_of(result), HasSubstr("0.95 mm: 120 % of this stiffness; 1.15 mm: 85 % of this stiffness. A wider "
                                          "opening needs a softer reed."));
}

TEST(BendingSection, PicturesAndPlacesForTheScriptAreThereAndAllThatOpensIsClosed) {
  PagePictures pictures;
  pictures.bending_png = "foo", pictures.modes_png = "fooba";
  const std::string page = bending_section(bent(), pictures, {}, {});
  EXPECT_THAT(page, AllOf(HasSubstr("base64,Zm9v\""), HasSubstr("base64,Zm9vYmE=\"")));
  EXPECT_LT(page.find("base64,Zm9v\""), page.find("base64,Zm9vYmE=\"")) << "each in its place";
  for (const char* id : {"<div id=\"closing\"></div>", "<div id=\"compliance\"></div>"})
    EXPECT_THAT(page, HasSubstr(id));
  EXPECT_THAT(page, AllOf(HasSubstr("<details>"), testing::EndsWith("</details>"), HasSubstr("</table></div>")));
}

TEST(BendingSection, ComesInTheReadersLanguage) {
  const std::string german = words_of(bent(), {Language::german});
  EXPECT_THAT(german, AllOf(HasSubstr("|2,00 N/mm|±0,20|±0,98|"), Not(HasSubstr("How it bends"))));
}

}  // namespace
}  // namespace canewise
