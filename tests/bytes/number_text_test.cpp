#include "scanproc/bytes/number_text.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "scanproc/words/speech.h"

namespace canewise {
namespace {

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) lines.emplace_back(next_line(text));
  return lines;
}

TEST(NumberText, LinesEndAsAnySystemWritesThem) {
  EXPECT_EQ(lines_of("a\nb\r\nc\rd"), (std::vector<std::string>{"a", "b", "c", "d"}));
  EXPECT_EQ(lines_of("a\n\n\r\n\rb\n"), (std::vector<std::string>{"a", "", "", "", "b"})) << "empty ones count";
  EXPECT_EQ(lines_of("a\n\rb"), (std::vector<std::string>{"a", "", "b"})) << "LF CR is two ends";
  EXPECT_TRUE(lines_of("").empty());
}

TEST(NumberText, WordsArePartedByBlanksAndTabs) {
  std::string_view line = "\t one two\t\tthree ";
  EXPECT_EQ(next_word(line), "one");
  EXPECT_EQ(next_word(line), "two");
  EXPECT_EQ(next_word(line), "three");
  EXPECT_EQ(next_word(line), "");
  EXPECT_EQ(next_word(line), "") << "and so for ever";
}

TEST(NumberText, ANumberIsTheWholeWord) {
  EXPECT_EQ(number_from<double>("-12.5"), -12.5);
  EXPECT_EQ(number_from<double>("1e-3"), 0.001);
  EXPECT_EQ(number_from<double>("+.5"), 0.5);
  EXPECT_EQ(number_from<std::uint64_t>("+7"), 7U);
  for (const char* word : {"", "+", "-", "12.5mm", " 1", "1 ", "0x10", "1,5", "one", "--5", "++5", "+-5"})
    EXPECT_EQ(number_from<double>(word), std::nullopt) << "'" << word << "'";
}

TEST(NumberText, AWholeNumberHasNoPointAndFitsItsType) {
  EXPECT_EQ(number_from<std::int64_t>("-9223372036854775808"), std::numeric_limits<std::int64_t>::min());
  EXPECT_EQ(number_from<std::uint64_t>("18446744073709551615"), std::numeric_limits<std::uint64_t>::max());
  EXPECT_EQ(number_from<std::uint64_t>("18446744073709551616"), std::nullopt);
  EXPECT_EQ(number_from<std::uint64_t>("-1"), std::nullopt);
  EXPECT_EQ(number_from<std::uint64_t>("1.0"), std::nullopt);
  EXPECT_EQ(number_from<std::uint32_t>("4294967296"), std::nullopt);
}

TEST(NumberText, NanAndInfiniteAreNumbersAndTooLargeOnesAreInfinite) {
  EXPECT_TRUE(std::isnan(number_from<double>("nan").value()));
  EXPECT_EQ(number_from<double>("-inf"), -std::numeric_limits<double>::infinity());
  EXPECT_EQ(number_from<double>("1e999"), std::numeric_limits<double>::infinity());
  EXPECT_EQ(number_from<double>("-1e999"), -std::numeric_limits<double>::infinity());
  EXPECT_EQ(number_from<double>("1e-999"), 0.0);
}

TEST(NumberText, AWordOfAFileIsShownCutTo24PrintableCharacters) {
  const std::string most(24, 'x');
  EXPECT_EQ(cut_short(most), most);
  EXPECT_EQ(cut_short(most + "y"), most + "...");
  EXPECT_EQ(cut_short("a\x1b[31m\xc3\xa4~"), "a?[31m??~");
  EXPECT_EQ(shown("ab"), "'ab'");
  EXPECT_EQ(std::get<std::string>(excerpt("a\nb")), "a?b");
}

TEST(NumberText, PlacesInAFileAreBareDigitsInEveryLanguage) {
  const Message message{"verbatim", {{"text", digits(1234567)}}};
  for (const Language language : kLanguages) EXPECT_EQ(phrase(message, {language}), "1234567");
  EXPECT_EQ(phrase({"verbatim", {{"text", digits(0)}}}), "0");
}

}  // namespace
}  // namespace canewise
