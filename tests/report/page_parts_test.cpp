#include "scanproc/report/page_parts.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

using test::verbatim;
using testing::AllOf;
using testing::HasSubstr;
using testing::MatchesRegex;
using testing::Not;

TEST(PageParts, DetailsOpenOnDemandByTheirSummary) {
  EXPECT_THAT(begin_details(verbatim("more <b>"), {}),
              MatchesRegex("<details><summary><span data-say=[^>]*>More &lt;b&gt;</span></summary>"));
  EXPECT_THAT(begin_details({"report.bending_details"}, {Language::english}),
              HasSubstr(">Pictures and figures of bending</span></summary>"));
}

TEST(PageParts, ASoftParagraphHoldsItsSentencesOneAfterTheOther) {
  EXPECT_THAT(soft_paragraph({verbatim("one & two."), verbatim("three.")}, {}),
              MatchesRegex("<p class=\"soft\"><span data-say=[^>]*>One &amp; two\\. Three\\.</span></p>"));
  EXPECT_EQ(soft_paragraph({}, {}), "<p class=\"soft\"></p>");
}

TEST(PageParts, WordsComeInTheReadersLanguage) {
  const Messages words{{"report.more_open"}};
  EXPECT_THAT(soft_paragraph(words, {}), HasSubstr(">A wider opening needs a softer reed.<"));
  EXPECT_THAT(soft_paragraph(words, {Language::german}), Not(HasSubstr(">A wider opening needs a softer reed.<")));
}

// "foo" is Zm9v by RFC 4648.
TEST(PageParts, AFigureHoldsItsPictureWhereverThePageLives) {
  EXPECT_THAT(figure({}, {"map.png", "foo", verbatim("the map")}, {}),
              MatchesRegex("<figure><img [^>]*src=\"data:image/png;base64,Zm9v\"[^>]*></figure>"));
  EXPECT_THAT(figure({.in_one_file = false}, {"map.png", "foo", verbatim("the map")}, {}),
              AllOf(MatchesRegex("<figure><img [^>]*></figure>"), HasSubstr(" src=\"map.png\""),
                    HasSubstr(" alt=\"The map\"")));
}

}  // namespace
}  // namespace canewise
