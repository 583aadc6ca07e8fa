// 'Cannot tell' must be no hiding place, and 'within' no habit: size and power of the verdicts over 100 reeds.
#include <gtest/gtest.h>

#include <cstdio>
#include <mutex>

#include "scanproc/core/parallel.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

/// Coarser than the default raster by two in points, to keep the test short; the claims get harder, not easier.
fixtures::ScannerModel scanner() {
  fixtures::ScannerModel model = fixtures::profilometer();
  model.along_mm = 0.1;
  model.between_mm = 0.2;
  return model;
}

TEST(VerdictPower, ASymmetricReedIsWithinInNinetyOfAHundredScansAndOutsideInAtMostFive) {
  int within = 0, outside = 0;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < 100; seed += kParallelParts) {
      const auto m = test::measure_drawn(fixtures::Reed({}, test::rough_cane(seed)), scanner(), seed);
      static std::mutex lock;
      const std::scoped_lock guard(lock);
      within += m.assessment.balance.verdict == Verdict::within;
      outside += m.assessment.balance.verdict == Verdict::outside;
    }
  });
  std::printf("within %d, outside %d of 100\n", within, outside);
  EXPECT_GE(within, 90);
  EXPECT_LE(outside, 5);
}

TEST(VerdictPower, ARailHeavyByToleranceAndThreePointThreeUIsOutsideInNinetyOfAHundred) {
  // u of the middle rails on such scans, from one of them; the fault fills the band evenly.
  const auto reference = test::measure_drawn(fixtures::Reed({}, test::rough_cane(7)), scanner(), 7);
  const auto& zone = test::balance_of(reference, AlongBand::middle, AcrossBand::rail);
  const double heavy_um = 1e3 * (zone.tolerance_mm + 3.3 * zone.difference.u_mm);
  int outside = 0;
  run_parts([&](std::size_t part) {
    for (std::uint64_t seed = part; seed < 100; seed += kParallelParts) {
      fixtures::ReedFaults faults = test::rough_cane(seed);
      faults.heavy_rail_um = heavy_um;
      faults.heavy_rail_from_mm = 6.0;
      faults.heavy_rail_to_mm = 24.0;
      const auto m = test::measure_drawn(fixtures::Reed({}, faults), scanner(), seed + 500);
      static std::mutex lock;
      const std::scoped_lock guard(lock);
      outside += test::balance_of(m, AlongBand::middle, AcrossBand::rail).verdict == Verdict::outside;
    }
  });
  std::printf("outside %d of 100 at %.1f um\n", outside, heavy_um);
  EXPECT_GE(outside, 90);
}

}  // namespace
}  // namespace canewise
