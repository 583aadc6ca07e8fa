// A reed in a jig whose pads the scan sees.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/datum/place_reed.h"
#include "tests/support/two_sided_scans.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using namespace test;

Rig rig_with_pads() {
  Rig rig;
  rig.pads = Pads{1.4, 1.0};
  return rig;
}

fixtures::SceneOptions jig_scene(std::uint64_t seed) {
  fixtures::SceneOptions scene = drawn_scene(seed);
  scene.content = fixtures::SceneContent::jig;
  scene.plate_margin_mm = 8.0;
  scene.nuisance = {};
  return scene;
}

TEST(Pads, GiveTheTableFromAboveInAnyPose) {
  const Rig rig = rig_with_pads();
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line()}) {
    for (std::uint64_t seed = 0; seed < 6; ++seed) {
      const fixtures::Reed reed({}, rough_cane(seed));
      const Aligned aligned = place_reed({fixtures::scan_reed(reed, scanner, jig_scene(seed), seed).cloud}, rig);
      EXPECT_EQ(aligned.datum, DatumMode::pads);
      EXPECT_NEAR(aligned.outline.length_mm, 68.0, 0.1);
      const ThicknessMap map = measure_thickness(aligned, rig.priors);
      const MapErrors errors = map_errors(map, reed);
      EXPECT_LT(std::abs(errors.mean_um), 2.5);
      EXPECT_GT(errors.covered, 0.99);  // Seating, table and tip priors are not drawn here.
    }
  }
}

TEST(Pads, AnErrorOfTheirHeightIsAnErrorOfTheThicknessAndStandsInTheBudget) {
  Rig rig = rig_with_pads();
  rig.pads->above_table_mm += 0.030;
  rig.pads->u_above_table_um = 15.0;
  const fixtures::Reed reed({}, rough_cane(1));
  const Aligned aligned = place_reed({fixtures::scan_reed(reed, fixtures::profilometer(), jig_scene(1), 1).cloud}, rig);
  const MapErrors errors = map_errors(measure_thickness(aligned, rig.priors), reed);
  EXPECT_NEAR(errors.mean_um, 30.0, 2.0);
  EXPECT_NEAR(1e3 * std::sqrt(aligned.uncertainty.plate_plane(0, 0)), 15.0, 0.5);
}

// The pads lie all round the reed, so their plane is surest somewhere over its middle and not at its tip, where the
// reed's own axes begin.
TEST(Pads, TheirPlaneIsSurestBetweenThem) {
  Rig rig = rig_with_pads();
  rig.pads->u_above_table_um = 0.0;
  const fixtures::Reed reed({}, rough_cane(1));
  const Aligned aligned = place_reed({fixtures::scan_reed(reed, fixtures::laser_line(), jig_scene(1), 1).cloud}, rig);
  const Eigen::Matrix3d& plane = aligned.uncertainty.plate_plane;
  ASSERT_GT(plane(1, 1), 0.0);
  const double surest_x_mm = -plane(0, 1) / plane(1, 1);
  EXPECT_GT(surest_x_mm, 0.25 * aligned.outline.length_mm);
  EXPECT_LT(surest_x_mm, 0.75 * aligned.outline.length_mm);
  EXPECT_LT(std::abs(plane(0, 2) / plane(2, 2)), 2.0) << "and near the centreline";
}

TEST(Pads, AreAskedForInWords) {
  const fixtures::Reed reed({}, rough_cane(1));
  const Cloud in_jig = fixtures::scan_reed(reed, fixtures::profilometer(), jig_scene(1), 1).cloud;
  EXPECT_THROW((void)place_reed({in_jig}, {}, {.datum = DatumMode::pads}), UsageError);
  const Cloud on_plate = fixtures::scan_reed(reed, fixtures::profilometer(), {}, 1).cloud;
  try {
    (void)place_reed({on_plate}, rig_with_pads());
    FAIL() << "a plate has no pads";
  } catch (const NotMeasurable& error) {
    EXPECT_THAT(error.what(), HasSubstr("pads"));
  }
  // The rig's pads do not bind where the user says otherwise.
  EXPECT_EQ(place_reed({on_plate}, rig_with_pads(), {.datum = DatumMode::plate}).datum, DatumMode::plate);
}

}  // namespace
}  // namespace canewise
