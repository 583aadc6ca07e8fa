// The largest results that are read at all: comparing them ends, and soon.
#include <gtest/gtest.h>
#include <sys/resource.h>

#include <cmath>
#include <cstdio>

#include "scanproc/compare/comparison.h"
#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/result_caps.h"
#include "scanproc/thickness/thickness_map.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

constexpr double kPi = 3.14159265358979323846;

/// A polygon about most of the reed, with so many corners that each lies somewhere else.
std::vector<PlanPoint> frayed_polygon(std::size_t corners) {
  std::vector<PlanPoint> polygon;
  for (std::size_t k = 0; k < corners; ++k) {
    const double angle = 2.0 * kPi * static_cast<double>(k) / static_cast<double>(corners),
                 share = k % 2 == 0 ? 1.0 : 0.2;
    polygon.push_back({20.0 + 18.0 * share * std::cos(angle), 12.0 * share * std::sin(angle)});
  }
  return polygon;
}

/// As many cells, steps and corners as a file may have.
Result largest_result(const std::string& sha256, double off_mm) {
  test::ReedByHand reed = test::reed_by_hand([](double, double) { return 1.0; });
  reed.outline.length_mm = 100.0;
  reed.outline.left.offset_mm = -12.5, reed.outline.right.offset_mm = 12.5;
  ThicknessMap& map = reed.map;
  map.grid = {0.05, 2000, 500};
  map.thickness_mm.resize(map.grid.rows, map.grid.columns);
  for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r)
      map.thickness_mm(r, c) =
          static_cast<float>(0.1 + 0.03 * map.grid.x_mm(r) - (map.grid.x_mm(r) < 40.0 ? off_mm : 0.0));
  }
  map.u_mm = map.u_local_mm = Field::Constant(map.grid.rows, map.grid.columns, 5e-4F);
  test::assess_again(reed);
  Result result;
  result.scans.resize(1);
  result.scans.front().sha256 = sha256;
  result.instrument = "clarinet-bb";
  result.outline = reed.outline;
  result.map = reed.map;
  result.assessment = reed.assessment;
  result.relative_thickness_mm = Eigen::ArrayXXd::Zero(Target::kNodesAlong, Target::kNodesAcross);
  result.mechanics.why_not = Message("result.without_bending");
  // Places of 36 mm, and 3 mm for slips.
  const double cells = 39.0 / map.grid.cell_mm * static_cast<double>(map.grid.columns);
  const auto corners = static_cast<std::size_t>(kResultCaps.corners_by_cells / cells) / kResultCaps.steps;
  for (std::size_t k = 0; k < kResultCaps.steps; ++k) {
    ScrapeStep step;
    step.along = {AlongBand::front};
    step.from_mm = 2.0, step.to_mm = 38.0;
    step.polygon = frayed_polygon(corners);
    step.depth_um = 0.1;
    step.volume_mm3 = 0.01;
    result.plan.steps.push_back(step);
  }
  return result;
}

/// Seconds of the processor.
double seconds_to_compare(const Result& before, const Result& after) {
  const auto seconds = [] {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_utime.tv_sec) + 1e-6 * static_cast<double>(usage.ru_utime.tv_usec);
  };
  const double start = seconds();
  EXPECT_EQ(compare(before, after).steps.size(), kResultCaps.steps);
  const double taken = seconds() - start;
  std::printf("the largest comparison took %.1f s\n", taken);
  return taken;
}

TEST(WorstComparison, EndsInBoundedTime) {
  const Result before = largest_result("before", 0.0);
  Result after = largest_result("after", 0.005);
  ASSERT_NO_THROW(check(before));
  Result more = before;
  for (ScrapeStep& step : more.plan.steps) step.polygon.push_back(step.polygon.front());
  EXPECT_THROW(check(more), Impossible) << "this was not the worst";
  // Six seconds as released; room for a slow machine and for sanitizers.
  EXPECT_LT(seconds_to_compare(before, after), 60.0);
  after.state = MoistureState::wet;
  EXPECT_LT(seconds_to_compare(before, after), 60.0) << "left over right, where mirror images count too";
}

}  // namespace
}  // namespace canewise
