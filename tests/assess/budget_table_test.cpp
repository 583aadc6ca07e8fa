// An uncertainty budget for people: one line a source, in micrometres; and what is left of it between two scans.
#include "scanproc/assess/budget_table.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

namespace canewise {
namespace {

CommonEffect effect(EffectSource source, bool of_this_scan = false) { return {source, {}, {}, of_this_scan}; }

/// Noise 4 um, place 2 um; seating 3 and -4, light 6.
ZoneMean mean() {
  ZoneMean mean;
  mean.u_local_mm = 0.004;
  mean.u_place_mm = 0.002;
  mean.effects_mm = {0.003, 0.006, -0.004};
  return mean;
}
const std::vector<CommonEffect> kCommon{effect(EffectSource::seating), effect(EffectSource::penetration),
                                        effect(EffectSource::seating)};

TEST(BudgetTable, GroupsTheEffectsOfASourceAndCombinesTheLines) {
  const BudgetTable table = budget_of({"quantity.heart_thickness"}, mean(), kCommon);
  EXPECT_EQ(table.quantity.id, "quantity.heart_thickness");
  ASSERT_EQ(table.lines.size(), 4U);
  const std::vector<Message> names{
      {"budget.noise"}, message_of(EffectSource::seating), message_of(EffectSource::penetration), {"budget.vamp_end"}};
  // 3 and -4 are 5 together; 4, 5, 6 and 2 are the root of 81.
  const std::vector<double> sizes_um{4.0, 5.0, 6.0, 2.0};
  for (std::size_t k = 0; k < 4; ++k) {
    EXPECT_EQ(table.lines[k].name, names[k]) << k;
    EXPECT_NEAR(table.lines[k].standard_uncertainty, sizes_um[k], 1e-9) << k;
    EXPECT_EQ(table.lines[k].sensitivity, 1.0);
  }
  EXPECT_NEAR(table.combined.standard_uncertainty, 9.0, 1e-9);
  EXPECT_NEAR(table.combined.expanded_uncertainty, 9.0 * 1.959964, 1e-4) << "95 % of the normal law";
}

TEST(BudgetTable, WhatAMeanDoesNotHaveHasNoLine) {
  ZoneMean bare;
  bare.u_local_mm = 0.001;
  const BudgetTable table = budget_of({"quantity.tip_thickness"}, bare, {});
  ASSERT_EQ(table.lines.size(), 1U);
  EXPECT_EQ(table.lines[0].name.id, "budget.noise");
  EXPECT_NEAR(table.combined.standard_uncertainty, 1.0, 1e-9);
}

TEST(BudgetTable, AResultKeepsThoseOfTipAndHeartAndOfTheRailsAtTipAndMiddle) {
  // Every zone has a noise of its own: 1 + label um for a thickness, 101 + label for a difference.
  Assessment assessment;
  for (const AlongBand along : kAlongBands) {
    for (const AcrossBand across : kAcrossBands) {
      const double label = ZoneMap::label_of(along, across);
      for (const Side side : {Side::left, Side::right}) {
        ZoneThickness zone{{along, across, side}, {}};
        zone.thickness.u_local_mm = 1e-3 * (1.0 + label);
        assessment.zone_thickness.push_back(zone);
      }
      ZoneBalance balance;
      balance.along = along;
      balance.across = across;
      balance.difference.u_local_mm = 1e-3 * (101.0 + label);
      assessment.balance.zones.push_back(balance);
    }
  }
  const auto tables = budgets_of(assessment, {});
  ASSERT_EQ(tables.size(), 4U);
  const std::vector<std::string> ids{"quantity.tip_thickness", "quantity.heart_thickness", "quantity.rails_at_tip",
                                     "quantity.rails_in_middle"};
  // Labels: three bands across in each of tip, front, middle and back; the centre first, the rail last.
  const std::vector<double> sizes_um{1.0, 7.0, 103.0, 109.0};
  for (std::size_t k = 0; k < 4; ++k) {
    EXPECT_EQ(tables[k].quantity.id, ids[k]);
    EXPECT_NEAR(tables[k].combined.standard_uncertainty, sizes_um[k], 1e-9) << ids[k];
  }
}

TEST(BudgetTable, BetweenTwoScansOfOneRigOnlyWhatDiffersCountsOfEach) {
  ZoneMean one, other;
  one.u_local_mm = 1.0, one.u_place_mm = 2.0;
  one.effects_mm = {2.0, 9.0, 30.0, 5.0};
  const std::vector<CommonEffect> of_one{effect(EffectSource::seating), effect(EffectSource::table_form),
                                         effect(EffectSource::rig_scale), effect(EffectSource::plate_form, true)};
  other.u_local_mm = 4.0;
  other.effects_mm = {-6.0, 40.0, 3.0, 50.0};
  const std::vector<CommonEffect> of_other{effect(EffectSource::table_form), effect(EffectSource::penetration),
                                           effect(EffectSource::registration), effect(EffectSource::plate_form)};
  // One: 1 + 4 + seating 4 + a third of the table's form 9 + what this scan shows of the plate 25. The other: 16 + 4 +
  // registration 9. Scale, light and the plate's own form stay with the rig.
  EXPECT_NEAR(u_of_change_mm(one, of_one, other, of_other), std::sqrt(43.0 + 29.0), 1e-12);
  EXPECT_NEAR(u_of_change_mm(other, of_other, one, of_one), std::sqrt(43.0 + 29.0), 1e-12);
}

}  // namespace
}  // namespace canewise
