// Standard output gets every byte, or the command says that it did not.
#include "scanproc/cli/print_out.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <string>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

TEST(PrintOut, EveryByteArrives) {
  std::string words = "Müller\n";
  words += '\0';
  words += std::string(100000, 'x');  // More than a buffer holds.
  testing::internal::CaptureStdout();
  print_out(words);
  print_out("");
  print_out("end");
  EXPECT_EQ(testing::internal::GetCapturedStdout(), words + "end");
}

TEST(PrintOut, AFullDiskIsSaid) {
  const auto to_a_full_disk = [] {
    if (std::freopen("/dev/full", "w", stdout) == nullptr) std::_Exit(1);
    try {
      print_out("words");
    } catch (const OutputError& error) {
      std::_Exit(error.message().id == "cli.stdout" ? 7 : 2);
    }
    std::_Exit(3);
  };
  EXPECT_EXIT(to_a_full_disk(), testing::ExitedWithCode(7), "");
}

}  // namespace
}  // namespace canewise
