#include "scanproc/assess/target.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scanproc/assess/balance.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/error.h"
#include "scanproc/core/statistics.h"
#include "scanproc/core/units.h"

namespace canewise {

double Target::interpolate(const Eigen::ArrayXXd& field, double t, double e) {
  const double row = t * (kNodesAlong - 1), column = 0.5 * (e + 1.0) * (kNodesAcross - 1);
  if (!(row >= 0.0 && row <= kNodesAlong - 1 && column >= 0.0 && column <= kNodesAcross - 1)) return std::nan("");
  const auto r = std::min<Eigen::Index>(kNodesAlong - 2, static_cast<Eigen::Index>(row));
  const auto c = std::min<Eigen::Index>(kNodesAcross - 2, static_cast<Eigen::Index>(column));
  const double a = row - static_cast<double>(r), b = column - static_cast<double>(c);
  // A zero weight must not let an unknown neighbour in.
  double sum = 0.0;
  const std::array<double, 4> weights{(1 - a) * (1 - b), (1 - a) * b, a * (1 - b), a * b};
  for (std::size_t k = 0; k < 4; ++k) {
    if (weights.at(k) > 0.0) {
      sum += weights.at(k) * field(r + static_cast<Eigen::Index>(k / 2), c + static_cast<Eigen::Index>(k % 2));
    }
  }
  return sum;
}

double default_tolerance_mm(const ReedTolerances& tolerances, double t) {
  for (std::size_t k = 0; k + 1 < tolerances.target_um.size(); ++k) {
    if (t < ZoneLimits::t.at(k + 1)) return mm_from_um(tolerances.target_um.at(k));
  }
  return mm_from_um(tolerances.target_um.back());
}

namespace {

/// A target made from scans is about as uncertain as this scan: what stays with a rig, in full or not at all; what
/// differs from scan to scan, over their number.
void add_targets_own(const Target& target, const std::string& rig, ThicknessMap& deviation) {
  const bool one_rig = !rig.empty() && rig == target.rig;
  const double with_scans = 1.0 + 1.0 / static_cast<double>(target.reeds);
  for (CommonEffect& effect : deviation.common) {
    // Of one reed's cane against another's light may enter a third deeper than is known, on whatever rig.
    constexpr double other_cane = 1.0 / 9.0;
    const double alike = effect.source == EffectSource::penetration ? 2.0 * other_cane : 0.0;
    effect.shift_mm *= static_cast<float>(std::sqrt(stays_with_rig(effect) ? (one_rig ? alike : 2.0) : with_scans));
  }
  deviation.noise.covariance_sum_mm2 *= with_scans;
  deviation.noise.far_sum_mm2 *= with_scans;
  deviation.noise.smooth_mm *= std::sqrt(with_scans);
}

}  // namespace

Field deviation_mm(const ZonedMap& reed, const Target& target) {
  const auto& [map, zones, outline, uncut] = reed;
  const Grid& grid = map.grid;
  Field deviation = Field::Constant(grid.rows, grid.columns, std::numeric_limits<float>::quiet_NaN());
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    const double x = grid.x_mm(r), t = x / zones.vamp_length_mm;
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      if (zones.label(r, c) < 0 || !map.measured(r, c)) continue;
      const double wanted = target.thickness_at(t, grid.y_mm(c) / outline.half_width_mm(x));
      deviation(r, c) = static_cast<float>(static_cast<double>(map.thickness_mm(r, c)) - wanted);
    }
  }
  return deviation;
}

TargetComparison compare_with_target(const ZonedMap& reed, const CutFeatures& cut, const Target& target,
                                     const std::string& rig) {
  const auto& [map, zones, outline, uncut] = reed;
  TargetComparison comparison;
  comparison.target = target;
  const Grid& grid = map.grid;
  const double vamp = cut.vamp_length_mm.value;
  ThicknessMap deviation;
  deviation.grid = grid;
  deviation.noise = map.noise;
  deviation.common = map.common;
  deviation.thickness_mm = deviation_mm(reed, target);
  Field tolerance = Field::Constant(grid.rows, grid.columns, std::numeric_limits<float>::quiet_NaN());
  Field wanted = tolerance;
  // A shoulder placed u too far stretches t: the target is then read at the wrong place.
  CommonEffect stretch{EffectSource::frame, Message{"target.vamp_length"}, tolerance};
  double squares = 0.0, count = 0.0;
  for (Eigen::Index r = 0; r < grid.rows; ++r) {
    const double x = grid.x_mm(r), t = x / vamp;
    if (t > 1.0) break;
    for (Eigen::Index c = 0; c < grid.columns; ++c) {
      if (!deviation.measured(r, c)) continue;
      const double e = grid.y_mm(c) / outline.half_width_mm(x);
      wanted(r, c) = static_cast<float>(target.thickness_at(t, e));
      tolerance(r, c) = static_cast<float>(target.tolerance_at(t, e));
      stretch.shift_mm(r, c) = static_cast<float>(map.slope_x(r, c) * t * cut.vamp_length_mm.u);
      squares += square(static_cast<double>(deviation.thickness_mm(r, c)));
      count += 1.0;
    }
  }
  if (target.reeds > 0) add_targets_own(target, rig, deviation);
  deviation.common.push_back(std::move(stretch));
  comparison.root_mean_square_mm = count > 0.0 ? std::sqrt(squares / count) : std::nan("");
  std::vector<Verdict> verdicts;
  for (const AlongBand along : kAlongBands) {
    for (const AcrossBand across : kAcrossBands) {
      for (const Side side : {Side::left, Side::right}) {
        ZoneDeviation zone;
        zone.zone = {along, across, side};
        zone.deviation = zone_thickness(deviation, zones, zone.zone);
        // The same mean over the target's own fields, without uncertainty.
        ThicknessMap plain;
        plain.grid = grid;
        plain.thickness_mm = wanted;
        zone.target_mm = zone_thickness(plain, zones, zone.zone).mean_mm;
        plain.thickness_mm = tolerance;
        zone.tolerance_mm = zone_thickness(plain, zones, zone.zone).mean_mm;
        zone.verdict = judge(zone.deviation.mean_mm, zone.deviation.u_mm, -zone.tolerance_mm, zone.tolerance_mm);
        if (zone.deviation.covered < kFewestCovered) zone.verdict = Verdict::cannot_tell;
        verdicts.push_back(zone.verdict);
        comparison.zones.push_back(std::move(zone));
      }
    }
  }
  comparison.verdict = overall(verdicts);
  comparison.deviation_mm = std::move(deviation.thickness_mm);
  return comparison;
}

Eigen::ArrayXXd sample_for_target(const ThicknessMap& map, const Outline& outline, double vamp_length_mm) {
  const Grid& grid = map.grid;
  Eigen::ArrayXXd nodes =
      Eigen::ArrayXXd::Constant(Target::kNodesAlong, Target::kNodesAcross, std::numeric_limits<double>::quiet_NaN());
  for (Eigen::Index i = 0; i < Target::kNodesAlong; ++i) {
    const double x = Target::t_of(i) * vamp_length_mm;
    for (Eigen::Index j = 0; j < Target::kNodesAcross; ++j) {
      const double y = Target::e_of(j) * outline.half_width_mm(x);
      // The nearest measured cell within a cell and a half, carried to the node by its slopes.
      double nearest = square(1.5 * grid.cell_mm);
      const auto row = static_cast<Eigen::Index>(std::floor(x / grid.cell_mm));
      const auto column = static_cast<Eigen::Index>(std::floor(y / grid.cell_mm)) + grid.columns / 2;
      for (Eigen::Index r = std::max<Eigen::Index>(0, row - 2); r <= std::min(grid.rows - 1, row + 2); ++r) {
        for (Eigen::Index c = std::max<Eigen::Index>(0, column - 2); c <= std::min(grid.columns - 1, column + 2); ++c) {
          const double dx = x - grid.x_mm(r), dy = y - grid.y_mm(c);
          if (!map.measured(r, c) || dx * dx + dy * dy >= nearest) continue;
          nearest = dx * dx + dy * dy;
          nodes(i, j) = map.thickness_mm(r, c) + map.slope_x(r, c) * dx + map.slope_y(r, c) * dy;
        }
      }
    }
  }
  return nodes;
}

Target mean_target(const std::string& name, const ReedTolerances& tolerances,
                   const std::vector<Eigen::ArrayXXd>& samples) {
  if (samples.empty()) throw UsageError({"target.no_reeds"});
  Target target;
  target.name = name;
  target.title = name;
  target.reeds = static_cast<int>(samples.size());
  target.origin = phrase(origin_of_mean(samples.size()));
  target.thickness_mm.setConstant(Target::kNodesAlong, Target::kNodesAcross, std::numeric_limits<double>::quiet_NaN());
  target.tolerance_mm = target.thickness_mm;
  for (Eigen::Index i = 0; i < Target::kNodesAlong; ++i) {
    for (Eigen::Index j = 0; j < Target::kNodesAcross; ++j) {
      double sum = 0.0, squares = 0.0, n = 0.0;
      for (const auto& sample : samples) {
        if (std::isnan(sample(i, j))) continue;
        sum += sample(i, j), squares += square(sample(i, j)), n += 1.0;
      }
      if (n < static_cast<double>(samples.size())) continue;  // Known only where every reed was measured.
      target.thickness_mm(i, j) = sum / n;
      const double variance = n > 1.0 ? std::max(0.0, (squares - sum * sum / n) / (n - 1.0)) : 0.0;
      target.tolerance_mm(i, j) = std::hypot(default_tolerance_mm(tolerances, Target::t_of(i)), std::sqrt(variance));
    }
  }
  return target;
}

}  // namespace canewise
