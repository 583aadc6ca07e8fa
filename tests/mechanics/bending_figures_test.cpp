#include "scanproc/mechanics/bending_figures.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <set>
#include <stdexcept>

#include "scanproc/mechanics/bending_figure.h"
#include "scanproc/words/speech.h"
#include "tests/support/judge_on_rails.h"
#include "tests/support/reed_by_hand.h"

namespace canewise {
namespace {

using test::plain_wedge_mm;

constexpr double kRightThicker = 0.015;  // By each millimetre to the right, as a share.
double uneven_mm(double x, double y) { return plain_wedge_mm(x) * (1.0 + kRightThicker * y); }

BendingFigures figures_of(const test::ReedByHand& reed, double spacing_mm, const Cane& cane = {},
                          const Mouthpiece& mouthpiece = mouthpiece_for({}, "clarinet-bb"), double clip_mm = 0.0) {
  const ReedPlateInputs inputs{.map = reed.map,
                               .outline = reed.outline,
                               .bark = reed.assessment.cut.bark,
                               .mouthpiece = mouthpiece,
                               .cane = cane};
  return {reed_plate(inputs, {spacing_mm, clip_mm}), reed.outline, {mouthpiece, lip_of({}, "clarinet-bb")}};
}
double value(const BendingValues& values, BendingFigure figure) { return values.value.at(index_of(figure)); }

/// A beam clamped 38 mm from its tip, free before that: its sheet contracts nothing across.
Mouthpiece clamp_alone() {
  Mouthpiece mouthpiece;
  mouthpiece.window_end_mm = mouthpiece.ligature_mm = 38.0;
  return mouthpiece;
}
constexpr Cane kBeam{.e_l_mpa = 10000.0, .nu_lt = 0.0, .gradient_per_mm = 0.0};

// Beam theory: E I = 10000 x 12 x 0.5^3/12 N mm2; the lip's patch lies 26 to 30 mm from the clamp, and the mean of the
// deflection under it for the same force spread over it is 5.8543 mm/N.
TEST(BendingFigures, AFlatStripUnderTheLipIsABeam) {
  const test::ReedByHand strip = test::reed_by_hand([](double, double) { return 0.5; });
  const BendingFigures figures = figures_of(strip, 1.0, kBeam, clamp_alone());
  EXPECT_NEAR(value(figures.free_of(figures.plate(), false), BendingFigure::stiffness_lip) * 5.8543, 1.0, 0.005);
}

TEST(BendingFigures, AClipMovesLipAndMouthpieceTogether) {
  const test::ReedByHand strip = test::reed_by_hand([](double, double) { return 0.5; });
  const BendingFigures clipped = figures_of(strip, 1.0, kBeam, clamp_alone(), 0.5);
  // Of a strip that is everywhere alike nothing changes; half a millimetre of lever would be five per cent.
  EXPECT_NEAR(value(clipped.free_of(clipped.plate(), false), BendingFigure::stiffness_lip) * 5.8543, 1.0, 0.005);
}

double imbalance(double left, double right) { return 2.0 * (right - left) / (right + left); }

/// Another solver on another net: 'The judge' of closed_loop.h.
class AnotherSolver {
 public:
  AnotherSolver() : plate_(reed()) {}

  // Patches of 2 mm, 5 mm from the tip, aside by 0.6 of 6 mm; under the lip 4 mm at 10 mm.
  template <typename Stiffness>
  static std::array<double, kBendingFigureCount> figures(const Stiffness& stiffness) {
    const double left = stiffness(5.0, -3.6, 2.0, 2.0, -1), right = stiffness(5.0, 3.6, 2.0, 2.0, 1);
    return {left,
            stiffness(5.0, 0.0, 2.0, 2.0, 0),
            right,
            stiffness(10.0, 0.0, 4.0, 12.0, 0),
            imbalance(left, right),
            imbalance(stiffness(10.0, -3.0, 4.0, 6.0, -1), stiffness(10.0, 3.0, 4.0, 6.0, 1))};
  }
  [[nodiscard]] std::array<double, kBendingFigureCount> free() const {
    return figures([&](double x, double y, double l, double w, int) { return plate_.stiffness(x, y, l, w); });
  }
  [[nodiscard]] std::array<double, kBendingFigureCount> on_rails(const Mouthpiece& m) const {
    const test::JudgeOnRails judge(plate_,
                                   {.opening_mm = m.left.tip_opening_mm,
                                    .length_mm = m.left.length_mm,
                                    .window_end_mm = m.window_end_mm,
                                    .rail_width_mm = m.rail_width_mm},
                                   [](double) { return 6.0; });
    return figures([&](double x, double y, double l, double w, int part) {
      return judge.stiffness(plate_.patch(x, y, l, w), part);
    });
  }

 private:
  static fixtures::SplineReed reed() {
    fixtures::SplineReed other;
    other.thickness_mm = uneven_mm;
    other.inside = [](double x, double y) { return x >= 0.0 && std::abs(y) <= 6.0; };
    other.bark_mm = [](double, double) { return test::ReedByHand::kBark_mm; };
    other.half_width_mm = [](double) { return 6.0; };
    return other;
  }
  fixtures::SplinePlate plate_;
};

void expect_near(const BendingValues& found, const std::array<double, kBendingFigureCount>& expected, double at_tip_rel,
                 double under_lip_rel) {
  for (const BendingFigure f : kBendingFigures) {
    const double of_other = expected.at(index_of(f));
    if (is_imbalance(f)) {
      ASSERT_GT(of_other, 0.04) << "or this test shows nothing";
      EXPECT_NEAR(value(found, f), of_other, 0.006) << index_of(f);
    } else {
      EXPECT_NEAR(value(found, f) / of_other, 1.0, f == BendingFigure::stiffness_lip ? under_lip_rel : at_tip_rel)
          << index_of(f);
    }
  }
}

TEST(BendingFigures, AnUnevenReedHasTheFiguresOfAnotherSolver) {
  const test::ReedByHand reed = test::reed_by_hand(uneven_mm);
  const BendingFigures figures = figures_of(reed, 0.6);
  const AnotherSolver other;
  expect_near(figures.free_of(figures.plate(), false), other.free(), 0.03, 0.015);
  // Rails that give as cane does make the lip's imbalance 0.01 smaller than rails of stone.
  const Mouthpiece mouthpiece = mouthpiece_for({}, "clarinet-bb");
  const ReedOnFacing hard(figures.plate(), figures.places(), {.give_n_per_mm2 = 2e4, .roughness_mm = 1e-4});
  expect_near(figures.on(mouthpiece, figures.plate(), hard), other.on_rails(mouthpiece), 0.05, 0.05);
}

TEST(BendingFigures, TheMirrorImageExchangesLeftAndRight) {
  const BendingFigures one = figures_of(test::reed_by_hand(uneven_mm), 1.0),
                       image = figures_of(test::reed_by_hand([](double x, double y) { return uneven_mm(x, -y); }), 1.0);
  const BendingValues a = one.of(one.plate(), false), b = image.of(image.plate(), false);
  // Meshes are mirror images but for which diagonal of a trapezoid is taken.
  EXPECT_NEAR(value(a, BendingFigure::stiffness_left) / value(b, BendingFigure::stiffness_right), 1.0, 0.01);
  EXPECT_NEAR(value(a, BendingFigure::stiffness_right) / value(b, BendingFigure::stiffness_left), 1.0, 0.01);
  EXPECT_NEAR(value(a, BendingFigure::imbalance_tip), -value(b, BendingFigure::imbalance_tip), 0.006);
  EXPECT_NEAR(value(a, BendingFigure::imbalance_lip), -value(b, BendingFigure::imbalance_lip), 0.006);
  EXPECT_GT(value(a, BendingFigure::imbalance_lip), 0.02) << "the right is stiffer";
}

TEST(BendingFigures, StiffnessFollowsTheCubeOfThicknessAndImbalanceDoesNot) {
  const BendingFigures figures = figures_of(test::reed_by_hand(uneven_mm), 1.5, kBeam);
  const Plate thicker = figures.plate_with(1.1 * figures.reed().model.thickness_mm);
  const BendingValues free = figures.free_of(figures.plate(), false), free_thick = figures.free_of(thicker, false),
                      now = figures.of(figures.plate(), false), thick = figures.of(thicker, false);
  for (const BendingFigure f : kBendingFigures) {
    EXPECT_NEAR(value(free_thick, f) / value(free, f), is_imbalance(f) ? 1.0 : 1.331, 1e-8) << index_of(f);
    // The rails give a little, and that does not grow with the reed.
    EXPECT_NEAR(value(thick, f) / value(now, f), is_imbalance(f) ? 1.0 : 1.331, 0.01) << index_of(f);
  }
}

TEST(BendingFigures, DerivativesAreThoseOfTheFiguresAndOnlyMadeIfAskedFor) {
  const BendingFigures figures = figures_of(test::reed_by_hand(uneven_mm), 1.5);
  const BendingValues values = figures.of(figures.plate(), true);
  const Eigen::Matrix2Xd points = figures.reed().model.mesh.thickness_points_mm();
  const Eigen::VectorXd shape = (0.3 * points.row(0).array() + 0.9 * points.row(1).array()).sin().matrix().transpose();
  constexpr double step = 1e-4;
  const auto with_thickness = [&](double by) {
    return figures.of(figures.plate_with(figures.reed().model.thickness_mm + by * shape), false);
  };
  const auto with_sides = [&](double by) {
    PlateModel model = figures.reed().model;
    model.left_right = by;
    return figures.of(Plate(std::move(model)), false);
  };
  const BendingValues thick = with_thickness(step), thin = with_thickness(-step), right = with_sides(step),
                      left = with_sides(-step);
  for (const BendingFigure f : kBendingFigures) {
    const PlateDerivative& derivative = values.derivative.at(index_of(f));
    const double by_thickness = (value(thick, f) - value(thin, f)) / (2.0 * step),
                 by_sides = (value(right, f) - value(left, f)) / (2.0 * step);
    EXPECT_NEAR(derivative.by_thickness.dot(shape), by_thickness, 1e-3 * std::abs(by_thickness) + 1e-6) << index_of(f);
    EXPECT_NEAR(derivative.by_cane(static_cast<Eigen::Index>(CanePart::left_right)), by_sides,
                1e-3 * std::abs(by_sides) + 1e-6)
        << index_of(f);
    if (is_imbalance(f)) {
      EXPECT_GT(by_sides, 0.1) << "stiffer cane on the right bends less there";
    }
    EXPECT_EQ(thick.derivative.at(index_of(f)).by_thickness.size(), 0);
  }
}

/// Force, and where it acts.
Eigen::Vector3d resultant(const BendingFigures& figures, const Eigen::VectorXd& load) {
  const Eigen::Matrix2Xd& nodes = figures.reed().model.mesh.nodes_mm;
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (Eigen::Index n = 0; n < nodes.cols(); ++n) {
    const double force = load(3 * n);
    sum += Eigen::Vector3d(force, force * nodes(0, n) + load(3 * n + 1), force * nodes(1, n) + load(3 * n + 2));
  }
  return {sum(0), sum(1) / sum(0), sum(2) / sum(0)};
}

TEST(BendingFigures, APatchCarriesOneNewtonAlsoWhereItHangsOverTheRim) {
  const BendingFigures figures = figures_of(test::reed_by_hand(uneven_mm), 1.5);
  EXPECT_LT((resultant(figures, figures.patch(5.0, -3.6, 2.0, 2.0)) - Eigen::Vector3d(1.0, 5.0, -3.6)).norm(), 1e-9);
  // From 4.4 to 6.4 mm aside, of which the reed's 6 mm end the last two fifths of a millimetre.
  EXPECT_LT((resultant(figures, figures.patch(7.0, 5.4, 3.0, 2.0)) - Eigen::Vector3d(1.0, 7.0, 5.2)).norm(), 1e-9);
  EXPECT_THROW((void)figures.patch(5.0, 9.0, 2.0, 2.0), std::logic_error);
}

TEST(BendingFigures, EachHasItsNumberAndItsTitle) {
  std::set<std::string> ids, words;
  for (std::size_t k = 0; k < kBendingFigureCount; ++k) {
    EXPECT_EQ(index_of(kBendingFigures.at(k)), k);
    ids.insert(title_of(kBendingFigures.at(k)).id);
    words.insert(phrase(title_of(kBendingFigures.at(k))));
  }
  EXPECT_EQ(ids.size(), kBendingFigureCount);
  EXPECT_EQ(words.size(), kBendingFigureCount);
  EXPECT_EQ(title_of(BendingFigure::stiffness_left).id, "bending.stiffness_left");
  EXPECT_EQ(title_of(BendingFigure::stiffness_right).id, "bending.stiffness_right");
  EXPECT_TRUE(is_imbalance(BendingFigure::imbalance_tip));
  EXPECT_TRUE(is_imbalance(BendingFigure::imbalance_lip));
  EXPECT_FALSE(is_imbalance(BendingFigure::stiffness_lip));
}

}  // namespace
}  // namespace canewise
