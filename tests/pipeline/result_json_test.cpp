#include "scanproc/pipeline/result_json.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>

#include "scanproc/core/error.h"
#include "scanproc/words/speech.h"
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

// Messages come back with their arguments, so that a result speaks every language for good.
TEST(ResultJson, EveryMessageComesBackAsItWas) {
  const Result result = test::heavy_rail_result();
  const Result back = result_from_json(json_from_result(result), "x");
  EXPECT_EQ(back.headline, result.headline);
  EXPECT_EQ(back.certainty, result.certainty);
  EXPECT_EQ(back.notes, result.notes);
  EXPECT_EQ(back.plan.sentence, result.plan.sentence);
  EXPECT_EQ(back.plan.remarks, result.plan.remarks);
  EXPECT_EQ(back.plan.alternatives, result.plan.alternatives);
  EXPECT_EQ(back.mechanics.sentence, result.mechanics.sentence);
  EXPECT_EQ(back.mechanics.cane, result.mechanics.cane);
  EXPECT_EQ(back.mechanics.strength.sentence, result.mechanics.strength.sentence);
  EXPECT_EQ(back.mechanics.strength.advice, result.mechanics.strength.advice);
  ASSERT_EQ(back.plan.steps.size(), result.plan.steps.size());
  for (std::size_t k = 0; k < back.plan.steps.size(); ++k) {
    EXPECT_EQ(back.plan.steps[k].where, result.plan.steps[k].where);
    EXPECT_EQ(back.plan.steps[k].stop, result.plan.steps[k].stop);
  }
  ASSERT_EQ(back.budgets.size(), result.budgets.size());
  for (std::size_t k = 0; k < back.budgets.size(); ++k) EXPECT_EQ(back.budgets[k].quantity, result.budgets[k].quantity);
  EXPECT_NE(sentences(back.headline, {Language::german}), sentences(back.headline));
}

/// As version 1 wrote it: English where messages are now.
std::string as_version_1(const Result& result) {
  auto document = nlohmann::json::parse(json_from_result(result));
  document["version"] = 1;
  document["headline"] = sentences(result.headline);
  document["certainty"] = sentences(result.certainty);
  const auto each = [](const Messages& messages) {
    auto list = nlohmann::json::array();
    for (const Message& message : messages) list.push_back(sentence(message));
    return list;
  };
  document["notes"] = each(result.notes);
  document["handedness"] = "assumed: as the scanner gives them, not checked";
  document["instrument_title"] = "B-flat clarinet";
  document["plan"]["sentence"] = sentences(result.plan.sentence);
  document["plan"]["remarks"] = each(result.plan.remarks);
  document["plan"]["alternatives"] = each(result.plan.alternatives);
  for (auto& step : document["plan"]["steps"]) step["where"] = "right rail", step["stop"] = "Stop.";
  document["mechanics"]["sentence"] = sentences(result.mechanics.sentence);
  document["mechanics"]["cane"] = phrase(result.mechanics.cane);
  document["mechanics"]["strength"]["sentence"] = sentences(result.mechanics.strength.sentence);
  document["mechanics"]["strength"]["advice"] = sentence(result.mechanics.strength.advice);
  for (auto& table : document["budgets"]) {
    table["quantity"] = "tip";
    for (auto& line : table["lines"]) line["source"] = "noise";
  }
  return document.dump();
}

TEST(ResultJson, OfVersionOneKeepsItsNumbersAndItsEnglish) {
  const Result result = test::heavy_rail_result();
  const Result old = result_from_json(as_version_1(result), "x");
  EXPECT_EQ(sentences(old.headline), sentences(result.headline));
  EXPECT_EQ(sentences(old.headline, {Language::german}), sentences(result.headline)) << "nobody can translate it";
  EXPECT_EQ(sentences(old.plan.sentence), sentences(result.plan.sentence));
  EXPECT_EQ(old.handedness, HandednessSource::assumed);
  EXPECT_EQ(old.plan.steps.size(), result.plan.steps.size());
  EXPECT_NEAR(old.assessment.balance.zones.front().difference.mean_mm,
              result.assessment.balance.zones.front().difference.mean_mm, 1e-12);
  EXPECT_EQ(nlohmann::json::parse(json_from_result(old)).at("version"), 2) << "written again it is version 2";
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
  other.replace(other.find("\"version\":2"), 11, "\"version\":9");
  EXPECT_THROW((void)result_from_json(other, "x"), InputError);
  EXPECT_THROW((void)read_result("/nowhere"), InputError);
}

TEST(ResultJson, NumbersThatNoMeasurementHasAreRefused) {
  using nlohmann::json;
  const json whole = json::parse(json_from_result(test::heavy_rail_result()));
  struct Case {
    const char* place;
    json value;
    const char* said;
  };
  const double nan = std::nan("");  // Written as null.
  for (const Case& c : {Case{"/map/cell_mm", 0.0, "cells"},
                        Case{"/map/cell_mm", -0.25, "cells"},
                        Case{"/map/cell_mm", nan, "cells"},
                        Case{"/map/rows", 1000000, "shape"},
                        Case{"/map/rows", nan, "whole number"},
                        Case{"/map/rows", 1.5, "whole number"},
                        Case{"/map/noise/filled_share", 0.0, "noise"},
                        Case{"/map/noise/covariance_sum_mm2", 0.0, "noise"},
                        Case{"/outline/length_mm", 0.0, "length"},
                        Case{"/outline/length_mm", 1e9, "length"},
                        Case{"/outline/tip_edge_step_mm", 0.0, "edge"},
                        Case{"/outline/left/offset_mm", nan, "sides"},
                        Case{"/outline/right/offset_mm", -20.0, "width"},
                        Case{"/cut/vamp_length_mm/value", 1e9, "vamp"},
                        Case{"/zones", json::array(), "zones"},
                        Case{"/balance/zones/3/tolerance_mm", 0.0, "tolerance"},
                        Case{"/balance/zones/3/difference/cells", -1.5, "whole"},
                        Case{"/balance/u_difference_mm", json::array(), "shape"},
                        Case{"/mechanics/shape_step_mm", 0.0, "bent"},
                        Case{"/mechanics/bent_mm", json::array(), "bent"},
                        Case{"/player/depth_per_stroke_um", 0.0, "hand"},
                        Case{"/plan/steps/0/depth_um", -5.0, "depth"},
                        Case{"/plan/steps/0/strokes", nan, "whole number"},
                        Case{"/plan/steps/0/polygon", json::array(), "place"},
                        Case{"/plan/steps/0/polygon/0/x_mm", 1e9, "off the reed"}}) {
    json changed = whole;
    ASSERT_TRUE(changed.contains(json::json_pointer(c.place))) << c.place;
    changed[json::json_pointer(c.place)] = c.value;
    try {
      (void)result_from_json(changed.dump(), "x.json");
      ADD_FAILURE() << c.place << " = " << c.value << " was taken";
    } catch (const InputError& error) {
      const std::string what = error.what();
      EXPECT_EQ(what.rfind("x.json: ", 0), 0U) << what;
      EXPECT_NE(what.find(c.said), std::string::npos) << c.place << ": " << what;
    }
  }
}

}  // namespace
}  // namespace canewise
