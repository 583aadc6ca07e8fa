#include "scanproc/mechanics/mouthpiece.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>
#include <utility>

#include "scanproc/core/statistics.h"
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
  if (!(x_mm < length_mm)) return 0.0;
  const double x = std::max(0.0, x_mm);
  if (stops.empty()) return tip_opening_mm * std::pow(1.0 - x / length_mm, power);
  FeelerStop before{tip_opening_mm, 0.0}, behind{0.0, length_mm};
  for (const FeelerStop& stop : stops) {
    if (stop.at_mm > x) {
      behind = stop;
      break;
    }
    before = stop;
  }
  const double share = (x - before.at_mm) / (behind.at_mm - before.at_mm);
  return square((1.0 - share) * std::sqrt(before.gauge_mm) + share * std::sqrt(behind.gauge_mm));
}

FacingCurve mean_of(const FacingCurve& left, const FacingCurve& right) {
  FacingCurve mean{.tip_opening_mm = 0.5 * (left.tip_opening_mm + right.tip_opening_mm),
                   .length_mm = 0.5 * (left.length_mm + right.length_mm),
                   .power = 0.5 * (left.power + right.power)};
  if (left.stops.empty() && right.stops.empty()) return mean;
  mean.length_mm = std::max(left.length_mm, right.length_mm);
  std::set<double> stations{std::min(left.length_mm, right.length_mm)};
  for (const FacingCurve* curve : {&left, &right})
    for (const FeelerStop& stop : curve->stops) stations.insert(stop.at_mm);
  for (const double at : stations)
    if (at < mean.length_mm) mean.stops.push_back({0.5 * (left.gap_mm(at) + right.gap_mm(at)), at});
  return mean;
}

FacingCurve with_opening(FacingCurve curve, double tip_opening_mm) {
  for (FeelerStop& stop : curve.stops) stop.gauge_mm *= tip_opening_mm / curve.tip_opening_mm;
  curve.tip_opening_mm = tip_opening_mm;
  return curve;
}

namespace {

/// Where the arc through the last two places that are known comes down to the table.
double facing_end_mm(const FacingCurve& curve) {
  const FeelerStop& last = curve.stops.back();
  const FeelerStop before =
      curve.stops.size() > 1 ? curve.stops[curve.stops.size() - 2] : FeelerStop{curve.tip_opening_mm, 0.0};
  const double root = std::sqrt(last.gauge_mm);
  return last.at_mm + root * (last.at_mm - before.at_mm) / (std::sqrt(before.gauge_mm) - root);
}

/// One rail by the feelers that were pushed under a flat plate on it.
FacingCurve with_feelers(FacingCurve rail, const Player& player, double FeelerReading::*at_mm, bool length_is_known) {
  if (player.feelers.empty()) return rail;
  for (const FeelerReading& reading : player.feelers) rail.stops.push_back({reading.gauge_mm, reading.*at_mm});
  if (!length_is_known) rail.length_mm = facing_end_mm(rail);
  return rail;
}

}  // namespace

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
  const bool length_is_known = player.facing_length_mm.has_value();
  mouthpiece.left = with_feelers(std::move(mouthpiece.left), player, &FeelerReading::left_mm,
                                 length_is_known || player.left_facing_length_mm);
  mouthpiece.right = with_feelers(std::move(mouthpiece.right), player, &FeelerReading::right_mm,
                                  length_is_known || player.right_facing_length_mm);
  mouthpiece.window_end_mm = player.window_end_mm.value_or(mouthpiece.window_end_mm);
  mouthpiece.ligature_mm = std::max(mouthpiece.window_end_mm, player.ligature_mm.value_or(mouthpiece.ligature_mm));
  mouthpiece.facing_is_invented = !player.tip_opening_mm || (!player.facing_length_mm && player.feelers.empty());
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
