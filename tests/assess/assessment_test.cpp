// What a map says of the reed: every half zone, verdicts only where enough was seen, the cut's own numbers, the target.
#include "scanproc/assess/assessment.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <set>
#include <stdexcept>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "scanproc/assess/target_file.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

constexpr double kVamp_mm = 32.0;

Outline plain_outline() {
  Outline outline;
  outline.left.offset_mm = -6.5;
  outline.right.offset_mm = 6.5;
  outline.length_mm = 68.0;
  outline.tip_edge_mm = {0.0, 0.0};
  outline.tip_edge_first_y_mm = -6.5;
  outline.tip_edge_step_mm = 13.0;
  return outline;
}

/// An even plate of half a millimetre that was measured without noise.
struct Plain {
  ThicknessMap map;
  ZoneMap zones;
  CutFeatures cut;
  Plain() {
    map.grid = {0.25, 272, 52};
    map.thickness_mm = Field::Constant(272, 52, 0.5F);
    map.u_local_mm = map.slope_x = map.slope_y = Field::Zero(272, 52);
    zones = map_zones(map.grid, plain_outline(), kVamp_mm);
    cut.vamp_length_mm = {kVamp_mm, 0.0};
  }
  /// Takes the last cells of one side's zone away, so that this share of them is left.
  void hide(AlongBand along, AcrossBand across, Side side, double left_over) {
    std::vector<std::pair<Eigen::Index, Eigen::Index>> cells;
    for (Eigen::Index c = 0; c < 52; ++c) {
      for (Eigen::Index r = 0; r < 272; ++r) {
        if (zones.label(r, c) == ZoneMap::label_of(along, across) && (c >= 26) == (side == Side::right))
          cells.emplace_back(r, c);
      }
    }
    const auto kept = static_cast<std::size_t>(std::lround(left_over * static_cast<double>(cells.size())));
    for (std::size_t k = kept; k < cells.size(); ++k)
      map.thickness_mm(cells[k].first, cells[k].second) = std::numeric_limits<float>::quiet_NaN();
  }
};

const ZoneBalance& pair_of(const Balance& balance, AlongBand along, AcrossBand across) {
  return balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across)));
}

TEST(Assessment, APairOfZonesOfWhichLessThanSeventyPercentWasSeenGetsNoVerdict) {
  // The sides are alike to the last digit and nothing is unsure: only what was not seen can stand in the way.
  for (const Side side : {Side::left, Side::right}) {
    for (const double seen : {0.71, 0.69}) {
      Plain reed;
      reed.hide(AlongBand::middle, AcrossBand::rail, side, seen);
      const Balance balance = assess_balance(reed.map, reed.zones, kUsualTolerances);
      const ZoneBalance& rail = pair_of(balance, AlongBand::middle, AcrossBand::rail);
      EXPECT_NEAR(rail.difference.covered, seen, 0.005) << "a pair counts where both sides were seen";
      const Verdict expected = seen > 0.7 ? Verdict::within : Verdict::cannot_tell;
      EXPECT_EQ(rail.verdict, expected) << seen;
      EXPECT_EQ(balance.verdict, expected) << seen;
      EXPECT_EQ(pair_of(balance, AlongBand::middle, AcrossBand::flank).verdict, Verdict::within);
    }
  }
}

TEST(Assessment, AZoneThatWasHardlySeenIsNotCalledOutsideEither) {
  for (const double seen : {0.71, 0.69}) {
    Plain reed;
    reed.map.thickness_mm.rightCols(26) += 0.2F;
    reed.hide(AlongBand::back, AcrossBand::flank, Side::right, seen);
    EXPECT_EQ(
        pair_of(assess_balance(reed.map, reed.zones, kUsualTolerances), AlongBand::back, AcrossBand::flank).verdict,
        seen > 0.7 ? Verdict::outside : Verdict::cannot_tell);
  }
}

/// A target of the plate's own thickness, made from four reeds.
Target even_target() {
  Target target;
  target.name = "mine";
  target.instrument = "clarinet-bb";
  target.reeds = 4;
  target.thickness_mm.setConstant(Target::kNodesAlong, Target::kNodesAcross, 0.5);
  target.tolerance_mm.setConstant(Target::kNodesAlong, Target::kNodesAcross, 0.020);
  return target;
}

const ZoneDeviation& zone_of(const TargetComparison& comparison, const Zone& zone) {
  for (const ZoneDeviation& deviation : comparison.zones) {
    if (deviation.zone == zone) return deviation;
  }
  throw std::out_of_range("no such zone");
}

TEST(Assessment, AgainstATargetToAZoneOfWhichLessThanSeventyPercentWasSeenGetsNoVerdict) {
  constexpr Zone rail{AlongBand::front, AcrossBand::rail, Side::left};
  for (const double seen : {0.71, 0.69}) {
    Plain reed;
    reed.hide(rail.along, rail.across, rail.side, seen);
    const auto comparison = compare_with_target({.map = reed.map, .zones = reed.zones, .outline = plain_outline()},
                                                reed.cut, even_target());
    EXPECT_NEAR(zone_of(comparison, rail).deviation.covered, seen, 0.02);
    EXPECT_EQ(zone_of(comparison, rail).verdict, seen > 0.7 ? Verdict::within : Verdict::cannot_tell);
    EXPECT_EQ(zone_of(comparison, {rail.along, rail.across, Side::right}).verdict, Verdict::within);
  }
}

TEST(Assessment, OfTwoRigsEachBringsItsLightAndOfOneOnlyWhatOtherCaneAdds) {
  // One effect of 3 um alike in every cell, and nothing else unsure.
  const auto u_um = [](EffectSource source, bool of_this_scan, const std::string& rig, const std::string& targets_rig) {
    Plain reed;
    reed.map.common = {{source, {}, Field::Constant(272, 52, 0.003F), of_this_scan}};
    Target target = even_target();
    target.rig = targets_rig;
    const auto comparison =
        compare_with_target({.map = reed.map, .zones = reed.zones, .outline = plain_outline()}, reed.cut, target, rig);
    return 1e3 * zone_of(comparison, {AlongBand::middle, AcrossBand::flank, Side::right}).deviation.u_mm;
  };
  constexpr double tiny = 1e-4;
  EXPECT_NEAR(u_um(EffectSource::penetration, false, "a", "b"), 3.0 * std::sqrt(2.0), tiny);
  EXPECT_NEAR(u_um(EffectSource::penetration, false, "", ""), 3.0 * std::sqrt(2.0), tiny)
      << "two unknown rigs are not one";
  EXPECT_NEAR(u_um(EffectSource::penetration, false, "a", "a"), std::sqrt(2.0), tiny) << "a third for either cane";
  EXPECT_NEAR(u_um(EffectSource::rig_scale, false, "a", "b"), 3.0 * std::sqrt(2.0), tiny);
  EXPECT_NEAR(u_um(EffectSource::rig_scale, false, "a", "a"), 0.0, tiny);
  // What differs from scan to scan: once in the map, in the target over its four reeds.
  for (const std::string rig : {"a", "b"}) {
    EXPECT_NEAR(u_um(EffectSource::seating, false, rig, "a"), 3.0 * std::sqrt(1.25), tiny);
    EXPECT_NEAR(u_um(EffectSource::plate_form, true, rig, "a"), 3.0 * std::sqrt(1.25), tiny);
  }
}

/// A reed whose right rail is 40 um heavy, scanned once for all that follows.
const test::Measurement& heavy_right() {
  static const test::Measurement measurement = [] {
    fixtures::ReedFaults faults;
    faults.heavy_rail_um = 40.0;
    return test::measured(fixtures::scan_reed(fixtures::Reed({}, faults), fixtures::profilometer(), {}, 1));
  }();
  return measurement;
}

/// Mean of the generator's own surface over the measured cells of the middle band between two shares of the half width.
double true_mean_mm(const fixtures::Reed& reed, double from_e, double to_e) {
  const auto& m = heavy_right();
  const Grid& grid = m.map.grid;
  const double vamp = m.assessment.cut.vamp_length_mm.value;
  double sum = 0.0, count = 0.0;
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      const double x = grid.x_mm(r), y = grid.y_mm(c), e = std::abs(y) / reed.half_width_mm(x);
      if (!m.map.measured(r, c) || x < 0.25 * vamp || x > 0.65 * vamp || e < from_e || e > to_e) continue;
      sum += reed.thickness_mm(x, y), count += 1.0;
    }
  }
  return sum / count;
}

TEST(Assessment, RailAndHeartThicknessAreThoseOfTheirZones) {
  fixtures::ReedFaults faults;
  faults.heavy_rail_um = 40.0;
  const fixtures::Reed reed({}, faults);
  const CutFeatures& cut = heavy_right().assessment.cut;
  // Rails from 70 % of the half width on, heart within 35 %. The frame lies within some hundredths of a millimetre on
  // slopes of some hundredths: 5 um.
  EXPECT_NEAR(cut.rail_thickness_mm.value, true_mean_mm(reed, 0.70, 1.0), 0.005);
  EXPECT_NEAR(cut.heart_thickness_mm.value, true_mean_mm(reed, 0.0, 0.35), 0.005);
  EXPECT_GT(true_mean_mm(reed, 0.35, 1.0) - true_mean_mm(reed, 0.70, 1.0), 0.060) << "the flank's bound would show";
  double rails = 0.0, cells = 0.0;
  for (const auto& [zone, thickness] : heavy_right().assessment.zone_thickness) {
    if (zone.along != AlongBand::middle || zone.across != AcrossBand::rail) continue;
    rails += thickness.mean_mm * static_cast<double>(thickness.cells);
    cells += static_cast<double>(thickness.cells);
  }
  EXPECT_NEAR(cut.rail_thickness_mm.value, rails / cells, 5e-4) << "both rails together";
}

TEST(Assessment, HoldsEachOfTheHalfZonesOnceWithLeftAndRightInTheirPlaces) {
  const Assessment& assessment = heavy_right().assessment;
  std::set<std::tuple<AlongBand, AcrossBand, Side>> seen;
  double left = 0.0, right = 0.0;
  for (const auto& [zone, thickness] : assessment.zone_thickness) {
    seen.insert({zone.along, zone.across, zone.side});
    EXPECT_FALSE(std::isnan(thickness.mean_mm));
    if (zone.along == AlongBand::middle && zone.across == AcrossBand::rail)
      (zone.side == Side::left ? left : right) = thickness.mean_mm;
  }
  EXPECT_EQ(seen.size(), 24U);
  EXPECT_EQ(assessment.zone_thickness.size(), 24U);
  EXPECT_NEAR(right - left, 0.040, 0.004);
  EXPECT_NEAR(pair_of(assessment.balance, AlongBand::middle, AcrossBand::rail).difference.mean_mm, right - left, 5e-4);
}

TEST(Assessment, ComparesWithThePlayersTargetElseWithTheNearestBuiltIn) {
  const auto& m = heavy_right();
  ASSERT_TRUE(m.assessment.target);
  EXPECT_FALSE(m.assessment.target->chosen_by_user);
  EXPECT_EQ(m.assessment.target->target.instrument, "clarinet-bb");
  const Instrument& bb = *find_instrument("clarinet-bb");
  const Target& chosen = builtin_targets().front();  // Not the nearest.
  const Assessment own = assess({.map = m.map, .aligned = m.aligned, .instrument = bb, .chosen = &chosen});
  ASSERT_TRUE(own.target);
  EXPECT_TRUE(own.target->chosen_by_user);
  EXPECT_EQ(own.target->target.name, chosen.name);
  const Instrument& eb = *find_instrument("clarinet-eb");
  EXPECT_FALSE(assess({.map = m.map, .aligned = m.aligned, .instrument = eb}).target)
      << "no built-in is for an E-flat clarinet";
}

TEST(Assessment, AZonesFaultIsTheOneOnTheSameSideThatHasMostOfItsCells) {
  const Plain reed;
  Assessment assessment;
  assessment.zones = reed.zones;
  const auto cells_of = [&](AlongBand along, AcrossBand across, std::size_t count) {
    std::vector<Eigen::Index> cells;
    for (Eigen::Index i = 26 * 272; i < 52 * 272 && cells.size() < count; ++i) {
      if (reed.zones.label.data()[i] == ZoneMap::label_of(along, across)) cells.push_back(i);
    }
    return cells;
  };
  const auto fault = [&](Side thicker, AlongBand along, std::size_t count) {
    Fault made;
    made.thicker = thicker;
    made.cell_indices = cells_of(along, AcrossBand::rail, count);
    return made;
  };
  assessment.faults = {fault(Side::right, AlongBand::middle, 5), fault(Side::left, AlongBand::middle, 40),
                       fault(Side::right, AlongBand::middle, 20), fault(Side::right, AlongBand::front, 90)};
  ZoneBalance zone;
  zone.along = AlongBand::middle;
  zone.across = AcrossBand::rail;
  zone.difference.mean_mm = 0.02;  // The right is thicker.
  EXPECT_EQ(fault_of(assessment, zone), &assessment.faults[2]);
  zone.difference.mean_mm = -0.02;
  EXPECT_EQ(fault_of(assessment, zone), &assessment.faults[1]);
  zone.along = AlongBand::back;
  EXPECT_EQ(fault_of(assessment, zone), nullptr);
}

}  // namespace
}  // namespace canewise
