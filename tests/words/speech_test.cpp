#include "scanproc/words/speech.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/words/catalogue.h"

namespace canewise {
namespace {

Message verbatim(Argument argument) { return {"verbatim", {{"text", std::move(argument)}}}; }

TEST(Speech, ALengthBringsItsUnitAndFollowsTheReader) {
  EXPECT_EQ(phrase(verbatim(um(24.4))), "24 µm");
  EXPECT_EQ(phrase(verbatim(um(25.4)), {Language::english, SmallUnit::thou}), "1.00 thou");
  EXPECT_EQ(phrase(verbatim(um(2.54, 1)), {Language::german, SmallUnit::thou}), "0,100 thou");
  EXPECT_EQ(phrase(verbatim(mm(12.25, 1))), "12.3 mm") << "of two that are as near the larger";
  EXPECT_EQ(phrase(verbatim(mm(12.25, 1)), {Language::french, SmallUnit::thou}), "12,3 mm")
      << "places are told in millimetres always";
}

TEST(Speech, NumbersHaveTheReadersDecimalSignAndNoGrouping) {
  EXPECT_EQ(phrase(verbatim(number(1234.5, 1))), "1234.5");
  EXPECT_EQ(phrase(verbatim(number(1234.5, 1)), {Language::german}), "1234,5");
  EXPECT_EQ(phrase(verbatim(number(-0.04, 1))), "0.0") << "nothing has no sign";
  EXPECT_EQ(phrase(verbatim(signed_um(3.0))), "+3 µm");
  EXPECT_EQ(phrase(verbatim(signed_um(-3.0))), "-3 µm");
  EXPECT_EQ(phrase(verbatim(count(12345)), {Language::german}), "12.345") << "a count alone is ICU's";
}

TEST(Speech, SentencesBeginWithACapitalLetterWhateverComesFirst) {
  EXPECT_EQ(sentence(verbatim(text("über"))), "Über");
  EXPECT_EQ(sentences({verbatim(text("one.")), Message(), verbatim(text("two."))}), "One. Two.");
  EXPECT_EQ(phrase({"in_file", {{"file", text("a.ply")}, {"what", part(verbatim(text("bad")))}}}), "a.ply: bad");
}

TEST(Speech, TextFromOutsideSpeaksToNoTerminal) {
  EXPECT_EQ(phrase(verbatim(text("a\x1b[31mb\n\x7f"))), "a\\x1b[31mb\\x0a\\x7f");
  EXPECT_EQ(phrase(verbatim(text("\xff\xc3"))), "\\xff\\xc3") << "broken UTF-8";
  EXPECT_EQ(phrase(verbatim(text("a\xe2\x80\xae"))), "a\\xe2\\x80\\xae") << "what turns the direction of writing";
  EXPECT_EQ(phrase(verbatim(text("{0} 'x' #"))), "{0} 'x' #") << "it is no pattern";
  EXPECT_EQ(phrase(verbatim(text("Müller 木"))), "Müller 木");
}

TEST(Speech, LanguagesAreKnownByTheirCodeAlsoInALocale) {
  EXPECT_EQ(language_from("de"), Language::german);
  EXPECT_EQ(language_from("fr_CH.UTF-8"), Language::french);
  EXPECT_EQ(language_from("en-GB"), Language::english);
  EXPECT_EQ(language_from("den"), std::nullopt);
  EXPECT_EQ(language_from("C"), std::nullopt);
  for (const Language language : kLanguages) EXPECT_EQ(language_from(code_of(language)), language);
}

TEST(Speech, AnErrorSaysItsMessageInEnglishAndKeepsIt) {
  const InputError error({"in_file", {{"file", text("a")}, {"what", text("b")}}});
  EXPECT_STREQ(error.what(), "a: b");
  EXPECT_EQ(error.message().id, "in_file");
  EXPECT_EQ(error.exit_code(), ExitCode::bad_input);
}

}  // namespace
}  // namespace canewise
