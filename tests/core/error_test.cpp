#include "scanproc/core/error.h"

#include <gtest/gtest.h>

#include <stdexcept>
#include <type_traits>

namespace canewise {
namespace {

Message said(const char* words) { return {"verbatim", {{"text", text(words)}}}; }

template <typename Kind>
ExitCode exit_code_of() {
  try {
    throw Kind(said("why"));
  } catch (const Error& error) {  // As the command catches every kind in one place.
    return error.exit_code();
  }
}

// Scripts hang on these numbers: design of the command line, exit codes.
TEST(Error, EachExitCodeHasItsNumberForGood) {
  EXPECT_EQ(static_cast<int>(ExitCode::measured), 0);
  EXPECT_EQ(static_cast<int>(ExitCode::usage), 2);
  EXPECT_EQ(static_cast<int>(ExitCode::bad_input), 3);
  EXPECT_EQ(static_cast<int>(ExitCode::not_measurable), 4);
  EXPECT_EQ(static_cast<int>(ExitCode::internal), 5);
  EXPECT_EQ(static_cast<int>(ExitCode::cannot_write), 6);
}

TEST(Error, EachKindHasItsOwnExitCode) {
  EXPECT_EQ(exit_code_of<UsageError>(), ExitCode::usage);
  EXPECT_EQ(exit_code_of<InputError>(), ExitCode::bad_input);
  EXPECT_EQ(exit_code_of<NotMeasurable>(), ExitCode::not_measurable);
  EXPECT_EQ(exit_code_of<OutputError>(), ExitCode::cannot_write);
}

TEST(Error, KeepsItsMessageWithItsArgumentsAndSaysItInEnglish) {
  const Message message{"in_file", {{"file", text("a.ply")}, {"what", part(said("bad"))}}};
  const OutputError error(message);
  EXPECT_EQ(error.message(), message);
  EXPECT_STREQ(error.what(), "a.ply: bad");
}

TEST(Error, AStopThatWasAskedForIsNoError) {
  EXPECT_FALSE((std::is_base_of_v<Error, Cancelled>)) << "it has no exit code and no words for people";
  try {
    throw Cancelled();
  } catch (const std::runtime_error&) {
    FAIL() << "taken for a failure";
  } catch (const std::exception& stop) {
    EXPECT_STREQ(stop.what(), "cancelled");
  }
}

}  // namespace
}  // namespace canewise
