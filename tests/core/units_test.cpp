#include "scanproc/core/units.h"

#include <gtest/gtest.h>

#include <array>

namespace canewise {
namespace {

constexpr std::array kUnits{LengthUnit::mm, LengthUnit::um, LengthUnit::m, LengthUnit::in};

TEST(Units, AMillimetreIsAThousandMicrometres) {
  EXPECT_DOUBLE_EQ(um_from_mm(0.0254), 25.4);
  EXPECT_DOUBLE_EQ(mm_from_um(15.0), 0.015);
  EXPECT_DOUBLE_EQ(mm_from_um(um_from_mm(-2.7)), -2.7);
}

TEST(Units, EachUnitHasItsLengthInMillimetres) {
  EXPECT_EQ(mm_per(LengthUnit::mm), 1.0);
  EXPECT_EQ(mm_per(LengthUnit::um), 0.001);
  EXPECT_EQ(mm_per(LengthUnit::m), 1000.0);
  EXPECT_EQ(mm_per(LengthUnit::in), 25.4);  // Exact since the international inch of 1959.
}

TEST(Units, EachUnitHasANameThatGivesItBack) {
  EXPECT_EQ(name_of(LengthUnit::mm), "mm");
  EXPECT_EQ(name_of(LengthUnit::um), "um");
  EXPECT_EQ(name_of(LengthUnit::m), "m");
  EXPECT_EQ(name_of(LengthUnit::in), "in");
  for (const LengthUnit unit : kUnits) EXPECT_EQ(length_unit_from(name_of(unit)), unit) << name_of(unit);
}

TEST(Units, OtherNamesAreNoUnits) {
  for (const char* name : {"", "MM", "cm", "inch", "mm ", "mmm", "µm"})
    EXPECT_EQ(length_unit_from(name), std::nullopt) << name;
}

}  // namespace
}  // namespace canewise
