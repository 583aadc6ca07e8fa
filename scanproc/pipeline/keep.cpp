#include "scanproc/pipeline/keep.h"

#include <algorithm>
#include <utility>

#include "scanproc/pipeline/figure_keys.h"
#include "scanproc/pipeline/file_digits.h"

namespace canewise {
namespace {

ThicknessMap kept(const ThicknessMap& measured) {
  ThicknessMap map;
  map.grid = measured.grid;
  map.thickness_mm = file_digits(measured.thickness_mm);
  map.u_mm = file_digits(measured.u_mm);
  map.table_mm = file_digits(measured.table_mm);
  map.noise = measured.noise;
  map.point_noise_mm = measured.point_noise_mm;
  map.outlier_share = measured.outlier_share;
  return map;
}

Assessment kept(Assessment assessment, const ThicknessMap& map) {
  for (auto& zone : assessment.zone_thickness) zone.thickness.effects_mm.clear();
  for (auto& zone : assessment.balance.zones) zone.difference.effects_mm.clear();
  assessment.balance.difference_mm = difference_of_sides(map);
  assessment.balance.u_difference_mm = file_digits(assessment.balance.u_difference_mm);
  if (!assessment.target) return assessment;
  TargetComparison& comparison = *assessment.target;
  for (auto& zone : comparison.zones) zone.deviation.effects_mm.clear();
  comparison.deviation_mm = file_digits(comparison.deviation_mm);
  comparison.target.thickness_mm = file_digits(comparison.target.thickness_mm);
  comparison.target.tolerance_mm = file_digits(comparison.target.tolerance_mm);
  return assessment;
}

Mechanics kept(Mechanics mechanics) {
  if (!mechanics.known()) {
    Mechanics unknown;
    unknown.why_not = std::move(mechanics.why_not);
    return unknown;
  }
  for (const BendingFigure figure : kBendingFigures) {
    Field& field = mechanics.sensitivity.at(index_of(figure));
    const bool is_kept =
        std::find(kKeptSensitivities.begin(), kKeptSensitivities.end(), figure) != kKeptSensitivities.end();
    field = is_kept ? Field(field.unaryExpr(
                          [](float v) { return std::isnan(v) ? v : static_cast<float>(file_millionths(v)) / 1e6F; }))
                    : Field();
  }
  for (ReedMode& mode : mechanics.modes) mode.shape = file_digits(mode.shape);
  mechanics.bent_mm = file_digits(mechanics.bent_mm);
  return mechanics;
}

Rig kept(const Rig& measured) {
  Rig rig;
  rig.name = measured.name;
  rig.priors = measured.priors;
  rig.mirrored = measured.mirrored;
  rig.handedness_found = measured.handedness_found;
  rig.pads = measured.pads;
  rig.carrier = measured.carrier;
  rig.calibrated_at = measured.calibrated_at;
  rig.obtained = measured.obtained;
  return rig;
}

}  // namespace

Result keep(Result result) {
  result.map = kept(result.map);
  result.assessment = kept(std::move(result.assessment), result.map);
  result.mechanics = kept(std::move(result.mechanics));
  result.rig = kept(result.rig);
  result.relative_thickness_mm = file_digits(result.relative_thickness_mm);
  return result;
}

}  // namespace canewise
