#include "scanproc/report/box_page.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

namespace canewise {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

Message verbatim(const char* words) { return {"verbatim", {{"text", text(words)}}}; }

std::string page_of(const std::vector<BoxEntry>& entries, const Speech& speech = {}) {
  return box_page(verbatim("my box"), entries, speech);
}
const std::vector<BoxEntry> kTwo{
    {"second", verbatim("bought in may"), {verbatim("the left rail is thicker.")}, {verbatim("scrape it.")}},
    {"a & b", verbatim("an old one"), {verbatim("it is even.")}, {verbatim("play it.")}}};

TEST(BoxPage, EachReedLeadsToItsReportAndShowsItsBalance) {
  const std::string page = page_of(kTwo);
  EXPECT_THAT(page, AllOf(HasSubstr("<a href=\"second/report.html\">"), HasSubstr(" src=\"second/balance.png\"")));
  EXPECT_THAT(page, HasSubstr(" alt=\"Balance of second\"")) << "for those who do not see it";
  for (const char* words : {"My box", "Bought in may", "The left rail is thicker.", "Scrape it.", "It is even."})
    EXPECT_THAT(page, HasSubstr(std::string(">") + words + "<"));
}

TEST(BoxPage, ReedsComeInTheOrderGiven) {
  const std::string page = page_of(kTwo);
  EXPECT_LT(page.find("second/report.html"), page.find("a &amp; b/report.html"));
  EXPECT_LT(page.find("The left rail is thicker."), page.find("It is even."));
}

TEST(BoxPage, NamesOfFoldersAreNoMarkup) {
  const std::string page = page_of({{"<i>\"x'", verbatim("s"), {}, {}}});
  EXPECT_THAT(page, HasSubstr("<strong>&lt;i&gt;&quot;x&#39;</strong>"));
  EXPECT_THAT(page, Not(HasSubstr("<i>")));
}

TEST(BoxPage, ItIsOpenedFromDiskWithItsPicturesBesideItAndNeedsNoScript) {
  const std::string page = page_of(kTwo, {Language::german});
  EXPECT_THAT(page, AllOf(HasSubstr("lang=\"de\""), HasSubstr(" file:\">"), Not(HasSubstr("<script"))));
}

TEST(BoxPage, AnEmptyBoxIsAPageToo) { EXPECT_THAT(page_of({}), AllOf(HasSubstr("My box"), Not(HasSubstr("<li>")))); }

}  // namespace
}  // namespace canewise
