#include "scanproc/assess/faults.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "scanproc/assess/cell_groups.h"
#include "scanproc/core/budget.h"
#include "scanproc/core/statistics.h"

namespace canewise {
namespace {

/// Reach of the averaging: what a tool with soft edges feels, standard deviations.
constexpr double kAlong_mm = 0.7, kAcross_mm = 0.35;

std::vector<float> bell(double sd_cells) {
  const int reach = static_cast<int>(std::ceil(2.5 * sd_cells));
  std::vector<float> weights;
  for (int k = -reach; k <= reach; ++k) weights.push_back(static_cast<float>(std::exp(-0.5 * square(k / sd_cells))));
  return weights;
}

/// Sums with these weights along one direction.
Field blurred(const Field& field, const std::vector<float>& weights, bool along) {
  Field sum = Field::Zero(field.rows(), field.cols());
  const auto reach = static_cast<Eigen::Index>(weights.size() / 2);
  const Eigen::Index n = along ? field.rows() : field.cols();
  for (Eigen::Index k = -reach; k <= reach; ++k) {
    const Eigen::Index to = std::max<Eigen::Index>(0, -k), from = std::max<Eigen::Index>(0, k),
                       length = n - std::abs(k);
    if (length <= 0) continue;
    const float weight = weights[static_cast<std::size_t>(k + reach)];
    if (along) {
      sum.middleRows(to, length) += weight * field.middleRows(from, length);
    } else {
      sum.middleCols(to, length) += weight * field.middleCols(from, length);
    }
  }
  return sum;
}

/// Of a mean with the weights of `felt_difference_mm`: noise alone.
double felt_noise_mm(const ThicknessMap& map) {
  const double cells = 4.0 * 3.141592653589793 * kAlong_mm * kAcross_mm / square(map.grid.cell_mm);
  return std::sqrt(2.0 * map.noise.covariance_sum_mm2 / (map.noise.bins_per_cell * map.noise.filled_share * cells));
}

/// Mean deviation of one side from the target over a fault; NaN if most of it is not known.
struct AgainstTarget {
  double mean_mm = std::numeric_limits<double>::quiet_NaN(), u_mm = 0.0;
};
AgainstTarget against(const TargetComparison& target, const ZoneMap& zones, const Fault& fault, Side side) {
  const Eigen::Index rows = zones.label.rows(), columns = zones.label.cols();
  double sum = 0.0, count = 0.0, u = 0.0;
  for (const Eigen::Index cell : fault.cell_indices) {
    const Eigen::Index r = cell % rows, c = side == Side::right ? cell / rows : columns - 1 - cell / rows;
    const double deviation = target.deviation_mm(r, c);
    if (std::isnan(deviation)) continue;
    const auto zone = std::find_if(target.zones.begin(), target.zones.end(), [&](const ZoneDeviation& z) {
      return z.zone.side == side && ZoneMap::label_of(z.zone.along, z.zone.across) == zones.label(r, c);
    });
    if (zone == target.zones.end() || std::isnan(zone->deviation.u_mm)) continue;
    sum += deviation;
    count += 1.0;
    u = std::max(u, zone->deviation.u_mm);
  }
  constexpr double mostly = 0.8;
  if (count < mostly * static_cast<double>(fault.cell_indices.size())) return {};
  return {sum / count, u};
}

/// The side that is surely farther from the target, by more than half of what lies between the two.
AtFault by_target(const TargetComparison& target, const ZoneMap& zones, const Fault& fault) {
  const AgainstTarget thick = against(target, zones, fault, fault.thicker),
                      thin = against(target, zones, fault, fault.thinner());
  const double farther = std::abs(thick.mean_mm) - std::abs(thin.mean_mm);
  const double sure = std::max(kCoverage95 * std::max(thick.u_mm, thin.u_mm), 0.5 * fault.difference_mm);
  if (!(std::abs(farther) > sure)) return AtFault::cannot_tell;
  return farther > 0.0 ? AtFault::thicker_side : AtFault::thinner_side;
}

AtFault by_profile(const ProfileWitness& profile) {
  // Half way between the two answers is where neither can be ruled out; three standard uncertainties, because the form
  // of a cut is not known better.
  constexpr double sure = 3.0, at_least = 0.2;
  if (!(std::abs(profile.share) > std::max(at_least, sure * profile.u))) return AtFault::cannot_tell;
  return profile.share > 0.0 ? AtFault::thicker_side : AtFault::thinner_side;
}

/// The largest felt difference of a fault.
double peak_of(const Field& felt, const Fault& fault) {
  double peak = 0.0;
  for (const Eigen::Index cell : fault.cell_indices)
    peak = std::max(peak, static_cast<double>(fault.thicker) * static_cast<double>(felt.data()[cell]));
  return peak;
}

Fault described(const ZonedMap& reed, const Balance& balance, Side thicker, std::vector<Eigen::Index> cells) {
  const ThicknessMap& map = reed.map;
  const ZoneMap& zones = reed.zones;
  Fault fault;
  fault.thicker = thicker;
  const Grid& grid = map.grid;
  CellMask mask = CellMask::Constant(grid.rows, grid.columns, false);
  std::array<double, 3> across{};
  double heart = 0.0, all = 0.0;
  fault.from_mm = 1e9;
  const auto heart_label = ZoneMap::label_of(AlongBand::middle, AcrossBand::centre);
  for (const Eigen::Index cell : cells) {
    const Eigen::Index r = cell % grid.rows, c = cell / grid.rows;
    mask(r, c) = true;
    fault.from_mm = std::min(fault.from_mm, grid.x_mm(r) - 0.5 * grid.cell_mm);
    fault.to_mm = std::max(fault.to_mm, grid.x_mm(r) + 0.5 * grid.cell_mm);
    fault.tolerance_mm +=
        tolerance_at_mm(balance, grid.x_mm(r), zones.vamp_length_mm) / static_cast<double>(cells.size());
    const double much = std::abs(static_cast<double>(map.thickness_mm(r, c)) -
                                 static_cast<double>(map.thickness_mm(r, grid.mirrored(c))));
    if (std::isnan(much)) continue;
    across.at(static_cast<std::size_t>(zones.label(r, c) % 3)) += much;
    heart += zones.label(r, c) == heart_label ? much : 0.0;
    all += much;
  }
  fault.across = static_cast<AcrossBand>(std::max_element(across.begin(), across.end()) - across.begin());
  fault.in_heart = fault.across == AcrossBand::centre && heart > 0.5 * all;
  const ZoneMean mean = difference_over(map, mask);
  fault.difference_mm = static_cast<double>(thicker) * mean.mean_mm;
  fault.u_mm = mean.u_mm;
  fault.cell_indices = std::move(cells);
  return fault;
}

}  // namespace

Message place_of(const Fault& fault, Side side) {
  return {"place.fault",
          {{"side", word(name_of(side))},
           {"across", word(name_of(fault.across))},
           {"in_heart", word(fault.in_heart ? "yes" : "no")}}};
}

Field felt_difference_mm(const ZonedMap& reed) {
  const ThicknessMap& map = reed.map;
  const Grid& grid = map.grid;
  Field value = Field::Zero(grid.rows, grid.columns), seen = value;
  for (Eigen::Index c = grid.columns / 2; c < grid.columns; ++c) {
    for (Eigen::Index r = 0; r < grid.rows; ++r) {
      const float difference = map.thickness_mm(r, c) - map.thickness_mm(r, grid.mirrored(c));
      if (reed.zones.label(r, c) < 0 || std::isnan(difference) || !reed.is_cut(r, c)) continue;
      value(r, c) = difference;
      seen(r, c) = 1.0F;
    }
  }
  const auto along = bell(kAlong_mm / grid.cell_mm), across = bell(kAcross_mm / grid.cell_mm);
  const Field sum = blurred(blurred(value, along, true), across, false),
              weight = blurred(blurred(seen, along, true), across, false);
  return (seen > 0.0F).select(sum / weight, std::numeric_limits<float>::quiet_NaN());
}

std::vector<Fault> find_faults(const ZonedMap& reed, const Balance& balance, const TargetComparison* target) {
  const ThicknessMap& map = reed.map;
  const ZoneMap& zones = reed.zones;
  const Grid& grid = map.grid;
  const Field felt = felt_difference_mm(reed);
  const double noise = kCoverage95 * felt_noise_mm(map);
  std::vector<Fault> faults;
  for (const Side thicker : {Side::left, Side::right}) {
    CellMask wanted = CellMask::Constant(grid.rows, grid.columns, false);
    for (Eigen::Index c = grid.columns / 2; c < grid.columns; ++c) {
      for (Eigen::Index r = 0; r < grid.rows; ++r) {
        const double least =
            std::max(noise, kFaultShare * tolerance_at_mm(balance, grid.x_mm(r), zones.vamp_length_mm));
        wanted(r, c) = static_cast<double>(thicker) * static_cast<double>(felt(r, c)) > least;
      }
    }
    constexpr double least_mm2 = 1.5;
    for (auto& cells : connected_groups(wanted)) {
      if (static_cast<double>(cells.size()) * square(grid.cell_mm) < least_mm2) continue;
      faults.push_back(described(reed, balance, thicker, std::move(cells)));
      faults.back().peak_mm = peak_of(felt, faults.back()) - noise;
    }
  }
  std::stable_sort(faults.begin(), faults.end(), [](const Fault& a, const Fault& b) {
    return a.difference_mm * b.tolerance_mm > b.difference_mm * a.tolerance_mm;
  });
  for (std::size_t k = 0; k < faults.size(); ++k) {
    Fault& fault = faults[k];
    if (target != nullptr && target->chosen_by_user) fault.at_fault = by_target(*target, zones, fault);
    if (fault.at_fault != AtFault::cannot_tell) {
      fault.witness = FaultWitness::target;
      continue;
    }
    fault.at_fault = by_profile(profile_witness(reed, faults, k));
    if (fault.at_fault != AtFault::cannot_tell) fault.witness = FaultWitness::own_profile;
  }
  return faults;
}

}  // namespace canewise
