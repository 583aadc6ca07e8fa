// What must be known of the command's words before they are parsed.
#include "scanproc/cli/reader_language.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "tests/support/refusals.h"

namespace canewise {
namespace {

using Words = std::vector<const char*>;

/// The locale's variables for a while: those given, and no others.
class Locale {
 public:
  explicit Locale(const std::map<std::string, std::string>& variables) {
    for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
      if (const char* value = std::getenv(name)) before_[name] = value;
      ::unsetenv(name);
    }
    for (const auto& [name, value] : variables) ::setenv(name.c_str(), value.c_str(), 1);
  }
  ~Locale() {
    for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
      const auto was = before_.find(name);
      if (was == before_.end()) {
        ::unsetenv(name);
      } else {
        ::setenv(name, was->second.c_str(), 1);
      }
    }
  }
  Locale(const Locale&) = delete;
  Locale& operator=(const Locale&) = delete;

 private:
  std::map<std::string, std::string> before_;
};

Language of_system(const std::map<std::string, std::string>& variables) {
  const Locale locale(variables);
  return language_of_system();
}

TEST(LanguageAskedFor, IsNamedInEitherWayAndAnywhere) {
  EXPECT_EQ(language_asked_for(Words{"--lang", "de", "measure"}), Language::german);
  EXPECT_EQ(language_asked_for(Words{"measure", "a.ply", "--lang=fr"}), Language::french);
  EXPECT_EQ(language_asked_for(Words{"--lang=de", "--lang=fr"}), Language::german) << "the first";
}

TEST(LanguageAskedFor, NothingIfItIsNotThere) {
  for (const Words& words : {Words{}, Words{"measure", "de"}, Words{"--language=de"}, Words{"measure", "--lang"},
                             Words{"measure", "--", "--lang=de"}, Words{"--", "--lang", "de"}})
    EXPECT_EQ(language_asked_for(words), std::nullopt);
}

TEST(LanguageAskedFor, ACodeWithoutACatalogueIsRefusedWithThoseThatThereAre) {
  for (const Words& words : {Words{"--lang=xx"}, Words{"--lang", "xx"}}) {
    const auto refusal = test::refusal_of([&] { return language_asked_for(words); });
    EXPECT_EQ(refusal.exit_code, ExitCode::usage);
    EXPECT_EQ(refusal.id, "cli.unknown_language");
    EXPECT_EQ(refusal.text("code"), "xx");
    EXPECT_EQ(refusal.text("known"), "en, de, fr");
  }
  EXPECT_THROW((void)language_asked_for(Words{"--lang="}), UsageError);
}

TEST(LanguageOfSystem, TheFirstVariableThatIsSetDecides) {
  EXPECT_EQ(of_system({{"LC_ALL", "fr_FR.UTF-8"}, {"LC_MESSAGES", "de_DE"}, {"LANG", "de_DE"}}), Language::french);
  EXPECT_EQ(of_system({{"LC_MESSAGES", "de_AT.UTF-8"}, {"LANG", "fr_FR.UTF-8"}}), Language::german);
  EXPECT_EQ(of_system({{"LANG", "fr"}}), Language::french);
  EXPECT_EQ(of_system({{"LANG", "de@euro"}}), Language::german);
  EXPECT_EQ(of_system({{"LANG", "fr.UTF-8"}}), Language::french);
  EXPECT_EQ(of_system({{"LC_ALL", ""}, {"LANG", "de_DE@euro"}}), Language::german) << "an empty one is not set";
}

TEST(LanguageOfSystem, IsEnglishWhereNothingElseIsKnown) {
  EXPECT_EQ(of_system({}), Language::english);
  EXPECT_EQ(of_system({{"LANG", "C.UTF-8"}}), Language::english);
  EXPECT_EQ(of_system({{"LC_ALL", "pt_BR.UTF-8"}, {"LANG", "de_DE.UTF-8"}}), Language::english)
      << "whose catalogue is missing does not get another's";
  EXPECT_EQ(of_system({{"LANG", "den"}}), Language::english) << "two letters of another code";
}

TEST(VerbOf, IsTheFirstWordThatIsNoOptionNorTheLanguage) {
  EXPECT_EQ(verb_of(Words{"measure", "serve"}), "measure");
  EXPECT_EQ(verb_of(Words{"--lang", "de", "--progress", "serve"}), "serve");
  EXPECT_EQ(verb_of(Words{"--lang=de", "compare", "a.json"}), "compare");
  EXPECT_EQ(verb_of(Words{}), "");
  EXPECT_EQ(verb_of(Words{"--help", "--lang"}), "");
}

TEST(IsGiven, AFlagIsAWholeWordBeforeTheFilesNames) {
  EXPECT_TRUE(is_given(Words{"measure", "--quiet"}, "--quiet"));
  EXPECT_FALSE(is_given(Words{"measure", "--quieter", "--quiet=1", "quiet"}, "--quiet"));
  EXPECT_FALSE(is_given(Words{"measure", "--", "--quiet"}, "--quiet"));
}

TEST(ProgramLines, GoToStandardErrorOrToADescriptorOfTheirOwn) {
  EXPECT_EQ(program_lines_asked_for(Words{"measure", "--progress"}), 2);
  EXPECT_EQ(program_lines_asked_for(Words{"--progress-to=3"}), 3);
  EXPECT_EQ(program_lines_asked_for(Words{"measure", "a.ply", "--progress-to=17"}), 17);
}

TEST(ProgramLines, NowhereWhereNoneAskedOrTheNumberIsNone) {
  for (const char* word :
       {"measure", "--progressive", "--progress-to", "--progress-to=", "--progress-to=0", "--progress-to=2",
        "--progress-to=-3", "--progress-to=3x", "--progress-to= 3", "--progress-to=99999999999"})
    EXPECT_EQ(program_lines_asked_for(Words{word}), std::nullopt) << word;
  EXPECT_EQ(program_lines_asked_for(Words{"measure", "--", "--progress"}), std::nullopt);
}

}  // namespace
}  // namespace canewise
