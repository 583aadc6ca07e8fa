#include "scanproc/pipeline/check_result.h"

#include <algorithm>
#include <cmath>

#include "scanproc/datum/instrument.h"
#include "scanproc/pipeline/result_caps.h"

namespace canewise {
namespace {

void expect(bool good, MessageId why) {
  if (!good) throw Impossible{why};
}

bool between(double value, double least, double most) { return value >= least && value <= most; }
/// Of values that a scan need not show.
bool absent_or_between(double value, double least, double most) {
  return std::isnan(value) || between(value, least, most);
}

constexpr double kLongest_mm = 300.0;

void check(const Outline& outline) {
  expect(between(outline.length_mm, 1.0, kLongest_mm) && absent_or_between(outline.u_length_mm, 0.0, 10.0),
         "result.length");
  for (const SideLine* side : {&outline.left, &outline.right})
    expect(between(side->offset_mm, -50.0, 50.0) && between(side->slope, -1.0, 1.0), "result.sides");
  expect(outline.half_width_mm(0.0) > 0.5 && outline.half_width_mm(outline.length_mm) > 0.5, "result.no_width");
  expect(between(outline.tip_edge_step_mm, 1e-3, 10.0) && between(outline.tip_edge_first_y_mm, -50.0, 50.0),
         "result.tip_edge");
}

void check(const ThicknessMap& map) {
  expect(between(map.grid.cell_mm, kResultCaps.least_cell_mm, 5.0), "result.cells");
  expect(map.grid.rows > 0 && map.grid.columns > 0 && map.grid.columns % 2 == 0 &&
             static_cast<double>(map.grid.rows) * map.grid.cell_mm <= kLongest_mm &&
             static_cast<double>(map.grid.columns) * map.grid.cell_mm <= kLongest_mm,
         "result.map_size");
  expect(map.grid.rows * map.grid.columns <= static_cast<Eigen::Index>(kResultCaps.cells), "result.map_size");
  expect(map.noise.bins_per_cell > 0.0 && map.noise.filled_share > 0.0 && map.noise.covariance_sum_mm2 > 0.0,
         "result.noise");
}

void check(const Assessment& assessment, const Grid& grid) {
  expect(between(assessment.cut.vamp_length_mm.value, 1.0, kLongest_mm), "result.vamp");
  expect(assessment.zone_thickness.size() == 24 && assessment.balance.zones.size() == 12, "result.zones_missing");
  for (const ZoneBalance& zone : assessment.balance.zones) expect(zone.tolerance_mm > 0.0, "result.zone_tolerance");
  for (const Fault& fault : assessment.faults) {
    expect(fault.tolerance_mm > 0.0 && between(fault.from_mm, -kLongest_mm, kLongest_mm) &&
               between(fault.to_mm, -kLongest_mm, kLongest_mm),
           "result.fault_place");
    expect(std::all_of(fault.cell_indices.begin(), fault.cell_indices.end(),
                       [&](Eigen::Index cell) { return cell >= 0 && cell < grid.rows * grid.columns; }),
           "result.fault_off_map");
  }
  if (!assessment.target) return;
  const Target& target = assessment.target->target;
  for (const Eigen::ArrayXXd* field : {&target.thickness_mm, &target.tolerance_mm}) {
    expect(field->rows() == Target::kNodesAlong && field->cols() == Target::kNodesAcross, "result.target_shape");
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
         "result.bent_shape");
  expect(mechanics.closing.curve.size() >= 2, "result.closing");
  for (const ReedMode& mode : mechanics.modes) expect(is_drawable(mode.shape), "result.mode_shape");
  for (const Field& sensitivity : mechanics.sensitivity) {
    expect(sensitivity.size() == 0 || (sensitivity.rows() == grid.rows && sensitivity.cols() == grid.columns),
           "result.sensitivity_shape");
  }
}

std::size_t corners_of(const ScrapePlan& plan) {
  std::size_t corners = 0;
  for (const ScrapeStep& step : plan.steps) corners += step.polygon.size();
  return corners;
}

/// What a comparison does for a plan: each corner is looked at for the cells across the reed along its step.
double corners_by_cells(const ScrapePlan& plan, const Grid& grid) {
  double sum = 0.0;
  for (const ScrapeStep& step : plan.steps) {
    double from = std::min(step.from_mm, step.to_mm), to = std::max(step.from_mm, step.to_mm);
    for (const PlanPoint& point : step.polygon) from = std::min(from, point.x_mm), to = std::max(to, point.x_mm);
    constexpr double slips_mm = 3.0;
    const double rows = std::min(static_cast<double>(grid.rows), (to - from + slips_mm) / grid.cell_mm);
    sum += static_cast<double>(step.polygon.size()) * rows * static_cast<double>(grid.columns);
  }
  return sum;
}

void check(const ScrapePlan& plan, const Outline& outline, const Grid& grid) {
  // A tool hangs over the rim.
  constexpr double overhang_mm = 10.0;
  const double widest_mm = std::max(outline.half_width_mm(0.0), outline.half_width_mm(outline.length_mm));
  expect(plan.steps.size() <= kResultCaps.steps, "result.many_steps");
  expect(corners_of(plan) <= kResultCaps.plan_corners, "result.many_corners");
  for (const ScrapeStep& step : plan.steps) {
    expect(step.polygon.size() >= 3 && step.polygon.size() <= kResultCaps.step_corners && !step.along.empty(),
           "result.step_place");
    for (const PlanPoint& point : step.polygon) {
      expect(between(point.x_mm, -overhang_mm, outline.length_mm + overhang_mm) &&
                 between(point.y_mm, -widest_mm - overhang_mm, widest_mm + overhang_mm),
             "result.step_off_reed");
    }
    expect(between(step.depth_um, 0.0, 1e4) && between(step.volume_mm3, 0.0, 1e4) && step.strokes >= 0,
           "result.step_depth");
  }
  expect(corners_by_cells(plan, grid) <= kResultCaps.corners_by_cells, "result.many_corners");
}

}  // namespace

void check(const Result& result) {
  expect(find_instrument(result.instrument) != nullptr, "result.instrument");
  check(result.outline);
  check(result.map);
  check(result.assessment, result.map.grid);
  check(result.mechanics, result.map.grid);
  check(result.plan, result.outline, result.map.grid);
  expect(between(result.player.depth_per_stroke_um, 1e-3, 1e3) && between(result.player.tool_width_mm, 1e-3, 1e3) &&
             between(result.player.u_depth_per_stroke_rel, 0.0, 1e3),
         "result.hand");
  expect(result.relative_thickness_mm.rows() == Target::kNodesAlong &&
             result.relative_thickness_mm.cols() == Target::kNodesAcross,
         "result.relative_thickness");
}

}  // namespace canewise
