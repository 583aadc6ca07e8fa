// Settings files: TOML and JSON are one to those who ask, and what nobody asked for is refused.
#include "scanproc/bytes/settings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/words/speech.h"
#include "tests/bytes/file_bytes.h"

namespace canewise {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr double kLow = -1000.0, kHigh = 1000.0;

/// The words in which `ask` is refused by settings with this text.
template <typename Ask>
std::string refusal(const std::string& text, const Ask& ask) {
  try {
    Settings settings = Settings::parse(text, "my-file");
    ask(settings);
  } catch (const InputError& error) {
    EXPECT_THAT(error.what(), testing::StartsWith("my-file: "));
    return error.what();
  }
  ADD_FAILURE() << "was taken without complaint: " << text;
  return {};
}
std::string parse_refusal(const std::string& text) {
  return refusal(text, [](Settings&) {});
}

const char* const kToml =
    "# remark\n"
    "name = \"a \\\"rig\\\"\"\n"
    "whole = 3\n"
    "number = -2.5e-1\n"
    "on = true\n"
    "list = [1, 2.5, -3]\n"
    "words = [\"a\", \"b\"]\n"
    "[inner]\n"
    "depth = 7\n"
    "[inner.innermost]\n"
    "deeper = 8\n";
const char* const kJson =
    " \n{\"name\": \"a \\\"rig\\\"\", \"whole\": 3, \"number\": -2.5e-1, \"on\": true, \"list\": [1, 2.5, -3], "
    "\"words\": [\"a\", \"b\"], \"inner\": {\"depth\": 7, \"innermost\": {\"deeper\": 8}}}";

class BothLanguages : public testing::TestWithParam<const char*> {};

TEST_P(BothLanguages, GiveTheSame) {
  Settings settings = Settings::parse(GetParam(), "my-file");
  EXPECT_EQ(settings.text("name"), "a \"rig\"");
  EXPECT_EQ(settings.number("whole", kLow, kHigh), 3.0);
  EXPECT_EQ(settings.number("number", kLow, kHigh), -0.25);
  EXPECT_EQ(settings.flag("on"), true);
  EXPECT_THAT(settings.numbers("list", 3, kLow, kHigh), ElementsAre(1.0, 2.5, -3.0));
  EXPECT_THAT(settings.texts("words"), ElementsAre("a", "b"));
  Settings inner = settings.table("inner");
  EXPECT_EQ(inner.number("depth", kLow, kHigh), 7.0);
  Settings innermost = inner.table("innermost");
  EXPECT_EQ(innermost.number("deeper", kLow, kHigh), 8.0);
  EXPECT_NO_THROW(settings.refuse_unknown());
  EXPECT_NO_THROW(inner.refuse_unknown());
  EXPECT_NO_THROW(innermost.refuse_unknown());
}

TEST_P(BothLanguages, WhatIsAbsentIsEmpty) {
  Settings settings = Settings::parse(GetParam(), "my-file");
  EXPECT_FALSE(settings.has("absent"));
  EXPECT_TRUE(settings.has("whole"));
  EXPECT_EQ(settings.number("absent", kLow, kHigh), std::nullopt);
  EXPECT_EQ(settings.text("absent"), std::nullopt);
  EXPECT_EQ(settings.flag("absent"), std::nullopt);
  EXPECT_THAT(settings.numbers("absent", 3, kLow, kHigh), IsEmpty());
  EXPECT_THAT(settings.texts("absent"), IsEmpty());
  EXPECT_FALSE(settings.table("absent").has("anything"));
  double value = 42.0;
  settings.number_into(value, "absent", kLow, kHigh);
  EXPECT_EQ(value, 42.0);
  settings.number_into(value, "whole", kLow, kHigh);
  EXPECT_EQ(value, 3.0);
}

TEST_P(BothLanguages, UnknownKeysAreNamedWithTheKnownOnes) {
  const std::string words = refusal(GetParam(), [](Settings& settings) {
    for (const char* key : {"name", "whole", "number", "list", "words", "inner"}) (void)settings.has(key);
    settings.refuse_unknown();
  });
  EXPECT_THAT(words, AllOf(HasSubstr("'on' is unknown"), HasSubstr("inner, list, name, number, whole, words")));
}

TEST_P(BothLanguages, UnknownKeysOfATableAreNamedWithTheTable) {
  const std::string words = refusal(GetParam(), [](Settings& settings) {
    Settings inner = settings.table("inner");
    (void)inner.number("depth", kLow, kHigh);
    inner.refuse_unknown();
  });
  EXPECT_THAT(words, AllOf(HasSubstr("'inner.innermost' is unknown"), HasSubstr("Known keys: depth.")));
}

TEST_P(BothLanguages, WrongKindsAreRefused) {
  const auto words = [](const auto& ask) { return refusal(GetParam(), ask); };
  EXPECT_THAT(words([](Settings& s) { (void)s.number("name", kLow, kHigh); }),
              AllOf(HasSubstr("'name'"), HasSubstr("a number from -1000 to 1000")));
  EXPECT_THAT(words([](Settings& s) { (void)s.number("on", kLow, kHigh); }), HasSubstr("'on' must be a number"));
  EXPECT_THAT(words([](Settings& s) { (void)s.text("whole"); }), HasSubstr("'whole' must be a text in quotes"));
  EXPECT_THAT(words([](Settings& s) { (void)s.flag("whole"); }), HasSubstr("'whole' must be true or false"));
  EXPECT_THAT(words([](Settings& s) { (void)s.table("whole"); }), HasSubstr("'whole' must be a table"));
  EXPECT_THAT(words([](Settings& s) { (void)s.texts("list"); }), HasSubstr("'list' must be a list of texts"));
  EXPECT_THAT(words([](Settings& s) { (void)s.texts("name"); }), HasSubstr("'name' must be a list of texts"));
  EXPECT_THAT(words([](Settings& s) { (void)s.numbers("words", 2, kLow, kHigh); }),
              HasSubstr("'words' must be a list of 2 numbers"));
  EXPECT_THAT(words([](Settings& s) { (void)s.numbers("whole", 1, kLow, kHigh); }), HasSubstr("'whole'"));
  EXPECT_THAT(words([](Settings& s) { (void)s.table("inner").table("depth"); }), HasSubstr("'inner.depth'"));
}

TEST_P(BothLanguages, NumbersOutsideTheirRangeAreRefused) {
  const auto words = [](const auto& ask) { return refusal(GetParam(), ask); };
  EXPECT_THAT(words([](Settings& s) { (void)s.number("whole", 3.5, 4); }), HasSubstr("from 3.5 to 4"));
  EXPECT_THAT(words([](Settings& s) { (void)s.number("whole", 0, 2.5); }), HasSubstr("from 0 to 2.5"));
  EXPECT_THAT(words([](Settings& s) { (void)s.numbers("list", 3, 0, 10); }), HasSubstr("3 numbers from 0 to 10"));
  EXPECT_THAT(words([](Settings& s) { (void)s.numbers("list", 2, kLow, kHigh); }), HasSubstr("2 numbers"));
  EXPECT_THAT(words([](Settings& s) { (void)s.numbers("list", 4, kLow, kHigh); }), HasSubstr("4 numbers"));
  Settings settings = Settings::parse(GetParam(), "my-file");  // Limits count as inside.
  EXPECT_EQ(settings.number("whole", 3, 3), 3.0);
}

INSTANTIATE_TEST_SUITE_P(Settings, BothLanguages, testing::Values(kToml, kJson),
                         [](const auto& text) { return text.param == kToml ? "Toml" : "Json"; });

TEST(SettingsFile, TomlRefusalsNameTheLine) {
  EXPECT_THAT(refusal(kToml, [](Settings& s) { (void)s.text("whole"); }), HasSubstr("line 3: 'whole'"));
  EXPECT_THAT(refusal(kToml,
                      [](Settings& s) {
                        Settings inner = s.table("inner");
                        inner.refuse_unknown();
                      }),
              HasSubstr("line 9: 'inner.depth'"));
  EXPECT_THAT(parse_refusal("a = 1\nb = \n"), HasSubstr("line 2"));
  EXPECT_THAT(parse_refusal("a = 1\na = 2\n"), HasSubstr("line 2"));
  EXPECT_THAT(parse_refusal("just words\n"), HasSubstr("line 1"));
}

// The library gives its reason in English alone, so the line itself is shown.
TEST(SettingsFile, ALineThatIsNoTomlIsShown) {
  EXPECT_THAT(parse_refusal("a = 1\nwidth = wide\nb = 2\n"),
              HasSubstr("line 2 cannot be read from character 9 on: width = wide."));
  EXPECT_THAT(parse_refusal("a = 1\r\nb ? 2\r\n"), HasSubstr("b ? 2. Write"));
  EXPECT_THAT(parse_refusal("a = \x1b[31m\n"), Not(HasSubstr("\x1b")));
  EXPECT_THAT(parse_refusal("a = ?" + std::string(300, 'x')), HasSubstr("xxx.... Write"));
  try {
    (void)Settings::parse("width = wide\n", "my-file");
    FAIL() << "not refused";
  } catch (const InputError& error) {
    EXPECT_THAT(phrase(error.message(), {Language::german}),
                testing::StartsWith("my-file: Zeile 1 ist ab Zeichen 9 nicht lesbar: width = wide."));
  }
}

TEST(SettingsFile, NumbersThatAreNoneAreOutsideEveryRange) {
  for (const char* text : {"a = nan", "a = inf", "a = -inf"}) {
    EXPECT_THAT(refusal(text, [](Settings& s) { (void)s.number("a", -1e308, 1e308); }), HasSubstr("'a' must be"));
    EXPECT_THAT(refusal("a = [1.0" + std::string(text).replace(0, 3, ",") + "]",
                        [](Settings& s) { (void)s.numbers("a", 2, -1e308, 1e308); }),
                HasSubstr("'a' must be"));
  }
}

TEST(SettingsFile, DamagedJsonIsRefusedInOrdinaryWords) {
  EXPECT_THAT(parse_refusal("{\"a\": 1,}"), HasSubstr("no readable JSON"));
  EXPECT_THAT(parse_refusal("{\"a\": 1"), HasSubstr("no readable JSON"));
  EXPECT_THAT(parse_refusal("{\"a\": 1} {\"b\": 2}"), HasSubstr("no readable JSON"));
  EXPECT_THAT(parse_refusal("{\"a\": 1 /* remark */}"), HasSubstr("comments"));
  EXPECT_THAT(parse_refusal("{\"a\": 1e999}"), HasSubstr("no readable JSON"));
  EXPECT_THAT(parse_refusal("{\"a\": 1,}"), Not(HasSubstr("parse_error"))) << "the library's own words";
}

TEST(SettingsFile, AnEmptyFileHasNoSettings) {
  for (const char* text : {"", "\n\n", "# only a remark", "{}"}) {
    Settings settings = Settings::parse(text, "my-file");
    EXPECT_FALSE(settings.has("a"));
    EXPECT_NO_THROW(settings.refuse_unknown()) << text;
  }
}

TEST(SettingsFile, ControlCharactersOfAKeyAreNotShown) {
  const std::string words = refusal("{\"a\\u001b[31m\\n\": 1}", [](Settings& settings) { settings.refuse_unknown(); });
  EXPECT_THAT(words, AllOf(HasSubstr("'a?[31m?' is unknown"), Not(HasSubstr("\x1b")), Not(HasSubstr("\n"))));
}

TEST(SettingsFile, DeepNestingDoesNoHarm) {
  // As deep as a file of the greatest size can nest.
  constexpr std::size_t deep = 500'000;
  const auto take = [](const std::string& text) {
    try {
      Settings settings = Settings::parse(text, "my-file");
      (void)settings.has("a");
      settings.refuse_unknown();
      return std::string("taken");
    } catch (const InputError& error) {
      return std::string(error.what());
    }
  };
  EXPECT_THAT(take("{\"a\": " + std::string(deep, '[') + std::string(deep, ']') + "}"), Not(IsEmpty()));
  EXPECT_THAT(take("{\"a\": " + std::string(deep, '[')), HasSubstr("more than 10000 lists"));
  EXPECT_THAT(take("{\"a\": " + std::string(9000, '[')), HasSubstr("no readable JSON"));
  std::string objects;
  for (std::size_t i = 0; i < deep / 5; ++i) objects += "{\"a\":";
  EXPECT_THAT(take(objects + "1" + std::string(deep / 5, '}')), Not(IsEmpty()));
  EXPECT_THAT(take("a = " + std::string(deep, '[') + std::string(deep, ']')), Not(IsEmpty()));
  std::string dotted = "a";
  for (std::size_t i = 0; i < 100; ++i) dotted += ".a";
  EXPECT_THAT(take(dotted + " = 1\n"), Not(IsEmpty()));
  EXPECT_THAT(take("[" + dotted + "]\nb = 1\n"), Not(IsEmpty()));
  EXPECT_THAT(take(dotted + ".a = 1\n"), HasSubstr("more than 100 dots"));
}

TEST(SettingsFile, FilesAreReadWithTheirNameAndNeverFarTooLargeOnes) {
  const test::TempFolder folder;
  EXPECT_EQ(Settings::read(folder.file("a.toml", "a = 5\n")).number("a", kLow, kHigh), 5.0);
  EXPECT_EQ(Settings::read(folder.file("misnamed.toml", "{\"a\": 5}")).number("a", kLow, kHigh), 5.0);
  const auto refused = [](const std::filesystem::path& path) {
    try {
      (void)Settings::read(path);
    } catch (const InputError& error) {
      EXPECT_THAT(error.what(), HasSubstr(path.string()));
      return std::string(error.what());
    }
    ADD_FAILURE() << "was read without complaint";
    return std::string();
  };
  EXPECT_THAT(refused(folder.file("large.toml", std::string((1 << 20) + 1, '#'))), HasSubstr("too large"));
  EXPECT_THAT(refused(folder.file("bad.toml", "a =")), HasSubstr("line 1"));
  EXPECT_THAT(refused(folder.path() / "absent.toml"), HasSubstr("no such file"));
}

}  // namespace
}  // namespace canewise
