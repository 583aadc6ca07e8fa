#include "scanproc/pipeline/unit_guess.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"

namespace canewise {
namespace {

/// A thousand points evenly over `span` on one axis and over a tenth of it on the others.
Cloud cloud_of(double span, Eigen::Index axis = 0) {
  constexpr Eigen::Index count = 1001;
  Cloud cloud;
  cloud.points_mm.resize(3, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(count - 1);
    cloud.points_mm.col(i).setConstant(0.1 * span * share);
    cloud.points_mm(axis, i) = span * share;
  }
  return cloud;
}
/// The refusal's message.
template <typename Work>
Message refusal_of(const Work& work) {
  try {
    work();
  } catch (const NotMeasurable& error) {
    return error.message();
  }
  ADD_FAILURE() << "nothing was refused";
  return {};
}

// A reed is some 60 to 90 mm long; on its plate the scan is longer.
TEST(UnitGuess, TheUnitIsTheOneInWhichAReedWouldBeInView) {
  for (const double mm : {45.0, 68.0, 110.0, 650.0}) {
    EXPECT_EQ(guess_unit(cloud_of(mm)), LengthUnit::mm) << mm;
    EXPECT_EQ(guess_unit(cloud_of(1e3 * mm)), LengthUnit::um) << mm;
    EXPECT_EQ(guess_unit(cloud_of(1e-3 * mm)), LengthUnit::m) << mm;
    EXPECT_EQ(guess_unit(cloud_of(mm / 25.4)), LengthUnit::in) << mm;
  }
}

TEST(UnitGuess, TheLongestSideCountsWhicheverWayTheReedLies) {
  for (const Eigen::Index axis : {0, 1, 2}) EXPECT_EQ(guess_unit(cloud_of(0.068, axis)), LengthUnit::m) << axis;
}

TEST(UnitGuess, AFewStrayPointsChangeNothingAndManyDo) {
  Cloud cloud = cloud_of(68.0);
  cloud.points_mm.row(0).rightCols(4).setConstant(1e6);  // Four in a thousand.
  EXPECT_EQ(guess_unit(cloud), LengthUnit::mm);
  cloud.points_mm.row(0).rightCols(30).setConstant(1e6);
  EXPECT_THROW((void)guess_unit(cloud), NotMeasurable);
}

TEST(UnitGuess, WhatFitsNoUnitIsRefusedWithItsSpan) {
  for (const double span : {3000.0, 2e6, 1e-4, 0.9}) {
    const Message refusal = refusal_of([&] { (void)guess_unit(cloud_of(span)); });
    EXPECT_EQ(refusal.id, "unit_guess.none_fits") << span;
    EXPECT_NEAR(std::get<Number>(refusal.arguments.at("spans")).value / span, 1.0, 0.02) << "in the file's numbers";
  }
}

TEST(UnitGuess, AGivenUnitThatCannotBeMeantIsRefusedWithTheOneThatCan) {
  EXPECT_NO_THROW(check_unit(cloud_of(68.0), LengthUnit::mm));
  EXPECT_NO_THROW(check_unit(cloud_of(2.68), LengthUnit::in));
  const Message inches = refusal_of([] { check_unit(cloud_of(68.0), LengthUnit::in); });
  EXPECT_EQ(inches.id, "unit_guess.no_reed_but");
  EXPECT_EQ(std::get<std::string>(inches.arguments.at("unit")), "in");
  const auto spans = std::get<Length>(inches.arguments.at("spans"));
  EXPECT_EQ(spans.unit, Length::Unit::mm);
  EXPECT_NEAR(spans.value, 68.0 * 25.4, 0.02 * 68.0 * 25.4);
  const auto others = std::get<Messages>(inches.arguments.at("others"));
  ASSERT_EQ(others.size(), 1U);
  EXPECT_EQ(std::get<std::string>(others.front().arguments.at("unit")), "mm");
  EXPECT_EQ(refusal_of([] { check_unit(cloud_of(3000.0), LengthUnit::mm); }).id, "unit_guess.no_reed");
}

TEST(UnitGuess, RescaledACloudIsInMillimetres) {
  for (const auto& [unit, factor] :
       {std::pair{LengthUnit::mm, 1.0}, {LengthUnit::um, 1e-3}, {LengthUnit::m, 1e3}, {LengthUnit::in, 25.4}}) {
    Cloud cloud = cloud_of(2.0);
    rescale(cloud, unit);
    EXPECT_NEAR(cloud.points_mm(0, 1000), 2.0 * factor, 1e-12 * factor) << name_of(unit);
    EXPECT_NEAR(cloud.points_mm(2, 1000), 0.2 * factor, 1e-12 * factor) << "all three axes";
  }
}

}  // namespace
}  // namespace canewise
