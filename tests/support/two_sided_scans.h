#pragma once

#include "fixtures/scanner.h"
#include "scanproc/core/budget.h"
#include "tests/support/scans.h"

namespace canewise::test {

/// A scene with balls on a carrier and everything that a two-sided scan cannot see drawn from the priors.
inline fixtures::SceneOptions carrier_scene(std::uint64_t seed) {
  fixtures::SceneOptions scene = drawn_scene(seed);
  scene.content = fixtures::SceneContent::on_carrier;
  scene.plate_margin_mm = 22.0;
  scene.balls = fixtures::carrier_balls();
  return scene;
}

/// Both scans of a reed on its carrier, each in a pose of its own.
struct BothScans {
  fixtures::GeneratedScan top, underside;
};
inline BothScans scan_both_sides(const fixtures::Reed& reed, const fixtures::ScannerModel& scanner,
                                 fixtures::SceneOptions scene, std::uint64_t seed) {
  BothScans both;
  both.top = scan_reed(reed, scanner, scene, seed);
  scene.content = fixtures::SceneContent::from_below;
  both.underside = scan_reed(reed, scanner, scene, seed + 500000);
  return both;
}

/// Errors of all cells up to `to_mm` from the tip against the truth.
struct MapErrors {
  double mean_um = 0, rms_um = 0, covered = 0, cells = 0;
};
inline MapErrors map_errors(const ThicknessMap& map, const fixtures::Reed& reed, double to_mm = 1e9) {
  MapErrors errors;
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      if (!map.measured(r, c) || map.grid.x_mm(r) > to_mm) continue;
      const double e =
          static_cast<double>(map.thickness_mm(r, c)) - reed.thickness_mm(map.grid.x_mm(r), map.grid.y_mm(c));
      errors.mean_um += 1e3 * e;
      errors.rms_um += 1e6 * e * e;
      errors.covered += std::abs(e) <= kCoverage95 * static_cast<double>(map.u_mm(r, c));
      errors.cells += 1;
    }
  }
  errors.mean_um /= errors.cells;
  errors.rms_um = std::sqrt(errors.rms_um / errors.cells);
  errors.covered /= errors.cells;
  return errors;
}

}  // namespace canewise::test
