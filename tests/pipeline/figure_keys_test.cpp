// Names by which readers of result.json find the bending figures: these are kept from version to version.
#include "scanproc/pipeline/figure_keys.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string_view>
#include <utility>

namespace canewise {
namespace {

TEST(FigureKeys, EveryFigureHasItsOwn) {
  const std::array<std::pair<BendingFigure, std::string_view>, 6> expected{{
      {BendingFigure::stiffness_left, "stiffness_left_n_per_mm"},
      {BendingFigure::stiffness_centre, "stiffness_centre_n_per_mm"},
      {BendingFigure::stiffness_right, "stiffness_right_n_per_mm"},
      {BendingFigure::stiffness_lip, "stiffness_lip_n_per_mm"},
      {BendingFigure::imbalance_tip, "imbalance_tip"},
      {BendingFigure::imbalance_lip, "imbalance_lip"},
  }};
  ASSERT_EQ(expected.size(), kBendingFigureCount);
  for (const auto& [figure, key] : expected) EXPECT_EQ(kFigureKeys.at(index_of(figure)), key);
}

TEST(FigureKeys, AStiffnessNamesItsUnitAndAShareHasNone) {
  for (const BendingFigure figure : kBendingFigures) {
    const std::string_view key = kFigureKeys.at(index_of(figure));
    EXPECT_EQ(key.ends_with("_n_per_mm"), !is_imbalance(figure)) << key;
  }
}

TEST(FigureKeys, SensitivitiesAreKeptOfWhatAPlayerActsOn) {
  const auto is_kept = [](BendingFigure figure) {
    return std::find(kKeptSensitivities.begin(), kKeptSensitivities.end(), figure) != kKeptSensitivities.end();
  };
  for (const BendingFigure figure : kBendingFigures)
    EXPECT_EQ(is_kept(figure), is_imbalance(figure) || figure == BendingFigure::stiffness_lip)
        << kFigureKeys.at(index_of(figure));
  EXPECT_EQ(kKeptSensitivities.size(), 3U);
}

}  // namespace
}  // namespace canewise
