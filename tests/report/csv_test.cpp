#include "scanproc/report/csv.h"

#include <gtest/gtest.h>

#include <limits>

namespace canewise {
namespace {

ThicknessMap empty_map(Eigen::Index rows, Eigen::Index columns) {
  ThicknessMap map;
  map.grid = {0.25, rows, columns};
  map.thickness_mm = map.u_mm = Field::Constant(rows, columns, std::numeric_limits<float>::quiet_NaN());
  return map;
}

TEST(CsvSpec, OneRowAMeasuredCellFromTheTipLeftToRight) {
  ThicknessMap map = empty_map(2, 4);
  map.thickness_mm(1, 0) = 2.0F, map.u_mm(1, 0) = 0.01F;
  map.thickness_mm(0, 3) = 0.5F, map.u_mm(0, 3) = 0.001F;
  map.thickness_mm(0, 1) = 0.123456F, map.u_mm(0, 1) = 0.002F;
  // Cells of 0.25 mm: the first lies 0.125 mm behind the tip, the columns half a cell and more beside the middle. U95
  // is 1.959964 standard uncertainties, rounded to 0.01 um.
  EXPECT_EQ(thickness_csv(map),
            "x_mm,y_mm,thickness_mm,u95_mm\n"
            "0.125,-0.125,0.12346,0.00392\n"
            "0.125,0.375,0.50000,0.00196\n"
            "0.375,-0.375,2.00000,0.01960\n");
}

TEST(CsvSpec, AMapWithoutMeasuredCellsIsItsHeading) {
  EXPECT_EQ(thickness_csv(empty_map(2, 4)), "x_mm,y_mm,thickness_mm,u95_mm\n");
}

}  // namespace
}  // namespace canewise
