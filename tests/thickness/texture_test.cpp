#include "scanproc/thickness/texture.h"

#include <gtest/gtest.h>

#include "tests/support/scans.h"

namespace canewise {
namespace {

TEST(Texture, FibreRoughnessShowsAndASmoothReedDoesNot) {
  fixtures::ScannerModel fine;
  fine.along_mm = fine.between_mm = 0.04;
  fine.noise_um = 0.2;
  fixtures::ReedFaults faults;
  faults.roughness_um = 3.0;
  const auto rough = test::measured(fixtures::scan_reed(fixtures::Reed({}, faults), fine, {}, 1));
  const auto smooth = test::measured(fixtures::scan_reed(fixtures::Reed({}), fine, {}, 1));
  const auto of = [](const test::Measurement& m) { return measure_texture(m.aligned, m.map, 15.0, 3.0).value(); };
  EXPECT_NEAR(1e3 * of(rough).s_l.sq, 3.0, 1.0) << "24 random waves: a patch's own deviation scatters by a fifth";
  EXPECT_LT(1e3 * of(smooth).s_l.sq, 0.5);
  EXPECT_LE(of(rough).s_l.sq, of(rough).s_f.sq);
}

TEST(Texture, ChatterIsShorterThanTheFilterOnlyInPart) {
  fixtures::ScannerModel fine;
  fine.along_mm = fine.between_mm = 0.04;
  fine.noise_um = 0.2;
  fixtures::ReedFaults faults;
  faults.chatter_um = 5.0;
  faults.chatter_pitch_mm = 0.8;
  const auto m = test::measured(fixtures::scan_reed(fixtures::Reed({}, faults), fine, {}, 1));
  const auto patch = measure_texture(m.aligned, m.map, 15.0, 3.0).value();
  // A sine of 5 um has Sq 3.54; at the nesting index half of its amplitude stays in the S-L surface, less at the rim.
  EXPECT_NEAR(1e3 * patch.s_f.sq, 3.54, 0.35);
  EXPECT_NEAR(1e3 * patch.s_l.sq, 1.77, 0.45);
}

TEST(Texture, ACoarseScanCarriesNone) {
  fixtures::ScannerModel coarse;
  coarse.along_mm = coarse.between_mm = 0.2;
  const auto m = test::measured(fixtures::scan_reed(fixtures::Reed({}), coarse, {}, 1));
  EXPECT_FALSE(measure_texture(m.aligned, m.map, 15.0, 3.0).has_value());
}

}  // namespace
}  // namespace canewise
