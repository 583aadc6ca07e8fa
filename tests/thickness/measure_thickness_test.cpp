#include "scanproc/thickness/measure_thickness.h"

#include <gtest/gtest.h>

#include "scanproc/core/error.h"
#include "scanproc/words/speech.h"
#include "tests/support/scans.h"

namespace canewise {
namespace {

TEST(MeasureThickness, AQuietScanReproducesTheTruth) {
  fixtures::ScannerModel quiet;
  quiet.noise_um = 0.01;
  const fixtures::Reed reed({});
  const auto m = test::measured(fixtures::scan_reed(reed, quiet, {}, 1));
  int cells = 0;
  double squares = 0.0;
  for (Eigen::Index r = 8; r < m.map.grid.rows; ++r) {  // Behind the first two millimetres, where the tip's rim is.
    for (Eigen::Index c = 0; c < m.map.grid.columns; ++c) {
      if (!m.map.measured(r, c) || m.assessment.zones.label(r, c) < 0) continue;
      squares += std::pow(m.map.thickness_mm(r, c) - reed.thickness_mm(m.map.grid.x_mm(r), m.map.grid.y_mm(c)), 2);
      ++cells;
    }
  }
  EXPECT_GT(cells, 5000);
  EXPECT_LT(1e3 * std::sqrt(squares / cells), 2.0)
      << "um; what is left is the apex (half a line spacing over the root of the columns) and the kink at the bark";
}

TEST(MeasureThickness, WhatWasNotSeenStaysEmpty) {
  auto scan = fixtures::scan_reed(fixtures::Reed({}), fixtures::profilometer(), {}, 2);
  // A strip of 2 mm across the vamp is missing.
  std::vector<Eigen::Index> kept;
  for (Eigen::Index i = 0; i < scan.cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = scan.reed_from_scan * scan.cloud.points_mm.col(i);
    if (p.x() < 12.0 || p.x() > 14.0) kept.push_back(i);
  }
  const Eigen::Matrix3Xd all = scan.cloud.points_mm;
  scan.cloud.points_mm = all(Eigen::all, kept);
  const auto m = test::measured(std::move(scan));
  const auto row = static_cast<Eigen::Index>(13.0 / m.map.grid.cell_mm);
  for (Eigen::Index c = 0; c < m.map.grid.columns; ++c) EXPECT_FALSE(m.map.measured(row, c));
  const auto& middle = test::balance_of(m, AlongBand::middle, AcrossBand::flank).difference;
  EXPECT_LT(middle.covered, 0.95);
  EXPECT_GT(middle.covered, 0.7);
}

TEST(MeasureThickness, AZoneThatWasHardlySeenGetsNoVerdict) {
  auto scan = fixtures::scan_reed(fixtures::Reed({}), fixtures::profilometer(), {}, 2);
  std::vector<Eigen::Index> kept;  // The left half of the middle band is missing from 12 to 18 mm.
  for (Eigen::Index i = 0; i < scan.cloud.points_mm.cols(); ++i) {
    const Eigen::Vector3d p = scan.reed_from_scan * scan.cloud.points_mm.col(i);
    if (p.x() < 12.0 || p.x() > 18.0 || p.y() > -2.0 || p.y() < -4.6) kept.push_back(i);
  }
  const Eigen::Matrix3Xd all = scan.cloud.points_mm;
  scan.cloud.points_mm = all(Eigen::all, kept);
  const auto m = test::measured(std::move(scan));
  const auto& flank = test::balance_of(m, AlongBand::middle, AcrossBand::flank);
  EXPECT_LT(flank.difference.covered, kFewestCovered);
  EXPECT_EQ(flank.verdict, Verdict::cannot_tell);
  EXPECT_EQ(m.assessment.balance.verdict, Verdict::cannot_tell);
}

TEST(MeasureThickness, OutliersLeaveNoTrace) {
  fixtures::ScannerModel clean = fixtures::profilometer(), dirty = clean;
  dirty.outlier_share = 0.02;
  const fixtures::Reed reed({});
  const auto a = test::measured(fixtures::scan_reed(reed, clean, {}, 3));
  const auto b = test::measured(fixtures::scan_reed(reed, dirty, {}, 3));
  EXPECT_NEAR(b.map.outlier_share, 0.02, 0.006);
  for (std::size_t zone = 0; zone < 24; ++zone) {
    EXPECT_NEAR(a.assessment.zone_thickness.at(zone).thickness.mean_mm,
                b.assessment.zone_thickness.at(zone).thickness.mean_mm, 0.004)
        << phrase(place_of(a.assessment.zone_thickness.at(zone).zone));
  }
}

TEST(MeasureThickness, ACoarseScanGetsCoarserCellsOrIsRefused) {
  fixtures::ScannerModel coarse;
  coarse.along_mm = coarse.between_mm = 0.3;
  const auto m = test::measured(fixtures::scan_reed(fixtures::Reed({}), coarse, {}, 4));
  EXPECT_EQ(m.map.grid.cell_mm, 0.5);
}

TEST(MeasureThickness, OptionsOutOfTheirRangeAreRefused) {
  EXPECT_NO_THROW(validate(ThicknessOptions{}));
  for (const double cell : {-1.0, 0.01, 3.0, std::nan("")})
    EXPECT_THROW(validate(ThicknessOptions{.cell_mm = cell}), UsageError) << cell;
  for (const double margin : {-0.1, 2.0, std::nan("")})
    EXPECT_THROW(validate(ThicknessOptions{.edge_margin_mm = margin}), UsageError) << margin;
}

}  // namespace
}  // namespace canewise
