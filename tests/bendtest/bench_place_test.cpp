#include "scanproc/bendtest/bench_place.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "tests/support/bench_scans.h"

namespace canewise::test {
namespace {

fixtures::GeneratedScan scan_of(const fixtures::BenchedReed& drawn, const fixtures::Bench& bench, std::uint64_t seed) {
  fixtures::SceneOptions scene;
  scene.content = fixtures::SceneContent::on_bench;
  scene.bench = bench;
  scene.plate_margin_mm = 8.0;
  return fixtures::scan_reed(drawn.reed, fixtures::profilometer(), scene, seed);
}

void expect_near_truth(const Eigen::Isometry3d& reed_from_scan, const Eigen::Isometry3d& truth) {
  const Eigen::Isometry3d off = reed_from_scan * truth.inverse();
  const Eigen::Vector3d at_middle = off * Eigen::Vector3d(30.0, 0.0, 0.0) - Eigen::Vector3d(30.0, 0.0, 0.0);
  EXPECT_NEAR(at_middle.x(), 0.0, 0.12);
  EXPECT_NEAR(at_middle.y(), 0.0, 0.06);
  EXPECT_NEAR(at_middle.z(), 0.0, 0.03) << "as well as the result's own table";
  EXPECT_LT(Eigen::AngleAxisd(off.linear()).angle(), 0.004);
}

TEST(BenchPlace, AReedIsFoundHoweverBenchAndScannerStand) {
  for (const std::uint64_t seed : {2U, 4U, 6U, 8U}) {
    const fixtures::BenchedReed drawn = fixtures::draw_bench(seed);
    const Result reed = result_on_plate(drawn.reed, fixtures::profilometer(), seed);
    const fixtures::GeneratedScan free = scan_of(drawn, drawn.bench, seed);
    expect_near_truth(find_on_bench(free.cloud.points_mm, reed).reed_from_scan, free.reed_from_scan);
    const fixtures::GeneratedScan bent = scan_of(drawn, drawn.loaded(LoadSide::left), seed + 100);
    expect_near_truth(find_on_bench(bent.cloud.points_mm, reed, {true, {}}).reed_from_scan, bent.reed_from_scan);
  }
}

TEST(BenchPlace, WhereItLayBeforeIsLookedAtFirstAndItIsFoundAllTheSameIfItWasMoved) {
  const fixtures::BenchedReed drawn = fixtures::draw_bench(6);
  const Result reed = result_on_plate(drawn.reed, fixtures::profilometer(), 6);
  const fixtures::GeneratedScan scan = scan_of(drawn, drawn.bench, 6), moved = scan_of(drawn, drawn.bench, 7);
  for (const fixtures::GeneratedScan* before : {&scan, &moved})
    expect_near_truth(find_on_bench(scan.cloud.points_mm, reed, {false, before->reed_from_scan}).reed_from_scan,
                      scan.reed_from_scan);
}

TEST(BenchPlace, WhereThereIsNoReedNoneIsFound) {
  const fixtures::BenchedReed drawn = fixtures::draw_bench(4);
  const Result reed = result_on_plate(drawn.reed, fixtures::profilometer(), 4);
  for (const auto content : {fixtures::SceneContent::plate_only, fixtures::SceneContent::coin}) {
    fixtures::SceneOptions scene;
    scene.content = content;
    const auto scan = fixtures::scan_reed(drawn.reed, fixtures::profilometer(), scene, 1);
    EXPECT_THROW(static_cast<void>(find_on_bench(scan.cloud.points_mm, reed)), NotMeasurable);
  }
}

}  // namespace
}  // namespace canewise::test
