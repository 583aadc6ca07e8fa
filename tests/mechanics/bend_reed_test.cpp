// On reeds whose map is a formula; reed_bending_test.cpp has scanned ones.
#include "scanproc/mechanics/bend_reed.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/core/error.h"
#include "scanproc/mechanics/clipped_reed.h"
#include "tests/support/in_english.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

using test::plain_wedge_mm;

/// Thicker to one side: +1 right, -1 left.
test::ReedByHand uneven(double side) {
  return test::reed_by_hand([=](double x, double y) { return plain_wedge_mm(x) * (1.0 + side * 0.02 * y); });
}
test::ReedByHand even() {
  return test::reed_by_hand([](double x, double) { return plain_wedge_mm(x); });
}
BentReed bend(const test::ReedByHand& reed, const Player& player = {}, MoistureState state = MoistureState::dry,
              const BendOptions& options = {.spacing_mm = 1.2, .modes = 1}) {
  return bend_reed({.map = reed.map,
                    .outline = reed.outline,
                    .assessment = reed.assessment,
                    .player = player,
                    .instrument = "clarinet-bb",
                    .state = state},
                   options);
}
std::string word_of(const Message& message, const char* name) { return std::get<Word>(message.arguments.at(name)).key; }
double number_of(const Message& message, const char* name) {
  return std::get<Number>(message.arguments.at(name)).value;
}

TEST(BendReed, TheSentenceNamesTheStifferSide) {
  for (const double side : {-1.0, 1.0}) {
    const std::string name = side > 0.0 ? "right" : "left";
    const Mechanics m = bend(uneven(side)).mechanics;
    ASSERT_TRUE(m.known()) << m.why_not;
    const double tip = m.figure(BendingFigure::imbalance_tip).value, lip = m.figure(BendingFigure::imbalance_lip).value;
    EXPECT_GT(side * tip, kUsualTolerances.imbalance) << "thicker cane bends less";
    ASSERT_EQ(m.sentence.size(), 1U);
    EXPECT_EQ(m.sentence.front().id, "bending.uneven");
    EXPECT_EQ(word_of(m.sentence.front(), "side"), name);
    EXPECT_EQ(word_of(m.sentence.front(), "at"), std::abs(tip) >= std::abs(lip) ? "tip" : "lip");
    EXPECT_NEAR(number_of(m.sentence.front(), "percent"), 100.0 * std::max(std::abs(tip), std::abs(lip)), 1e-9);
    EXPECT_NE(test::in_english(m.sentence).find("the " + name + " side is"), std::string::npos) << m.sentence;
    EXPECT_EQ(m.verdicts.at(index_of(BendingFigure::imbalance_tip)), Verdict::outside);
    EXPECT_EQ(m.verdicts.at(index_of(BendingFigure::stiffness_lip)), Verdict::cannot_tell) << "no tolerance for that";
    // The other side gives way more, patch by patch and under the lip.
    for (const ComplianceAt& at : m.along) {
      if (at.x_mm > 20.0) break;
      EXPECT_GT(side * (at.left_mm_per_n - at.right_mm_per_n), 0.0) << at.x_mm;
    }
    ASSERT_EQ(m.bent_mm.cols(), 12);
    EXPECT_EQ(m.shape_first_y_mm, -5.5);
    EXPECT_GT(side * (m.bent_mm(1, 0) - m.bent_mm(1, 11)), 0.0);
  }
}

TEST(BendReed, AnEvenReedIsCalledEvenWithBothFiguresAndTheTolerance) {
  const Message sentence = bend(even()).mechanics.sentence.front();
  EXPECT_EQ(sentence.id, "bending.even");
  // Per cent; coarse triangles are mirror images but for which diagonal of a trapezoid is taken.
  EXPECT_NEAR(number_of(sentence, "tip"), 0.0, 1.5);
  EXPECT_NEAR(number_of(sentence, "lip"), 0.0, 1.5);
  EXPECT_TRUE(std::get<Number>(sentence.arguments.at("tip")).with_sign);
  EXPECT_NEAR(number_of(sentence, "tolerated"), 6.0, 1e-9) << "per cent";
}

TEST(BendReed, WhereARollIsNotKnownItSaysThatItCannotTellAndHowFar) {
  test::ReedByHand reed = even();
  CommonEffect roll{EffectSource::seating, {"effect.form", {{"form", word("roll")}}}, Field::Zero(240, 48)};
  for (Eigen::Index c = 0; c < 48; ++c)
    roll.shift_mm.col(c).setConstant(static_cast<float>(0.040 * reed.map.grid.y_mm(c) / 6.0));
  reed.map.common.push_back(roll);
  const Mechanics m = bend(reed).mechanics;
  EXPECT_EQ(m.sentence.front().id, "bending.too_close");
  EXPECT_EQ(m.verdicts.at(index_of(BendingFigure::imbalance_tip)), Verdict::cannot_tell);
  const double u = m.figure(BendingFigure::imbalance_tip).u_scan;
  ASSERT_GT(u, kUsualTolerances.imbalance / 1.96);
  EXPECT_NEAR(number_of(m.sentence.front(), "u"), 195.996 * u, 0.01 * u) << "per cent, 95 of 100 times";
}

// White: 4e-6 mm2 a cell (8e-6 over 4 bins, half of them filled) times 9 + 1 + 4 + 0.25. One effect shifts all cells by
// 2 um: 4.5 x 0.002. The other by (1, -, -2, 3) um: 0.003 - 0.004 + 0.0015. GUM, eq. (10).
TEST(BendReed, TheScansUncertaintyAddsCommonEffectsWithTheirSignAndNoiseByItsSquare) {
  ThicknessMap map;
  map.grid = {0.25, 2, 2};
  map.noise.covariance_sum_mm2 = 8e-6;
  map.noise.bins_per_cell = 4.0;
  map.noise.filled_share = 0.5;
  Field all(2, 2), some(2, 2), by(2, 2);
  all.setConstant(0.002F);
  some << 0.001F, std::numeric_limits<float>::quiet_NaN(), -0.002F, 0.003F;
  by << 3.0F, -1.0F, 2.0F, 0.5F;
  EXPECT_NEAR(scan_uncertainty(map, by), std::sqrt(14.25 * 4e-6), 1e-9);
  map.common = {{EffectSource::seating, {}, all}, {EffectSource::plate_form, {}, some}};
  EXPECT_NEAR(scan_uncertainty(map, by), std::sqrt(57e-6 + 81e-6 + 0.25e-6), 1e-8);
}

TEST(BendReed, ItSaysWhyNothingCanBeSaid) {
  Player player;
  player.ligature_mm = 60.5;
  const BentReed too_short = bend(even(), player);
  EXPECT_EQ(too_short.mechanics.why_not.id, "bending.too_short");
  EXPECT_FALSE(too_short.figures);
  player.ligature_mm.reset();
  player.lip_at_mm = 30.5;  // Its patch ends 32.5 mm from the tip, the window at 32.
  const Message past = bend(even(), player).mechanics.why_not;
  EXPECT_EQ(past.id, "bending.past_window");
  EXPECT_NEAR(std::get<Length>(past.arguments.at("reach")).value, 32.5, 1e-9);
  EXPECT_NEAR(std::get<Length>(past.arguments.at("window_end")).value, 32.0, 1e-9);
  player.lip_at_mm = 10.0;
  player.tip_patch_at_mm = 31.5;
  EXPECT_EQ(bend(even(), player).mechanics.why_not.id, "bending.past_window") << "the tip's patch counts too";
  test::ReedByHand torn = even();
  torn.map.thickness_mm.middleRows(60, 32).setConstant(std::numeric_limits<float>::quiet_NaN());
  const BentReed hole = bend(torn);
  EXPECT_EQ(hole.mechanics.why_not.id, "bending.hole");
  EXPECT_FALSE(hole.figures);
}

// A single reference: u of the logarithm is hypot(0.1, 0.1), a half strength is ln 1.15, so that 1.96 u are 1.98 half
// strengths: one strength to either side. One standard uncertainty would be a half.
TEST(BendReed, StrengthIsGivenWithItsRangeOfNinetyFivePerCent) {
  Player player;
  const double lip = bend(even()).mechanics.figure(BendingFigure::stiffness_lip).value;
  player.known = {{"reference", 0.0, lip, MoistureState::dry}, {"a half softer", -1.0, 0.4 * lip, MoistureState::wet}};
  const Strength strength = bend(even(), player).mechanics.strength;
  ASSERT_TRUE(strength.known);
  EXPECT_NEAR(strength.halves, 0.0, 1e-6);
  ASSERT_EQ(strength.sentence.size(), 3U);
  const auto words = [&](const char* name) {
    return phrase(std::get<Messages>(strength.sentence.front().arguments.at(name)).front());
  };
  EXPECT_EQ(words("low"), phrase(halves_words(-2.0)));
  EXPECT_EQ(words("high"), phrase(halves_words(2.0)));
  EXPECT_EQ(strength.sentence[2].id, "strength.not_counted");
  EXPECT_EQ(std::get<std::int64_t>(strength.sentence[2].arguments.at("reeds")), 1);
  EXPECT_EQ(word_of(strength.sentence[2], "this_one"), "dry");
}

// Along the wedge the mean from 0.5 to 1.5 mm behind the clipped edge is the thickness 1 mm behind it; what the rails
// have does not count.
TEST(BendReed, AClipsTipAndStiffnessAreThoseOfTheReedFromThereOn) {
  const test::ReedByHand reed = test::reed_by_hand(
      [](double x, double y) { return plain_wedge_mm(x) + 0.01 * std::max(0.0, std::abs(y) - 3.0); });
  const Mouthpiece mouthpiece = mouthpiece_for({}, "clarinet-bb");
  const Cane cane;
  const auto on = [&](const Mouthpiece& held) {
    return ReedPlateInputs{
        .map = reed.map, .outline = reed.outline, .bark = reed.assessment.cut.bark, .mouthpiece = held, .cane = cane};
  };
  const Lip lip = lip_of({}, "clarinet-bb");
  const auto clipped = clipped_reeds(on(mouthpiece), lip);
  ASSERT_EQ(clipped.size(), 5U);
  const double whole = clipped[0].stiffness_lip_n_per_mm / clipped[0].stiffness_ratio;
  double last = 1.0;
  for (std::size_t k = 0; k < 5; ++k) {
    const double clip = 0.1 * static_cast<double>(k + 1);
    EXPECT_NEAR(clipped[k].clip_mm, clip, 1e-12);
    EXPECT_NEAR(clipped[k].tip_thickness_mm, plain_wedge_mm(1.0 + clip), 3e-4) << clip;
    EXPECT_NEAR(clipped[k].stiffness_lip_n_per_mm / clipped[k].stiffness_ratio, whole, 1e-9 * whole);
    EXPECT_GT(clipped[k].stiffness_ratio, last);
    last = clipped[k].stiffness_ratio;
  }
  // Computed for itself; the parabola and another mesh make a few tenths of a per cent.
  const auto stiffness = [&](double clip) {
    const BendingFigures figures(reed_plate(on(mouthpiece), {0.9, clip}), reed.outline, {mouthpiece, lip});
    return figures.of(figures.plate(), false).value.at(index_of(BendingFigure::stiffness_lip));
  };
  EXPECT_NEAR(clipped[2].stiffness_ratio, stiffness(0.3) / stiffness(0.0), 0.004);
}

TEST(BendReed, ClipsAreComputedOnlyIfAskedFor) {
  const BentReed reed = bend(even()),
                 clipped = bend(even(), {}, MoistureState::dry, {.spacing_mm = 1.2, .modes = 1, .clip = true});
  EXPECT_TRUE(reed.clipped.empty());
  EXPECT_EQ(clipped.clipped.size(), 5U);
  EXPECT_EQ(reed.mechanics.modes.size(), 1U);
}

TEST(BendReed, ItIsShownWhereTheLipHasHalfClosedItHoweverFirmlyThePlayerBites) {
  Player firm;
  firm.lip_force_n = 2.5;
  const Mechanics m = bend(even()).mechanics, pressed = bend(even(), firm).mechanics;
  EXPECT_TRUE((m.bent_mm == pressed.bent_mm || m.bent_mm.isNaN()).all());
  // Half a millimetre from the tip, beside the middle; the gap there less the bend is half the tip's gap.
  const double opening = mouthpiece_for({}, "clarinet-bb").left.tip_opening_mm;
  EXPECT_NEAR(m.bent_mm(0, 6) / opening, 0.5, 0.03);
}

TEST(BendReed, OptionsOutOfTheirRangeAreRefused) {
  const auto refused = [](const BendOptions& options) {
    try {
      validate(options);
    } catch (const UsageError& error) {
      return error.message().id;
    }
    return std::string();
  };
  for (const BendOptions& good : {BendOptions{}, BendOptions{0.2, 1}, BendOptions{3.0, 20}})
    EXPECT_EQ(refused(good), "");
  for (const double spacing : {0.19, 3.01, std::nan("")})
    EXPECT_EQ(refused({spacing, 6}), "bending.spacing") << spacing;
  for (const int modes : {0, 21}) EXPECT_EQ(refused({0.6, modes}), "bending.modes") << modes;
}

/// Cane of which all is known, stiffer to the right by so much.
MeasuredCane known_cane(double left_right, double u_sides = 0.01) {
  MeasuredCane cane;
  cane.left_right = left_right;
  cane.state = MoistureState::dry;
  for (Eigen::Index k = 0; k < 6; ++k) cane.covariance(k, k) = 4e-4;
  cane.covariance(5, 5) = u_sides * u_sides;
  return cane;
}
BentReed bend_with(const test::ReedByHand& reed, const MeasuredCane& cane, const Player& player = {}) {
  return bend_reed({.map = reed.map,
                    .outline = reed.outline,
                    .assessment = reed.assessment,
                    .player = player,
                    .instrument = "clarinet-bb",
                    .state = MoistureState::dry,
                    .measured_cane = &cane},
                   {.spacing_mm = 1.2, .modes = 1});
}

TEST(BendReed, MeasuredCaneStandsInEveryFigureWithItsOwnUncertainty) {
  const Mechanics assumed = bend(even()).mechanics;
  MeasuredCane stiff = known_cane(0.0);
  stiff.cane.e_l_mpa *= 1.3, stiff.cane.e_t_mpa *= 1.3, stiff.cane.g_lt_mpa *= 1.3;
  const Mechanics m = bend_with(even(), stiff).mechanics;
  const SpreadValue &was = assumed.figure(BendingFigure::stiffness_lip), &is = m.figure(BendingFigure::stiffness_lip);
  EXPECT_NEAR(is.value / was.value, 1.3, 0.02) << "all moduli together; the cane of the rails yields with it";
  EXPECT_GT(was.u_cane / was.value, 0.15);
  EXPECT_LT(is.u_cane / is.value, 0.03);
  EXPECT_EQ(m.cane.id, "cane.measured");
}

TEST(BendReed, CaneThatIsStifferOnOneSideMakesAnEvenShapeUnevenOnceItIsMeasured) {
  for (const double sides : {-0.15, 0.15}) {
    const BentReed bent = bend_with(even(), known_cane(sides));
    const Mechanics& m = bent.mechanics;
    EXPECT_GT(m.figure(BendingFigure::imbalance_tip).value * sides, 0.0);
    EXPECT_GT(std::abs(m.figure(BendingFigure::imbalance_tip).value), 0.07);
    EXPECT_EQ(m.verdicts.at(index_of(BendingFigure::imbalance_tip)), Verdict::outside);
    EXPECT_EQ(m.sentence.front().id, "bending.own_uneven");
    EXPECT_EQ(word_of(m.sentence.front(), "side"), sides > 0.0 ? "right" : "left");
    EXPECT_TRUE(bent.sides.measured);
    EXPECT_EQ(bent.sides.right_over_left, sides);
    EXPECT_NEAR(bent.sides.u, 0.01, 1e-12);
  }
  EXPECT_EQ(bend_with(even(), known_cane(0.0)).mechanics.sentence.front().id, "bending.own_even");
  EXPECT_EQ(bend_with(even(), known_cane(0.0, 0.08)).mechanics.sentence.front().id, "bending.too_close")
      << "what was not found of the sides is not taken for nothing";
}

TEST(BendReed, BentReedsAreComparedWithBentReedsAndOthersByShapeAlone) {
  const MeasuredCane cane = known_cane(0.0);
  const double own = bend_with(even(), cane).mechanics.figure(BendingFigure::stiffness_lip).value;
  const auto with = [&](bool reference_was_bent) {
    Player player;
    player.known = {{"reference", 0.0, 1.15 * own, MoistureState::dry, "", "", reference_was_bent}};
    return bend_with(even(), cane, player).mechanics.strength;
  };
  EXPECT_NEAR(with(true).halves, -1.0, 1e-6);
  EXPECT_NEAR(with(false).halves, -1.0, 0.02) << "the assumed cane is as stiff";
  // Stiffer cane does not make its shape a stiffer one; the plan's scale goes with it.
  MeasuredCane stiff = known_cane(0.0);
  stiff.cane.e_l_mpa *= 1.5, stiff.cane.e_t_mpa *= 1.5, stiff.cane.g_lt_mpa *= 1.5;
  Player by_shape;
  by_shape.known = {{"reference", 0.0, 1.15 * own, MoistureState::dry, "", "", false}};
  const BentReed stiffer = bend_with(even(), stiff, by_shape);
  EXPECT_NEAR(stiffer.mechanics.strength.halves, -1.0, 0.02);
  EXPECT_NEAR(stiffer.scale.reference_n_per_mm / stiffer.mechanics.figure(BendingFigure::stiffness_lip).value, 1.15,
              0.005);
  MeasuredCane exact = known_cane(0.0);
  exact.covariance.setZero();
  by_shape.known.front().cane_is_measured = true;
  EXPECT_TRUE(std::isfinite(bend_with(even(), exact, by_shape).mechanics.strength.u_halves));
  EXPECT_LT(with(true).u_halves, 0.6 * with(false).u_halves) << "nothing is left of one reed's cane against another's";
  const auto says = [](const Strength& strength, const char* id) {
    return std::any_of(strength.sentence.begin(), strength.sentence.end(),
                       [&](const Message& m) { return m.id == id; });
  };
  EXPECT_TRUE(says(with(false), "strength.reference_not_bent"));
  EXPECT_FALSE(says(with(true), "strength.reference_not_bent"));
  EXPECT_TRUE(says(bend_with(even(), cane).mechanics.strength, "strength.own_cane"));
}

}  // namespace
}  // namespace canewise
