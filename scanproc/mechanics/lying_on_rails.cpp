#include "scanproc/mechanics/lying_on_rails.h"

#include "scanproc/mechanics/bending_figures.h"

namespace canewise {

LyingOnRails lie_on_rails(const LieInputs& inputs) {
  const Mouthpiece &these = inputs.mouthpiece, &even = inputs.figures.even_mouthpiece();
  const Resting resting = resting_of(inputs.reed.places(), inputs.closed.pressed, these.window_end_mm);
  LyingOnRails lying{resting.left_mm, resting.right_mm, 0.0, 0.0};
  const RailPlaces& places = inputs.reed.places();
  if (gaps_at(places, these.left, these.right) == gaps_at(places, even.left, even.right)) return lying;
  const BendingValues on_these = inputs.figures.on(these, inputs.figures.plate(), inputs.reed);
  const auto by_facing = [&](BendingFigure f) {
    return on_these.value.at(index_of(f)) - inputs.even.value.at(index_of(f));
  };
  lying.imbalance_tip_by_facing = by_facing(BendingFigure::imbalance_tip);
  lying.imbalance_lip_by_facing = by_facing(BendingFigure::imbalance_lip);
  return lying;
}

}  // namespace canewise
