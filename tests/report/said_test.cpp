#include "scanproc/report/said.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <nlohmann/json.hpp>
#include <string>

#include "scanproc/words/message_json.h"

namespace canewise {
namespace {

using nlohmann::json;

Message verbatim(const char* words) { return {"verbatim", {{"text", text(words)}}}; }
const Message kTricky = verbatim("it's \"<b>\" & more");

/// What a browser makes of the text of an attribute or element.
std::string unescaped(std::string text) {
  const std::array<std::pair<const char*, const char*>, 5> entities{
      {{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}}};
  for (const auto& [entity, character] : entities) {
    for (auto at = text.find(entity); at != std::string::npos; at = text.find(entity, at + 1))
      text.replace(at, std::string(entity).size(), character);
  }
  return text;
}
std::string attribute(const std::string& html, const std::string& name) {
  const std::string begin = " " + name + "=\"";
  const std::size_t from = html.find(begin);
  EXPECT_NE(from, std::string::npos) << name << " in " << html;
  return unescaped(html.substr(from + begin.size(), html.find('"', from + begin.size()) - from - begin.size()));
}
std::string content(const std::string& html) {
  const std::size_t from = html.find('>') + 1;
  return unescaped(html.substr(from, html.rfind("</") - from));
}

TEST(Said, SentencesStandWithTheMessagesThatTheyCameFrom) {
  const Messages two{verbatim("one."), kTricky};
  const std::string html = said(two, {});
  EXPECT_THAT(html, testing::StartsWith("<span data-say=\""));
  EXPECT_THAT(html, testing::EndsWith("</span>"));
  EXPECT_EQ(content(html), "One. It's \"<b>\" & more") << "each begins with a capital letter";
  EXPECT_EQ(json::parse(attribute(html, "data-say")).get<Messages>(), two);
  EXPECT_EQ(json::parse(attribute(said(kTricky, {}), "data-say")).get<Messages>(), Messages{kTricky});
}

TEST(Said, APhraseStandsAsItIsAndIsNoList) {
  const std::string html = said_phrase(verbatim("left rail"), {});
  EXPECT_EQ(content(html), "left rail");
  EXPECT_EQ(json::parse(attribute(html, "data-say")).get<Message>(), verbatim("left rail"));
}

TEST(Said, NothingIsSaidForNothing) {
  EXPECT_EQ(said(Messages{}, {}), "");
  EXPECT_EQ(said(Message(), {}), "");
  EXPECT_EQ(said_phrase(Message(), {}), "");
}

TEST(Said, AnAttributeBringsItsMessageUnderItsOwnName) {
  const std::string html = said_as("aria-label", kTricky, {});
  EXPECT_EQ(html.front(), ' ') << "it follows an element's name";
  EXPECT_EQ(attribute(html, "aria-label"), "It's \"<b>\" & more");
  EXPECT_EQ(json::parse(attribute(html, "data-say-aria-label")).get<Messages>(), Messages{kTricky});
  EXPECT_EQ(json::parse(attribute(say_attribute(kTricky), "data-say")).get<Messages>(), Messages{kTricky});
}

TEST(Said, NoTextBreaksOutOfItsPlace) {
  for (const std::string& html : {said(kTricky, {}), said_phrase(kTricky, {}), said_as("alt", kTricky, {})}) {
    EXPECT_EQ(html.find("<b>"), std::string::npos) << html;
    EXPECT_EQ(html.find("it's"), std::string::npos) << "an apostrophe ends an attribute too";
  }
}

TEST(Said, TheWordsAreTheReadersAndTheMessageIsEveryones) {
  const Message depth{"value.um", {{"v", um(2540.0)}}};
  const std::string html = said_phrase(depth, {Language::german, SmallUnit::thou});
  EXPECT_EQ(content(html), "100,00");
  EXPECT_EQ(json::parse(attribute(html, "data-say")).get<Message>(), depth) << "still in micrometres";
}

}  // namespace
}  // namespace canewise
