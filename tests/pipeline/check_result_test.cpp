// Beside result_json_test.cpp, which plants impossible numbers in a file: every condition by itself.
#include "scanproc/pipeline/check_result.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "scanproc/pipeline/result_caps.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

/// Holds no more than is looked at.
Result sound() {
  const test::ReedByHand reed = test::reed_by_hand([](double x, double) { return test::plain_wedge_mm(x); });
  Result result;
  result.instrument = "clarinet-bb";
  result.outline = reed.outline;
  result.map = reed.map;
  result.assessment = reed.assessment;
  result.relative_thickness_mm = Eigen::ArrayXXd::Zero(Target::kNodesAlong, Target::kNodesAcross);
  Mechanics& mechanics = result.mechanics;
  mechanics.bent_mm = Eigen::ArrayXXd::Zero(38, 12);
  mechanics.shape_first_y_mm = -5.5;
  mechanics.closing.curve.resize(2);
  mechanics.modes.resize(1);
  mechanics.modes.front().shape = Eigen::ArrayXXd::Zero(38, 12);
  Fault fault;
  fault.tolerance_mm = 0.015;
  fault.from_mm = 8.0;
  fault.to_mm = 14.0;
  fault.cell_indices = {0, 240 * 48 - 1};
  result.assessment.faults = {fault};
  ScrapeStep step;
  step.along = {AlongBand::front};
  step.polygon = {{8.0, 1.0}, {14.0, 1.0}, {11.0, 7.5}};
  step.depth_um = 12.0;
  step.volume_mm3 = 0.2;
  result.plan.steps = {step};
  return result;
}

std::string complaint(const Result& result) {
  try {
    check(result);
  } catch (const Impossible& impossible) {
    return impossible.why.id;
  }
  return {};
}

struct Case {
  const char* id;
  std::function<void(Result&)> spoil;
};
void expect_complaints(const std::vector<Case>& cases) {
  for (std::size_t k = 0; k < cases.size(); ++k) {
    Result result = sound();
    cases[k].spoil(result);
    EXPECT_EQ(complaint(result), cases[k].id) << "case " << k;
  }
}
const double kNan = std::nan("");

TEST(CheckResult, ASoundResultPasses) {
  EXPECT_EQ(complaint(sound()), "");
  Result without_bending = sound();
  without_bending.mechanics = {};
  without_bending.mechanics.why_not = {"bending.no_tip"};
  EXPECT_EQ(complaint(without_bending), "") << "what is not known has no shape";
}

TEST(CheckResult, ReedAndMapMustBeOfAReedsSize) {
  expect_complaints({{"result.instrument", [](Result& r) { r.instrument = "kazoo"; }},
                     {"result.length", [](Result& r) { r.outline.length_mm = 0.9; }},
                     {"result.length", [](Result& r) { r.outline.length_mm = 301.0; }},
                     {"result.length", [](Result& r) { r.outline.length_mm = kNan; }},
                     {"result.length", [](Result& r) { r.outline.u_length_mm = -0.1; }},
                     {"result.sides", [](Result& r) { r.outline.left.offset_mm = -51.0; }},
                     {"result.sides", [](Result& r) { r.outline.right.slope = 1.1; }},
                     {"result.no_width", [](Result& r) { r.outline.right.offset_mm = -5.5; }},
                     {"result.no_width", [](Result& r) { r.outline.right.slope = -0.2; }},
                     {"result.tip_edge", [](Result& r) { r.outline.tip_edge_step_mm = 0.0; }},
                     {"result.tip_edge", [](Result& r) { r.outline.tip_edge_first_y_mm = kNan; }},
                     {"result.cells", [](Result& r) { r.map.grid.cell_mm = 0.005; }},
                     {"result.map_size", [](Result& r) { r.map.grid.rows = 0; }},
                     {"result.map_size", [](Result& r) { r.map.grid.columns = 47; }},
                     {"result.map_size", [](Result& r) { r.map.grid.rows = 1201; }},
                     {"result.noise", [](Result& r) { r.map.noise.bins_per_cell = 0.0; }},
                     {"result.noise", [](Result& r) { r.map.noise.filled_share = kNan; }},
                     {"result.noise", [](Result& r) { r.map.noise.covariance_sum_mm2 = 0.0; }}});
}

TEST(CheckResult, ZonesFaultsAndTargetMustBeWhole) {
  expect_complaints(
      {{"result.vamp", [](Result& r) { r.assessment.cut.vamp_length_mm.value = kNan; }},
       {"result.zones_missing", [](Result& r) { r.assessment.zone_thickness.pop_back(); }},
       {"result.zones_missing", [](Result& r) { r.assessment.balance.zones.pop_back(); }},
       {"result.zone_tolerance", [](Result& r) { r.assessment.balance.zones.back().tolerance_mm = 0.0; }},
       {"result.fault_place", [](Result& r) { r.assessment.faults.front().tolerance_mm = 0.0; }},
       {"result.fault_place", [](Result& r) { r.assessment.faults.front().to_mm = 301.0; }},
       {"result.fault_off_map", [](Result& r) { r.assessment.faults.front().cell_indices.push_back(240 * 48); }},
       {"result.fault_off_map", [](Result& r) { r.assessment.faults.front().cell_indices.push_back(-1); }},
       {"result.target_shape", [](Result& r) { r.assessment.target.emplace(); }},
       {"result.relative_thickness", [](Result& r) { r.relative_thickness_mm.resize(40, 21); }}});
  Result with_target = sound();
  with_target.assessment.target.emplace();
  with_target.assessment.target->target.thickness_mm = with_target.assessment.target->target.tolerance_mm =
      Eigen::ArrayXXd::Zero(Target::kNodesAlong, Target::kNodesAcross);
  EXPECT_EQ(complaint(with_target), "");
}

TEST(CheckResult, ShapesOfBendingMustBeDrawable) {
  const auto tip = index_of(BendingFigure::imbalance_tip);
  expect_complaints(
      {{"result.bent_shape", [](Result& r) { r.mechanics.bent_mm.resize(0, 0); }},
       {"result.bent_shape", [](Result& r) { r.mechanics.bent_mm.resize(1, 12); }},
       {"result.bent_shape", [](Result& r) { r.mechanics.shape_step_mm = 0.0; }},
       {"result.bent_shape", [](Result& r) { r.mechanics.shape_first_y_mm = -51.0; }},
       {"result.closing", [](Result& r) { r.mechanics.closing.curve.resize(1); }},
       {"result.mode_shape", [](Result& r) { r.mechanics.modes.front().shape.resize(38, 1); }},
       {"result.sensitivity_shape", [tip](Result& r) { r.mechanics.sensitivity.at(tip) = Field::Zero(240, 47); }}});
  Result with_sensitivity = sound();
  with_sensitivity.mechanics.sensitivity.at(tip) = Field::Zero(240, 48);
  EXPECT_EQ(complaint(with_sensitivity), "");
}

TEST(CheckResult, StepsMustLieOnTheReedAndTakeOffWhatAHandCan) {
  expect_complaints(
      {{"result.many_steps", [](Result& r) { r.plan.steps.resize(kResultCaps.steps + 1, r.plan.steps.front()); }},
       {"result.step_place", [](Result& r) { r.plan.steps.front().polygon.pop_back(); }},
       {"result.step_place", [](Result& r) { r.plan.steps.front().along.clear(); }},
       {"result.step_off_reed", [](Result& r) { r.plan.steps.front().polygon[1].x_mm = 301.0; }},
       {"result.step_off_reed", [](Result& r) { r.plan.steps.front().polygon[2].y_mm = kNan; }},
       {"result.step_depth", [](Result& r) { r.plan.steps.front().depth_um = -0.1; }},
       {"result.step_depth", [](Result& r) { r.plan.steps.front().volume_mm3 = kNan; }},
       {"result.step_depth", [](Result& r) { r.plan.steps.front().strokes = -1; }},
       {"result.hand", [](Result& r) { r.player.depth_per_stroke_um = 0.0; }},
       {"result.hand", [](Result& r) { r.player.tool_width_mm = 0.0; }},
       {"result.hand", [](Result& r) { r.player.u_depth_per_stroke_rel = -0.1; }}});
  Result many = sound();
  many.plan.steps.resize(kResultCaps.steps, many.plan.steps.front());
  EXPECT_EQ(complaint(many), "");
}

TEST(CheckResult, APlanHasNoMoreCornersThanAComparisonCanLookAt) {
  const auto with_corners = [](std::size_t steps, std::size_t corners) {
    Result result = sound();
    ScrapeStep& step = result.plan.steps.front();
    step.from_mm = 8.0, step.to_mm = 14.0;
    step.polygon.resize(corners, step.polygon.front());
    result.plan.steps.resize(steps, step);
    return result;
  };
  EXPECT_EQ(complaint(with_corners(1, kResultCaps.step_corners)), "");
  EXPECT_EQ(complaint(with_corners(1, kResultCaps.step_corners + 1)), "result.step_place");
  EXPECT_EQ(complaint(with_corners(5, 1000)), "") << "5000 together";
  EXPECT_EQ(complaint(with_corners(6, 1000)), "result.many_corners");
  // A fine map of 195 mm: 250 columns, and over 180 mm and slips 3660 rows for each corner.
  const auto on_fine_map = [&](std::size_t corners) {
    Result result = with_corners(1, corners);
    result.outline.length_mm = 200.0;
    ThicknessMap& map = result.map;
    map.grid = {0.05, 3900, 250};
    result.plan.steps.front().to_mm = 188.0;
    result.assessment.faults.clear();
    result.mechanics = {};
    result.mechanics.why_not = Message("result.without_bending");
    return complaint(result);
  };
  EXPECT_EQ(on_fine_map(1000), "") << "1000 x 3660 x 250 = 0.9e9";
  Result twice = with_corners(2, 1000);
  twice.outline.length_mm = 200.0;
  twice.map.grid = {0.05, 3900, 250};
  for (ScrapeStep& step : twice.plan.steps) step.to_mm = 188.0;
  twice.assessment.faults.clear();
  EXPECT_EQ(complaint(twice), "result.many_corners");
}

}  // namespace
}  // namespace canewise
