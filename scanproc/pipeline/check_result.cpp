#include "scanproc/pipeline/check_result.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace canewise {
namespace {

void expect(bool good, const char* what) {
  if (!good) throw std::invalid_argument(what);
}

bool between(double value, double least, double most) { return value >= least && value <= most; }
/// Of values that a scan need not show.
bool absent_or_between(double value, double least, double most) {
  return std::isnan(value) || between(value, least, most);
}

constexpr double kLongest_mm = 300.0;

void check(const Outline& outline) {
  expect(between(outline.length_mm, 1.0, kLongest_mm) && absent_or_between(outline.u_length_mm, 0.0, 10.0),
         "the reed's length is impossible");
  for (const SideLine* side : {&outline.left, &outline.right})
    expect(between(side->offset_mm, -50.0, 50.0) && between(side->slope, -1.0, 1.0), "the reed's sides are impossible");
  expect(outline.half_width_mm(0.0) > 0.5 && outline.half_width_mm(outline.length_mm) > 0.5, "the reed has no width");
  expect(between(outline.tip_edge_step_mm, 1e-3, 10.0) && between(outline.tip_edge_first_y_mm, -50.0, 50.0),
         "the tip's edge is impossible");
}

void check(const ThicknessMap& map) {
  expect(between(map.grid.cell_mm, 0.01, 5.0), "the map's cells are impossible");
  expect(map.grid.rows > 0 && map.grid.columns > 0 && map.grid.columns % 2 == 0 &&
             static_cast<double>(map.grid.rows) * map.grid.cell_mm <= kLongest_mm &&
             static_cast<double>(map.grid.columns) * map.grid.cell_mm <= kLongest_mm,
         "the map's size is impossible");
  expect(map.noise.bins_per_cell > 0.0 && map.noise.filled_share > 0.0 && map.noise.covariance_sum_mm2 > 0.0,
         "the map's noise is impossible");
}

void check(const Assessment& assessment, const Grid& grid) {
  expect(between(assessment.cut.vamp_length_mm.value, 1.0, kLongest_mm), "the vamp's length is impossible");
  expect(assessment.zone_thickness.size() == 24 && assessment.balance.zones.size() == 12, "zones are missing");
  for (const ZoneBalance& zone : assessment.balance.zones)
    expect(zone.tolerance_mm > 0.0, "a zone's tolerance is impossible");
  for (const Fault& fault : assessment.faults) {
    expect(fault.tolerance_mm > 0.0 && between(fault.from_mm, -kLongest_mm, kLongest_mm) &&
               between(fault.to_mm, -kLongest_mm, kLongest_mm),
           "a fault's place is impossible");
    expect(std::all_of(fault.cell_indices.begin(), fault.cell_indices.end(),
                       [&](Eigen::Index cell) { return cell >= 0 && cell < grid.rows * grid.columns; }),
           "a fault lies off the map");
  }
  if (!assessment.target) return;
  const Target& target = assessment.target->target;
  for (const Eigen::ArrayXXd* field : {&target.thickness_mm, &target.tolerance_mm}) {
    expect(field->rows() == Target::kNodesAlong && field->cols() == Target::kNodesAcross,
           "the target's shape is wrong");
  }
}

void check(const Mechanics& mechanics, const Grid& grid) {
  if (!mechanics.known()) return;
  const auto is_drawable = [](const Eigen::ArrayXXd& shape) {
    constexpr Eigen::Index most = 10000;
    return shape.rows() > 1 && shape.cols() > 1 && shape.rows() <= most && shape.cols() <= most;
  };
  expect(between(mechanics.shape_step_mm, 0.05, 10.0) && between(mechanics.shape_first_y_mm, -50.0, 50.0) &&
             is_drawable(mechanics.bent_mm),
         "the bent shape is wrong");
  expect(mechanics.closing.curve.size() >= 2, "the closing's curve is missing");
  for (const ReedMode& mode : mechanics.modes) expect(is_drawable(mode.shape), "a mode's shape is wrong");
  for (const Field& sensitivity : mechanics.sensitivity) {
    expect(sensitivity.size() == 0 || (sensitivity.rows() == grid.rows && sensitivity.cols() == grid.columns),
           "a sensitivity's shape is wrong");
  }
}

void check(const ScrapePlan& plan) {
  constexpr std::size_t most_steps = 200, most_corners = 10000;
  expect(plan.steps.size() <= most_steps, "the plan has too many steps");
  for (const ScrapeStep& step : plan.steps) {
    expect(step.polygon.size() >= 3 && step.polygon.size() <= most_corners && !step.along.empty(),
           "a step's place is wrong");
    for (const PlanPoint& point : step.polygon) {
      expect(between(point.x_mm, -kLongest_mm, kLongest_mm) && between(point.y_mm, -kLongest_mm, kLongest_mm),
             "a step lies off the reed");
    }
    expect(between(step.depth_um, 0.0, 1e4) && between(step.volume_mm3, 0.0, 1e4) && step.strokes >= 0,
           "a step's depth is impossible");
  }
}

}  // namespace

void check(const Result& result) {
  check(result.outline);
  check(result.map);
  check(result.assessment, result.map.grid);
  check(result.mechanics, result.map.grid);
  check(result.plan);
  expect(between(result.player.depth_per_stroke_um, 1e-3, 1e3) && between(result.player.tool_width_mm, 1e-3, 1e3) &&
             between(result.player.u_depth_per_stroke_rel, 0.0, 1e3),
         "the player's hand is impossible");
  expect(result.relative_thickness_mm.rows() == Target::kNodesAlong &&
             result.relative_thickness_mm.cols() == Target::kNodesAcross,
         "the relative thickness has a wrong shape");
}

}  // namespace canewise
