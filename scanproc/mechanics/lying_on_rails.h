#pragma once

namespace canewise {

class BendingFigures;
class ReedOnFacing;
struct BendingValues;
struct HalfClosed;
struct Mouthpiece;

/// How a reed lies on its mouthpiece where the lip has half closed it.
struct LyingOnRails {
  double left_rests_mm = 0.0, right_rests_mm = 0.0;  ///< On each rail from here on, from the tip.
  /// What a crooked facing adds to the imbalance of stiffness at the tip and under the lip, against rails that are both
  /// as the mean of the two: right over left, as a share of their mean.
  double imbalance_tip_by_facing = 0.0, imbalance_lip_by_facing = 0.0;
};

struct LieInputs {
  const BendingFigures& figures;
  const ReedOnFacing& reed;  ///< Its plate over its places.
  const Mouthpiece& mouthpiece;
  const BendingValues& even;  ///< The figures on rails that are both as the mean of the mouthpiece's.
  const HalfClosed& closed;   ///< By the lip, on the mouthpiece's own.
};
[[nodiscard]] LyingOnRails lie_on_rails(const LieInputs& inputs);

}  // namespace canewise
