// Whole camera files, missing and unknown keys: tests/frames/depth_test.cpp.
#include "scanproc/rig/depth_camera.h"

#include <gtest/gtest.h>

#include <map>
#include <string>

#include "tests/support/refusals.h"
#include "tests/support/temp_file.h"

namespace canewise {
namespace {

/// A camera file with one key set to something else; an empty text leaves it out.
std::string with(const std::string& key, const std::string& value) {
  std::map<std::string, std::string> keys{{"width", "640"}, {"height", "480"}, {"fx", "500"},
                                          {"fy", "501"},    {"cx", "320"},     {"cy", "240"}};
  keys[key] = value;
  std::string text;
  for (const auto& [name, what] : keys)
    if (!what.empty()) text += name + " = " + what + "\n";
  return text;
}
DepthCamera read(const std::string& text) {
  const test::TempFolder folder;
  return read_depth_camera(folder.file("camera.toml", text));
}

TEST(DepthCameraSpec, DistortionHasTheOrderOfImageLibraries) {
  const DepthCamera camera = read(with("distortion", "[0.1, 0.2, 0.3, 0.4, 0.5]"));
  EXPECT_EQ(camera.k1, 0.1);
  EXPECT_EQ(camera.k2, 0.2);
  EXPECT_EQ(camera.p1, 0.3);
  EXPECT_EQ(camera.p2, 0.4);
  EXPECT_EQ(camera.k3, 0.5);
}

TEST(DepthCameraSpec, EveryNumberIsTakenUpToItsLimitsAndNamedBeyondThem) {
  const struct {
    const char *key, *good, *bad;
  } limits[] = {{"width", "2", "1"},
                {"width", "20000", "20001"},
                {"height", "2", "1"},
                {"height", "20000", "20001"},
                {"fx", "1", "0.999"},
                {"fy", "1e6", "1000001"},
                {"cx", "-1e6", "-1000001"},
                {"cy", "1e6", "1000001"},
                {"depth_unit_mm", "1e-6", "0.9e-6"},
                {"depth_unit_mm", "1000", "1000.1"},
                {"distortion", "[0, 0, 0, 0, 100]", "[0, 0, 0, 0, 100.1]"}};
  for (const auto& limit : limits) {
    EXPECT_NO_THROW((void)read(with(limit.key, limit.good))) << limit.key << " = " << limit.good;
    const test::Refusal refusal = test::refusal_of([&] { return read(with(limit.key, limit.bad)); });
    EXPECT_EQ(refusal.exit_code, ExitCode::bad_input);
    EXPECT_NE(refusal.words.find("'" + std::string(limit.key) + "'"), std::string::npos) << refusal.words;
  }
}

TEST(DepthCameraSpec, AMissingKeyIsRefusedInTheCallersWords) {
  Settings settings = Settings::parse(with("cy", ""), "rig.toml");
  const test::Refusal refusal = test::refusal_of([&] { return camera_from(settings, {"rig.no_camera_key"}); });
  EXPECT_EQ(refusal.id, "rig.no_camera_key");
  EXPECT_EQ(refusal.file, "rig.toml");
  EXPECT_NE(refusal.words.find("'cy'"), std::string::npos) << refusal.words;
}

TEST(DepthCameraSpec, ACameraInARigHasNoDepths) {
  // The keys of a depth camera are its own: in a rig's table they are left to be refused as unknown.
  Settings settings = Settings::parse(with("depth_unit_mm", "0.1"), "rig.toml");
  EXPECT_EQ(camera_from(settings, {"rig.no_camera_key"}).fy, 501.0);
  EXPECT_EQ(test::refusal_of([&] { settings.refuse_unknown(); }).id, "settings.unknown");
}

}  // namespace
}  // namespace canewise
