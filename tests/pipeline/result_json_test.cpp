#include "scanproc/pipeline/result_json.h"

#include <gtest/gtest.h>

#include <cstdlib>

#include "scanproc/core/error.h"
#include "tests/support/results.h"

namespace canewise {
namespace {

TEST(ResultJson, WhatIsWrittenComesBack) {
  const Result result = test::heavy_rail_result();
  const std::string text = json_from_result(result);
  const Result back = result_from_json(text, "x");
  EXPECT_EQ(json_from_result(back), text) << "every stored member survives a round trip";
  EXPECT_EQ(back.headline, result.headline);
  EXPECT_EQ(back.plan.steps.size(), result.plan.steps.size());
  EXPECT_EQ(back.assessment.balance.zones.size(), 12U);
  int compared = 0;
  for (Eigen::Index i = 0; i < result.map.thickness_mm.size(); ++i) {
    if (std::isnan(result.map.thickness_mm(i))) {
      EXPECT_TRUE(std::isnan(back.map.thickness_mm(i)));
      continue;
    }
    ASSERT_NEAR(back.map.thickness_mm(i), result.map.thickness_mm(i), 1e-5);
    ++compared;
  }
  EXPECT_GT(compared, 10000);
}

TEST(ResultJson, FollowsItsSchema) {
  const test::TempFolder folder;
  const auto path = folder.file("result.json", json_from_result(test::heavy_rail_result()));
  const std::string schema = std::string(CANEWISE_SOURCE_DIR) + "/scanproc/pipeline/result.schema.json";
  const std::string command = "/usr/bin/python3 -m jsonschema -i " + path.string() + " " + schema;
  EXPECT_EQ(std::system(command.c_str()), 0);
  // The schema is strict enough to notice a missing map.
  std::string broken = json_from_result(test::heavy_rail_result());
  broken.replace(broken.find("\"thickness_mm\""), 14, "\"thickness_xx\"");
  const auto bad = folder.file("broken.json", broken);
  EXPECT_NE(
      std::system(("/usr/bin/python3 -m jsonschema -i " + bad.string() + " " + schema + " >/dev/null 2>&1").c_str()),
      0);
}

TEST(ResultJson, DamagedOrForeignFilesAreRefusedInWords) {
  const std::string text = json_from_result(test::heavy_rail_result());
  EXPECT_THROW((void)result_from_json("", "x"), InputError);
  EXPECT_THROW((void)result_from_json("{}", "x"), InputError);
  EXPECT_THROW((void)result_from_json(text.substr(0, text.size() - 100), "x"), InputError);
  for (const char* key : {"\"rows\":", "\"cell_mm\":", "\"verdict\":", "\"relative_thickness_mm\":"}) {
    std::string changed = text;
    changed.replace(changed.find(key), 2, "\"_");
    EXPECT_THROW((void)result_from_json(changed, "x"), InputError) << key;
  }
  std::string other = text;
  other.replace(other.find("\"version\":1"), 11, "\"version\":9");
  EXPECT_THROW((void)result_from_json(other, "x"), InputError);
  EXPECT_THROW((void)read_result("/nowhere"), InputError);
}

}  // namespace
}  // namespace canewise
