#include "scanproc/report/page_frame.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "viewer/embedded/embedded_page.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

Message verbatim(const char* words) { return {"verbatim", {{"text", text(words)}}}; }
const PageHome kServed{.in_one_file = false};

TEST(PageFrame, EscapedTextIsNoMarkup) {
  EXPECT_EQ(escaped("<a href=\"x\">Tom & 'Jerry'</a>"),
            "&lt;a href=&quot;x&quot;&gt;Tom &amp; &#39;Jerry&#39;&lt;/a&gt;");
  EXPECT_EQ(escaped("&amp;"), "&amp;amp;");
  EXPECT_EQ(escaped("Müller"), "Müller");
}

TEST(PageFrame, Base64IsThatOfTheStandard) {
  EXPECT_EQ(base64("foob"), "Zm9vYg==");  // RFC 4648, section 10.
  EXPECT_EQ(base64("fooba"), "Zm9vYmE=");
  // Twenty-four bits by hand: 111111 111110 111110 111110, and 000000 four times.
  EXPECT_EQ(base64("\xFF\xEF\xBE"), "/+++");
  EXPECT_EQ(base64(std::string(3, '\0')), "AAAA");
}

TEST(PageFrame, AnImageIsInThePageOrBesideIt) {
  const std::string inside = image({}, {"map.png", "foo", verbatim("the map")}, {});
  EXPECT_THAT(inside, AllOf(HasSubstr(" src=\"data:image/png;base64,Zm9v\""), HasSubstr(" alt=\"The map\"")));
  EXPECT_THAT(inside, Not(HasSubstr("map.png")));
  for (const PageHome& home : {kServed, PageHome{.pictures_inside = false}})
    EXPECT_THAT(image(home, {"map.png", "foo", verbatim("the map")}, {}), HasSubstr(" src=\"map.png\""));
}

TEST(PageFrame, TheWayHomeLeadsToTheListWhereThereIsOne) {
  EXPECT_EQ(way_home({}, {}), "");
  EXPECT_THAT(way_home(kServed, {}), AllOf(HasSubstr("<a href=\"/\">"), HasSubstr("All reeds")));
}

TEST(PageFrame, ATableScrollsByKeyboardAndHasAName) {
  const std::string begin = table_begin(verbatim("zone by zone"), {});
  EXPECT_THAT(begin,
              AllOf(HasSubstr("tabindex=\"0\""), HasSubstr(" aria-label=\"Zone by zone\""), HasSubstr("<table>")));
  EXPECT_EQ(kTableEnd, "</table></div>");
}

TEST(PageFrame, ARowHasACellForEachPhraseEmptyOnesToo) {
  const std::string row = table_row("td", {verbatim("a<b"), Message(), verbatim("c")}, {});
  EXPECT_THAT(
      row, testing::MatchesRegex("<tr><td><span [^>]*>a&lt;b</span></td><td></td><td><span [^>]*>c</span></td></tr>"));
  EXPECT_THAT(table_row("th", {verbatim("a")}, {}), AllOf(HasSubstr("<th>"), HasSubstr("</th>"), Not(HasSubstr("td"))));
}

TEST(PageFrame, APageInOneFileAsksNothingOfAnyNetwork) {
  const std::string page = framed_page({}, {verbatim("a <reed>"), "<p>body</p>", "{}"}, {Language::french});
  EXPECT_THAT(page, testing::StartsWith("<!doctype html><html lang=\"fr\">"));
  EXPECT_THAT(page, HasSubstr(">A &lt;reed&gt;</title>"));
  EXPECT_THAT(page, HasSubstr("<p>body</p>"));
  EXPECT_THAT(page, HasSubstr("default-src 'none'"));
  EXPECT_THAT(page, HasSubstr("img-src data: blob:\">")) << "no picture from anywhere else";
  EXPECT_THAT(page, HasSubstr(std::string(page_style())));
  EXPECT_THAT(page, HasSubstr("<script type=\"application/json\" id=\"reed-data\">{}</script>"));
  EXPECT_THAT(page, HasSubstr(std::string(page_script())));
  EXPECT_THAT(page, Not(HasSubstr("src=\"/app")));
}

TEST(PageFrame, APageThatDrawsNothingHasNoScript) {
  EXPECT_THAT(framed_page({}, {verbatim("t"), ""}, {}), Not(HasSubstr("<script")));
}

TEST(PageFrame, PicturesBesideAPageOnDiskAreAllowed) {
  EXPECT_THAT(framed_page({.pictures_inside = false}, {verbatim("t"), ""}, {}),
              HasSubstr("img-src data: blob: file:\">"));
}

TEST(PageFrame, AServedPageHasItsPartsBesideIt) {
  const std::string page = framed_page(kServed, {verbatim("t"), "", "{}"}, {});
  EXPECT_THAT(page, AllOf(HasSubstr("href=\"/app.css\""), HasSubstr("<script src=\"/app.js\" defer></script>")));
  EXPECT_THAT(page, Not(HasSubstr("Content-Security-Policy"))) << "its server says that";
  EXPECT_LT(page.size(), 2000U);
}

}  // namespace
}  // namespace canewise
