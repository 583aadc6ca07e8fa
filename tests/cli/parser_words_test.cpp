// Whatever the parser refuses, it is said in the reader's language. The parser here is the real one, so that another
// release with other words is noticed.
#include "scanproc/cli/parser_words.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "scanproc/words/speech.h"

namespace canewise {
namespace {

/// Why a small command with one option of each kind refuses these words.
Message refusal_of(std::vector<std::string> words) {
  CLI::App app;
  std::string file, name, unit;
  int columns = 0, frames = 0;
  double square = 0.0, share = 0.0;
  app.add_option("file", file)->required();
  app.add_option("--frames", frames);
  CLI::Option* width = app.add_option("--name", name);
  app.add_option("--units", unit)->check(CLI::IsMember({"mm", "um"}));
  app.add_option("--columns", columns)->check(CLI::Range(4, 40))->needs(width);
  app.add_option("--square-mm", square)->check(CLI::PositiveNumber)->excludes(width);
  app.add_option("--share", share)->check(CLI::Range(0.0, 0.2));
  std::reverse(words.begin(), words.end());  // As the parser wants them.
  try {
    app.parse(words);
  } catch (const CLI::ParseError& error) {
    return parser_words(error);
  }
  return {};
}
std::string english(std::vector<std::string> words) { return phrase(refusal_of(std::move(words))); }

TEST(ParserWords, SayWhatIsWrongWithTheOptionsName) {
  EXPECT_EQ(english({}), "file is missing");
  EXPECT_EQ(english({"a", "--colour"}), "'--colour' is not expected here");
  EXPECT_EQ(english({"a", "b"}), "'b' is not expected here");
  EXPECT_EQ(english({"a", "--name"}), "--name needs a value");
  EXPECT_EQ(english({"a", "--columns", "8"}), "--columns needs --name as well");
  EXPECT_EQ(english({"a", "--name", "x", "--square-mm", "2"}), "--name does not go with --square-mm");
  EXPECT_EQ(english({"a", "--units", "furlong"}), "--units must be one of: mm,um");
  EXPECT_EQ(english({"a", "--frames", "many"}), "--frames cannot be 'many'");
}

TEST(ParserWords, BoundsAreSaidAsAPersonWouldWriteThem) {
  EXPECT_EQ(english({"a", "--columns", "3", "--name", "x"}), "--columns must be from 4 to 40");
  EXPECT_EQ(english({"a", "--share", "0.3"}), "--share must be from 0 to 0.2");
  EXPECT_EQ(english({"a", "--square-mm", "0"}), "--square-mm must be more than 0");
  EXPECT_EQ(english({"a", "--square-mm", "-2.5"}), "--square-mm must be more than 0");
  EXPECT_EQ(english({"a", "--square-mm", "wide"}), "--square-mm must be more than 0");
}

TEST(ParserWords, NothingIsLeftInTheParsersEnglish) {
  const std::vector<std::vector<std::string>> all{{},
                                                  {"a", "--colour"},
                                                  {"a", "--name"},
                                                  {"a", "--columns", "8"},
                                                  {"a", "--name", "x", "--square-mm", "2"},
                                                  {"a", "--units", "furlong"},
                                                  {"a", "--columns", "3", "--name", "x"},
                                                  {"a", "--columns", "x", "--name", "x"},
                                                  {"a", "--square-mm", "0"}};
  for (const auto& words : all) {
    const Message refusal = refusal_of(words);
    EXPECT_EQ(refusal.id.rfind("cli.parse.", 0), 0U) << refusal.id << ": " << phrase(refusal);
    EXPECT_NE(phrase(refusal, {Language::german}), phrase(refusal)) << refusal.id;
    EXPECT_NE(phrase(refusal, {Language::french}), phrase(refusal)) << refusal.id;
  }
}

// What somebody types may be of any length, and may read like the parser's own words.
TEST(ParserWords, WhateverSomebodyTypesItIsSaidOfTheRightOptionAndInShort) {
  const std::string endless(300'000, 'a');
  EXPECT_EQ(english({"a", "--" + endless}).size(), std::string("'...' is not expected here").size() + 80);
  EXPECT_EQ(english({"a", "--units", endless}), "--units must be one of: mm,um");
  EXPECT_EQ(english({"a", "--share", endless}), "--share must be from 0 to 0.2");
  EXPECT_LT(english({"a", "--frames", endless}).size(), 120U);
  EXPECT_EQ(english({"a", "--units", "mm is required"}), "--units must be one of: mm,um");
  EXPECT_EQ(english({"a", "--units", "x not in range 1 to 2"}), "--units must be one of: mm,um");
  EXPECT_EQ(english({"a", "--units", "one\ntwo missing"}), "--units must be one of: mm,um");
  EXPECT_EQ(english({"a", "b excludes c"}), "'b excludes c' is not expected here");
  EXPECT_EQ(english({"a", "--frames", "a = b"}), "--frames cannot be 'a = b'");
}

TEST(ParserWords, WithoutAVerbItAsksForOne) {
  CLI::App app;
  app.require_subcommand(1);
  app.add_subcommand("step");
  try {
    app.parse(std::vector<std::string>{});
    FAIL() << "not refused";
  } catch (const CLI::ParseError& error) {
    EXPECT_EQ(phrase(parser_words(error)), "say what to do");
  }
}

TEST(ParserWords, WhatNobodyKnowsStaysAsTheParserSaidIt) {
  const CLI::HorribleError error("something new");
  EXPECT_EQ(phrase(parser_words(error)), error.what());
}

}  // namespace
}  // namespace canewise
