#pragma once

#include <random>
#include <utility>
#include <vector>

#include "fixtures/bench.h"
#include "fixtures/families.h"
#include "scanproc/bendtest/bend_test.h"
#include "tests/support/scans.h"

namespace canewise::test {

/// The reed's result as a usual scan on a plate gives it, as far as a bend test reads it.
inline Result result_on_plate(const fixtures::Reed& reed, const fixtures::ScannerModel& scanner, std::uint64_t seed) {
  std::mt19937_64 random(seed + 5);
  const fixtures::SceneOptions scene = fixtures::draw_scene(fixtures::Laws::as_stated, random);
  Measurement m = measured(fixtures::scan_reed(reed, scanner, scene, seed));
  Result result;
  result.measured_at = "2026-01-01T00:00:00Z";
  result.instrument = "clarinet-bb";
  result.outline = m.aligned.outline;
  result.frame = m.aligned.uncertainty;
  result.map = std::move(m.map);
  result.assessment = std::move(m.assessment);
  return result;
}

/// One bend test of a drawn reed; what a test wants to be otherwise it changes before it runs.
struct TestedBench {
  fixtures::BenchedReed drawn;
  fixtures::ScannerModel scanner;
  std::uint64_t seed;
  Result reed;
  fixtures::Bench free;
  std::vector<std::pair<LoadSide, fixtures::Bench>> loaded;
  double said_g = 0.0;
  bool still = false;  ///< Block and scanner stand still from scan to scan.

  TestedBench(std::uint64_t from_seed, const fixtures::ScannerModel& with, const std::vector<LoadSide>& sides)
      : drawn(fixtures::draw_bench(from_seed)),
        scanner(with),
        seed(from_seed),
        reed(result_on_plate(drawn.reed, with, from_seed)),
        free(drawn.bench),
        said_g(drawn.mass_g) {
    for (const LoadSide side : sides) loaded.emplace_back(side, drawn.loaded(side));
  }

  [[nodiscard]] BendTestInputs inputs(std::optional<double> at_mm = {}) const {
    BendTestInputs in{.reed = reed, .free = scan(free, 0), .loaded = {}, .mass_g = said_g, .state = {}};
    for (std::size_t k = 0; k < loaded.size(); ++k)
      in.loaded.push_back({scan(loaded[k].second, k + 1), loaded[k].first, at_mm});
    return in;
  }

 private:
  [[nodiscard]] Cloud scan(const fixtures::Bench& bench, std::size_t number) const {
    return fixtures::bench_scan(drawn.reed, bench, scanner, 10 * seed + number, !still);
  }
};

}  // namespace canewise::test
