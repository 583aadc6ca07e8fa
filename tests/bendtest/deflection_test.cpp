#include "scanproc/bendtest/deflection.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/core/statistics.h"
#include "tests/support/bench_scans.h"

namespace canewise::test {
namespace {

class DeflectionSeen : public testing::Test {
 protected:
  [[nodiscard]] BenchView view(const fixtures::Bench& bench, std::uint64_t seed, bool still) const {
    return view_bench(fixtures::bench_scan(drawn_.reed, bench, fixtures::profilometer(), seed, !still).points_mm,
                      reed_);
  }
  /// Measured less true, over the vamp but for the thread.
  [[nodiscard]] std::vector<double> errors(const Deflection& d, const fixtures::Bench& bench) const {
    std::vector<double> errors;
    for (Eigen::Index c = 0; c < d.grid.columns; ++c) {
      for (Eigen::Index r = 0; r < d.grid.rows; ++r) {
        const double x = d.grid.x_mm(r), y = d.grid.y_mm(c);
        if (x > bench.edge_mm - 1.0 || x < 1.0 || std::abs(x - bench.thread_at_mm) < 1.3) continue;
        if (!reed_.outline.holds(x, y, 0.5) || !std::isfinite(d.down_mm(r, c))) continue;
        errors.push_back(static_cast<double>(d.down_mm(r, c)) - bench.down_mm(x, y));
      }
    }
    return errors;
  }
  fixtures::BenchedReed drawn_ = fixtures::draw_bench(5);
  Result reed_ = result_on_plate(drawn_.reed, fixtures::profilometer(), 5);
  fixtures::Bench bent_ = drawn_.loaded(LoadSide::centre);
};

TEST_F(DeflectionSeen, ItIsHowFarEachPlaceWentDown) {
  const Deflection d = deflection_between(view(drawn_.bench, 1, true), view(bent_, 2, true), reed_);
  const std::vector<double> off = errors(d, bent_);
  EXPECT_GT(off.size(), 3000U);
  EXPECT_NEAR(median(off), 0.0, 3e-3) << "of a third of a millimetre";
  EXPECT_LT(mad_sigma(off, median(off)), 1.5e-3);
  EXPECT_TRUE(d.same_place);
  EXPECT_LT(std::abs(d.stock_turned_mm), 2e-3);
}

TEST_F(DeflectionSeen, AMovedBenchIsLaidOnItselfByItsStock) {
  const Deflection d = deflection_between(view(drawn_.bench, 1, false), view(bent_, 2, false), reed_);
  EXPECT_FALSE(d.same_place);
  EXPECT_NEAR(median(errors(d, bent_)), 0.0, 4e-3);
  EXPECT_LT(d.laid.diagonal()(0), square(3e-3));
}

TEST_F(DeflectionSeen, WhatTheStockDidAgainstItsBlockIsSeenAndTakenOut) {
  fixtures::Bench turned = bent_;
  turned.down_mm = [this](double x, double y) { return bent_.down_mm(x, y) + 0.02 + 2e-4 * (45.0 - x); };
  const Deflection d = deflection_between(view(drawn_.bench, 1, true), view(turned, 2, true), reed_);
  EXPECT_NEAR(median(errors(d, bent_)), 0.0, 3e-3);
  EXPECT_NEAR(d.stock_turned_mm, 0.02, 5e-3);
}

// The bark is part of a cylinder: a scan that lies 0.03 mm too far to one side seems to be rolled by 0.03 / R.
TEST_F(DeflectionSeen, ASlideAcrossLooksLikeARollOfTheStock) {
  const BenchView free = view(drawn_.bench, 1, true);
  BenchView aside = free;
  const Eigen::Index cells = 1;
  const double slid_mm = static_cast<double>(cells) * reed_.map.grid.cell_mm;
  const Eigen::Index kept = reed_.map.grid.columns - cells;
  aside.surface.height_mm.leftCols(kept) = free.surface.height_mm.rightCols(kept);
  const Deflection d = deflection_between(free, aside, reed_);
  const double by_roll = 1.0 / drawn_.reed.shape().bark_radius_mm;
  EXPECT_NEAR(std::abs(d.by_slide_across(2)), by_roll, 0.25 * by_roll);
  EXPECT_LT(std::abs(d.by_slide_along(2)), 0.1 * by_roll);
  // In the vamp the roll is what is left: less than a tenth of a micrometre for a micrometre of slide.
  const Eigen::Index r = static_cast<Eigen::Index>(12.0 / reed_.map.grid.cell_mm), c = reed_.map.grid.columns / 2 + 8;
  const Eigen::Vector3d here(1.0, reed_.map.grid.x_mm(r), reed_.map.grid.y_mm(c));
  const double expected = slid_mm * (slope_over(reed_.map, r - 3, c - 3, 6).y() - d.by_slide_across.dot(here));
  EXPECT_NEAR(std::abs(static_cast<double>(d.down_mm(r, c))), std::abs(expected), 4e-3);
}

TEST_F(DeflectionSeen, HowFarItSlidIsSeen) {
  fixtures::Bench slid = bent_;
  slid.edge_mm -= 0.5, slid.clamp_from_mm -= 0.5, slid.clamp_to_mm -= 0.5;
  EXPECT_NEAR(deflection_between(view(drawn_.bench, 1, true), view(slid, 2, true), reed_).slid_mm, 0.5, 0.2);
}

}  // namespace
}  // namespace canewise::test
