// What a measuring child's lines mean, and what of its words reaches who sent the scan.
#include "viewer/server/child_words.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/support/in_english.h"

namespace canewise {
namespace {

const std::filesystem::path kFile = "/srv/uploads/17/my reed.ply";

Message about(const std::string& words) { return {"verbatim", {{"text", text(words)}}}; }
Message framed(const std::string& file, Messages what) {
  return {"in_file", {{"file", text(file)}, {"what", std::move(what)}}};
}

TEST(ToldOn, AStageComesWithItsShareOfTheWork) {
  const auto told = told_on(R"({"stage":{"id":"stage.read"},"fraction":0.250})");
  ASSERT_TRUE(told.has_value());
  EXPECT_EQ(told->stage, Message("stage.read"));
  EXPECT_EQ(told->fraction, 0.25);
  EXPECT_TRUE(told->refused.empty());
}

TEST(ToldOn, AShareIsFromNothingToAll) {
  EXPECT_EQ(told_on(R"({"stage":{"id":"stage.read"},"fraction":7})")->fraction, 1.0);
  EXPECT_EQ(told_on(R"({"stage":{"id":"stage.read"},"fraction":-0.5})")->fraction, 0.0);
}

TEST(ToldOn, ARefusalCountsMoreThanAStage) {
  const auto told =
      told_on(R"({"stage":{"id":"stage.read"},"fraction":0.5,"refused":{"id":"verbatim","text":{"text":"no"}}})");
  ASSERT_TRUE(told.has_value());
  EXPECT_EQ(told->refused, about("no"));
  EXPECT_TRUE(told->stage.empty());
}

TEST(ToldOn, WhatNamesOneOfThemButHoldsSomethingElseSaysNothing) {
  const std::string deep(100'000, '[');
  const std::vector<std::string> lines{R"({"stage":"prose","fraction":0.5})",
                                       R"({"stage":{"id":3},"fraction":0.5})",
                                       R"({"stage":{"id":"stage.read"}})",
                                       R"({"stage":{"id":"stage.read"},"fraction":"half"})",
                                       R"({"refused":"prose"})",
                                       R"({"refused":null})",
                                       R"({"stage":)" + deep + std::string(deep.size(), ']') + R"(,"fraction":0.5})"};
  for (const std::string& line : lines) {
    const auto told = told_on(line);
    ASSERT_TRUE(told.has_value()) << line.substr(0, 80);
    EXPECT_TRUE(told->stage.empty() && told->refused.empty()) << line.substr(0, 80);
  }
}

TEST(ToldOn, AnyOtherLineIsNone) {
  for (const char* line : {"", "reading", "{", "{}", "[]", "{\"fraction\":0.5}", " {\"refused\":{\"id\":\"a\"}}",
                           "{\"stage\":{\"id\":\"stage.read\"},\"fraction\":0.5} more",
                           "{\"stage\":{\"id\":\"stage.read\"},\"fraction\":1e999}", "{\"stage\":\"\xff\"}"})
    EXPECT_FALSE(told_on(line).has_value()) << line;
}

TEST(ForSender, TheirOwnFileIsNoNewsAndItsFolderNobodysBusiness) {
  EXPECT_EQ(for_sender(framed(kFile.string(), {about("ends early")}), kFile), about("ends early"));
  EXPECT_EQ(for_sender(framed("my reed.ply", {framed("my reed.ply", {about("ends early")})}), kFile),
            about("ends early"))
      << "frame in frame";
  EXPECT_EQ(for_sender(about("see /srv/uploads/17/a and /srv/uploads/17/b"), kFile), about("see a and b"));
}

TEST(ForSender, AnotherFileIsStillNamed) {
  EXPECT_EQ(for_sender(framed("/srv/uploads/17/rig.toml", {about("/srv/uploads/17/my reed.ply")}), kFile),
            framed("rig.toml", {about("my reed.ply")}));
  const Message two = framed("my reed.ply", {about("one"), about("other")});
  EXPECT_EQ(for_sender(two, kFile), two) << "two sentences are no single message";
}

TEST(ForSender, AFolderWhoseNameIsNoTextIsRecognisedAsItIsShown) {
  const std::filesystem::path odd = "/srv/caf\xe9\x1b/scan.ply";
  EXPECT_EQ(for_sender(framed(odd.string(), {about("broken")}), odd), about("broken"));
}

TEST(ForSender, BareWordsBecomeOneLineWithoutTheirSpeaker) {
  EXPECT_EQ(for_sender(std::string("canewise: /srv/uploads/17/my reed.ply: broken\ncanewise: twice"), kFile),
            about("my reed.ply: broken canewise: twice"));
  EXPECT_EQ(for_sender(std::string("a\x1b[2J"), kFile), about("a\\x1b[2J")) << "and speak to no terminal";
}

TEST(WithoutPlaces, FoldersAreCutOutWhereverTheyStand) {
  const std::vector<std::filesystem::path> places{"/srv/results", "/var/tmp/work"};
  EXPECT_EQ(
      without_places(framed("/srv/results/a/b.json", {about("not in /var/tmp/work, nor /srv/results/c")}), places),
      framed("a/b.json", {about("not in , nor c")}));
}

TEST(WithoutPlaces, TheRootAndNoFolderAtAllCutNothing) {
  const Message message = about("1/2 of /srv/results");
  EXPECT_EQ(without_places(message, {"/", ""}), message);
}

TEST(WithoutPlaces, OnlyTextIsCut) {
  const Message message{"plan.some", {{"side", word("/srv")}, {"steps", count(3)}, {"deep", um(1.5, 1)}}};
  EXPECT_EQ(without_places(message, {"/srv"}), message);
}

}  // namespace
}  // namespace canewise
