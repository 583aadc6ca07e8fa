// The steps of 'canewise calibrate': what the shell may give to each, and the board that it describes.
#include "scanproc/cli/calibration_verbs.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

/// What the parser makes of a step's words.
struct Parsed {
  CalibrateArguments arguments;
  bool accepted = false;
};
Parsed parsed(const std::string& name, std::vector<std::string> words) {
  Parsed result;
  for (const CalibrationVerb& verb : calibration_verbs()) {
    if (verb.name != name) continue;
    CLI::App app;
    verb.add_options({app, result.arguments, Speech{}});
    std::reverse(words.begin(), words.end());  // As the parser wants them.
    try {
      app.parse(words);
      result.accepted = true;
    } catch (const CLI::ParseError&) {
      result.accepted = false;
    }
    return result;
  }
  ADD_FAILURE() << "there is no step " << name;
  return result;
}

TEST(CalibrationVerbs, EachHasItsOwnNameAndIsExplainedInEveryLanguage) {
  std::set<std::string> names, words;
  for (const CalibrationVerb& verb : calibration_verbs()) {
    EXPECT_TRUE(names.insert(verb.name).second) << verb.name;
    for (const Language language : kLanguages) {
      const std::string said = phrase(verb.words, Speech{language});
      EXPECT_GE(said.size(), 10U) << verb.name;
      EXPECT_TRUE(words.insert(said).second) << verb.name << " is explained as another: " << said;
    }
  }
}

TEST(CalibrationVerbs, AreThoseThatTheReadmeNames) {
  std::ifstream file(std::string(CANEWISE_SOURCE_DIR) + "/README.md");
  std::stringstream text;
  text << file.rdbuf();
  for (const CalibrationVerb& verb : calibration_verbs())
    EXPECT_THAT(text.str(), testing::AnyOf(testing::HasSubstr("`" + std::string(verb.name) + "`"),
                                           testing::HasSubstr("canewise calibrate " + std::string(verb.name))))
        << verb.name;
}

TEST(CalibrationVerbs, WhatAStepNeedsItAsksFor) {
  EXPECT_TRUE(parsed("plane", {"--boards", "a", "--lines", "b"}).accepted);
  EXPECT_FALSE(parsed("plane", {"--boards", "a"}).accepted);
  EXPECT_FALSE(parsed("camera", {}).accepted);
  EXPECT_FALSE(parsed("plate", {}).accepted);
  EXPECT_FALSE(parsed("reversal", {"--straight", "a", "b"}).accepted);
  EXPECT_FALSE(parsed("stage", {"--boards", "a", "--step-mm", "2"}).accepted) << "how far a frame goes is missing";
  EXPECT_TRUE(parsed("stage", {"--boards", "a", "--step-mm", "2", "--per-frame-mm", "0.2"}).accepted);
  EXPECT_FALSE(parsed("import", {"camera.yml", "--width", "640"}).accepted) << "a width without a height";
  EXPECT_TRUE(parsed("import", {"camera.yml", "--width", "640", "--height", "480"}).accepted);
}

TEST(CalibrationVerbs, WhatCannotBeIsRefused) {
  EXPECT_FALSE(parsed("plate", {"a", "--units", "furlong"}).accepted);
  EXPECT_TRUE(parsed("plate", {"a", "--units", "um"}).accepted);
  EXPECT_FALSE(parsed("camera", {"--boards", "a", "--square-mm", "0"}).accepted);
  EXPECT_FALSE(parsed("camera", {"--boards", "a", "--board", "stripes"}).accepted);
  EXPECT_FALSE(parsed("camera", {"--boards", "a", "--columns", "3"}).accepted);
  EXPECT_FALSE(parsed("import", {"camera.yml", "--u-focal-rel", "0.3"}).accepted);
}

TEST(CalibrationVerbs, WhatTheShellGivesIsKept) {
  const auto reversal = parsed("reversal", {"--straight", "a", "b", "--turned", "c"}).arguments;
  EXPECT_THAT(reversal.straight, testing::ElementsAre("a", "b"));
  EXPECT_THAT(reversal.turned, testing::ElementsAre("c"));
  const auto check = parsed("check", {"piece", "--reed-before", "x", "--reed-after", "y"}).arguments;
  EXPECT_EQ(check.scan + check.before + check.after, "piecexy");
}

TEST(BoardOf, AnotherSquareKeepsTheMarkersShareOfIt) {
  const Board usual = board_of({});
  CalibrateArguments a;
  a.square_mm = 2.4;
  const Board board = board_of(a);
  EXPECT_EQ(board.square_mm, 2.4);
  EXPECT_NEAR(board.marker_mm / board.square_mm, usual.marker_mm / usual.square_mm, 1e-12);
  a.marker_mm = 1.5, a.columns = 9, a.rows = 6, a.board_kind = "chessboard";
  const Board stated = board_of(a);
  EXPECT_EQ(stated.marker_mm, 1.5);
  EXPECT_EQ(stated.columns, 9);
  EXPECT_EQ(stated.rows, 6);
  EXPECT_EQ(stated.kind, BoardKind::chessboard);
}

TEST(BoardOf, ABoardThatCannotBeFoundIsRefused) {
  CalibrateArguments a;
  a.square_mm = 2.4, a.marker_mm = 2.5;
  EXPECT_THROW((void)board_of(a), UsageError) << "a marker larger than its square";
}

}  // namespace
}  // namespace canewise
