#include <gtest/gtest.h>

#include "scanproc/core/budget.h"
#include "tests/support/bent_reeds.h"
#include "tests/support/in_english.h"

namespace canewise {
namespace {

struct Bent {
  test::Measurement scan;
  BentReed reed;
};

Bent bent(const fixtures::ReedShape& shape, fixtures::ReedFaults faults = test::rough_cane(1),
          const Player& player = {}, const fixtures::ScannerModel& scanner = fixtures::profilometer()) {
  Bent b;
  b.scan = test::measured(fixtures::scan_reed(fixtures::Reed(shape, faults), scanner, test::plain_scene(3), 3));
  b.reed = test::bent(b.scan, player, {});
  return b;
}
double figure(const Bent& b, BendingFigure f) { return b.reed.mechanics.figure(f).value; }
double lip(const Bent& b) { return figure(b, BendingFigure::stiffness_lip); }

TEST(ReedBending, AnEvenReedBendsEvenlyAndSoundsWhereReedsDo) {
  const Bent even = bent({});
  const Mechanics& m = even.reed.mechanics;
  ASSERT_TRUE(m.known()) << m.why_not;
  EXPECT_NEAR(figure(even, BendingFigure::imbalance_tip), 0.0, 0.005);
  EXPECT_NEAR(figure(even, BendingFigure::imbalance_lip), 0.0, 0.005);
  EXPECT_EQ(m.verdicts.at(index_of(BendingFigure::imbalance_tip)), Verdict::within);
  EXPECT_EQ(m.modes.front().kind, "bending");
  EXPECT_EQ(m.modes.at(1).kind, "twisting");
  // A plausibility band from several texts (from memory): the first resonance of a clamped clarinet reed.
  EXPECT_GT(m.modes.front().frequency_hz.value, 1500.0);
  EXPECT_LT(m.modes.front().frequency_hz.value, 3500.0);
  for (std::size_t k = 1; k < m.along.size(); ++k)
    EXPECT_LT(m.along[k].centre_mm_per_n, m.along[k - 1].centre_mm_per_n);
}

// Common practice.
TEST(ReedBending, TheSameCutIsStifferOnAThinnerBlankAndSofterWithALongerVamp) {
  // The same vamp surface; only the bark above it lies lower.
  const Bent thick = bent({});
  Assessment lower = thick.scan.assessment;
  lower.cut.bark.height_mm.value -= 0.4;
  const BentReed thin = bend_reed({.map = thick.scan.map,
                                   .outline = thick.scan.aligned.outline,
                                   .assessment = lower,
                                   .player = {},
                                   .instrument = "clarinet-bb",
                                   .state = MoistureState::dry});
  EXPECT_GT(thin.mechanics.figure(BendingFigure::stiffness_lip).value, 1.01 * lip(thick));
  fixtures::ReedShape longer;
  longer.vamp_length_mm += 2.0;
  EXPECT_LT(lip(bent(longer)), 0.9 * lip(thick));
}

// Common practice: unloading one rail lowers that side.
TEST(ReedBending, AHeavyRailStiffensItsSideAndAnUnloadedOneSoftensIt) {
  fixtures::ReedFaults heavy = test::rough_cane(1), light = heavy;
  heavy.heavy_rail_um = 40.0;
  light.heavy_rail_um = -40.0;
  const Bent right = bent({}, heavy), lowered = bent({}, light);
  EXPECT_GT(figure(right, BendingFigure::imbalance_tip), 0.02);
  EXPECT_LT(figure(lowered, BendingFigure::imbalance_tip), -0.02);
  heavy.heavy_rail_side = -1;
  EXPECT_NEAR(figure(bent({}, heavy), BendingFigure::imbalance_tip), -figure(right, BendingFigure::imbalance_tip),
              0.006);
}

TEST(ReedBending, TheCellsSensitivityForetellsWhatScrapingDoes) {
  const Bent b = bent({});
  const BendingFigures& figures = *b.reed.figures;
  const ThicknessMap& map = b.scan.map;
  // 4 um off the right rail, 8 to 12 mm from the tip.
  Field scraped = map.thickness_mm;
  std::array<double, kBendingFigureCount> told{};
  for (Eigen::Index r = 0; r < map.grid.rows; ++r) {
    for (Eigen::Index c = 0; c < map.grid.columns; ++c) {
      const double x = map.grid.x_mm(r), y = map.grid.y_mm(c);
      if (!map.measured(r, c) || x < 8 || x > 12 || y < 4) continue;
      scraped(r, c) -= 0.004F;
      for (std::size_t k = 0; k < told.size(); ++k)
        told.at(k) +=
            0.4 * static_cast<double>(b.reed.mechanics.sensitivity.at(k)(r, c)) * map.grid.cell_mm * map.grid.cell_mm;
    }
  }
  const Plate after = figures.plate_with(figures.reed().thickness_from(scraped));
  const BendingValues values = figures.of(after, false);
  for (const BendingFigure f :
       {BendingFigure::stiffness_right, BendingFigure::stiffness_lip, BendingFigure::imbalance_tip}) {
    const double change = values.value.at(index_of(f)) - figure(b, f);
    EXPECT_LT(change, 0.0) << phrase(title_of(f));
    EXPECT_NEAR(told.at(index_of(f)) / change, 1.0, 0.03) << phrase(title_of(f)) << ": thickness counts by its cube";
  }
}

// JCGM 101: the linearised spread against drawn scans.
TEST(ReedBending, TheScansUncertaintyOfAFigureIsWhatDrawnScansShow) {
  const Bent b = bent({}, test::rough_cane(1), {}, fixtures::laser_line());
  const ThicknessMap& map = b.scan.map;
  const BendingFigures& figures = *b.reed.figures;
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  constexpr int draws = 120;
  double sum = 0.0, squares = 0.0;
  const double white = std::sqrt(map.noise.covariance_sum_mm2 / (map.noise.bins_per_cell * map.noise.filled_share));
  for (int k = 0; k < draws; ++k) {
    Field drawn = map.thickness_mm;
    for (const CommonEffect& effect : map.common) drawn += static_cast<float>(normal(random)) * effect.shift_mm;
    for (Eigen::Index i = 0; i < drawn.size(); ++i) drawn.data()[i] += static_cast<float>(white * normal(random));
    const Plate plate = figures.plate_with(figures.reed().thickness_from(drawn));
    const double value = figures.of(plate, false).value.at(index_of(BendingFigure::imbalance_tip));
    sum += value;
    squares += value * value;
  }
  const double sd = std::sqrt((squares - sum * sum / draws) / (draws - 1));
  // 120 draws tell a standard deviation to 6.5 %, k = 2.
  EXPECT_NEAR(b.reed.mechanics.figure(BendingFigure::imbalance_tip).u_scan / sd, 1.0, 0.16);
}

// JCGM 101: the linearised spread of the cane against drawn canes.
TEST(ReedBending, TheCanesSpreadOfAFigureIsWhatDrawnCanesShow) {
  const Bent b = bent({});
  const BendingFigures& figures = *b.reed.figures;
  const CaneState state = cane_in(MoistureState::dry);
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal;
  constexpr int draws = 150;
  // A third of the spread: the linearisation is of that law, and no modulus turns negative.
  constexpr double share = 1.0 / 3.0;
  std::array<double, 2> sum{}, squares{};
  for (int k = 0; k < draws; ++k) {
    PlateModel model = figures.reed().model;
    const auto draw = [&](CanePart part) { return share * spread_of(state.spread, part) * normal(random); };
    model.cane.e_l_mpa *= 1.0 + draw(CanePart::e_l);
    model.cane.e_t_mpa *= 1.0 + draw(CanePart::e_t);
    model.cane.g_lt_mpa *= 1.0 + draw(CanePart::g_lt);
    model.cane.gradient_per_mm += draw(CanePart::gradient);
    model.left_right += draw(CanePart::left_right);
    const BendingValues values = figures.of(Plate(std::move(model)), false);
    for (const std::size_t f : {0U, 1U}) {
      const double value =
          values.value.at(index_of(f == 0 ? BendingFigure::stiffness_lip : BendingFigure::imbalance_tip));
      sum.at(f) += value;
      squares.at(f) += value * value;
    }
  }
  for (const std::size_t f : {0U, 1U}) {
    const double sd = std::sqrt((squares.at(f) - sum.at(f) * sum.at(f) / draws) / (draws - 1));
    const double told =
        b.reed.mechanics.figure(f == 0 ? BendingFigure::stiffness_lip : BendingFigure::imbalance_tip).u_cane;
    // 150 draws tell a standard deviation to 5.8 %, k = 2 and a little for curvature.
    EXPECT_NEAR(share * told / sd, 1.0, 0.15) << f;
  }
}

TEST(ReedBending, AMoreOpenMouthpieceWantsASofterReedAndACrookedFacingShows) {
  const Bent b = bent({});
  const Closing& closing = b.reed.mechanics.closing;
  for (std::size_t k = 1; k < closing.curve.size(); ++k) {
    EXPECT_LT(closing.curve[k].centre_mm, closing.curve[k - 1].centre_mm);
    EXPECT_LE(closing.curve[k].left_rests_mm, closing.curve[k - 1].left_rests_mm + 1e-9) << "it peels on, never off";
  }
  for (const OtherOpening& other : closing.others)
    EXPECT_EQ(other.tip_opening_mm > 1.05, other.stiffness_ratio < 1.0) << other.tip_opening_mm;
  EXPECT_NEAR(closing.right_minus_left_um, 0.0, 4.0);
  Player player;
  player.tip_opening_mm = 1.05;
  player.facing_length_mm = 18.0;
  player.right_tip_opening_mm = 1.15;
  const Closing crooked = bent({}, test::rough_cane(1), player).reed.mechanics.closing;
  EXPECT_GT(crooked.right_minus_left_um, 20.0);
  EXPECT_NEAR(crooked.facing_right_minus_left_um, crooked.right_minus_left_um, 5.0) << "the reed itself is even";
}

TEST(ReedBending, AReedThatStaysOpenWhateverIsBlownIsSaid) {
  Player player;
  player.tip_opening_mm = 2.5;
  player.facing_length_mm = 25.0;
  player.lip_force_n = 0.2;
  player.lip_at_mm = 1.5;  // Pressure in front of the lip only: nearly none.
  player.lip_length_mm = 1.0;
  const Closing closing = bent({}, test::rough_cane(1), player).reed.mechanics.closing;
  EXPECT_TRUE(std::isnan(closing.pressure_kpa));
  EXPECT_GT(closing.curve.back().centre_mm, 0.1);
  EXPECT_TRUE(closing.others.empty());
}

TEST(ReedBending, APatchBeyondTheWindowIsSaid) {
  Player player;
  player.lip_at_mm = 40.0;
  const Bent b = bent({}, test::rough_cane(1), player);
  EXPECT_FALSE(b.reed.mechanics.known());
  EXPECT_NE(test::in_english(b.reed.mechanics.why_not).find("window's end"), std::string::npos)
      << b.reed.mechanics.why_not;
}

TEST(ReedBending, ClippingStiffensAndAReedTooShortForTheLigatureIsSaid) {
  const Bent b = bent({});
  const Mouthpiece mouthpiece = mouthpiece_for({}, "clarinet-bb");
  const auto clipped = clipped_reeds({.map = b.scan.map,
                                      .outline = b.scan.aligned.outline,
                                      .bark = b.scan.assessment.cut.bark,
                                      .mouthpiece = mouthpiece,
                                      .cane = {}},
                                     lip_of({}, "clarinet-bb"));
  double last = 1.0;
  for (const ClippedReed& reed : clipped) {
    EXPECT_GT(reed.stiffness_ratio, last);
    last = reed.stiffness_ratio;
  }
  EXPECT_LT(last, 1.2);
  Player player;
  player.ligature_mm = 80.0;
  EXPECT_FALSE(bent({}, test::rough_cane(1), player).reed.mechanics.known());
}

}  // namespace
}  // namespace canewise
