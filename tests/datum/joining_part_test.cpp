// The part that joins passes is found beside the program and says plainly when it is not there.
#include "scanproc/datum/joining_part.h"

#include <dlfcn.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "scanproc/core/error.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

using testing::HasSubstr;

std::string refusal(const std::vector<std::filesystem::path>& files) {
  try {
    (void)load_joining_part(files);
  } catch (const Error& error) {
    EXPECT_EQ(error.exit_code(), ExitCode::internal);
    return error.what();
  }
  return "loaded";
}

TEST(JoiningPart, LiesBesideTheProgram) {
  const JoiningPart& part = joining_part();
  ASSERT_NE(part.even_out, nullptr);
  ASSERT_NE(part.fits_by_shape, nullptr);
  EXPECT_EQ(&joining_part(), &part);
}

/// Three passes in a row, each 10 mm from the one before to 0.01 mm, and a link from the first to the last.
std::vector<Eigen::Isometry3d> evened(double first_to_last_mm) {
  const auto along = [](double mm) { return Eigen::Isometry3d(Eigen::Translation3d(mm, 0, 0)); };
  const PlaceCovariance covariance = 1e-4 * PlaceCovariance::Identity();
  return joining_part().even_out(
      {along(0), along(10), along(20)},
      {{0, 1, along(10), covariance}, {1, 2, along(10), covariance}, {0, 2, along(first_to_last_mm), covariance}});
}

TEST(JoiningPart, EvensOutLinksThatDisagreeALittleAndHardlyHearsOneThatIsFarOff) {
  const auto agreed = evened(20.0);
  ASSERT_EQ(agreed.size(), 3U);
  EXPECT_TRUE(agreed[0].isApprox(Eigen::Isometry3d::Identity()));
  EXPECT_NEAR(agreed[2].translation().x(), 20.0, 1e-6);
  // 9 um off: two thirds of it if all three count alike, a little less as the loop's link counts less.
  const double a_little = evened(20.009)[2].translation().x();
  EXPECT_GT(a_little, 20.001);
  EXPECT_LT(a_little, 20.006);
  EXPECT_NEAR(evened(20.3)[2].translation().x(), 20.0, 0.01);
}

TEST(JoiningPart, IsLookedForInOrderAndMissedWithThePlacesNamed) {
  const test::TempFolder folder;
  const auto one = folder.path() / "one.so", other = folder.path() / "other.so";
  const std::string said = refusal({one, other});
  EXPECT_THAT(said, HasSubstr("missing"));
  EXPECT_THAT(said, HasSubstr(one.string() + " and " + other.string()));
  EXPECT_THAT(said, HasSubstr("Install canewise again"));
}

TEST(JoiningPart, OfAnotherKindIsRefused) {
  const test::TempFolder folder;
  folder.file("part.so", "no library");
  EXPECT_THAT(refusal({folder.path() / "part.so"}), HasSubstr("cannot be loaded"));
  // A library, but not of ours.
  Dl_info info;
  ASSERT_NE(dladdr(reinterpret_cast<void*>(&dlerror), &info), 0);
  EXPECT_THAT(refusal({std::filesystem::path(info.dli_fname)}), HasSubstr("another version"));
}

}  // namespace
}  // namespace canewise
