#pragma once

#include <functional>

#include "scanproc/assess/assessment.h"
#include "scanproc/core/statistics.h"
#include "scanproc/datum/aligned.h"
#include "scanproc/thickness/thickness_map.h"

namespace canewise::test {

/// A reed whose map is a formula: what later stages read of a scan, with borders that can be reckoned in the head.
/// Straight sides 12 mm apart, a flat tip edge, a flat bark; bands end at 4, 10, 26 and 40 mm from the tip, lanes at
/// 2.1 and 4.2 mm from the centreline. Cells of 0.25 mm: in a band of n rows the centre has 8 n cells a side, the flank
/// 9 n, the rail 7 n.
struct ReedByHand {
  static constexpr double kVamp_mm = 40.0, kHalf_mm = 6.0, kLength_mm = 60.0, kBark_mm = 3.2;
  Outline outline;
  ThicknessMap map;
  Assessment assessment;
};

/// Zones, means, balance and faults of the map as it is now.
inline void assess_again(ReedByHand& reed) {
  Assessment& assessment = reed.assessment;
  assessment.zones = map_zones(reed.map.grid, reed.outline, ReedByHand::kVamp_mm);
  assessment.cut.vamp_length_mm = {ReedByHand::kVamp_mm, 0.05};
  assessment.cut.bark.height_mm = {ReedByHand::kBark_mm, 0.005};
  assessment.cut.bark.radius_mm = {1e6, 1.0};
  assessment.zone_thickness.clear();
  for (const AlongBand along : kAlongBands) {
    for (const AcrossBand across : kAcrossBands) {
      for (const Side side : {Side::left, Side::right}) {
        const Zone zone{along, across, side};
        assessment.zone_thickness.push_back({zone, zone_thickness(reed.map, assessment.zones, zone)});
      }
    }
  }
  assessment.balance = assess_balance(reed.map, assessment.zones, kUsualTolerances);
  assessment.faults =
      find_faults({.map = reed.map, .zones = assessment.zones, .outline = reed.outline}, assessment.balance, nullptr);
}

/// `noise_um` is the standard deviation of one cell, independent from cell to cell.
inline ReedByHand reed_by_hand(const std::function<double(double x_mm, double y_mm)>& thickness_mm,
                               double noise_um = 0.5) {
  ReedByHand reed;
  reed.outline.left.offset_mm = -ReedByHand::kHalf_mm;
  reed.outline.right.offset_mm = ReedByHand::kHalf_mm;
  reed.outline.length_mm = ReedByHand::kLength_mm;
  ThicknessMap& map = reed.map;
  map.grid = {0.25, 240, 48};
  map.thickness_mm.resize(map.grid.rows, map.grid.columns);
  for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
    for (Eigen::Index r = 0; r < map.grid.rows; ++r)
      map.thickness_mm(r, c) = static_cast<float>(thickness_mm(map.grid.x_mm(r), map.grid.y_mm(c)));
  }
  map.u_mm = map.u_local_mm = Field::Constant(map.grid.rows, map.grid.columns, static_cast<float>(1e-3 * noise_um));
  map.noise.bin_sd_mm = 2e-3 * noise_um;
  map.noise.covariance_sum_mm2 = map.noise.bins_per_cell * square(1e-3 * noise_um);
  assess_again(reed);
  return reed;
}

/// A wedge like a vamp: 0.15 mm at the tip, 50 um thicker with each millimetre.
inline double plain_wedge_mm(double x_mm) { return 0.15 + 0.05 * x_mm; }

}  // namespace canewise::test
