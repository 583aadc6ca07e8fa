// The parser's help in the reader's language.
#include "scanproc/cli/help_format.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <memory>
#include <string>

namespace canewise {
namespace {

using testing::HasSubstr;
using testing::Not;

std::string help_in(Language language) {
  CLI::App app("What it does.");
  app.formatter(std::make_shared<HelpFormat>(Speech{language}));
  std::string file, out;
  app.add_option("file", file, "A file.")->required();
  CLI::Option* first = app.add_option("--out", out, "Where to.");
  app.add_option("--name", out, "A name.")->needs(first);
  app.require_subcommand(1);
  app.add_subcommand("verb", "A verb.");
  return app.help("tool");
}

TEST(HelpFormat, HeadingsSpeakTheReadersLanguage) {
  const std::string english = help_in(Language::english), german = help_in(Language::german),
                    french = help_in(Language::french);
  for (const char* words : {"Usage:", "Options:", "[OPTIONS]"}) {
    EXPECT_THAT(english, HasSubstr(words));
  }
  for (const auto& other : {german, french}) {
    EXPECT_NE(other, english);
    for (const char* words : {"Usage", "Options:", "REQUIRED", "Needs", "SUBCOMMAND"})
      EXPECT_THAT(other, Not(HasSubstr(words)));
    for (const char* words : {"What it does.", "A file.", "--out", "--name", "verb", "A verb."})
      EXPECT_THAT(other, HasSubstr(words)) << "what the command says itself";
  }
}

// The parser's own would add '[Exactly 1 of the following subcommands]'.
TEST(HelpFormat, AddsNothingInEnglishToTheDescription) {
  for (const Language language : kLanguages) EXPECT_THAT(help_in(language), Not(HasSubstr("Exactly")));
}

}  // namespace
}  // namespace canewise
