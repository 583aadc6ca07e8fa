#include "scanproc/ledger/figures_of.h"

#include <gtest/gtest.h>

#include "tests/support/plain_result.h"

namespace canewise {
namespace {

std::map<std::string, FigureValue> by_name(const Result& result) {
  std::map<std::string, FigureValue> figures;
  for (const FigureValue& figure : figures_of(result)) figures[figure.name] = figure;
  return figures;
}

TEST(FiguresOf, AreTheResultsOwnInTheirUnits) {
  Result result = test::plain_result();
  result.mechanics.why_not = {};
  result.mechanics.figures.at(index_of(BendingFigure::stiffness_lip)) = {40.0, 0.5, 12.0};
  result.mechanics.figures.at(index_of(BendingFigure::imbalance_tip)) = {-0.03, 0.004, 0.05};
  result.assessment.cut.tip_thickness_mm = {0.102, 0.004};
  result.assessment.cut.heart_thickness_mm = {2.2, 0.01};
  auto figures = by_name(result);
  EXPECT_EQ(figures.at("stiffness").value, 40.0);
  EXPECT_EQ(figures.at("stiffness").u, 0.5) << "of the scan alone: cane is the reed's own";
  EXPECT_EQ(figures.at("imbalance tip").value, -0.03);
  EXPECT_DOUBLE_EQ(figures.at("tip").value, 102.0);
  EXPECT_DOUBLE_EQ(figures.at("heart").u, 10.0);
}

TEST(FiguresOf, LeaveOutWhatTheScanDoesNotShow) {
  Result result = test::plain_result();
  result.mechanics.why_not = Message("result.without_bending");
  result.assessment.cut.tip_thickness_mm = {std::nan(""), 0.004};
  const auto figures = by_name(result);
  EXPECT_FALSE(figures.contains("stiffness"));
  EXPECT_FALSE(figures.contains("tip"));
}

TEST(FiguresOf, TheWorstDifferenceIsInUnitsOfItsTolerance) {
  Result result = test::plain_result();
  for (ZoneBalance& zone : result.assessment.balance.zones) {
    zone.difference.mean_mm = 0.003, zone.difference.u_mm = 0.001, zone.tolerance_mm = 0.015;
  }
  ZoneBalance& worst = result.assessment.balance.zones.at(4);
  worst.difference.mean_mm = -0.030, worst.difference.u_mm = 0.003;
  const auto figures = by_name(result);
  EXPECT_DOUBLE_EQ(figures.at("worst difference").value, 2.0);
  EXPECT_DOUBLE_EQ(figures.at("worst difference").u, 0.2);
}

}  // namespace
}  // namespace canewise
