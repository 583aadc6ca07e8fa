// Where a reed's stiffness is read: half closed. A beam on an arc in closed form; what stiffer cane and a far facing
// do.
#include "scanproc/mechanics/half_closed.h"

#include <gtest/gtest.h>

#include <cmath>

#include "scanproc/mechanics/bending_figures.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

BendingFigures figures_of(const test::ReedByHand& reed, const Embouchure& embouchure, const Cane& cane = {}) {
  const ReedPlateInputs inputs{.map = reed.map,
                               .outline = reed.outline,
                               .bark = reed.assessment.cut.bark,
                               .mouthpiece = embouchure.mouthpiece,
                               .cane = cane};
  return {reed_plate(inputs, {1.0, 0.0}), reed.outline, embouchure};
}
Embouchure usual() { return embouchure_of({}, "clarinet-bb"); }
test::ReedByHand uneven_wedge() {
  return test::reed_by_hand([](double x, double y) { return test::plain_wedge_mm(x) * (1.0 + 0.015 * y); });
}
HalfClosed by_lip(const BendingFigures& figures, const Mouthpiece& mouthpiece, const RailContact& contact = {}) {
  const ReedOnFacing reed(figures.plate(), figures.places(), contact);
  return figures.closed_by_lip(mouthpiece, figures.plate(), reed);
}

/// A beam of stiffness EI over an arc of radius R that begins L from its tip, under P at l from the tip. It lies down
/// to b = EI/(P R) behind the load and hangs free before it: a cantilever whose root follows the arc, straight from the
/// load to the tip (beam theory).
struct BeamOnArc {
  double ei, radius_mm, length_mm, load_at_mm;
  [[nodiscard]] double moved_mm(double b, double before_load_mm) const {
    const double root = length_mm - load_at_mm - b;  // Of the arc's length on which it lies.
    const double at_load = root * root / 2.0 + root * b + b * b / 3.0, slope = root + b / 2.0;
    return (at_load + before_load_mm * slope) / radius_mm;
  }
  /// Where the load leaves half of the opening at the tip.
  [[nodiscard]] double half_closed_b() const {
    const double half = 0.5 * length_mm * length_mm / (2.0 * radius_mm);
    double low = 1e-3, high = length_mm - load_at_mm;
    for (int k = 0; k < 60; ++k) (moved_mm(0.5 * (low + high), load_at_mm) > half ? low : high) = 0.5 * (low + high);
    return 0.5 * (low + high);
  }
  [[nodiscard]] double force_n() const { return ei / (radius_mm * half_closed_b()); }
  [[nodiscard]] double stiffness_n_per_mm() const { return force_n() / moved_mm(half_closed_b(), 0.0); }
};

TEST(HalfClosed, ABeamOnAnArcTakesTheForceOfItsClosedForm) {
  constexpr double thick_mm = 0.5, length_mm = 20.0, open_mm = 0.8;
  // Stiff across, so that a strip bends as a beam; it contracts nothing.
  const Cane beam{.e_l_mpa = 10000.0, .e_t_mpa = 1e6, .g_lt_mpa = 1e5, .nu_lt = 0.0, .gradient_per_mm = 0.0};
  const test::ReedByHand strip = test::reed_by_hand([](double, double) { return thick_mm; });
  for (const double at : {10.5, 11.5}) {
    const BeamOnArc closed_form{10000.0 * 12.0 * thick_mm * thick_mm * thick_mm / 12.0,
                                length_mm * length_mm / (2.0 * open_mm), length_mm, at};
    ASSERT_LT(at + closed_form.half_closed_b(), length_mm - 2.0) << "or it only hangs";
    Embouchure arc;
    arc.mouthpiece.window_end_mm = arc.mouthpiece.ligature_mm = length_mm;
    arc.mouthpiece.left = arc.mouthpiece.right = {.tip_opening_mm = open_mm, .length_mm = length_mm, .power = 2.0};
    arc.lip = {.at_mm = at, .length_mm = 1.0, .force_n = 1.0, .tip_patch_at_mm = 2.0};
    const HalfClosed half =
        by_lip(figures_of(strip, arc, beam), arc.mouthpiece, {.give_n_per_mm2 = 2e4, .roughness_mm = 1e-4});
    EXPECT_NEAR(half.force_n / closed_form.force_n(), 1.0, 0.04) << at;
    EXPECT_NEAR(half.stiffness_n_per_mm / closed_form.stiffness_n_per_mm(), 1.0, 0.04) << at;
  }
}

TEST(HalfClosed, AFacingThatIsNotReachedGivesTheFreeReedsFiguresToTheLastDigit) {
  Embouchure far = usual();
  far.mouthpiece.left = far.mouthpiece.right = {.tip_opening_mm = 9.0, .length_mm = 60.0};
  const BendingFigures figures = figures_of(uneven_wedge(), far);
  const BendingValues on_rails = figures.of(figures.plate(), true), free = figures.free_of(figures.plate(), true);
  EXPECT_EQ(on_rails.value, free.value);
  for (const BendingFigure f : kBendingFigures) {
    const auto& one = on_rails.derivative.at(index_of(f)).by_thickness;
    const auto& other = free.derivative.at(index_of(f)).by_thickness;
    EXPECT_LT((one - other).norm(), 1e-9 * other.norm()) << index_of(f);
  }
}

TEST(HalfClosed, HalfOfTheOpeningIsLeft) {
  const BendingFigures figures = figures_of(uneven_wedge(), usual());
  const HalfClosed half = by_lip(figures, usual().mouthpiece);
  const RailPlaces& places = figures.places();
  const Eigen::Index first = places.first_of_tip(), count = places.side.size() - first;
  const Eigen::VectorXd gap = gaps_at(places, usual().mouthpiece.left, usual().mouthpiece.right);
  EXPECT_NEAR(-half.pressed.depth_mm.tail(count).mean() / gap.tail(count).mean(), 0.5, 1e-9);
  EXPECT_GT(half.pressed.force_n.sum(), half.force_n) << "the rails carry more than the lip presses: a lever";
}

// A reed's cane is known to a third at best; this is why ratios hold all the same.
TEST(HalfClosed, StifferCaneTakesSoMuchMoreForceAndNoOtherBalance) {
  const Cane soft, stiff{.e_l_mpa = 1.7 * soft.e_l_mpa, .e_t_mpa = 1.7 * soft.e_t_mpa, .g_lt_mpa = 1.7 * soft.g_lt_mpa};
  const BendingFigures one = figures_of(uneven_wedge(), usual(), soft),
                       other = figures_of(uneven_wedge(), usual(), stiff);
  const BendingValues of_soft = one.of(one.plate(), false), of_stiff = other.of(other.plate(), false);
  for (const BendingFigure f : kBendingFigures) {
    const double a = of_soft.value.at(index_of(f)), b = of_stiff.value.at(index_of(f));
    // Rails give a little, whatever lies on them.
    if (is_imbalance(f)) {
      EXPECT_NEAR(b, a, 0.002) << index_of(f);
    } else {
      EXPECT_NEAR(b / a, 1.7, 0.02) << index_of(f);
    }
  }
}

// Common practice: a reed closes onto a facing that curves away. The more of it lies down, the stiffer it is.
TEST(HalfClosed, OnItsRailsAReedIsStifferAndLessEvenThanFree) {
  const test::ReedByHand heavy = test::reed_by_hand(
      [](double x, double y) { return test::plain_wedge_mm(x) + (x > 6.0 && x < 22.0 && y > 4.2 ? 0.095 : 0.0); });
  const BendingFigures figures = figures_of(heavy, usual());
  const BendingValues on_rails = figures.of(figures.plate(), false), free = figures.free_of(figures.plate(), false);
  const auto lip = index_of(BendingFigure::stiffness_lip), uneven = index_of(BendingFigure::imbalance_lip);
  EXPECT_GT(on_rails.value.at(lip), 1.3 * free.value.at(lip));
  EXPECT_GT(on_rails.value.at(uneven), 1.2 * free.value.at(uneven));
}

}  // namespace
}  // namespace canewise
