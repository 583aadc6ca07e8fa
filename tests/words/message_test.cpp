#include "scanproc/words/message.h"

#include <gtest/gtest.h>

#include <limits>
#include <string_view>

namespace canewise {
namespace {

TEST(Message, AWordIsAKeyThatAPatternCanChooseBy) {
  EXPECT_EQ(std::get<Word>(word("cannot tell")).key, "cannot_tell");
  EXPECT_EQ(std::get<Word>(word("two-sided")).key, "two_sided");
  EXPECT_EQ(std::get<Word>(word("left")).key, "left");
  EXPECT_EQ(std::get<Word>(word("")).key, "");
}

TEST(Message, EachArgumentKeepsItsUnitDecimalsAndSign) {
  EXPECT_EQ(std::get<std::int64_t>(count(7)), 7);
  EXPECT_EQ(std::get<Number>(number(-2.5, 1)), (Number{-2.5, 1, false}));
  EXPECT_EQ(std::get<Length>(um(24.2, 1)), (Length{24.2, Length::Unit::um, 1, false}));
  EXPECT_EQ(std::get<Length>(signed_um(24.2, 1)), (Length{24.2, Length::Unit::um, 1, true}));
  EXPECT_EQ(std::get<Length>(mm(24.2, 1)), (Length{24.2, Length::Unit::mm, 1, false}));
  EXPECT_NE(um(24.2, 1), mm(24.2, 1)) << "the unit is part of a length";
  EXPECT_EQ(std::get<Length>(um(24.2)).decimals, 0);
}

TEST(Message, APartIsOneMessageWithinAnother) {
  const Message place{"place.zone", {{"side", word("left")}}};
  EXPECT_EQ(std::get<Messages>(part(place)), Messages{place});
}

TEST(Message, IsEqualOnlyWithTheSameIdAndArguments) {
  const Message one{"plan.first", {{"depth", um(24.0)}}};
  EXPECT_EQ(one, (Message{"plan.first", {{"depth", um(24.0)}}}));
  EXPECT_NE(one, (Message{"plan.other", {{"depth", um(24.0)}}}));
  EXPECT_NE(one, (Message{"plan.first", {{"depth", um(24.5)}}}));
  EXPECT_NE(one, (Message{"plan.first", {{"depths", um(24.0)}}}));
  EXPECT_NE(one, Message{"plan.first"});
}

TEST(Message, WithoutAnIdItIsEmpty) {
  EXPECT_TRUE(Message().empty());
  EXPECT_FALSE(Message{"plan.first"}.empty());
}

TEST(Message, PrintableTextIsLeftAsItIs) {
  for (const char* text : {"", "left rail ~", "Müller 木", "a\xc2\xa0no-break", "\xe2\x80\x8djoined"})
    EXPECT_EQ(printable(text), text);
}

TEST(Message, ControlCharactersAreShownAsEscapes) {
  EXPECT_EQ(printable(std::string_view("a\0b\x1f\x7f", 5)), "a\\x00b\\x1f\\x7f");
  EXPECT_EQ(printable("\xc2\x80\xc2\x9f"), "\\xc2\\x80\\xc2\\x9f") << "U+0080 and U+009F, the upper controls";
}

// U+061C, U+200E, U+202A, U+2066 and U+2069 turn the direction (Unicode Standard Annex 9); U+2028 and U+2029 end a
// line.
TEST(Message, WhatTurnsTheDirectionOrEndsALineIsShownAsEscapes) {
  EXPECT_EQ(printable("\xd8\x9c"), "\\xd8\\x9c");
  EXPECT_EQ(printable("\xe2\x80\x8e"), "\\xe2\\x80\\x8e");
  EXPECT_EQ(printable("\xe2\x80\xaa"), "\\xe2\\x80\\xaa");
  EXPECT_EQ(printable("\xe2\x81\xa6\xe2\x81\xa9"), "\\xe2\\x81\\xa6\\xe2\\x81\\xa9");
  EXPECT_EQ(printable("\xe2\x80\xa8\xe2\x80\xa9"), "\\xe2\\x80\\xa8\\xe2\\x80\\xa9");
}

TEST(Message, BrokenUtf8IsShownAsEscapesAndTheRestIsKept) {
  EXPECT_EQ(printable("a\xc0\xaf/b"), "a\\xc0\\xaf/b") << "a slash written too long";
  EXPECT_EQ(printable("\xed\xa0\x80x"), "\\xed\\xa0\\x80x") << "half of a pair of UTF-16";
  EXPECT_EQ(printable("end \xe2\x82"), "end \\xe2\\x82") << "cut in the middle of a letter";
  EXPECT_EQ(std::get<std::string>(text("a\xff")), "a\\xff") << "an argument from outside passes through it";
}

}  // namespace
}  // namespace canewise
