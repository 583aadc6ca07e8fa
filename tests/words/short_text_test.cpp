// Texts from outside may be of any length.
#include "scanproc/words/short_text.h"

#include <gtest/gtest.h>

#include <string>
#include <variant>

namespace canewise {
namespace {

TEST(ShortText, OfAnEndlessTextTheBeginningIsKept) {
  const auto shown = [](const std::string& all) { return std::get<std::string>(short_text(all)); };
  EXPECT_EQ(shown(std::string(80, 'a')), std::string(80, 'a'));
  EXPECT_EQ(shown(std::string(81, 'a')), std::string(80, 'a') + "...");
  EXPECT_EQ(shown(std::string(79, 'a') + "\u00e4b"), std::string(79, 'a') + "...") << "no half characters";
  EXPECT_EQ(shown(std::string(81, '\x01')).substr(0, 8), "\\x01\\x01");
  EXPECT_TRUE(shown(std::string(100, '\x80')).ends_with("\\x80...")) << "nor where there are none";
}

}  // namespace
}  // namespace canewise
