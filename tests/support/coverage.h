#pragma once

#include <array>
#include <cmath>
#include <cstdio>
#include <mutex>

#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/parallel.h"
#include "scanproc/core/statistics.h"
#include "tests/support/scans.h"

namespace canewise::test {

/// Errors of many scans against the truth in one zone, in micrometres.
struct ErrorTally {
  double count = 0, inside = 0, sum = 0, squares = 0, scaled_squares = 0;
  void add(double error_mm, double u_mm) {
    count += 1;
    inside += std::abs(error_mm) <= kCoverage95 * u_mm;
    sum += 1e3 * error_mm;
    squares += 1e6 * error_mm * error_mm;
    scaled_squares += (error_mm / u_mm) * (error_mm / u_mm);
  }
  [[nodiscard]] double covered() const { return inside / count; }
  [[nodiscard]] double bias_um() const { return sum / count; }
  /// 1 if the stated uncertainty is right on average.
  [[nodiscard]] double ratio() const { return std::sqrt(scaled_squares / count); }
};

/// One of each for the twelve zones (both sides together).
struct Coverage {
  std::array<ErrorTally, 12> cells, zones, differences;
  /// Scans that the tool would not measure at all.
  int refused = 0;
};

/// Scans the same reed, its priors drawn anew each time, and holds every cell and zone mean against the truth.
inline Coverage coverage_of(const fixtures::ScannerModel& scanner, std::uint64_t scans) {
  Coverage total;
  std::mutex lock;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < scans; seed += kParallelParts) {
      const fixtures::Reed reed({}, rough_cane(seed));
      Measurement m;
      try {
        m = measure_drawn(reed, scanner, seed);
      } catch (const Error& error) {
        const std::scoped_lock guard(lock);
        std::printf("scan %d refused: %s\n", static_cast<int>(seed), error.what());
        ++total.refused;
        continue;
      }
      const ThicknessMap& map = m.map;
      const auto error = [&](Eigen::Index r, Eigen::Index c) {
        return static_cast<double>(map.thickness_mm(r, c)) - reed.thickness_mm(map.grid.x_mm(r), map.grid.y_mm(c));
      };
      const std::scoped_lock guard(lock);
      std::array<std::array<double, 2>, 12> sums{}, counts{};
      for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
        for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
          const auto label = m.assessment.zones.label(r, c);
          if (label < 0 || !map.measured(r, c)) continue;
          const auto zone = static_cast<std::size_t>(label);
          total.cells.at(zone).add(error(r, c), map.u_mm(r, c));
          const std::size_t side = 2 * c < map.grid.columns ? 0 : 1;
          sums.at(zone).at(side) += error(r, c);
          counts.at(zone).at(side) += 1.0;
        }
      }
      for (const auto& zone : m.assessment.zone_thickness) {
        const auto label = static_cast<std::size_t>(ZoneMap::label_of(zone.zone.along, zone.zone.across));
        const std::size_t side = zone.zone.side == Side::left ? 0 : 1;
        // The truth is taken over the very same cells: where the zones lie does not count.
        const double u_mm = std::sqrt(square(zone.thickness.u_mm) - square(zone.thickness.u_place_mm));
        total.zones.at(label).add(sums.at(label).at(side) / counts.at(label).at(side), u_mm);
      }
      for (std::size_t label = 0; label < 12; ++label) {  // The true difference is nought.
        const auto& difference = m.assessment.balance.zones.at(label).difference;
        total.differences.at(label).add(difference.mean_mm, difference.u_mm);
      }
    }
  });
  return total;
}

}  // namespace canewise::test
