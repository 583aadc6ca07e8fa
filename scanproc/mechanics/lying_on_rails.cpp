#include "scanproc/mechanics/lying_on_rails.h"

namespace canewise {

LyingOnRails lie_on_rails(const BendingFigures& figures, const ReedOnFacing& reed, const Embouchure& embouchure) {
  const Mouthpiece& mouthpiece = embouchure.mouthpiece;
  const Eigen::MatrixXd& loads = figures.loads();
  const Eigen::MatrixXd free = figures.plate().solve(loads);
  const Eigen::VectorXd by_lip = embouchure.lip.force_n * reed.at_places(free.col(BendingFigures::kLipLoad)).col(0);
  const auto pressed_on = [&](const FacingCurve& left, const FacingCurve& right) {
    return reed.press(by_lip, gaps_at(reed.places(), left, right));
  };
  const auto figures_on = [&](const Pressed& pressed) { return figures.from(reed.further(pressed, free)); };
  const FacingCurve even = mean_of(mouthpiece.left, mouthpiece.right);
  const Pressed pressed = pressed_on(mouthpiece.left, mouthpiece.right);
  const auto on_these = figures_on(pressed), on_even = figures_on(pressed_on(even, even));
  const auto by_facing = [&](BendingFigure f) { return on_these.at(index_of(f)) - on_even.at(index_of(f)); };
  const Resting resting = resting_of(reed.places(), pressed, mouthpiece.window_end_mm);
  return {resting.left_mm, resting.right_mm, by_facing(BendingFigure::imbalance_tip),
          by_facing(BendingFigure::imbalance_lip)};
}

}  // namespace canewise
