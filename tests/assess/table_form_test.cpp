// Bow, cup and twist of a table that was seen, by least squares; the tables are made by hand.
#include "scanproc/assess/table_form.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <limits>

namespace canewise {
namespace {

constexpr double kLength_mm = 68.0, kHalf_mm = 6.5;

using Height = std::function<double(double along, double across)>;  ///< Millimetres; both run from -1 to 1.

Outline rectangle() {
  Outline outline;
  outline.left.offset_mm = -kHalf_mm;
  outline.right.offset_mm = kHalf_mm;
  outline.length_mm = kLength_mm;
  return outline;
}

/// Cells of half a millimetre over the whole rectangle; thick everywhere, so that all of them count.
ThicknessMap map_with(const Height& height, double covariance_sum_mm2 = 4e-6) {
  ThicknessMap map;
  map.grid = {0.5, 136, 26};
  map.thickness_mm = Field::Constant(136, 26, 2.0F);
  map.table_mm.resize(136, 26);
  for (Eigen::Index r = 0; r < 136; ++r) {
    for (Eigen::Index c = 0; c < 26; ++c) {
      map.table_mm(r, c) =
          static_cast<float>(height(2.0 * map.grid.x_mm(r) / kLength_mm - 1.0, map.grid.y_mm(c) / kHalf_mm));
    }
  }
  map.table_covariance_sum_mm2 = covariance_sum_mm2;
  map.noise.bins_per_cell = 4.0;
  return map;
}

TEST(TableForm, EachFormIsToldFromTheOthersWithItsSign) {
  // A gap of 24 um at mid-length, of -9 um along the middle, 5 um up at the right butt corner; and a plane, which is
  // how the reed lies.
  const TableForm form = assess_table(map_with([](double along, double across) {
                                        return 0.3 + 0.02 * along - 0.01 * across + 0.024 * (1.0 - along * along) -
                                               0.009 * (1.0 - across * across) + 0.005 * along * across;
                                      }),
                                      rectangle(), 20.0);
  EXPECT_NEAR(form.bow_um.value, 24.0, 0.01);
  EXPECT_NEAR(form.cup_um.value, -9.0, 0.01);
  EXPECT_NEAR(form.twist_um.value, 5.0, 0.01);
  EXPECT_LT(form.rest_um, 0.05);
  EXPECT_EQ(form.tolerance_um, 20.0);
}

TEST(TableForm, UncertaintiesAreThoseOfLeastSquaresOverAllCells) {
  // A cell has a quarter of the sum over all lags: 1 um. Over N = 3536 cells spread evenly, by the moments of a uniform
  // law on [-1, 1]: var(a^2) = 4/45 for bow and cup, mean(a^2 b^2) = 1/9 for the twist.
  const TableForm form = assess_table(map_with([](double, double) { return 0.0; }), rectangle(), 20.0);
  const double cells = 136.0 * 26.0;
  EXPECT_NEAR(form.bow_um.u, std::sqrt(45.0 / 4.0 / cells), 0.01 * form.bow_um.u);
  EXPECT_NEAR(form.cup_um.u, std::sqrt(45.0 / 4.0 / cells), 0.01 * form.cup_um.u);
  EXPECT_NEAR(form.twist_um.u, std::sqrt(9.0 / cells), 0.01 * form.twist_um.u);
}

TEST(TableForm, OutsideIfOneFormIsAndWithinOnlyIfAllAre) {
  const auto flat = [](double bow_um, double cup_um, double twist_um, double noise_um) {
    const Height height = [=](double along, double across) {
      return 1e-3 * (bow_um * (1.0 - along * along) + cup_um * (1.0 - across * across) + twist_um * along * across);
    };
    // So many micrometres of u for bow and cup.
    const double sum_um2 = 4.0 * noise_um * noise_um * 136.0 * 26.0 * 4.0 / 45.0;
    return assess_table(map_with(height, 1e-6 * sum_um2), rectangle(), 20.0).flat;
  };
  EXPECT_EQ(flat(8.0, -8.0, 8.0, 2.0), Verdict::within);
  EXPECT_EQ(flat(30.0, 0.0, 0.0, 2.0), Verdict::outside);
  EXPECT_EQ(flat(0.0, -30.0, 0.0, 2.0), Verdict::outside);
  EXPECT_EQ(flat(0.0, 0.0, -30.0, 2.0), Verdict::outside);
  EXPECT_EQ(flat(19.0, 0.0, 0.0, 2.0), Verdict::cannot_tell) << "the guard band is 3.3 um";
  EXPECT_EQ(flat(21.0, 0.0, 0.0, 2.0), Verdict::cannot_tell);
  EXPECT_EQ(flat(0.0, 0.0, 0.0, 11.0), Verdict::cannot_tell) << "20 / 1.96 is 10.2";
}

TEST(TableForm, TheTipCurlsByItselfAndDoesNotCount) {
  ThicknessMap map = map_with([](double along, double) { return along < -0.75 ? 0.1 : 0.0; });
  map.thickness_mm.topRows(17).setConstant(
      0.5F);  // 8.5 mm, as far as it is lifted: not thicker than half a millimetre.
  const TableForm form = assess_table(map, rectangle(), 20.0);
  EXPECT_NEAR(form.bow_um.value, 0.0, 0.01);
  EXPECT_LT(form.rest_um, 0.01);
  EXPECT_EQ(form.flat, Verdict::within);
}

TEST(TableForm, WhatNoFormExplainsIsTheRest) {
  // Stripes of +-6 um, each a column wide: the forms together hold a hundredth of their squares.
  int row = 0;
  const TableForm form =
      assess_table(map_with([&](double, double) { return ++row % 2 == 0 ? 0.006 : -0.006; }), rectangle(), 20.0);
  EXPECT_NEAR(form.rest_um, 6.0, 0.05);
}

TEST(TableForm, CellsThatWereNotSeenDoNotCountAndTooFewShowNothing) {
  ThicknessMap map = map_with([](double along, double) { return 0.024 * (1.0 - along * along); });
  map.table_mm.block(40, 0, 30, 26).setConstant(std::numeric_limits<float>::quiet_NaN());
  EXPECT_NEAR(assess_table(map, rectangle(), 20.0).bow_um.value, 24.0, 0.01);
  map.table_mm.bottomRows(133).setConstant(std::numeric_limits<float>::quiet_NaN());
  const TableForm unseen = assess_table(map, rectangle(), 20.0);
  EXPECT_EQ(unseen.flat, Verdict::cannot_tell);
  // Measured: NaN where the scan does not show it. Nought would be the word of a flat table.
  EXPECT_TRUE(std::isnan(unseen.bow_um.value));
  EXPECT_TRUE(std::isnan(unseen.cup_um.u));
}

}  // namespace
}  // namespace canewise
