#include "scanproc/mechanics/mouthpiece.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "scanproc/datum/instrument.h"

namespace canewise {
namespace {

const Instrument& instrument_named(std::string_view name) {
  const Instrument* const found = find_instrument(name);
  if (found == nullptr) throw std::logic_error("no instrument of this name");
  return *found;
}

}  // namespace

double FacingCurve::gap_mm(double x_mm) const {
  return x_mm < length_mm ? tip_opening_mm * std::pow(1.0 - std::max(0.0, x_mm) / length_mm, power) : 0.0;
}

FacingCurve mean_of(const FacingCurve& left, const FacingCurve& right) {
  return {.tip_opening_mm = 0.5 * (left.tip_opening_mm + right.tip_opening_mm),
          .length_mm = 0.5 * (left.length_mm + right.length_mm),
          .power = 0.5 * (left.power + right.power)};
}

Mouthpiece mouthpiece_for(const Player& player, std::string_view instrument) {
  const ExampleMouthpiece& example = instrument_named(instrument).mouthpiece;
  Mouthpiece mouthpiece;
  mouthpiece.window_end_mm = example.window_end_mm;
  mouthpiece.ligature_mm = example.ligature_mm;
  mouthpiece.left.tip_opening_mm = example.tip_opening_mm;
  mouthpiece.left.length_mm = example.facing_length_mm;
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

Embouchure embouchure_of(const Player& player, std::string_view instrument) {
  return {.mouthpiece = mouthpiece_for(player, instrument), .lip = lip_of(player, instrument)};
}

Lip lip_of(const Player& player, std::string_view instrument) {
  const UsualLip& usual = instrument_named(instrument).lip;
  return {.at_mm = player.lip_at_mm.value_or(usual.at_mm),
          .length_mm = player.lip_length_mm.value_or(usual.length_mm),
          .force_n = player.lip_force_n.value_or(usual.force_n),
          .tip_patch_at_mm = player.tip_patch_at_mm.value_or(usual.tip_patch_at_mm)};
}

}  // namespace canewise
