#include "scanproc/mechanics/mouthpiece.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace canewise {
namespace {

struct Example {
  std::string_view instrument;
  double window_end_mm, ligature_mm, tip_opening_mm, facing_length_mm;
};
constexpr std::array kExamples{
    Example{"clarinet-bb", 32.0, 38.0, 1.05, 18.0},  Example{"clarinet-eb", 28.0, 33.0, 0.95, 16.0},
    Example{"clarinet-bass", 38.0, 44.0, 1.8, 23.0}, Example{"sax-soprano", 30.0, 35.0, 1.5, 19.0},
    Example{"sax-alto", 37.0, 43.0, 1.9, 23.0},      Example{"sax-tenor", 42.0, 48.0, 2.6, 26.0},
    Example{"sax-baritone", 46.0, 53.0, 2.8, 29.0},
};

}  // namespace

double FacingCurve::gap_mm(double x_mm) const {
  return x_mm < length_mm ? tip_opening_mm * std::pow(1.0 - std::max(0.0, x_mm) / length_mm, power) : 0.0;
}

Mouthpiece mouthpiece_for(const Player& player, std::string_view instrument) {
  Mouthpiece mouthpiece;
  for (const Example& example : kExamples) {
    if (example.instrument != instrument) continue;
    mouthpiece.window_end_mm = example.window_end_mm;
    mouthpiece.ligature_mm = example.ligature_mm;
    mouthpiece.left.tip_opening_mm = example.tip_opening_mm;
    mouthpiece.left.length_mm = example.facing_length_mm;
  }
  FacingCurve& curve = mouthpiece.left;
  curve.tip_opening_mm = player.tip_opening_mm.value_or(curve.tip_opening_mm);
  curve.length_mm = player.facing_length_mm.value_or(curve.length_mm);
  curve.power = player.facing_power.value_or(curve.power);
  mouthpiece.right = mouthpiece.left;
  mouthpiece.left.tip_opening_mm = player.left_tip_opening_mm.value_or(curve.tip_opening_mm);
  mouthpiece.left.length_mm = player.left_facing_length_mm.value_or(curve.length_mm);
  mouthpiece.right.tip_opening_mm = player.right_tip_opening_mm.value_or(mouthpiece.right.tip_opening_mm);
  mouthpiece.right.length_mm = player.right_facing_length_mm.value_or(mouthpiece.right.length_mm);
  mouthpiece.window_end_mm = player.window_end_mm.value_or(mouthpiece.window_end_mm);
  mouthpiece.ligature_mm = std::max(mouthpiece.window_end_mm, player.ligature_mm.value_or(mouthpiece.ligature_mm));
  mouthpiece.facing_is_invented = !player.tip_opening_mm || !player.facing_length_mm;
  return mouthpiece;
}

}  // namespace canewise
