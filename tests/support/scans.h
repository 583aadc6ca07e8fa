#pragma once

#include <random>

#include "fixtures/scanner.h"
#include "scanproc/assess/assessment.h"
#include "scanproc/datum/align.h"
#include "scanproc/thickness/measure_thickness.h"

namespace canewise::test {

/// A generated scan taken all the way to its assessment.
struct Measurement {
  Aligned aligned;
  ThicknessMap map;
  Assessment assessment;
  Eigen::Isometry3d true_reed_from_scan;
};

inline Measurement measured(fixtures::GeneratedScan scan, const Rig& rig = {}) {
  Measurement m;
  m.true_reed_from_scan = scan.reed_from_scan;
  m.aligned = align(std::move(scan.cloud), rig);
  m.map = measure_thickness(m.aligned, rig.priors);
  const Outline& outline = m.aligned.outline;
  const Instrument& instrument = *guess_instrument(outline.length_mm, 2 * outline.half_width_mm(0));
  m.assessment = assess({.map = m.map, .aligned = m.aligned, .instrument = instrument});
  return m;
}

/// Scene with every prior drawn anew and the lines at any angle up to 12 degrees to the square.
inline fixtures::SceneOptions drawn_scene(std::uint64_t seed) {
  std::mt19937_64 random(seed + 1000);
  fixtures::SceneOptions scene;
  scene.nuisance = fixtures::draw_nuisance({}, random);
  scene.raster_yaw_deg = std::uniform_real_distribution<double>(-12.0, 12.0)(random);
  return scene;
}

/// The same with nothing wrong but the scanner's noise.
inline fixtures::SceneOptions plain_scene(std::uint64_t seed) {
  fixtures::SceneOptions scene = drawn_scene(seed);
  scene.nuisance = {};
  return scene;
}

/// Realistic cane: 1.5 um of fibre roughness, another pattern for every seed.
inline fixtures::ReedFaults rough_cane(std::uint64_t seed) {
  fixtures::ReedFaults faults;
  faults.roughness_um = 1.5;
  faults.roughness_seed = seed + 1;
  return faults;
}

inline Measurement measure_drawn(const fixtures::Reed& reed, const fixtures::ScannerModel& scanner,
                                 std::uint64_t seed) {
  return measured(fixtures::scan_reed(reed, scanner, drawn_scene(seed), seed));
}

inline const ZoneBalance& balance_of(const Measurement& m, AlongBand along, AcrossBand across) {
  return m.assessment.balance.zones.at(static_cast<std::size_t>(ZoneMap::label_of(along, across)));
}

}  // namespace canewise::test
