// Several passes over one reed. A reed is nearly its own mirror image and a plate lets it slide: passes must never be
// joined where nothing fixes their place.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/datum/place_reed.h"
#include "scanproc/words/speech.h"
#include "tests/support/two_sided_scans.h"

namespace canewise {
namespace {

using testing::HasSubstr;
using namespace test;

fixtures::SceneOptions hiding(fixtures::SceneOptions scene, double from_mm, double to_mm) {
  scene.hidden.push_back({from_mm, to_mm, -50, 50});
  return scene;
}

struct Joined {
  Aligned aligned;
  MapErrors errors;
};

Joined join(const fixtures::Reed& reed, const fixtures::ScannerModel& scanner,
            const std::vector<fixtures::SceneOptions>& scenes, std::uint64_t seed) {
  std::vector<Cloud> scans;
  for (std::size_t k = 0; k < scenes.size(); ++k)
    scans.push_back(scan_reed(reed, scanner, scenes[k], seed + 77 * k).cloud);
  Joined joined;
  joined.aligned = place_reed(std::move(scans), {});
  joined.errors = map_errors(measure_thickness(joined.aligned, {}), reed);
  return joined;
}

TEST(Passes, InOnePoseAreMerged) {
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line()}) {
    const fixtures::Reed reed({}, rough_cane(1));
    fixtures::SceneOptions scene = plain_scene(1);
    scene.random_pose = false;
    // Each shows a part: neither alone is a whole reed.
    const Joined joined = join(reed, scanner, {hiding(scene, 45, 90), hiding(scene, -20, 30)}, 1);
    EXPECT_EQ(phrase(joined.aligned.registration->method), "one pose");
    EXPECT_NEAR(joined.aligned.outline.length_mm, 68.0, 0.06);
    EXPECT_LT(std::abs(joined.errors.mean_um), 1.5);
    EXPECT_GT(joined.errors.covered, 0.98);
    EXPECT_LT(joined.aligned.registration->residual_mm, 3.0 * 1e-3 * scanner.noise_um);
  }
}

TEST(Passes, InDifferentPosesAreRegisteredByTheReedsShape) {
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line()}) {
    for (std::uint64_t seed = 0; seed < 2; ++seed) {
      const fixtures::Reed reed({}, rough_cane(seed));
      const fixtures::SceneOptions scene = plain_scene(seed);
      const Joined joined = join(reed, scanner, {hiding(scene, 50, 90), hiding(scene, -20, 12)}, seed);
      EXPECT_THAT(phrase(joined.aligned.registration->method), HasSubstr("shape"));
      // The length spans both passes: a slide of one under the other would show in it.
      EXPECT_NEAR(joined.aligned.outline.length_mm, 68.0, 0.06);
      EXPECT_LT(std::abs(joined.errors.mean_um), 1.5);
      EXPECT_GT(joined.errors.covered, 0.98);
      for (Eigen::Index k = 0; k < 3; ++k) EXPECT_LT(joined.aligned.registration->covariance(k, k), 0.02 * 0.02);
    }
  }
}

TEST(Passes, ThreeInDifferentPosesAreEvenedOut) {
  const fixtures::Reed reed({}, rough_cane(3));
  const fixtures::SceneOptions scene = plain_scene(3);
  const Joined joined = join(reed, fixtures::laser_line(),
                             {hiding(scene, 50, 90), hiding(scene, -20, 12), hiding(hiding(scene, -20, 4), 60, 90)}, 3);
  EXPECT_NEAR(joined.aligned.outline.length_mm, 68.0, 0.06);
  EXPECT_LT(std::abs(joined.errors.mean_um), 1.5);
  EXPECT_GT(joined.errors.covered, 0.98);
}

TEST(Passes, BallsOnThePlateAreUsedWhereTheyShow) {
  const fixtures::Reed reed({}, rough_cane(4));
  fixtures::SceneOptions scene = plain_scene(4);
  scene.plate_margin_mm = 20.0;
  scene.balls = {{-12, -12, 4, 4}, {78, -9, 4, 4}, {70, 17, 4, 4}, {12, 18, 4, 4}};
  const Joined joined = join(reed, fixtures::profilometer(), {hiding(scene, 44, 62), hiding(scene, 6, 20)}, 4);
  EXPECT_THAT(phrase(joined.aligned.registration->method), HasSubstr("spheres"));
  EXPECT_NEAR(joined.aligned.outline.length_mm, 68.0, 0.05);
  EXPECT_LT(std::abs(joined.errors.mean_um), 1.5);
}

TEST(Passes, ThatShowOnlyBarkInCommonSlideAndAreRefused) {
  // Behind the shoulder a reed is the same at every place along: these two passes share 12 mm of it.
  const fixtures::Reed reed({}, rough_cane(5));
  const fixtures::SceneOptions scene = plain_scene(5);
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line()}) {
    try {
      (void)join(reed, scanner, {hiding(scene, 58, 90), hiding(scene, -20, 44)}, 5);
      ADD_FAILURE() << "joined by guess";
    } catch (const NotMeasurable& error) {
      EXPECT_THAT(error.what(),
                  testing::AnyOf(HasSubstr("more than one way"), HasSubstr("open"), HasSubstr("do not fit")));
    }
  }
}

TEST(Passes, OfTwoReedsAreNotAveragedIntoOne) {
  // One heavy on the left, one on the right: their mean would be in balance.
  fixtures::ReedFaults left = rough_cane(7), right = rough_cane(8);
  left.heavy_rail_um = right.heavy_rail_um = 40.0;
  left.heavy_rail_side = -1;
  for (const auto& scanner : {fixtures::profilometer(), fixtures::laser_line()}) {
    std::vector<Cloud> scans{scan_reed(fixtures::Reed({}, left), scanner, plain_scene(7), 7).cloud,
                             scan_reed(fixtures::Reed({}, right), scanner, plain_scene(8), 8).cloud};
    try {
      (void)place_reed(std::move(scans), {});
      ADD_FAILURE() << "averaged";
    } catch (const NotMeasurable& error) {
      EXPECT_THAT(error.what(), HasSubstr("not of one reed"));
    }
  }
}

TEST(Passes, WithLittlePlateAreNotTakenForTheTwoSidesOfAReed) {
  for (std::uint64_t seed = 0; seed < 6; ++seed) {
    const fixtures::Reed reed({}, rough_cane(seed));
    fixtures::SceneOptions first = plain_scene(seed), second = plain_scene(seed + 50);
    first.plate_margins_mm = {2.0, 2.0, 1.6, 2.4};
    second.plate_margins_mm = {7.0, 7.0, 7.0, 7.0};
    second.raster_yaw_deg = first.raster_yaw_deg + 180.0;
    const Joined joined = join(reed, fixtures::profilometer(), {first, second}, seed);
    EXPECT_EQ(joined.aligned.datum, DatumMode::plate) << seed;
  }
}

TEST(Passes, OfUnlikeThingsAreRefused) {
  const fixtures::Reed reed({}, rough_cane(6));
  fixtures::SceneOptions coin = plain_scene(6);
  coin.content = fixtures::SceneContent::coin;
  EXPECT_THROW((void)join(reed, fixtures::profilometer(), {plain_scene(6), coin}, 6), NotMeasurable);
}

}  // namespace
}  // namespace canewise
