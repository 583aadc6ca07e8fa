#include "scanproc/words/message_json.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace canewise {
namespace {

const Message kEveryKind{"plan.some",
                         {{"side", word("cannot tell")},
                          {"depth", um(24.26, 1)},
                          {"off", signed_um(-3.0)},
                          {"from", mm(12.0)},
                          {"share", number(0.1, 2)},
                          {"steps", count(3)},
                          {"file", text("a\"b")},
                          {"where", part({"place.zone", {{"side", word("left")}}})},
                          {"all", Messages{Message("verbatim", {{"text", text("x")}}), Message("plan.other")}}}};

TEST(MessageJson, ComesBackAsItWasMemberByMember) {
  const nlohmann::json object = kEveryKind;
  EXPECT_EQ(nlohmann::json::parse(object.dump()).get<Message>(), kEveryKind);
  EXPECT_EQ(object.at("depth").at("um"), 24.26);
  EXPECT_EQ(object.at("side").at("word"), "cannot_tell");
  EXPECT_EQ(object.at("steps"), 3);
}

TEST(MessageJson, WhatIsNoMessageIsRefused) {
  for (const char* text :
       {R"({})", R"({"id": 3})", R"({"id": "a", "x": "prose"})", R"({"id": "a", "x": {"um": 1}})",
        R"({"id": "a", "x": {"um": 1, "decimals": 99}})", R"({"id": "a", "x": {"um": 1, "decimals": -1}})",
        R"({"id": "a", "x": [3]})", R"({"id": "a\u001b[31m"})", R"({"id": "a", "x": {"word": "a\nb"}})",
        R"({"id": "a", "x": 18446744073709551615})", R"("prose")", R"([])", R"({"id": "a", "x": {"text": 3}})"}) {
    EXPECT_THROW((void)nlohmann::json::parse(text).get<Message>(), std::exception) << text;
  }
}

TEST(MessageJson, MessagesThatLieTooDeepAreRefused) {
  Message deep("verbatim");
  for (int k = 0; k < 20; ++k) deep = {"verbatim", {{"text", part(deep)}}};
  EXPECT_THROW((void)nlohmann::json(deep).get<Message>(), std::exception);
}

TEST(MessageJson, TextFromOutsideIsMadeHarmlessOnTheWayInToo) {
  const auto object = nlohmann::json::parse(R"({"id": "verbatim", "text": {"text": "a\u001bb"}})");
  EXPECT_EQ(std::get<std::string>(object.get<Message>().arguments.at("text")), "a\\x1bb");
}

}  // namespace
}  // namespace canewise
