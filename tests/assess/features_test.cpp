#include "scanproc/assess/features.h"

#include <gtest/gtest.h>

#include "tests/support/scans.h"

namespace canewise {
namespace {

using fixtures::Reed;
using fixtures::ReedShape;

CutFeatures cut_of(const ReedShape& shape, const fixtures::ScannerModel& scanner = fixtures::profilometer(),
                   std::uint64_t seed = 1) {
  return test::measure_drawn(Reed(shape, test::rough_cane(seed)), scanner, seed).assessment.cut;
}

void expect_within_3u(const Measured& measured, double truth, const char* name) {
  EXPECT_LT(std::abs(measured.value - truth), 3.0 * measured.u)
      << name << ": " << measured.value << " +- " << measured.u << ", true " << truth;
}

TEST(Features, EachAgreesWithTheTruthWithinItsUncertainty) {
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    ReedShape shape;
    shape.vamp_length_mm = 31.0 + static_cast<double>(seed);
    shape.stock_height_mm = 2.7 + 0.1 * static_cast<double>(seed);
    const Reed reed(shape);
    const CutFeatures cut = cut_of(shape, seed % 2 == 0 ? fixtures::laser_line() : fixtures::profilometer(), seed);
    expect_within_3u(cut.length_mm, 68.0, "length");
    expect_within_3u(cut.tip_width_mm, 13.0, "tip width");
    expect_within_3u(cut.butt_width_mm, 11.6, "butt width");
    expect_within_3u(cut.vamp_length_mm, shape.vamp_length_mm, "vamp");
    EXPECT_LT(cut.length_mm.u, 0.06);
    EXPECT_LT(cut.tip_width_mm.u, 0.03);
    EXPECT_LT(cut.vamp_length_mm.u, 0.15);
    expect_within_3u(cut.stock_height_mm, shape.stock_height_mm, "stock height");
    expect_within_3u(cut.tip_thickness_mm, reed.thickness_mm(1.05, 0.0), "tip");
    EXPECT_LT(cut.stock_height_mm.u, 0.012);
    const auto middle_band = [&](double e_from, double e_to) {
      double sum = 0.0, n = 0.0;
      for (double x = 0.25 * shape.vamp_length_mm; x < 0.65 * shape.vamp_length_mm; x += 0.1) {
        const double half = reed.half_width_mm(x);
        for (double y = e_from * half; y < e_to * half; y += 0.02) sum += reed.thickness_mm(x, y), n += 1.0;
      }
      return sum / n;
    };
    expect_within_3u(cut.heart_thickness_mm, middle_band(0.0, 0.35), "heart");
    expect_within_3u(cut.rail_thickness_mm, middle_band(0.7, 1.0), "rails");
    EXPECT_LT(cut.rail_thickness_mm.u, 0.012);
  }
}

TEST(Features, BlankClassFollowsTheStock) {
  for (const auto& [height, blank] : {std::pair{2.8, Blank::thin}, {3.0, Blank::medium}, {3.2, Blank::thick}}) {
    ReedShape shape;
    shape.stock_height_mm = height;
    const CutFeatures cut = cut_of(shape);
    EXPECT_EQ(cut.blank, blank) << height;
    EXPECT_TRUE(cut.blank_is_sure) << height;
  }
  ReedShape between;
  between.stock_height_mm = 2.903;
  const auto m = test::measured(fixtures::scan_reed(Reed(between), fixtures::profilometer(), {}, 1));
  EXPECT_FALSE(m.assessment.cut.blank_is_sure) << "3 um from a class limit nothing is sure";
}

// Common practice: filed or unfiled is a difference in kind, not a fault.
TEST(Features, FiledAndUnfiledAreToldApartOnEveryBlankAndNeitherIsAFault) {
  for (const double height : {2.8, 3.0, 3.2}) {
    for (const bool filed : {true, false}) {
      ReedShape shape;
      shape.stock_height_mm = height;
      shape.filed = filed;
      const auto m = test::measure_drawn(Reed(shape, test::rough_cane(3)), fixtures::laser_line(), 3);
      EXPECT_EQ(m.assessment.cut.filed, filed ? Verdict::within : Verdict::outside) << height;
      EXPECT_NE(m.assessment.balance.verdict, Verdict::outside);
    }
  }
}

TEST(Features, RoundedAndSquarerTipsAreToldApart) {
  ReedShape rounded, squarer;
  rounded.corner_radius_mm = 2.2;
  squarer.corner_radius_mm = 0.8;
  const CutFeatures a = cut_of(rounded), b = cut_of(squarer);
  EXPECT_GT(a.corner_drop_mm.value - b.corner_drop_mm.value, 3.0 * std::hypot(a.corner_drop_mm.u, b.corner_drop_mm.u));
}

}  // namespace
}  // namespace canewise
