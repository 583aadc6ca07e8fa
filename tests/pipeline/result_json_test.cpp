#include "scanproc/pipeline/result_json.h"

#include <gtest/gtest-spi.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>

#include "scanproc/core/error.h"
#include "scanproc/words/speech.h"
#include "tests/support/every_member.h"
#include "tests/support/results.h"
#include "tests/support/two_sided_scans.h"

namespace canewise {
namespace {

/// A player whose every wish and number is stated.
Player stated_player() {
  Player player;
  player.name = "Ottilie (invented)";
  player.depth_per_stroke_um = 1.7;
  player.u_depth_per_stroke_rel = 0.21;
  player.hand_is_known = true;
  player.hand_learned_from = {"4f1c", "77aa"};
  player.tool_width_mm = 5.5;
  player.tip_opening_mm = 1.05;
  player.right_tip_opening_mm = 1.09;
  player.facing_length_mm = 17.5;
  player.feelers = {{0.5, 6.0, 6.2}, {0.1, 13.0, 13.1}};
  player.lip_at_mm = 11.0;
  player.known = {{"reference", 0.0, 3.1, MoistureState::dry}, {"a quarter softer", -0.5, 2.9, MoistureState::unknown}};
  player.wanted_halves = -0.5;
  return player;
}

/// What a result's file gives back, and the result itself.
void expect_equal_after_reading(const Result& result) {
  const std::string text = json_from_result(result);
  const Result back = result_from_json(text, "x");
  EXPECT_TRUE(test::same(result, back));
  EXPECT_EQ(json_from_result(back), text);
}

TEST(ResultJson, AResultReadEqualsTheResultMeasuredMemberByMember) {
  const test::TempFolder folder;
  fixtures::ReedFaults faults = test::rough_cane(1);
  faults.heavy_rail_um = 40.0;
  const auto scan = [&](const fixtures::Reed& reed, std::uint64_t seed) {
    return folder.file("reed.ply",
                       fixtures::ply_binary(fixtures::scan_reed(reed, fixtures::profilometer(), {}, seed).cloud));
  };
  MeasureInputs inputs;
  inputs.scans = {scan(fixtures::Reed({}, faults), 1)};
  inputs.player = stated_player();
  inputs.rig.name = "attic laser";
  inputs.rig.calibrated_at = "2026-05-01T10:00:00Z";
  inputs.rig.obtained["seating_roll_um"] = "reversal";
  inputs.rig.scale_parts["camera"] = 1e-4;
  inputs.rig.light = LightDepth{};
  inputs.rig.smallest = SmallestDifference{};
  inputs.rig.carrier.block_edges_mm = {8.0, 10.0, 12.0};
  MeasureOptions options;
  options.state = MoistureState::dry;
  const Result with_plan = measure(inputs, options);
  ASSERT_FALSE(with_plan.plan.steps.empty());
  ASSERT_TRUE(with_plan.assessment.target);
  expect_equal_after_reading(with_plan);

  // The player's own target, two layings, and a reed too short for the ligature.
  inputs.target = mean_target("mine", kUsualTolerances, {with_plan.relative_thickness_mm});
  inputs.target->instrument = with_plan.instrument;
  inputs.target->state = MoistureState::wet;
  inputs.target->rig = "attic laser of then";
  inputs.target->filed = true;
  inputs.target->blank = Blank::thick;
  inputs.scans.push_back(folder.file(
      "again.ply",
      fixtures::ply_binary(fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 2).cloud)));
  options.laid_anew = true;
  const Result layings = measure(inputs, options);
  ASSERT_TRUE(layings.registration);
  expect_equal_after_reading(layings);

  inputs.scans.resize(1);
  options.laid_anew = false;
  inputs.player.ligature_mm = 80.0;
  const Result unknown_bending = measure(inputs, options);
  ASSERT_FALSE(unknown_bending.mechanics.known());
  expect_equal_after_reading(unknown_bending);
}

TEST(ResultJson, ATwoSidedResultReadEqualsTheOneMeasured) {
  const test::TempFolder folder;
  const auto both = test::scan_both_sides(fixtures::Reed({}, test::rough_cane(1)), fixtures::structured_light(),
                                          test::carrier_scene(1), 1);
  MeasureInputs inputs;
  inputs.scans = {folder.file("top.ply", fixtures::ply_binary(both.top.cloud)),
                  folder.file("under.ply", fixtures::ply_binary(both.underside.cloud))};
  MeasureOptions options;
  options.datum = DatumMode::two_sided;
  const Result result = measure(inputs, options);
  ASSERT_TRUE(result.table && result.registration);
  ASSERT_GT(result.map.table_mm.size(), 0);
  expect_equal_after_reading(result);
}

TEST(ResultJson, TheComparisonOfMembersSeesADifferenceAnywhere) {
  const Result one = test::heavy_rail_result();
  const auto differs = [&](const auto& change) {
    Result other = one;
    change(other);
    testing::TestPartResultArray found;
    const testing::ScopedFakeTestPartResultReporter hushed(
        testing::ScopedFakeTestPartResultReporter::INTERCEPT_ONLY_CURRENT_THREAD, &found);
    return !test::same(one, other);
  };
  EXPECT_FALSE(differs([](Result&) {}));
  EXPECT_TRUE(differs([](Result& r) { r.map.thickness_mm(40, 10) += 1e-5F; }));
  EXPECT_TRUE(differs([](Result& r) { r.map.noise.smooth_length_mm += 1e-9; }));
  EXPECT_TRUE(differs([](Result& r) { r.plan.steps.back().for_bending ^= true; }));
  EXPECT_TRUE(differs([](Result& r) { r.assessment.target->target.reeds += 1; }));
  EXPECT_TRUE(differs([](Result& r) { r.assessment.balance.zones[5].difference.effects_mm.push_back(0.0); }));
  EXPECT_TRUE(differs([](Result& r) { r.mechanics.modes.back().shape(3, 3) += 1e-5; }));
  EXPECT_TRUE(differs([](Result& r) { r.rig.light = LightDepth{}; }));
  EXPECT_TRUE(differs([](Result& r) { r.player.hand_learned_from.emplace_back("x"); }));
  EXPECT_TRUE(differs([](Result& r) { r.headline.pop_back(); }));
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

// In the place of the assumption from now on; else every reader would take the assumption for it.
TEST(ResultJson, MeasuredCaneComesBackAndImpossibleCaneIsRefused) {
  Result result = test::heavy_rail_result();
  EXPECT_FALSE(result_from_json(json_from_result(result), "x").cane);
  result.cane.emplace();
  result.cane->cane.e_l_mpa = 9876.5;
  result.cane->left_right = -0.031;
  result.cane->covariance.diagonal().setConstant(1e-4);
  result.cane->state = result.state = MoistureState::wet;
  result.cane->tested_at = "2026-03-01T10:00:00Z";
  const Result back = result_from_json(json_from_result(result), "x");
  ASSERT_TRUE(back.cane);
  EXPECT_EQ(back.cane->cane.e_l_mpa, 9876.5);
  EXPECT_EQ(back.cane->left_right, -0.031);
  EXPECT_EQ(back.cane->covariance, result.cane->covariance);
  EXPECT_EQ(back.cane->state, MoistureState::wet);
  EXPECT_EQ(back.cane->tested_at, "2026-03-01T10:00:00Z");
  auto document = nlohmann::json::parse(json_from_result(result));
  document["cane"]["g_lt_mpa"] = 0.0;
  EXPECT_THROW(static_cast<void>(result_from_json(document.dump(), "x")), InputError);
  document = nlohmann::json::parse(json_from_result(result));
  document["cane"]["state"] = "dry";
  EXPECT_THROW(static_cast<void>(result_from_json(document.dump(), "x")), InputError) << "dry cane in a wet reed";
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
